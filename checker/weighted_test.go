package checker

import (
	"math"
	"strings"
	"testing"
)

// All repeats of a case count: it comes back to where it began before each, so that
// three passes use up three times what one does. A case without a weight is told.
func TestMinerSumCountsRepeats(t *testing.T) {
	text := replaced(press, "length: 1 m}", "length: 1 m, rated: {cycles: {count: 1000000, at: 100 bar, exponent: 5}}}")
	text = replaced(text, "  fast: {lasts: 4 s, begins: {fluid: 40 degC}, drives: {pump: 2000 rpm}, weight: 120 /h,", "  fast: {lasts: 4 s, begins: {fluid: 40 degC}, drives: {pump: 2000 rpm},")
	once := partOf(t, simulateText(t, text, Asked{}), "hose").MinerSum
	thrice := partOf(t, simulateText(t, replaced(text, "weight: 60 /h", "repeats: 3, weight: 60 /h"), Asked{}), "hose").MinerSum
	near(t, "of three repeats", thrice, 3*once.Value, 0.01*3*once.Value)
	if want := "most of it in this case, 60.0 /h over 100 h; left out without a weight: fast, cold"; once.From.Note != want {
		t.Errorf("it is told %q, want %q", once.From.Note, want)
	}
	if want := "over 100 h, 3 repeats each; left out"; !strings.Contains(thrice.From.Note, want) {
		t.Errorf("it is told %q, want %q in it", thrice.From.Note, want)
	}
}

// heater heats 10 L and what is in the lines by 20 L/min through an orifice: 4.3 kW.
const heater = `
environment: {ambient: 40 degC, service_interval: 100 h}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L, rated: {life: {hours: 1000 h, at: 70 degC}}}
  pump: {kind: pump, from: sump, to: press, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  nozzle: {kind: orifice, from: press, to: sump, diameter: 2 mm}
cases:
  heats: {lasts: 30 s, repeats: 3, begins: {fluid: 40 degC}, drives: {pump: 2000 rpm}, weight: 10 /h}
  other: {lasts: 1 s, begins: {fluid: 40 degC}}
`

// The temperature rises straight, by P/(m c): in pass k its mean is 40 °C + P/(m c) ·
// 30 s (k − ½). Each pass ages by its own, L = 3/Σ 1/L_k.
func TestLifeCountsRepeats(t *testing.T) {
	f := simulateText(t, strings.Replace(heater, "environment:", "  life: {hours: 1000 h, at: 70 degC}\nenvironment:", 1)[1:], Asked{})
	const rho, c, flow = 848.0, 1950.0, 20e-3 / 60 * (1 - 12.6e6/1.5e9) // as pressed together before the orifice
	v := flow / (0.61 * math.Pi * 1e-6)
	perSecond := rho / 2 * v * v * flow / (10e-3 * 870 * c)
	aged := 0.0
	for k := range 3 {
		aged += 1 / (1000 * 3600 * math.Exp2((70-(40+perSecond*30*(float64(k)+0.5)))/10))
	}
	near(t, "life of the fluid", f.Fluid.LifeUsed, 3/aged, 0.01*3/aged)
	near(t, "life of the reservoir", partOf(t, f, "tank").HeatLife, 3/aged, 0.01*3/aged)
	notes(t, "life of the fluid", f.Fluid.LifeUsed, "in the reservoir; left out without a weight: other")
}
