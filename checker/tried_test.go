package checker

import (
	"testing"

	"headroom/rules"
)

// What valves move, and which were stuck where they do not rest.
func TestStuckValves(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  brake-valve: {kind: directional-valve, p: rail, t: sump, a: line, rest: -1}
  hose: {kind: hose, from: line, to: port, bore: 6 mm, length: 1 m}
  caliper: {kind: cylinder, head: port, bore: 24 mm, stroke: 3 mm, spring: {preload: 2 kN, rate: 60 N/mm}}
  brake: {kind: friction-pack, released_by: caliper}
  ram-valve: {kind: directional-valve, p: rail, t: sump, a: a, b: b, rest: 0}
  ram: {kind: cylinder, head: a, rod: b, bore: 40 mm, rod_diameter: 20 mm, stroke: 500 mm}
  reducer: {kind: reducing-valve, p: rail, a: low, t: sump, rest: 0 bar}
  user: {kind: consumer, from: low, to: sump}
cases:
  at-rest: {lasts: 1 s, with: {brake-valve: {stuck: -1}}}
  away: {lasts: 1 s, with: {ram-valve: {stuck: 0.5}, reducer: {stuck: 20 bar}}}
`)
	for _, tt := range []struct {
		valve, moves string
		tried        bool
		says         string
	}{
		{"brake-valve", "brake", false, "where it does not rest"},
		{"ram-valve", "ram", true, ""},
		{"reducer", "", true, ""},
	} {
		p := partOf(t, f, tt.valve)
		if p.Moves.Value != tt.moves || p.Moves.Known != (tt.moves != "") {
			t.Errorf("%s moves %+v, want %q", tt.valve, p.Moves, tt.moves)
		}
		saysOf(t, tt.valve+" stuck", p.StuckTried, tt.tried, tt.says)
	}
	if from := partOf(t, f, "ram-valve").StuckTried.From; from.Case != "away" {
		t.Errorf("ram-valve was stuck in %q", from.Case)
	}
	none := partOf(t, gather(t, "parts: {valve: {kind: directional-valve, p: a, t: b, a: c}}\n"), "valve").StuckTried
	if none.Known || none.Missing != "cases" {
		t.Errorf("without cases: %+v", none)
	}
}

func TestFilterBeforeAPump(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  strainer: {kind: filter, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: rail}
  filter: {kind: filter, from: rail, to: clean}
  charge: {kind: pump, from: sump, to: charged}
  boosted: {kind: filter, from: charged, to: main-inlet}
  main: {kind: pump, from: main-inlet, to: main-rail}
`)
	saysOf(t, "a filter between two pumps", partOf(t, f, "boosted").OnSuction, false, "charge presses")
	saysOf(t, "the strainer", partOf(t, f, "strainer").OnSuction, true, "suction")
	saysOf(t, "the pressure filter", partOf(t, f, "filter").OnSuction, false, "pump presses")
}

// What the cases as a whole leave untried is not asked of one case alone.
func TestStuckIsNotAskedOfOneCase(t *testing.T) {
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]int{"": 1, "hill-start": 0} {
		result := Judge(Task{Path: "../specs/demo/stonechat.yaml", Name: "buggy.yaml", Case: name, Book: book, Settings: rules.Settings{
			Only: func(r *rules.Rule) bool { return r.ID == "spec.stuck-untried" },
		}})
		if got := len(result.Judgement.Findings); got != want {
			t.Errorf("case %q: %d findings, want %d", name, got, want)
		}
	}
}
