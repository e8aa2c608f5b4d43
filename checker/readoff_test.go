package checker

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// What shrinks when it gets cold is all oil: in the reservoir, in lines, and in charged
// accumulators. From 15 °C to −10 °C a share of exp(α ΔT (1 + 0.8 α ΔT)) − 1.
func TestChargedOilShrinksToo(t *testing.T) {
	f := gather(t, `
environment: {ambient: 20 degC, cold_start: -10 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 30 L, fill: 10 L, service_loss: 0.5 L}
  bottle: {kind: accumulator, at: rail, size: 10 L, precharge: {pressure: 80 bar}, gas: nitrogen, inlet: 10 mm}
cases: {run: {lasts: 1 s, begins: {fluid: 20 degC, charge: 160 bar}}}
`)
	b := newSurvey(f.Spec).budget()
	alpha := 0.0007216 * -25.0
	shrinks := math.Exp(alpha*(1+0.8*alpha)) - 1
	want := 10e-3 + shrinks*(10e-3+b.rest+b.charged) - 0.5e-3 - (b.full - b.charged)
	if b.charged < 4e-3 {
		t.Fatalf("charged with %g m³", b.charged)
	}
	near(t, "lowest fill", partOf(t, f, "tank").LowestFill, want, 1e-9)
}

// A call for release counts once its pressure has lasted 50 ms, what is left while
// the pack clamps once it has lasted 0.1 s, and only within a fiftieth of the take-up.
func TestPackWatchLasts(t *testing.T) {
	s := newSurvey(gather(t, launch).Spec)
	w := s.newWatcher(&s.cases[0])
	p := &w.packs[0]
	p.begin(channels{{"port", "pressure"}: 0, {"valve", "wanted"}: 1, {"release", "position"}: 2})
	hold := func(from, lasts, pressure, wanted, position float64) {
		for _, at := range []float64{from, from + lasts} {
			p.sample(at, []float64{pressure*1e5 + s.air, wanted*1e5 + s.air, position})
		}
	}
	hold(0, 0.04, 30, 60, 1e-3)
	hold(0.1, 0, 3, 3, 1e-3) // between: neither
	hold(0.2, 0.07, 55, 60, 1e-3)
	hold(0.3, 0.08, 9, 3, 0)
	hold(0.4, 0, 9, 60, 1e-3)
	hold(0.5, 0.15, 4, 3, 0)
	hold(0.7, 0.15, 8, 3, 1e-6) // lifted by a twentieth of the take-up of 20 µm
	m := w.finish()
	if got := m.released[p.pack].value; math.Abs(got-55e5) > 1 {
		t.Errorf("release pressure %g Pa, want 55 bar: 30 bar lasted 40 ms alone", got)
	}
	if got := m.residual[p.pack].value; math.Abs(got-4e5) > 1 {
		t.Errorf("%g Pa left, want 4 bar: 9 bar lasted 80 ms alone, 8 bar while it had lifted", got)
	}
}

// The share lost counts once it has lasted 0.1 s, up to the end that the flow goes to,
// and while the supply is at half its highest at least.
func TestShareWatchLasts(t *testing.T) {
	l := shareWatch{endsAt: [2]int{1, 2}, suppliers: []int{3}, lost: level{window: shareLasts}}
	hold := func(from, lasts, flow, first, second, supply float64) {
		for _, at := range []float64{from, from + lasts} {
			l.sample(at, []float64{flow, first * 1e5, second * 1e5, supply * 1e5})
		}
	}
	share := func(what string, want float64) {
		t.Helper()
		if !l.lost.known || math.Abs(l.lost.best-want) > 1e-12 {
			t.Errorf("%s: a share of %g (%v), want %g", what, l.lost.best, l.lost.known, want)
		}
	}
	hold(0.1, 0.15, 1e-4, 100, 80, 100)
	share("80 of 100 bar for 0.15 s", 0.2)
	hold(0.26, 0.039, 1e-4, 100, 80, 100)
	hold(0.3, 0.08, 1e-4, 100, 10, 100)
	hold(0.381, 0.15, 1e-4, 100, 80, 100)
	share("10 bar for 80 ms", 0.2)
	hold(0.6, 0.15, -1e-4, 70, 100, 100)
	share("the other way round", 0.3)
	hold(0.8, 0.15, 1e-4, 40, 10, 40)
	share("at 40 of 100 bar", 0.3)
}

