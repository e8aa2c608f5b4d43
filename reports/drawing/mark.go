package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"headroom/rules"
)

// A standing is how a part stands: the grade of its gravest finding, or that it holds.
// Each has a shape and a word of its own, so that colour is never needed.
type standing string

// The standings, gravest first.
const (
	critical    standing = "critical"
	major       standing = "major"
	minor       standing = "minor"
	observation standing = "observation"
	conceded    standing = "conceded"
	holds       standing = "holds"
	unjudged    standing = "not judged"
)

// standings lists them with what the legend says.
var standings = []struct {
	standing standing
	says     string
}{
	{critical, "critical finding"},
	{major, "major finding"},
	{minor, "minor finding"},
	{observation, "observation"},
	{conceded, "findings all conceded"},
	{holds, "holds"},
	{unjudged, "no rule assessed"},
}

// class is the standing as the name of a class.
func (s standing) class() string {
	if s == unjudged {
		return "unjudged"
	}
	return string(s)
}

// A mark is what is told of a part or node: how it stands, and its least headroom.
type mark struct {
	standing standing
	headroom *float64
	worst    *rules.Assessment
	findings int
}

// text is the mark in a few words: critical −0.36.
func (m mark) text() string {
	if m.headroom == nil {
		return string(m.standing)
	}
	return string(m.standing) + " " + headroomText(*m.headroom)
}

// headroomText writes a headroom with two decimals and a true minus.
func headroomText(v float64) string {
	switch {
	case v > 99:
		return "> 99"
	case v < -99:
		return "< −99"
	}
	if v < 0 && v > -0.005 {
		return "−0.00"
	}
	return strings.Replace(fmt.Sprintf("%.2f", math.Round(v*100)/100), "-", "−", 1)
}

// marks are those of parts and nodes, by name.
type marks struct {
	parts, nodes map[string]mark
}

// marksOf gathers what a judgement says of each part and node; nil says nothing.
func marksOf(j *rules.Judgement) *marks {
	if j == nil {
		return nil
	}
	m := &marks{parts: map[string]mark{}, nodes: map[string]mark{}}
	for _, a := range j.Assessments {
		parts, nodes := about(a)
		for _, name := range parts {
			m.parts[name] = m.parts[name].with(a)
		}
		for _, name := range nodes {
			m.nodes[name] = m.nodes[name].with(a)
		}
	}
	return m
}

// part is the mark of a part; of one without any, that nothing was judged.
func (m *marks) part(name string) mark {
	return withDefault(m.parts[name])
}

func withDefault(m mark) mark {
	m.standing = cmp.Or(m.standing, unjudged)
	return m
}

// with adds an assessment: the gravest standing counts, and the least headroom at it.
func (m mark) with(a *rules.Assessment) mark {
	s := standingOf(a)
	if a.Finding && a.Conceded == nil {
		m.findings++
	}
	rank, old := weight(s), weight(withDefault(m).standing)
	switch {
	case rank < old:
		m.standing, m.headroom, m.worst = s, a.Headroom, a
	case rank == old && a.Headroom != nil && (m.headroom == nil || *a.Headroom < *m.headroom):
		m.headroom, m.worst = a.Headroom, a
	}
	return m
}

func weight(s standing) int {
	for i, one := range standings {
		if one.standing == s {
			return i
		}
	}
	return len(standings)
}

func standingOf(a *rules.Assessment) standing {
	switch {
	case !a.Finding:
		return holds
	case a.Conceded != nil:
		return conceded
	}
	return standing(a.Grade.String())
}

// about lists the parts and nodes that an assessment is about: its subject, and
// otherwise what it points to in the spec.
func about(a *rules.Assessment) (parts, nodes []string) {
	switch a.Subject.Kind {
	case "part", "line", "part-in-case":
		parts = append(parts, a.Subject.Name)
	case "seal":
		name, _, _ := strings.Cut(a.Subject.Name, " ")
		parts = append(parts, name)
	case "node", "node-in-case":
		nodes = append(nodes, a.Subject.Name)
	case "section", "trapped-volume":
		nodes = append(nodes, strings.Split(a.Subject.Name, ", ")...)
	}
	section, rest, _ := strings.Cut(a.Path, ".")
	name, _, _ := strings.Cut(rest, ".")
	name, _, _ = strings.Cut(name, "[")
	switch {
	case section == "parts" && !slices.Contains(parts, name):
		parts = append(parts, name)
	case section == "nodes" && !slices.Contains(nodes, name):
		nodes = append(nodes, name)
	}
	return parts, nodes
}

// shape draws a standing's mark about x, y.
func (s standing) shape(x, y float64) string {
	g := &glyph{}
	fill := style("m " + s.class())
	line := style("n " + s.class())
	switch s {
	case critical: // a square, crossed out
		g.rect(fill, -5, -5, 10, 10)
		g.line(strike, -3, -3, 3, 3)
		g.line(strike, -3, 3, 3, -3)
	case major: // a triangle
		g.ring(fill, 0, -5.5, 5.5, 4.5, -5.5, 4.5)
	case minor: // a diamond
		g.ring(fill, 0, -5.5, 5.5, 0, 0, 5.5, -5.5, 0)
	case observation: // a ring
		g.circle(line, 0, 0, 4)
	case conceded: // a ring, struck through
		g.circle(line, 0, 0, 4)
		g.line(line, -6, 0, 6, 0)
	case holds: // a tick
		g.line(line, -4.5, 0, -1.5, 3.5, 4.5, -4)
	default: // a dash
		g.line(line, -4, 0, 4, 0)
	}
	var out strings.Builder
	for _, one := range g.strokes {
		out.WriteString(one.svg(x, y))
	}
	return out.String()
}
