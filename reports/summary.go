package reports

import (
	"fmt"
	"strings"

	"headroom/rules"
	"headroom/specs"
)

// This file says in a line what circuits came to, for all forms that people read.

// foundText tells how many findings there are of each grade.
func foundText(c Counts) string {
	var grades []string
	for _, g := range []struct {
		count int
		name  string
	}{{c.Critical, "critical"}, {c.Major, "major"}, {c.Minor, "minor"}} {
		if g.count > 0 {
			grades = append(grades, fmt.Sprintf("%d %s", g.count, g.name))
		}
	}
	if c.Observation > 0 {
		grades = append(grades, plural(c.Observation, "observation"))
	}
	if c.Conceded > 0 {
		grades = append(grades, fmt.Sprintf("%d conceded", c.Conceded))
	}
	if len(grades) == 0 {
		return "no findings"
	}
	return strings.Join(grades, ", ")
}

// assessedText tells what a verdict rests on.
func assessedText(r *rules.Result) string {
	c := CountsOf(r.Judgement)
	text := fmt.Sprintf("%s assessed, %d not assessed", plural(c.Assessed, "margin"), c.NotAssessed)
	if t := tightest(r.Judgement); t != nil {
		text += fmt.Sprintf(" · tightest held: %s %s, headroom %s", t.Rule.ID, t.Subject, headroomText(*t.Headroom))
	}
	if n := len(packChanges(r.Book)); n > 0 {
		text += fmt.Sprintf(" · %s changed by packs", plural(n, "rule"))
	}
	return text
}

// concededText says who accepted a finding, until when and why.
func concededText(c *specs.Concession) string {
	return fmt.Sprintf("by %s until %s, because %s", c.By.Value, c.Until.Value, c.Because.Value)
}

// tightest is the assessment with the least headroom among those that hold.
func tightest(j *rules.Judgement) *rules.Assessment {
	for _, a := range j.Assessments {
		if a.Holds && a.Headroom != nil {
			return a
		}
	}
	return nil
}

// A tally counts circuits by their verdict.
type tally struct {
	count  int // of all
	others int // of them, no circuits
	of     map[rules.Verdict]int
	scope  rules.Scope
}

// verdicts are all, the gravest first.
var verdicts = []rules.Verdict{rules.Broken, rules.Incomplete, rules.Holds}

func (t *tally) add(r *rules.Result) {
	t.count++
	if r.Other {
		t.others++
		return
	}
	if t.of == nil {
		t.of = map[rules.Verdict]int{}
	}
	t.of[r.Judgement.Verdict]++
	t.scope = r.Scope
}

// text is the tally in a line.
func (t *tally) text() string {
	var parts []string
	for _, v := range verdicts {
		if n := t.of[v]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, verdictOf(n, v)))
		}
	}
	line := plural(t.count-t.others, "circuit") + scopeText(t.scope)
	if len(parts) > 0 {
		line += ": " + strings.Join(parts, ", ")
	}
	if t.others > 0 {
		line += fmt.Sprintf(" · %s faulty", plural(t.others, "other file"))
	}
	return line
}

// verdictOf is a verdict as it is said of so many circuits.
func verdictOf(n int, v rules.Verdict) string {
	if v == rules.Holds && n != 1 {
		return "hold"
	}
	return string(v)
}
