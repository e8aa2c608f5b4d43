package checker

import (
	"testing"

	"headroom/specs/quantity"
)

// Esposito, Fluid Power with Applications, example 5-8: 5 in3, 1000 rpm, 1000 psi
// and 900 in·lb at the shaft. The ideal torque is 795.77 in·lb, the mechanical
// efficiency 88.42 %, the power 900 in·lb · 1000 rpm = 10.649 kW.
func TestPumpPower(t *testing.T) {
	const pump = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 5 in3/rev, mechanical_efficiency: 88.419 %,
    delivers: {flow: 20 gpm, at: {pressure: 1000 psi, speed: 1000 rpm, viscosity: 32 mm2/s}}}
`
	is(t, "power at rating", partOf(t, gather(t, pump), "pump").PowerAtRating, "10.649 kW", quantity.Power, 1e-4)
	// a drag of 1 N·m at 1000 rpm adds 104.72 W
	dragged := gather(t, replaced(pump, "mechanical_efficiency: 88.419 %", "mechanical_efficiency: 88.419 %, drag: 1 N·m"))
	is(t, "with drag", partOf(t, dragged, "pump").PowerAtRating, "10.7537 kW", quantity.Power, 1e-4)
	lacks(t, "without an efficiency", partOf(t, gather(t, replaced(pump, " mechanical_efficiency: 88.419 %,", "")), "pump").PowerAtRating, "parts.pump.mechanical_efficiency")
}

func TestPumpSpeedAndDelivery(t *testing.T) {
	const pump = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 4 cm3/rev, max_speed: 5000 rpm, inlet_min: 0.8 bar abs, drive_power: 6 kW,
    compensator: {set: 195 bar, band: 12 bar, lag: 20 ms}}
cases:
  slow: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}
  fast: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 500 rpm], [1 s, 4000 rpm], [2 s, 0 rpm]]}}
  idle: {lasts: 1 s, begins: {fluid: 40 degC}}
`
	f := partOf(t, gather(t, pump), "pump")
	is(t, "highest speed", f.HighestSpeed, "4000 rpm", quantity.RotationalSpeed, 1e-9)
	if f.HighestSpeed.From.Case != "fast" || f.HighestSpeed.From.Key != "cases.fast.drives.pump" {
		t.Errorf("the highest speed is from %+v", f.HighestSpeed.From)
	}
	is(t, "delivery", f.DeliveryTop, "16 L/min", quantity.Flow, 1e-9)
	is(t, "cut-off", f.CutOff, "207 bar", quantity.Pressure, 1e-9)
	is(t, "speed allowed", f.MaxSpeed, "5000 rpm", quantity.RotationalSpeed, 1e-9)
	is(t, "inlet allowed", f.InletMin, "0.8 bar abs", quantity.AbsolutePressure, 1e-9)
	is(t, "drive", f.DrivePower, "6 kW", quantity.Power, 1e-9)
	bare := partOf(t, gather(t, "parts: {tank: {kind: reservoir, at: sump}, pump: {kind: pump, from: sump, to: out}}\n"), "pump")
	lacks(t, "speed that no case drives", bare.HighestSpeed, "cases.*.drives.pump")
	lacks(t, "cut-off without a compensator", bare.CutOff, "parts.pump.compensator")
	lacks(t, "speed allowed, not stated", bare.MaxSpeed, "parts.pump.max_speed")
}
