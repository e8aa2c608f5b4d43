package checker

import (
	"math"
	"testing"

	"headroom/specs/quantity"
)

// turning is a pump that fills a motor of half its displacement, neither with slip.
const turning = `
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  hose: {kind: hose, from: out, to: in, bore: 12 mm, length: 1 m}
  motor: {kind: motor, from: in, to: sump, displacement: 5 cm3/rev, turns_at: {flow: 5 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %, inertia: 0.001 kg·m2, max_speed: 1800 rpm, load: 2 N·m}
  store: {kind: accumulator, at: out, size: 1 L, precharge: {pressure: 90 bar}, gas: nitrogen, time_constant: 30 s, inlet: 10 mm, lowest_working: 95 bar}
cases:
  run: {lasts: 4 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 0 rpm], [2 s, 1000 rpm]]}}
  rest: {lasts: 0.2 s, begins: {fluid: 40 degC}}
`

// What the pump displaces at 1000 rpm turns a motor of half its displacement at
// 2000 rpm.
func TestMotorSpeed(t *testing.T) {
	f := partOf(t, simulateText(t, turning, Asked{}), "motor")
	most := 2000 * math.Pi / 30
	near(t, "highest speed", f.HighestSpeed, most, 0.02*most) // it swings past as the run-up ends
	is(t, "speed limit", f.MaxSpeed, "1800 rpm", quantity.RotationalSpeed, 1e-9)
	bare := partOf(t, gather(t, replaced(turning, "max_speed: 1800 rpm, ", "")), "motor")
	lacks(t, "speed limit, not stated", bare.MaxSpeed, "parts.motor.max_speed")
	lacks(t, "highest speed, not simulated", bare.HighestSpeed, "simulation")
}

// That a case turns a pump is known where the pump's displacement is not.
func TestTurnsPumps(t *testing.T) {
	f := gather(t, turning)
	is(t, "delivery", f.Cases[0].LowestDelivery, "10 L/min", quantity.Flow, 1e-9)
	if !f.Cases[0].TurnsPumps.Value || f.Cases[1].TurnsPumps.Value || !f.Cases[1].TurnsPumps.Known {
		t.Errorf("a case that turns a pump: %+v; one at rest: %+v", f.Cases[0].TurnsPumps, f.Cases[1].TurnsPumps)
	}
	blind := gather(t, replaced(turning, "to: out, displacement: 10 cm3/rev, ", "to: out, "))
	lacks(t, "delivery of an unknown displacement", blind.Cases[0].LowestDelivery, "parts.pump.displacement")
	if !blind.Cases[0].TurnsPumps.Value {
		t.Error("a pump of unknown displacement is told as at rest")
	}
}

// The working of useful fluid says how it is reckoned.
func TestUsefulFluidSaysHow(t *testing.T) {
	of := func(text string) string {
		f := simulateText(t, text, Asked{})
		for _, p := range f.PartsInCase {
			if p.Part.Name.Value == "store" && p.Case.Name.Value == "rest" {
				return p.Here.UsefulLeast.From.Note
			}
		}
		return ""
	}
	if got, want := of(turning), "given slowly, the gas at its temperature of that instant, down to 95.0 bar"; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
	if got, want := of(replaced(turning, ", lowest_working: 95 bar", "")), "all its oil, for no lowest_working is stated"; got != want {
		t.Errorf("says %q, want %q", got, want)
	}
}
