package network

import (
	"context"
	"math"
	"testing"

	"headroom/checker/integrate"
)

// steady is a pump that ramps up against a relief valve and an orifice.
const steady = `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 4 cm3/rev, delivers: {flow: 11.2 L/min, at: {pressure: 200 bar, speed: 3000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 92 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 200 bar, flow: 20 L/min, override: 10 bar}
  hole: {kind: orifice, from: rail, to: sump, diameter: 0.5 mm}
cases:
  ramp: {lasts: 10 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 0 rpm], [2 s, 3000 rpm]]}}
`

// wrongly simulates the circuit above with rates other than those its books are
// kept by.
func wrongly(t *testing.T, wrong func(m *model, dy []float64)) Balance {
	t.Helper()
	c := read(t, "books.yaml", plainOil+steady)
	m, _ := startOf(t, c, &c.Cases[0])
	r, err := newRunner(m, 1, DefaultSteps)
	if err != nil {
		t.Fatal(err)
	}
	n := len(m.states)
	relative, absolute := make([]float64, n), make([]float64, n)
	for i, kind := range m.states {
		relative[i], absolute[i] = tolerances[kind].relative, tolerances[kind].absolute
	}
	r.solver, err = integrate.New(integrate.System{
		States: n, Pattern: m.pattern, Jacobian: m.jacobian, TimeDerivative: m.timeDerivative, Events: m.events(),
		Evaluate: func(at float64, y, dy []float64) {
			m.evaluate(at, y, dy)
			wrong(m, dy)
		},
	}, integrate.Options{Relative: relative, Absolute: absolute, Steps: DefaultSteps, EventTime: eventTime})
	if err != nil {
		t.Fatal(err)
	}
	out := &Outcome{}
	r.repeat(out)
	if out.Failure != nil {
		t.Fatal(out.Failure)
	}
	return out.Balance
}

// Books and energies are a check: rates that lack 0.2 % of what the pump delivers,
// or 2 % of its power as heat, do not pass; sound ones do.
func TestBooksNoticeWrongRates(t *testing.T) {
	if b := wrongly(t, func(*model, []float64) {}); b.Node > 1e-4 || math.Abs(b.Energy) > 1e-3 {
		t.Errorf("sound rates: node %.2g, energy %.2g", b.Node, b.Energy)
	}
	lacking := wrongly(t, func(m *model, dy []float64) {
		rail := &m.nodes[1]
		dy[rail.row] -= 0.002 * rail.inflow / rail.give
	})
	if !(lacking.Node > 1e-3) || lacking.NodeName != "rail" {
		t.Errorf("0.2 %% of the inflow is lost: node %.2g at %s", lacking.Node, lacking.NodeName)
	}
	warmed := wrongly(t, func(m *model, dy []float64) {
		sump := &m.nodes[0]
		dy[sump.heatRow] += 0.02 * m.powers(nil).shaft / sump.thermal
	})
	if !(math.Abs(warmed.Energy) > 1e-2) {
		t.Errorf("2 %% of the power is heat from nowhere: energy %.2g", warmed.Energy)
	}
}

