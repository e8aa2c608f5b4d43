package checker

import (
	"math"
	"testing"

	"headroom/specs"
	"headroom/specs/quantity"
)

// A pump of 10 cm3/rev that loses 1 of 10 L/min at 100 bar and 32 mm2/s, a valve
// that leaks 0.5 L/min at 100 bar, a consumer, and a relief valve for the rest.
const slow = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: press, displacement: 10 cm3/rev, delivers: {flow: 9 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %, min_speed: 400 rpm}
  relief: {kind: relief-valve, from: press, to: sump, cracking: 100 bar, flow: 10 L/min, override: 2 bar}
  valve: {kind: directional-valve, p: press, t: sump, a: blind, flow: 5 L/min, drop: 5 bar, lag: 5 ms, rest: 1, leak: {flow: 0.5 L/min, pressure: 100 bar}}
  user: {kind: consumer, from: press, to: sump, min_pressure: 10 bar}
nodes: {press: {volume: 500 cm3}}
cases:
  idles: {lasts: 2 s, begins: {fluid: 40 degC, charge: 100 bar}, drives: {pump: [[0 s, 1500 rpm], [1 s, 1000 rpm], [2 s, 1500 rpm]]}, demands: {user: 4 L/min}}
  starts: {lasts: 2 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 0 rpm], [0.5 s, 300 rpm], [1 s, 1200 rpm]]}, expects: [{node: press, at_least: 1 bar, from: 1.5 s}, {node: press, at_most: 200 bar}]}
  rests: {lasts: 0.2 s, begins: {fluid: 40 degC}, drives: {pump: 0 rpm}}
`

func TestSlowDelivery(t *testing.T) {
	f := simulateText(t, slow, Asked{})
	pump := partOf(t, f, "pump")
	is(t, "lowest speed", pump.LowestSpeed, "1000 rpm", quantity.RotationalSpeed, 1e-9)
	is(t, "its limit", pump.MinSpeed, "400 rpm", quantity.RotationalSpeed, 1e-9)
	if from := pump.LowestSpeed.From; from.Case != "idles" || from.Key != "cases.idles.drives.pump" {
		t.Errorf("the lowest speed comes from %+v", from)
	}
	idles, starts := caseNamed(t, f, "idles"), caseNamed(t, f, "starts")
	is(t, "delivery at 1000 rpm", idles.LowestDelivery, "10 L/min", quantity.Flow, 1e-9)
	is(t, "delivery at 1200 rpm: rest and what is passed on the way from it do not count", starts.LowestDelivery, "12 L/min", quantity.Flow, 1e-9)
	if rests := caseNamed(t, f, "rests"); rests.LowestDelivery.Known || rests.LowestDelivery.Missing != "" {
		t.Errorf("a pump at rest delivers %+v", rests.LowestDelivery)
	}
	is(t, "expectations of idles", idles.Expectations, "0", quantity.Number, 0)
	is(t, "expectations of starts", starts.Expectations, "2", quantity.Number, 0)

	// Slip: 1 L/min · p/100 bar · (32 mm2/s · 860 kg/m3)/μ, μ of the oil at 40 °C
	// in the reservoir, 870 kg/m3 · exp(−0.01804 · 1.0144) = 854.2 kg/m3 there.
	// Leakage: 0.5 L/min · p/100 bar from p to t.
	top := 0.0
	for _, n := range f.Records[0].Nodes {
		if n.Name == "press" {
			top = n.Pressure.Highest.Value
		}
	}
	lost := (1.0*860/854.2 + 0.5) * top / 100e5 / 60e3
	near(t, "slip and leakage", idles.LostFlow, lost, 0.01*lost)
}

// A mistake in what no equation reads keeps no case from being simulated.
func TestSlowPumpWithMistakes(t *testing.T) {
	for _, mistake := range [][2]string{
		{"min_speed: 400 rpm", "min_speed: 4 bar"},
		{"{ambient: 40 degC}", "{ambient: 40 degC, slope: 4 bar}"},
		{"valve: {kind: directional-valve", "ram: {kind: cylinder, head: blind, bore: 20 mm, stroke: 10 mm, moving_mass: 1 kg, buckling_length: 1 bar, bleeds: 3, hangs: 3}\n  valve: {kind: directional-valve"},
	} {
		f := SimulatedFacts(specs.Read("small.yaml", []byte(plain+replaced(slow, mistake[0], mistake[1]))), Asked{})
		if len(f.Problems) == 0 || len(f.Records) != 3 {
			t.Errorf("%s: %d problems, %d records", mistake[1], len(f.Problems), len(f.Records))
		}
	}
}

// 10 to 15 L/min go in, 12.5 on the average; 4 are drawn, slip and leakage
// take 1.5 (see above) at a little over 100 bar, the rest goes over the relief valve.
func TestBlownShare(t *testing.T) {
	f := simulateText(t, slow, Asked{})
	net := 12.5 - 1.0*860/854.2*1.01
	want := (net - 4 - 0.5*1.01) / net
	near(t, "share blown off", caseNamed(t, f, "idles").BlownShare, want, 0.02)
	notes(t, "share blown off", caseNamed(t, f, "idles").BlownShare, "relief turns about")
	near(t, "share of a pump at rest", caseNamed(t, f, "rests").BlownShare, 0, 0)
	if math.IsNaN(want) || want < 0.5 {
		t.Errorf("the circuit blows off %g: it shows nothing", want)
	}
}

// A compensated pump that starts at full displacement against a shut circuit blows off
// a moment's delivery and then gives leakage alone: of what it could give that is little.
func TestBlownShareOfHeldPump(t *testing.T) {
	f := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev, delivers: {flow: 14 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %, compensator: {set: 120 bar, band: 10 bar, lag: 50 ms}}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 135 bar, flow: 20 L/min, override: 10 bar}
  leak: {kind: orifice, from: rail, to: sump, diameter: 0.2 mm}
nodes: {rail: {volume: 50 cm3}}
cases:
  held: {lasts: 4 s, begins: {fluid: 40 degC}, drives: {pump: 1500 rpm}}
`, Asked{})
	share := caseNamed(t, f, "held").BlownShare
	if !share.Known || !(share.Value < 0.1) || share.Value <= 0 {
		t.Errorf("share blown off: %+v", share)
	}
}

