package checker

import "testing"

// A load that draws a rod out of shut chambers: the pressure of all that is shut in with
// them is made up where the case leaves the cylinder alone, and nowhere else.
func TestMadeUp(t *testing.T) {
	const shut = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  valve: {kind: directional-valve, p: rail, t: back, a: a, b: b, rest: 0}
  other: {kind: directional-valve, p: rail, t: back, a: far, rest: 0}
  throttle: {kind: orifice, from: a, to: head, diameter: 1 mm}
  lock: {kind: pilot-check-valve, from: b, to: rod, pilot: a, ratio: 3}
  makeup: {kind: check-valve, from: back, to: head}
  home: {kind: tube, from: back, to: sump, bore: 12 mm, length: 1 m}
  ram: {kind: cylinder, head: head, rod: rod, bore: 50 mm, rod_diameter: 28 mm, stroke: 400 mm, load: -6 kN}
cases:
  run: {lasts: 1 s, begins: {fluid: 40 degC}, DOES}
`
	for does, want := range map[string]bool{
		"drives: {pump: 1000 rpm}":                                      true,
		"commands: [{at: 0.5 s, valve: other, to: 1}]":                  true,
		"commands: [{at: 0.5 s, valve: valve, to: 1}]":                  false,
		"with: {valve: {stuck: 1}}":                                     false,
		"with: {lock: {ratio: 4}}":                                      false,
		"loads: {ram: [[0 s, 0 N], [1 s, -6 kN]]}":                      false,
		"loads: {ram: 0 N}":                                             false,
		"loads: {ram: 3 kN}":                                            true,
		"expects: [{name: out, part: ram, reaches: 1 mm, within: 1 s}]": true,
	} {
		f := gather(t, replaced(shut, "DOES", does))
		for _, n := range f.NodesInCase {
			in := map[string]bool{"a": true, "head": true, "b": true, "rod": true}[n.Node.Name.Value]
			if got := n.Here.MadeUp; !got.Known || got.Value != (want && in) {
				t.Errorf("%s: %s is made up: %v, want %v", does, n.Node.Name.Value, got.Value, want && in)
			}
		}
	}
	open := gather(t, replaced(replaced(shut, "b: b, rest: 0}", "b: b, rest: -1}"), "DOES", "drives: {pump: 1000 rpm}"))
	for _, n := range open.NodesInCase {
		if n.Here.MadeUp.Value {
			t.Errorf("%s of chambers that stand open at rest is made up", n.Node.Name.Value)
		}
	}
}

// A valve that opens the check valves of shut chambers by their pilots moves what is
// shut in, be its own lines joined with them or not.
func TestMadeUpWithASeparatePilot(t *testing.T) {
	f := gather(t, `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  valve: {kind: directional-valve, p: rail, t: sump, a: a, rest: -1}
  pilot-valve: {kind: directional-valve, p: rail, t: sump, a: x, rest: -1}
  lock: {kind: pilot-check-valve, from: a, to: head, pilot: x, ratio: 3}
  ram: {kind: cylinder, head: head, bore: 50 mm, stroke: 400 mm, load: 6 kN}
cases:
  lowers: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0.5 s, valve: pilot-valve, to: 1}]}
  waits: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}
`)
	for _, n := range f.NodesInCase {
		want := n.Node.Name.Value == "head" && n.Case.Name.Value == "waits" || n.Node.Name.Value == "a" && n.Case.Name.Value == "waits"
		if n.Here.MadeUp.Value != want {
			t.Errorf("%s in %s is made up: %v", n.Node.Name.Value, n.Case.Name.Value, n.Here.MadeUp.Value)
		}
	}
}