// Next to nothing turned over, and a valve so steep that its flow hangs on the last
// digits of a pressure: the books of sound circuits close.
func TestBooksCloseAtExtremes(t *testing.T) {
	for name, text := range map[string]string{
		"dead end behind a check valve": `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 4 cm3/rev, delivers: {flow: 11.2 L/min, at: {pressure: 200 bar, speed: 3000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 92 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 200 bar, flow: 20 L/min, override: 10 bar}
  stub: {kind: tube, from: rail, to: dead, bore: 6 mm, wall: 1 mm, length: 2 m}
  check: {kind: check-valve, from: dead, to: blind, cracking: 0.5 bar, flow: 10 L/min, drop: 1 bar}
cases:
  holds: {lasts: 10 s, begins: {fluid: 40 degC}, drives: {pump: 3000 rpm}}
`,
		"relief valve without an override": `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L, to_ambient: 10 W/K}
  pump: {kind: pump, from: sump, to: rail, displacement: 4 cm3/rev, delivers: {flow: 11.2 L/min, at: {pressure: 200 bar, speed: 3000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 92 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 200 bar, flow: 20000 L/min, override: 0.01 bar}
  hole: {kind: orifice, from: rail, to: sump, diameter: 0.5 mm}
cases:
  blows: {lasts: 10 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 0 rpm], [2 s, 5000 rpm]]}}
`,
		"blocked return": `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 4 cm3/rev, delivers: {flow: 11.2 L/min, at: {pressure: 200 bar, speed: 3000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 92 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 200 bar, flow: 20 L/min, override: 10 bar}
  valve: {kind: directional-valve, p: rail, t: ret, a: va, b: vb, flow: 10 L/min, drop: 5 bar, lag: 10 ms, rest: 0}
  to-head: {kind: tube, from: va, to: head, bore: 6 mm, wall: 1 mm, length: 1 m}
  to-rod: {kind: tube, from: vb, to: rod, bore: 6 mm, wall: 1 mm, length: 1 m}
  ram: {kind: cylinder, head: head, rod: rod, bore: 30 mm, rod_diameter: 20 mm, stroke: 200 mm, moving_mass: 50 kg, load: 0 N}
  wrong-way: {kind: check-valve, from: sump, to: ret, cracking: 0.5 bar, flow: 10 L/min, drop: 1 bar}
cases:
  stalls: {lasts: 10 s, begins: {fluid: 40 degC}, drives: {pump: 3000 rpm}, commands: [{at: 0.5 s, valve: valve, to: 1}, {at: 5 s, valve: valve, to: -1}]}
`,
	} {
		c := read(t, "extreme.yaml", "headroom: 1\ncircuit: extreme\ntitle: Sound, and at an extreme\nfluid: {like: hm-32}\nenvironment: {ambient: 40 degC}\n"+text)
		outcomes, errs := SimulateAll(context.Background(), c, Options{})
		if errs[0] != nil || outcomes[0].Failure != nil {
			t.Fatal(name, errs[0], outcomes[0].Failure)
		}
		once, _ := Simulate(c, &c.Cases[0], Options{Tolerance: 1})
		t.Logf("%s: %.2g in one run, %.2g in the end", name, once.Balance.Node, outcomes[0].Balance.Node)
		if b := outcomes[0].Balance; b.Node > booksClose {
			t.Errorf("%s: the books of %s are %.2g apart", name, b.NodeName, b.Node)
		}
	}
}

// A tolerance so loose that a cold start goes wrong breaks the balance of energy
// itself, or ends the case; the same case at the tolerance meant keeps it.
func TestLooseColdStartBreaksEnergy(t *testing.T) {
	c := load(t, "../../specs/demo/stonechat.yaml")
	for _, k := range []struct {
		tolerance float64
		holds     bool
	}{{0, true}, {10000, false}} {
		out, err := Simulate(c, c.Case("cold-morning"), Options{Tolerance: k.tolerance})
		if err != nil || out.Failure != nil && k.holds {
			t.Fatal(err, out.Failure)
		}
		if off := math.Abs(out.Balance.Energy); (off <= 1e-2 && out.Failure == nil) != k.holds {
			t.Errorf("at %g times the tolerance energy is off by %.2g", k.tolerance, off)
		}
	}
}

// Errors of next to nothing are measured by a fitting's worth, those of a reservoir
// by what it holds; all others by what flowed in.
func TestErrorOfBooks(t *testing.T) {
	tank := &node{reservoir: true}
	tank.content = 10e-3
	for _, k := range []struct {
		n            *node
		inflow, lost float64 // m³
		want         float64
	}{
		{&node{}, 1e-3, 2e-6, 2e-3},
		{&node{}, 2e-6, 1e-8, 5e-3},
		{&node{}, 1e-8, 1e-10, 1e-4},
		{&node{}, 0, 0, 0},
		{tank, 1e-3, 2e-6, 2e-4},
		{tank, 100e-3, 2e-4, 2e-3},
	} {
		b := book{flow: k.inflow, inflow: k.inflow, held: k.inflow - k.lost}
		if got := b.error(k.n); math.Abs(got-k.want) > 1e-9 {
			t.Errorf("%g m³ of %g lost: %g, want %g", k.lost, k.inflow, got, k.want)
		}
	}
}
