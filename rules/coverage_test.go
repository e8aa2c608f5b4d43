package rules

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/specs"
)

const covered = `headroom: 1
circuit: loop
title: A loop
fluid: {like: hm-46}
parts:
  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L}
  hose: {kind: hose, from: sump, to: port, bore: 10 mm, length: 1 m}
  ram: {kind: cylinder, head: port, bore: 20 mm, stroke: 100 mm, moving_mass: 1 kg, seals: [{material: NBR}]}
cases:
  idle: {lasts: 1 s, begins: {fluid: 40 degC}, expects: [{part: ram, reaches: 50 mm, within: 1 s}, {name: holds, node: port, at_least: 1 bar}]}
  cold: {lasts: 1 s, begins: {fluid: 0 degC}}
`

// What was judged is found by what subjects name, by the case they are judged in and
// by the value they point to; what could not be is told with its keys.
func TestCoverage(t *testing.T) {
	c := specs.Read("loop.yaml", []byte(covered))
	one, two, three := &Rule{ID: "a.one", Grade: Major}, &Rule{ID: "b.two"}, &Rule{ID: "c.three"}
	b := &Rulebook{Rules: []*Rule{one, two, three, {ID: "d.four"}, {ID: "e.five"}}}
	subject := func(kind, name, inCase string) Subject { return Subject{Kind: kind, Name: name, Case: inCase} }
	j := &Judgement{
		Assessments: []*Assessment{
			{Rule: two, Subject: subject("part", "hose", "")},
			{Rule: one, Subject: subject("part", "hose", "")},
			{Rule: one, Subject: subject("seal", "ram at head, NBR", "")},
			{Rule: two, Subject: subject("trapped-volume", "port, sump", "")},
			{Rule: one, Subject: subject("expectation", "a name made up", "idle"), Path: "cases.idle.expects[0].within"},
			{Rule: three, Subject: subject("problem", "parts.tank.volume", ""), Path: "parts.tank.volume"},
			{Rule: three, Subject: subject("concession", "c.three", "cold"), Path: "parts.tank"},
			{Rule: three, Subject: subject("circuit", "loop", ""), Path: "cases.cold.lasts"},
		},
		NotAssessed: []*Unassessed{
			{Rule: two, Subject: subject("part", "tank", ""), Missing: []string{"parts.tank.y", "parts.tank.x"}},
			{Rule: two, Subject: subject("part", "ram", ""), Missing: []string{"parts.tank.x"}},
			{Rule: &Rule{ID: "d.four"}, Subject: subject("expectation", "holds", "idle"), Missing: []string{"cases.idle.at"}},
		},
	}
	v := b.Coverage(c, j, Settings{Only: func(r *Rule) bool { return r.ID != "e.five" }})
	var got []string
	tell := func(things []ThingCoverage) {
		for _, x := range things {
			got = append(got, x.Name+": "+strings.Join(x.By, " ")+" / "+strings.Join(x.Wanted, " "))
		}
	}
	tell(v.Parts)
	tell(v.Nodes)
	tell(v.Cases)
	want := []string{
		"tank:  / b.two", "hose: a.one b.two / ", "ram: a.one / b.two",
		"sump: b.two / ", "port: b.two / d.four",
		"idle: a.one / d.four", "cold: c.three / ",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"parts.tank.x", "parts.tank.y"}, v.Rules[1].Missing); diff != "" {
		t.Error(diff)
	}
	full, part, not, none := v.Counts()
	if full != 2 || part != 1 || not != 1 || none != 0 || len(v.Rules) != 4 {
		t.Errorf("%d in full, %d in part, %d not, %d without a subject, of %d", full, part, not, none, len(v.Rules))
	}
	if n, none := Covered(v.Parts); n != 2 || len(none) != 1 || none[0] != "tank" {
		t.Errorf("%d parts, not %v", n, none)
	}
}
