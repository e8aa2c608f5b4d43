package checker

import (
	"math"
	"testing"

	"headroom/checker/resistance"
	"headroom/specs/quantity"
)

// squareDrop is resistance.SquareLaw the other way round, down to where that is
// rounded.
func TestSquareDropInvertsTheSquareLaw(t *testing.T) {
	k := resistance.RatedCoefficient(1.6e-4, 1e5, 860)
	for _, drop := range []float64{1, 1e2, 1e3, 5e3, 1e4, 1e5, 1e7} {
		flow, _ := resistance.SquareLaw(k, drop)
		if back := squareDrop(k, flow); math.Abs(back-drop) > 1e-9*drop {
			t.Errorf("%v Pa gives %v m3/s, and that %v Pa", drop, flow, back)
		}
	}
}

// What a part costs on the way of 10 L/min of plain oil at 40 °C: 854.22 kg/m3 by
// ASTM D1250, 860.2 with 105 bar on it.
func TestLossOfAPart(t *testing.T) {
	tests := []struct{ name, part, want string }{
		// Q = C_d A √(2 Δp/ρ): (1.66667e-4/(0.61 · 7.0686e-6))² · 860.2/2
		{"an orifice of 3 mm", "{kind: orifice, from: far, to: end, diameter: 3 mm}", "6.4260 bar"},
		// 1 bar at 10 L/min of 860 kg/m3
		{"a cooler", "{kind: cooler, from: far, to: end, flow: 10 L/min, drop: 1 bar}", "1.0002 bar"},
		{"a check valve", "{kind: check-valve, from: far, to: end, cracking: 0.5 bar, flow: 10 L/min, drop: 1 bar}", "1.5002 bar"},
		{"a pilot check valve", "{kind: pilot-check-valve, from: far, to: end, pilot: aside, cracking: 0.5 bar, flow: 10 L/min, drop: 1 bar}", "1.5002 bar"},
		// linear in flow and viscosity: 1 bar at 20 L/min of 16 mm2/s
		{"a filter", "{kind: filter, from: far, to: end, flow: 20 L/min, drop: 1 bar, viscosity: 16 mm2/s}", "1 bar"},
		// 2 bar without its bypass of 0.3 bar, and 1 bar · (10/10)² through that, of 860.2 kg/m3
		{"a filter with its bypass open", "{kind: filter, from: far, to: end, flow: 10 L/min, drop: 1 bar, viscosity: 16 mm2/s, bypass: 0.3 bar}", "1.3 bar"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := gather(t, replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: end, to: sump, cracking")+
				"  wide: {kind: hose, from: out, to: far, bore: 100 mm, length: 1 mm}\n  part: "+tt.part+"\n"+running)
			lost := nodeOf(t, f, "out").HighestPressure
			lost.Value -= 105e5                                               // what the relief valve comes to
			is(t, "loss", lost, tt.want, quantity.PressureDifference, 1.5e-3) // the square law is rounded
		})
	}
}

// Pressed oil is thicker, in a filter element as in a line: 1 bar at 10 L/min of 32
// mm2/s, and e^(2e-8/Pa · 105 bar) of that under the relief valve's 105 bar.
func TestLossOfAFilterUnderPressure(t *testing.T) {
	f := gatherOf(t, replaced(plain, "  free_air: 0 %", "  free_air: 0 %\n  pressure_viscosity: 2e-8 1/Pa")+
		replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: end, to: sump, cracking")+
		"  part: {kind: filter, from: out, to: end, flow: 20 L/min, drop: 1 bar, viscosity: 16 mm2/s}\n"+running)
	lost := nodeOf(t, f, "out").HighestPressure
	lost.Value -= 105e5
	is(t, "loss", lost, "1.2337 bar", quantity.PressureDifference, 1e-4)
}
