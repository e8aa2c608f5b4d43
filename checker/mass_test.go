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
