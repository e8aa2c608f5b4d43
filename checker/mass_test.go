package checker

import (
	"testing"

	"headroom/specs/quantity"
)

// Two parts of 1.5 and 0.5 kg, and 870 kg/m3 of: 10 L in the reservoir, 1 m of
// 20 mm hose (314.159 cm3, with the 1 cm3 of its far node inside it).
func TestMass(t *testing.T) {
	const circuit = `
parts:
  tank: {kind: reservoir, at: sump, fill: 10 L, mass: 1.5 kg}
  hose: {kind: hose, from: sump, to: far, bore: 20 mm, length: 1 m, mass: 0.5 kg}
`
	f := gather(t, circuit)
	is(t, "fluid", f.Whole.FluidMass, "8.973318 kg", quantity.Mass, 1e-6)
	is(t, "circuit", f.Whole.Mass, "10.973318 kg", quantity.Mass, 1e-6)
	is(t, "parts", f.Whole.StatedMass, "2 kg", quantity.Mass, 1e-9)
	is(t, "without", f.Whole.PartsWithoutMass, "0", quantity.Number, 0)

	f = gather(t, replaced(circuit, ", mass: 0.5 kg", ""))
	lacks(t, "a mass that leaves a part out", f.Whole.Mass, "parts.hose.mass")
	is(t, "without", f.Whole.PartsWithoutMass, "1", quantity.Number, 0)
	notes(t, "without", f.Whole.PartsWithoutMass, "hose")
	is(t, "parts", f.Whole.StatedMass, "1.5 kg", quantity.Mass, 1e-9)
}

// 1 L of nitrogen, 10 MPa at 20 °C, gives way to 0.47535 L of fluid at 20 MPa
// (short equation: 0.52465 L left). The node at the accumulator is 1 cm3.
func TestMassOfStoredFluid(t *testing.T) {
	f := gather(t, `
environment: {ambient: 20 degC}
parts:
  store: {kind: accumulator, at: a, size: 1 L, precharge: {pressure: 100 bar abs, temperature: 20 degC}}
cases: {run: {lasts: 1 s, begins: {fluid: 20 degC, charge: 200 bar abs}}}
`)
	is(t, "fluid", f.Whole.FluidMass, "0.414425 kg", quantity.Mass, 3e-5) // 870 kg/m3 · 0.47635 L
}
