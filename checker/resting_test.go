package checker

import (
	"math"
	"testing"
)

// lowered is a load on a cylinder of 50 and 28 mm that stands half-way out, shut in by a
// spool, and is let down after half a second.
const lowered = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 60 bar, flow: 20 L/min, override: 10 bar}
  valve: {kind: directional-valve, p: rail, t: back, a: a, b: b, flow: 20 L/min, drop: 10 bar, lag: 20 ms, rest: 0}
  throttle: {kind: orifice, from: a, to: head, diameter: 2 mm}
  home: {kind: tube, from: back, to: sump, bore: 12 mm, wall: 2 mm, length: 1 m}
  ram: {kind: cylinder, head: head, rod: b, bore: 50 mm, rod_diameter: 28 mm, stroke: 400 mm, moving_mass: 100 kg, friction: {viscous: 2000 N·s/m}, load: 6 kN, dead_volume: {head: 20 cm3, rod: 20 cm3}}
cases:
  lowers: {lasts: 1.5 s, begins: {fluid: 40 degC, positions: {ram: 200 mm}}, drives: {pump: 2000 rpm}, commands: [{at: 0.5 s, valve: valve, to: -1}]}
`

// A load rests on the oil shut in below it: 6 kN on 19.635 cm² are 30.56 bar, and the
// other chamber is at the reservoir's pressure until the valve opens, not under a vacuum
// that a load which drops would leave.
func TestLoadRestsAsACaseBegins(t *testing.T) {
	f := simulateText(t, lowered, Asked{})
	for _, n := range f.NodesInCase {
		here := &n.Here
		switch n.Node.Name.Value {
		case "b":
			near(t, "lowest beside the piston", here.LastingAbsolute, 101325, 0.01e5)
		case "head":
			if p := here.LowestPressure; !p.Known || p.Value < 5e5 {
				t.Errorf("lowest under the load %+v", p)
			}
		}
	}
}

// A load that runs ahead of the pump still draws a vacuum: there the pump stands.
func TestLoadThatRunsAheadIsTold(t *testing.T) {
	f := simulateText(t, replaced(lowered, "drives: {pump: 2000 rpm}, ", ""), Asked{})
	for _, n := range f.NodesInCase {
		if n.Node.Name.Value == "b" && !(n.Here.LastingAbsolute.Value < 0.2e5) {
			t.Errorf("lowest beside the piston %+v", n.Here.LastingAbsolute)
		}
	}
}

// What a relief valve that holds a load back lets through is not blown off, and is part
// of what the case demands.
func TestCounterbalanceBlowsNothingOff(t *testing.T) {
	text := replaced(lowered, "  throttle: {kind: orifice, from: a, to: head, diameter: 2 mm}\n",
		"  counter: {kind: relief-valve, from: head, to: a, cracking: 35 bar, flow: 20 L/min, override: 5 bar}\n")
	f := simulateText(t, text, Asked{})
	lowers := caseNamed(t, f, "lowers")
	// The pump's own valve blows off for the half second before the load is let down, a
	// third of the case; in the rest the pump gives some 20 L/min to it.
	if share := lowers.BlownShare; !share.Known || share.Value > 0.5 {
		t.Errorf("blown off: %+v", share)
	}
	if demand := lowers.MeanDemand; demand.Value < 0.5*20e-3/60 {
		t.Errorf("mean demand %+v", demand)
	}
	var own float64
	for _, p := range f.Records[0].Parts {
		if p.Name == "counter" {
			for _, r := range p.Readings {
				if r.Name == "flow" {
					own = r.Value.Value
				}
			}
		}
	}
	if own < 1e-5 {
		t.Errorf("the counterbalance lets %g m³/s through: this shows nothing", own)
	}
}

// By hand: the head side bears 6 kN by 30.56 bar over the air, the rod side 6 kN that
// pull by 44.5 bar on its ring of 13.477 cm².
func TestRestingPressures(t *testing.T) {
	head, ring := math.Pi/4*0.05*0.05, math.Pi/4*(0.05*0.05-0.028*0.028)
	for _, tt := range []struct {
		name, old, new string
		want           map[string]float64 // Pa over the air
	}{
		{"as it is", "", "", map[string]float64{"head": 6e3 / head, "a": 6e3 / head}},
		{"a load that pulls", "load: 6 kN", "load: -6 kN", map[string]float64{"b": 6e3 / ring}},
		{"with a spring", "load: 6 kN", "load: 6 kN, spring: {preload: 500 N, rate: 2 N/mm}", map[string]float64{"head": 6900 / head, "a": 6900 / head}},
		{"no load at first", "commands:", "loads: {ram: [[0 s, 0 N], [1 s, 6 kN]]}, commands:", nil},
		{"another at first", "commands:", "loads: {ram: [[0 s, 3 kN], [1 s, 6 kN]]}, commands:", map[string]float64{"head": 3e3 / head, "a": 3e3 / head}},
		{"on its stop", "positions: {ram: 200 mm}", "positions: {ram: 0 mm}", nil},
		{"pulled on its stop", "positions: {ram: 200 mm}}", "positions: {ram: 400 mm}}, loads: {ram: -6 kN}", nil},
		{"begins open", "positions: {ram: 200 mm}", "positions: {ram: 200 mm}, spools: {valve: 1}", nil},
		{"begins shut by name", "positions: {ram: 200 mm}", "positions: {ram: 200 mm}, spools: {valve: 0}", map[string]float64{"head": 6e3 / head, "a": 6e3 / head}},
		{"stuck open", "commands:", "with: {valve: {stuck: 1}}, commands:", nil},
		{"stuck shut", "commands:", "with: {valve: {stuck: 0}}, commands:", map[string]float64{"head": 6e3 / head, "a": 6e3 / head}},
		{"open at rest", "rest: 0}", "rest: 1}", nil},
		{"beside a pressed reservoir", "fill: 10 L}", "fill: 10 L, pressure: 2 bar}", map[string]float64{"head": (6e3 + 2e5*ring) / head, "a": (6e3 + 2e5*ring) / head}},
		{"on oil that is charged", "cases:", "nodes: {head: {role: pressure}}\ncases:", nil},
		{"on the oil of both sides", "  home:", "  across: {kind: orifice, from: head, to: b, diameter: 1 mm}\n  home:", nil},
	} {
		text := lowered
		if tt.old != "" {
			text = replaced(lowered, tt.old, tt.new)
		}
		s := newSurvey(gather(t, text).Spec)
		got := s.resting(&s.cases[0])
		if len(got) != len(tt.want) {
			t.Errorf("%s: %v, want %v over the air", tt.name, got, tt.want)
			continue
		}
		for node, want := range tt.want {
			if math.Abs(got[node]-s.air-want) > 1 {
				t.Errorf("%s: %s at %g, reckoned %g", tt.name, node, got[node]-s.air, want)
			}
		}
	}
}

// A case that begins with the check valve under a load opened by its pilot does not
// begin with the load at rest.
func TestLoadDoesNotRestOnAnOpenedPilot(t *testing.T) {
	text := replaced(lowered, "  throttle: {kind: orifice, from: a, to: head, diameter: 2 mm}\n", `  lock: {kind: pilot-check-valve, from: a, to: head, pilot: x, cracking: 0.5 bar, ratio: 3, flow: 20 L/min, drop: 2 bar}
  pilot-valve: {kind: directional-valve, p: rail, t: back, a: x, flow: 5 L/min, drop: 10 bar, lag: 20 ms, rest: -1}
`)
	for _, tt := range []struct {
		spool string
		rests bool
	}{{"-1", true}, {"1", false}} {
		s := newSurvey(gather(t, replaced(text, "positions: {ram: 200 mm}", "positions: {ram: 200 mm}, spools: {pilot-valve: "+tt.spool+"}")).Spec)
		if got := s.resting(&s.cases[0]); (got["head"] > 0) != tt.rests {
			t.Errorf("pilot valve at %s: %v", tt.spool, got)
		}
	}
}