// What the pumps are switched by, seen from the relief valves and accumulators
// that they feed: the highest that stops one, the lowest that starts one.
func TestSwitchedPumps(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 170 bar}
  check: {kind: check-valve, from: out, to: rail}
  store: {kind: accumulator, at: rail, lowest_working: 100 bar}
  far: {kind: accumulator, at: aside}
  valve: {kind: directional-valve, p: rail, a: aside, t: sump}
cases:
  one: {lasts: 1 s, drives: {pump: {on_below: 120 bar, off_above: 145 bar, at: rail, speed: 1500 rpm}}}
  two: {lasts: 1 s, drives: {pump: {on_below: 110 bar, off_above: 150 bar, at: rail, speed: 1500 rpm}}}
  three: {lasts: 1 s, drives: {pump: 1500 rpm}}
`)
	is(t, "what stops the pump", partOf(t, f, "relief").SectionSwitchOff, "150 bar", quantity.Pressure, 1e-9)
	is(t, "what starts it", partOf(t, f, "store").SwitchedOn, "111.01325 bar abs", quantity.AbsolutePressure, 1e-9)
	if from := partOf(t, f, "store").SwitchedOn.From; from.Case != "two" || from.Key != "cases.two.drives.pump.on_below" {
		t.Errorf("what starts it comes from %+v", from)
	}
	if far := partOf(t, f, "far").SwitchedOn; far.Known || far.Missing != "" {
		t.Errorf("an accumulator behind a valve is refilled by %+v", far)
	}
	is(t, "lowest speed of a switched pump", partOf(t, f, "pump").LowestSpeed, "1500 rpm", quantity.RotationalSpeed, 1e-9)
	lacks(t, "speed of a pump that no case drives", partOf(t, gather(t, "parts: {pump: {kind: pump, from: a, to: b}}\n"), "pump").LowestSpeed, "cases.*.drives.pump")
}
