package checker

import (
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

const worked = `
environment: {cold_start: -10 degC}
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev}
  spare: {kind: pump, from: sump, to: out}
  valve: {kind: directional-valve, p: out, t: sump, a: line, rest: 0}
  other: {kind: directional-valve, p: out, t: sump, a: line, rest: 0}
  ram: {kind: cylinder, head: line, bore: 20 mm, stroke: 50 mm}
  user: {kind: consumer, from: out, to: sump, min_pressure: 50 bar}
  idle: {kind: consumer, from: out, to: sump}
cases:
  cold:
    lasts: 1 s
    begins: {fluid: -10 degC}
    drives: {pump: 1000 rpm, spare: 1000 rpm}
    commands: [{at: 0 s, valve: valve, to: 1}]
    demands: {user: 2 L/min, idle: 0 L/min}
    expects:
      - {name: out, part: ram, reaches: 50 mm, within: 200 ms}
      - {node: out, at_least: 60 bar}
      - {node: out, at_most: 200 bar}
  lost: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}
  stuck: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm, spare: 1000 rpm}, with: {valve: {stuck: -1}}}
  breaks: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 1000 rpm], [1 s, 0 rpm]], spare: 1000 rpm}}
  sound: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 0 rpm], [1 s, 1000 rpm]], spare: 1000 rpm}, repeats: settle}
`

func TestCountsOfCases(t *testing.T) {
	f := gather(t, worked)
	is(t, "parts", f.Whole.Parts, "8", quantity.Number, 0)
	is(t, "cases", f.Whole.Cases, "5", quantity.Number, 0)
	is(t, "at cold start", f.Whole.ColdStartCases, "1", quantity.Number, 0)
	is(t, "with a fault", f.Whole.FaultCases, "3", quantity.Number, 0)
	notes(t, "with a fault", f.Whole.FaultCases, "lost, stuck, breaks")
	for _, c := range f.Cases {
		if c.Repeated.Value != (c.Name.Value == "sound") {
			t.Errorf("%s repeats: %v", c.Name.Value, c.Repeated.Value)
		}
		if c.Settles.Value != (c.Name.Value == "sound") {
			t.Errorf("%s settles: %v", c.Name.Value, c.Settles.Value)
		}
	}
	mild := gather(t, replaced(worked, "cold_start: -10 degC", "ambient: 40 degC"))
	lacks(t, "at cold start, without one", mild.Whole.ColdStartCases, "environment.cold_start")
}

func TestExercised(t *testing.T) {
	f := gather(t, worked)
	for name, want := range map[string]bool{"pump": true, "valve": true, "other": false, "user": true, "idle": false} {
		if got := partOf(t, f, name).Exercised; !got.Known || got.Value != want {
			t.Errorf("%s: %+v, want %v", name, got, want)
		}
	}
	if ram := partOf(t, f, "ram").Exercised; ram.Known || ram.Missing != "" {
		t.Errorf("a cylinder is not worked but by its valve: %+v", ram)
	}
}

// Every part and node is there in every case, so that what happens in it can be
// told; consumers say what they need.
func TestSubjectsOfCases(t *testing.T) {
	f := gather(t, worked)
	if got, want := len(f.PartsInCase), len(f.Cases)*len(f.Parts); got != want {
		t.Errorf("%d parts in cases, want %d", got, want)
	}
	if got, want := len(f.NodesInCase), len(f.Cases)*len(f.Nodes); got != want {
		t.Errorf("%d nodes in cases, want %d", got, want)
	}
	for _, p := range f.PartsInCase {
		switch p.Part.Name.Value {
		case "user":
			if draws := p.Here.Draws; !draws.Known || draws.Value != (p.Case.Name.Value == "cold") {
				t.Errorf("user in %s: %+v", p.Case.Name.Value, draws)
			}
			is(t, "user", p.Here.NeededDifference, "50 bar", quantity.PressureDifference, 1e-9)
		case "idle":
			if draws := p.Here.Draws; !draws.Known || draws.Value {
				t.Errorf("idle in %s: %+v", p.Case.Name.Value, draws)
			}
			lacks(t, "idle", p.Here.NeededDifference, "parts.idle.min_pressure")
		}
	}
}

func TestExpectations(t *testing.T) {
	f := gather(t, worked)
	if len(f.Expectations) != 3 {
		t.Fatalf("%d expectations", len(f.Expectations))
	}
	stroke, least, most := f.Expectations[0], f.Expectations[1], f.Expectations[2]
	for _, e := range []struct {
		f          *facts.Expectation
		name, kind string
	}{{stroke, "out", "stroke"}, {least, "out at least", "at-least"}, {most, "out at most", "at-most"}} {
		if e.f.Name.Value != e.name || e.f.Kind.Value != e.kind || e.f.Case.Name.Value != "cold" {
			t.Errorf("%q of kind %q in %s; want %q, %q", e.f.Name.Value, e.f.Kind.Value, e.f.Case.Name.Value, e.name, e.kind)
		}
	}
	is(t, "within", stroke.Within, "200 ms", quantity.Time, 1e-9)
	is(t, "at least", least.AtLeast, "60 bar", quantity.Pressure, 1e-9)
	is(t, "at most", most.AtMost, "200 bar", quantity.Pressure, 1e-9)
}

func TestProblemsAndConcessions(t *testing.T) {
	c := specs.Read("small.yaml", []byte(plain+`
parts: {tank: {kind: reservoir, at: sump, fil: 3 L}}
concessions:
  - {rule: strength.burst-factor, subject: tank, until: 2027-03-01, by: lead, because: tested}
`))
	f := Facts(c)
	kinds := map[string]bool{}
	for _, p := range f.Problems {
		kinds[p.Kind.Value] = true
		if p.At.Line == 0 || !p.Message.Known || p.Message.Value == "" {
			t.Errorf("a problem without place or message: %+v", p)
		}
	}
	if !kinds["unknown-key"] || !kinds["missing"] {
		t.Errorf("kinds of problems: %v", kinds)
	}
	if len(f.Concessions) != 1 || f.Concessions[0].Rule.Value != "strength.burst-factor" || f.Concessions[0].Subject.Value != "tank" {
		t.Errorf("concessions: %+v", f.Concessions)
	}
}

// A reducing valve that a spring sets is at work wherever oil is drawn through it; one
// that holds nothing at rest, or that nobody draws through, waits for a command.
func TestReducingValveExercised(t *testing.T) {
	const branch = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 100 bar, flow: 20 L/min, override: 10 bar}
  reducer: {kind: reducing-valve, p: out, a: line, t: sump, flow: 12 L/min, drop: 6 bar, band: 4 bar, lag: 30 ms, rest: 40 bar}
  user: {kind: consumer, from: line, to: sump, min_pressure: 10 bar}
nodes: {out: {volume: 500 cm3}, line: {volume: 200 cm3}}
cases:
  run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, demands: {user: 4 L/min}}
`
	drawn := partOf(t, simulateText(t, branch, Asked{}), "reducer").Exercised
	if !drawn.Known || !drawn.Value || drawn.From.Case != "run" {
		t.Errorf("drawn from: %+v", drawn)
	}
	if shut := partOf(t, simulateText(t, replaced(branch, "rest: 40 bar", "rest: 0 bar"), Asked{}), "reducer").Exercised; !shut.Known || shut.Value {
		t.Errorf("without a pressure at rest: %+v", shut)
	}
	if still := partOf(t, simulateText(t, replaced(replaced(branch, "drives: {pump: 1000 rpm}", "drives: {pump: 0 rpm}"), "user: 4 L/min", "user: 0 L/min"), Asked{}), "reducer").Exercised; !still.Known || still.Value {
		t.Errorf("not drawn from: %+v", still)
	}
}