// fed is a pump that gives 20 L/min without load and slips 1 L/min at 100 bar, beside
// a relief valve that holds 100 bar, and a consumer.
const fed = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 30 L, fill: 20 L}
  pump: {kind: pump, from: sump, to: out, displacement: 20 cm3/rev, delivers: {flow: 19 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 100 bar, flow: 20 L/min, override: 0.2 bar}
  user: {kind: consumer, from: out, to: sump, min_pressure: 50 bar}
cases:
  run: {lasts: 2 s, repeats: 2, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, demands: {user: 5 L/min}}
`

// Supply is D n less slip; demand what is drawn, with what is asked for in vain and
// without what is blown off; the reservoir's stay its content over D n, slip included.
func TestMeansOfACase(t *testing.T) {
	const perMinute = 1e-3 / 60
	f := simulateText(t, fed, Asked{})
	k := caseNamed(t, f, "run")
	near(t, "mean supply", k.MeanSupply, 19*perMinute, 0.005*19*perMinute)
	near(t, "mean demand", k.MeanDemand, 5*perMinute, 0.03*5*perMinute) // all at 100 bar but what is drawn from the reservoir
	near(t, "stay", f.Fluid.Dwell, 20e-3*(1+0.0007216*25*1.01)/(20*perMinute), 0.002*60)
	greedy := caseNamed(t, simulateText(t, replaced(fed, "user: 5 L/min", "user: 30 L/min"), Asked{}), "run")
	near(t, "mean demand that the pump cannot meet", greedy.MeanDemand, 30*perMinute, 0.01*30*perMinute)
}

// Between two reservoirs it cannot be told without time what moves: the level that a
// case leaves counts, less the service loss. 10 L/min for 6 s are 1 L.
func TestSimulatedLevelLessServiceLoss(t *testing.T) {
	f := simulateText(t, `
environment: {ambient: 15 degC, cold_start: 15 degC}
parts:
  low: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L, service_loss: 0.5 L}
  high: {kind: reservoir, at: top, volume: 20 L, fill: 5 L, service_loss: 0 L}
  pump: {kind: pump, from: sump, to: out, drain: sump, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  over: {kind: hose, from: out, to: top, bore: 10 mm, length: 1 m}
cases: {run: {lasts: 6 s, begins: {fluid: 15 degC}, drives: {pump: 1000 rpm}}}
`, Asked{})
	near(t, "lowest fill", partOf(t, f, "low").LowestFill, 10e-3-1e-3-0.5e-3, 0.02e-3)
	notes(t, "lowest fill", partOf(t, f, "low").LowestFill, "less a service loss of 500 cm3")
}

// Plates at 100 °C that warm by 20 K a pass may warm by twice that in each pass to
// come: after five of them 300 °C may be reached, after four 260 °C.
func TestStaysCoolByTwoTimes(t *testing.T) {
	s := newSurvey(gather(t, launch).Spec)
	s.simulate()
	r := &s.runs[0]
	pack, _ := s.graph.Part("clutch")
	plates := r.out.Parts[pack].Reading("plate_temperature")
	plates.Begin, plates.End, plates.Highest.Value = 293.15, 313.15, 373.15
	if !s.staysCool(r, pack, 5) || s.staysCool(r, pack, 6) {
		t.Errorf("stays cool for 5 passes %v, for 6 %v; want true, false", s.staysCool(r, pack, 5), s.staysCool(r, pack, 6))
	}
}

// 32 mm2/s at 40 °C are 25.6 once a fifth is sheared away for good.
func TestShearLossThins(t *testing.T) {
	still := replaced(replaced(alwaysWarm, "drives: {pump: 2000 rpm}", "weight: 1 /h"), ", demands: {user: 20 L/min}", "")
	f := simulateText(t, "  shear_loss: 20 %\n"+still[1:], Asked{})
	is(t, "thinnest", partOf(t, f, "pump").ThinnestViscosity, "25.6 mm2/s", quantity.KinematicViscosity, 1e-4)
	notes(t, "thinnest", partOf(t, f, "pump").ThinnestViscosity, "after shear loss")
}

// A bypass that cracks at 3 bar and passes 20 L/min of 860 kg/m3 with 2 bar more takes
// 40 L/min of 854.22 kg/m3 with 3 + 2 · (40/20)² · 854.22/860 bar.
func TestBypassDrop(t *testing.T) {
	s := newSurvey(gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  screen: {kind: filter, from: out, to: sump, flow: 20 L/min, drop: 2 bar, viscosity: 32 mm2/s, bypass: 3 bar, collapse: 10 bar}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}}}
`).Spec)
	i, _ := s.graph.Part("screen")
	flow := facts.Fact{Value: 40e-3 / 60, Known: true, From: &facts.Origin{Case: "run"}}
	is(t, "drop", s.bypassDropAt(i, s.spec.Parts[i].(*specs.Filter), flow), "10.9462 bar", quantity.PressureDifference, 1e-4)
}

// An accumulator's highest absolute pressure is the gauge one and the air's.
func TestHighestAbsoluteOfAStore(t *testing.T) {
	f := partOf(t, gather(t, pumpAndRelief+"  store: {kind: accumulator, at: out}\n"+running), "store")
	near(t, "highest absolute", f.HighestAbsolute, f.HighestPressure.Value+101325, 1e-6)
}

// An expectation of a pressure is told gauge, as fact and in the record: it is what the
// node came to.
func TestExpectationsAreGauge(t *testing.T) {
	f := simulateText(t, press, Asked{})
	record := f.Records[1]
	var top float64
	for _, n := range record.Nodes {
		if n.Name == "press" {
			top = n.Pressure.Highest.Value
		}
	}
	near(t, "highest", f.Expectations[1].Highest, top, 1e3)
	e := record.Expectations[1]
	if !e.AtMost || math.Abs(e.Measure-top) > 1e3 || math.Abs(e.Limit-300e5) > 1 {
		t.Errorf("recorded as %+v, want %g of at most 300 bar", e, top)
	}
	least := record.Expectations[0]
	if least.AtMost || math.Abs(least.Measure-f.Expectations[0].Lowest.Value) > 1 || !strings.Contains(fmt.Sprint(f.Expectations[0].Name.Value), "press") {
		t.Errorf("recorded as %+v, told as %+v", least, f.Expectations[0])
	}
}
