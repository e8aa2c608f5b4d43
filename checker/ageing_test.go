package checker

import (
	"math"
	"testing"

	"headroom/specs/quantity"
)

// Two cases of 4 s, the second twice as often; the nozzle ages by the mean
// temperature of its hotter end: L = 3/(1/L_1 + 2/L_2), L_i = 1000 h · 2^((60 − T_i)/10).
func TestPartAgesByHeat(t *testing.T) {
	text := replaced(press, "diameter: 2 mm}", "diameter: 2 mm, rated: {life: {hours: 1000 h, at: 60 degC}}}")
	text = replaced(text, "from: jet, to: back", "from: back, to: jet") // its hotter end first
	text = replaced(text, "fast: {lasts: 4 s, begins: {fluid: 40 degC}", "fast: {lasts: 4 s, begins: {fluid: 70 degC}")
	f := simulateText(t, text, Asked{})
	nozzle := partOf(t, f, "nozzle")
	is(t, "life as stated", nozzle.RatedLife, "1000 h", quantity.Time, 1e-9)
	var lives [2]float64
	for i := range lives {
		T := 0.0
		for _, n := range f.Records[i].Nodes {
			if n.Name == "back" || n.Name == "jet" {
				T = max(T, n.Temperature.Highest.Value) // where it is but for the first moments
			}
		}
		lives[i] = 1000 * 3600 * math.Exp2((60+273.15-T)/10)
	}
	want := 3 / (1/lives[0] + 2/lives[1])
	near(t, "life in the heat", nozzle.HeatLife, want, 0.06*want)
	if lives[1] > lives[0]/6 {
		t.Errorf("lives of %g and %g s: 30 K cost a factor of about 8", lives[0], lives[1])
	}
	if from := nozzle.HeatLife.From; from.Case != "fast" || from.Key != "parts.nozzle.rated.life" {
		t.Errorf("the life comes from %+v", from)
	}
	lacks(t, "life of the intake", partOf(t, f, "intake").HeatLife, "parts.intake.rated.life")

	unweighted := replaced(replaced(text, ", weight: 60 /h", ""), ", weight: 120 /h", "")
	lacks(t, "life without weights", partOf(t, simulateText(t, unweighted, Asked{}), "nozzle").HeatLife, "cases.*.weight")
}
