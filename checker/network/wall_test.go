package network

import "testing"

// C = D c1/(E e), c1 = 2e(1 + µ)/D + (1 − µ/2) D/(D + e): for 10 × 1.5 mm of 206 GPa,
// 0.3: c1 1.12913; of 68.9 GPa, 0.33: 1.12509. A hose: stretch over its area.
func TestWallCompliance(t *testing.T) {
	c := read(t, "walls.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: a, volume: 40 L, fill: 20 L}
  steel: {kind: tube, from: a, to: b, bore: 10 mm, length: 1 m, wall: 1.5 mm, material: E355}
  light: {kind: tube, from: a, to: b, bore: 10 mm, length: 1 m, wall: 1.5 mm, material: 6061-T6}
  soft: {kind: hose, from: a, to: b, bore: 10 mm, length: 1 m, stretch: 7.853982e-14 m2/Pa}
  jet: {kind: orifice, from: a, to: b, diameter: 1 mm}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}}}
`)
	for i, want := range []float64{0, 3.65415e-11, 1.088620e-10, 1e-9, 0} {
		closeTo(t, c.Parts[i].Base().Name, WallCompliance(c.Parts[i]), want, 1e-5)
	}
}
