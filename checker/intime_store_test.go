package checker

import (
	"math"
	"strings"
	"testing"
)

// store is an accumulator that a consumer draws from while the pump stands.
const store = `
environment: {ambient: 20 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L, service_loss: 0.5 L}
  pump: {kind: pump, from: sump, to: feed, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %, compensator: {set: 150 bar, band: 10 bar, lag: 20 ms}}
  check: {kind: check-valve, from: feed, to: rail, cracking: 0.5 bar, flow: 20 L/min, drop: 2 bar}
  bottle: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 80 bar}, gas: nitrogen, time_constant: 0.05 s, inlet: 10 mm, lowest_working: 100 bar}
  user: {kind: consumer, from: rail, to: sump, min_pressure: 50 bar}
  valve: {kind: directional-valve, p: rail, t: sump, a: line, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  ram: {kind: cylinder, head: line, bore: 30 mm, stroke: 50 mm, moving_mass: 1 kg, friction: {viscous: 500 N·s/m}, spring: {preload: 500 N, rate: 5 N/mm}, dead_volume: {head: 5 cm3}}
cases:
  draws:
    lasts: 2 s
    repeats: 2
    begins: {fluid: 20 degC, charge: 140 bar}
    demands: {user: [[0 s, 0 L/min], [0.1 s, 0 L/min], [0.1001 s, 6 L/min], [2 s, 6 L/min]]}
  fills:
    lasts: 10 s
    begins: {fluid: 20 degC, charge: 140 bar}
    drives: {pump: 1000 rpm}
    commands:
      - {at: 1 s, valve: valve, to: 1}
      - {at: 2 s, valve: valve, to: -1}
`

// 6 L/min for 1.9 s are 190 cm³. Useful is what the gas at its temperature then
// gives up to 100 bar; the demand of the repeated case has nothing to meet it.
func TestStoreFacts(t *testing.T) {
	f := simulateText(t, strings.Replace(store, "    repeats: 2\n", "", 1), Asked{})
	here := hereOf(t, f, "bottle", "draws")
	begin, end := here.UsefulBegin.Value, here.UsefulEnd.Value
	if !here.UsefulBegin.Known || !here.UsefulEnd.Known || begin <= 0.05e-3 || begin > 0.3e-3 {
		t.Fatalf("useful at first %+v, at last %+v", here.UsefulBegin, here.UsefulEnd)
	}
	// Isothermal, for the gas takes heat fast: V p0/p, a real gas within 3 %.
	p0, p1, p2 := 81.013, 141.013, 101.013
	near(t, "useful at the start", here.UsefulBegin, 1e-3*(p0/p2-p0/p1), 0.04*1e-3*(p0/p2-p0/p1))
	near(t, "useful at the end", here.UsefulEnd, begin-1.9*0.1e-3, 0.01e-3)
	if here.UsefulLeast.Value > end || here.UsefulLeast.From.Case != "draws" {
		t.Errorf("least useful %+v", here.UsefulLeast)
	}
	f = simulateText(t, store, Asked{Strokes: map[string]int{"ram": 4}})
	k := caseNamed(t, f, "draws")
	near(t, "mean supply", k.MeanSupply, 0, 1e-9)
	near(t, "mean demand", k.MeanDemand, 0.95*0.1e-3, 0.02e-3)
	if k.Settles.Value || k.Settled.Known {
		t.Errorf("settled: %+v", k.Settled)
	}
	user := hereOf(t, f, "user", "draws")
	if !user.LowestDifference.Known || user.LowestDifference.Value > 1.4e7 || user.LowestDifference.Value < 5e6 {
		t.Errorf("lowest difference %+v", user.LowestDifference)
	}
	if u := hereOf(t, f, "user", "fills"); u.LowestDifference.Known {
		t.Error("a consumer that draws nothing has a lowest difference")
	}

	// A stroke takes 35 cm³ of what is stored above about 20 bar, which is more
	// than four times that.
	ram := partOf(t, f, "ram")
	near(t, "strokes after the loss of the pump", ram.StrokesAfterLoss, 4, 0)
	if from := ram.StrokesAfterLoss.From; from.Case != "fills" {
		t.Errorf("strokes are counted in %s", from.Case)
	}
	if math.IsNaN(ram.StrokesAfterLoss.Value) || partOf(t, simulateText(t, store, Asked{}), "ram").StrokesAfterLoss.Known {
		t.Error("strokes were counted though nobody asked")
	}
}

// A pressure that falls is told with who took oil then, and who gave it.
func TestWhoTookTheOil(t *testing.T) {
	f := simulateText(t, replaced(store, "    demands: {user: [[0 s", "    expects: [{node: rail, at_least: 120 bar}]\n    demands: {user: [[0 s"), Asked{})
	lowest := f.Expectations[0].Lowest
	if lowest.From.Note != "while user took 6.00 L/min and bottle gave 6.00 L/min" {
		t.Errorf("at %g Pa it is told %q", lowest.Value, lowest.From.Note)
	}
}
