package rules

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/rules/facts"
	"headroom/specs"
)

// wrong is something wrong with the file, on a line, about a key path.
func wrong(line int, path string) *facts.Problem {
	return facts.ProblemOf(specs.Problem{Rule: "spec.unit", At: specs.Span{File: "mill.yaml", Line: line, Column: 3}, Path: path, Message: "no unit"})
}

// TestMistakesComeFirst holds that what is wrong with the file stands before what may
// follow from it, in the order of the file, and that what wants nothing else is
// gathered on the circuit.
func TestMistakesComeFirst(t *testing.T) {
	const problems = judgePack + "- {id: j.problem, title: t, for: problem, require: \"problem.kind == ''\", says: \"{problem.message}\", grade: major, basis: b, why: w, remedy: r, examples: []}\n"
	one, two, three, four := sound, sound, sound, sound
	one.rated, two.rated, three.rated, four.rated = unknown, unknown, unknown, unknown
	two.name, three.name, four.name = "hose", "pipe", "grade"
	three.hot = 101
	c := mill(one, two, three, four)
	c.Problems = []*facts.Problem{wrong(31, "parts.tube.rated"), wrong(12, "parts.hose.rated.pressure"), wrong(20, "parts.other.mass"), wrong(40, "parts.grade.like")}
	j := bookOf(t, problems).Judge(c, Settings{})
	var order []string
	for _, f := range j.Findings {
		order = append(order, f.Rule.ID+" "+f.Subject.Name)
	}
	want := []string{
		"j.problem parts.hose.rated.pressure", "j.problem parts.other.mass", "j.problem parts.tube.rated", "j.problem parts.grade.like",
		"j.major pipe", "j.gather mill", "j.gather pipe",
	}
	if diff := cmp.Diff(want, order); diff != "" {
		t.Fatal(diff)
	}
	const folded = "1 critical rule is not assessed, for want of parts.grade.rated.pressure (see line 40): j.critical; for want of parts.hose.rated.pressure (see line 12): j.critical; for want of parts.tube.rated.pressure (see line 31): j.critical"
	if f := j.Findings[5]; f.Message != folded || f.Grade != Major {
		t.Errorf("%s: %s", f.Grade, f.Message)
	}
}

// TestMissingKeys holds that each key is told by itself, and that nothing is for want
// of a simulation that has been made.
func TestMissingKeys(t *testing.T) {
	book := bookOf(t, judgePack)
	c := mill(sound)
	c.Parts[0].RatedPressure = facts.Fact{Missing: "parts.tank.mass, parts.pump.mass"}
	c.Parts[0].HighestPressure = facts.Fact{Missing: facts.Simulation}
	c.Parts[0].RatedMax = facts.Fact{Missing: "a limit, in words"}
	want := func(last string) []string {
		return []string{"j.critical: parts.pump.mass, parts.tank.mass, " + last, "j.major: a limit, in words", "j.factor: " + last}
	}
	for records, last := range map[string]string{
		"": "simulation", "unfinished": "simulation", "done": "highest pressure of tube (no case gives one)",
	} {
		switch c.Records = nil; records {
		case "unfinished":
			c.Records = []facts.CaseRecord{{Case: "run", Unfinished: "stiff"}}
		case "done":
			c.Records = []facts.CaseRecord{{Case: "run"}}
		}
		j := book.Judge(c, Settings{})
		got, expected := wants(j), want(last)
		if records == "done" {
			expected[0] = "j.critical: " + last + ", parts.pump.mass, parts.tank.mass"
		}
		if !slices.Equal(got, expected) {
			t.Errorf("%s: %q, not %q", records, got, expected)
		}
		if n := len(j.NotAssessed[0].Missing); n != 3 {
			t.Errorf("%d keys", n)
		}
	}
}

// TestExplainTold holds that rules which tell of others can be explained too.
func TestExplainTold(t *testing.T) {
	book := bookOf(t, concessionPack)
	bare := sound
	bare.rated = unknown
	c := mill(bare)
	c.Spec = spec(t, "concessions:\n- {rule: j.major, subject: tube, until: 2027-03-01, by: lead, because: measured}\n")
	for rule, want := range map[string]string{
		"j.gather":     "1 critical rule is not assessed, for want of parts.tube.rated.pressure: j.critical",
		"j.concession": "the concession for j.major is unused: what it covers holds",
	} {
		all := book.Explain(book.Rule(rule), c, Settings{}, "")
		if len(all) != 1 || all[0].Assessment == nil || all[0].Assessment.Message != want {
			t.Errorf("%s: %+v", rule, all)
		}
	}
}
