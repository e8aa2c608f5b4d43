package checker

import (
	"math"
	"testing"

	"headroom/checker/fluid"
	"headroom/checker/strength"
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// shutIn is a tube between two check valves that both open into it.
func shutIn(t *testing.T, fluid, line, rest string) *facts.Trapped {
	t.Helper()
	f := gatherOf(t, fluid+`
parts:
  tank: {kind: reservoir, at: sump}
  one: {kind: check-valve, from: sump, to: a, cracking: 0 bar, flow: 10 L/min, drop: 1 bar, rated: {pressure: 200 bar}}
  line: `+line+`
  two: {kind: check-valve, from: sump, to: b, cracking: 0 bar, flow: 10 L/min, drop: 1 bar, rated: {pressure: 150 bar}}
`+rest)
	if len(f.Trapped) != 1 {
		t.Fatalf("%d volumes shut in, want 1", len(f.Trapped))
	}
	return f.Trapped[0]
}

// oil145 goes from half a degree below 15 °C to half a degree above.
func oil145(text string) string {
	return replaced(text, "80 degC", "15.5 degC") + "environment: {ambient: 15 degC, cold_start: 14.5 degC}\n"
}

// Pressure rise of 1 K, dp/dT = αK in a rigid wall: MIL-PRF-5606 with 0.00046 1/°F
// and 260 000 psi 14.84 bar/K (Lee Company data); α 7e-4 1/K with K 1.5 GPa
// 10.5, 1.8 GPa 12.6 bar/K. In steel tube 20 × 2 mm, E 206 GPa, µ 0.3, α_s 12e-6
// 1/K: 9.44 and 11.21 bar/K by the thin-wall formula (computed); the exact wall
// gives way by 4.5416e-11 1/Pa instead of 3.689e-11: 9.325 and 11.05.
func TestRiseOfATrappedVolume(t *testing.T) {
	const rigid = "{kind: tube, from: a, to: b, bore: 16 mm, length: 1 m}"
	const steel = "{kind: tube, from: a, to: b, bore: 16 mm, length: 1 m, wall: 2 mm, material: E235}"
	oil := func(alpha, modulus string) string {
		return oil145(replaced(replaced(plain, "0.0007216 1/K", alpha), "value: 1.5 GPa", "value: "+modulus))
	}
	tests := []struct {
		name, fluid, line, want string
		tolerance               float64
	}{
		{"MIL-PRF-5606, rigid", oil("0.000828 1/K", "260000 psi"), rigid, "14.84 bar", 1e-3},
		{"1.5 GPa, rigid", oil("0.0007 1/K", "1.5 GPa"), rigid, "10.5 bar", 1e-4},
		{"1.8 GPa, rigid", oil("0.0007 1/K", "1.8 GPa"), rigid, "12.6 bar", 1e-4},
		{"1.5 GPa, steel", oil("0.0007 1/K", "1.5 GPa"), steel, "9.325 bar", 1e-4},
		{"1.5 GPa, steel, thin-wall formula", oil("0.0007 1/K", "1.5 GPa"), steel, "9.44 bar", 0.015},
		{"1.8 GPa, steel, thin-wall formula", oil("0.0007 1/K", "1.8 GPa"), steel, "11.21 bar", 0.015},
		// stretch over area as compliance: 1e-9 1/Pa of 201.062 mm2 are 2.01062e-13 m2/Pa;
		// 7e-4/(1/1.5e9 + 1e-9)
		{"a hose that stretches", oil("0.0007 1/K", "1.5 GPa"), "{kind: hose, from: a, to: b, bore: 16 mm, length: 1 m, stretch: 2.01062e-13 m2/Pa}", "4.2 bar", 1e-4},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := shutIn(t, tt.fluid, tt.line, "")
			is(t, "rise", f.Rise, tt.want, quantity.PressureDifference, tt.tolerance)
		})
	}
}

// What the comment of warmed says of the isentropic modulus, against the isothermal
// one, K_T = K_S/(1 + α² T K_S/(ρ c_p)), with bubbles that stay as warm as the oil.
func TestRiseWithTheIsentropicModulus(t *testing.T) {
	oil := fluid.Oil{
		Density15: 875, Expansion15: 7e-4, SpecificHeat: 1950, FreeAir: 0.005,
		Modulus: fluid.Modulus{Value: 1.55e9, AtTemperature: 313.15, AtPressure: fluid.ReferencePressure, PerPressure: 9.5, PerKelvin: -7e6},
	}
	slow := func(T, p float64) float64 {
		alpha, k := oil.Expansion(T), oil.BulkModulus(T, p)
		isothermal := k / (1 + alpha*alpha*T*k/(oil.Density(T, p)*oil.SpecificHeat))
		if back := fluid.IsentropicModulus(isothermal, alpha, T, oil.Density(T, p), oil.SpecificHeat); math.Abs(back/k-1) > 1e-12 {
			t.Fatalf("%g Pa is not the isothermal modulus of %g Pa, but of %g Pa", isothermal, k, back)
		}
		return fluid.EffectiveModulus(isothermal, oil.FreeAir, 1, p)
	}
	rise := func(from, to float64, modulus func(T, p float64) float64) float64 {
		const p = 1e5
		return strength.TrappedPressure(p, from, to, func(T, p float64) float64 {
			return strength.TrappedRate(oil.Expansion(T), 1.2e-5, modulus(T, p), 0)
		}) - p
	}
	for _, row := range []struct{ from, to, high float64 }{{293, 333, 0.19}, {253, 353, 0.26}} {
		if high := rise(row.from, row.to, oil.EffectiveModulus)/rise(row.from, row.to, slow) - 1; math.Abs(high-row.high) > 0.005 {
			t.Errorf("from %g to %g K the rise is %.3f high, the comment says %.2f", row.from, row.to, high, row.high)
		}
	}
}

func TestPressureOfATrappedVolume(t *testing.T) {
	const rigid = "{kind: tube, from: a, to: b, bore: 16 mm, length: 1 m}"
	fluid := oil145(replaced(replaced(plain, "0.0007216 1/K", "0.0007 1/K"), "at: {temperature: 40 degC", "at: {temperature: 15 degC"))
	still := "cases: {rest: {lasts: 1 s, begins: {fluid: 15 degC}}}\n"
	f := shutIn(t, fluid, rigid, still)
	is(t, "volume", f.Volume, "201.062 cm3", quantity.Volume, 1e-5)
	is(t, "shut in without pressure", f.Pressure, "10.5 bar", quantity.Pressure, 1e-4)
	is(t, "weakest", f.WeakestRated, "150 bar", quantity.Pressure, 1e-9)
	charged := shutIn(t, fluid+"nodes: {a: {role: pressure}, b: {role: pressure}}\n", rigid, "cases: {rest: {lasts: 1 s, begins: {fluid: 15 degC, charge: 90 bar}}}\n")
	is(t, "shut in under the charge", charged.Pressure, "100.5 bar", quantity.Pressure, 1e-4)

	// Without a case the pressure it is shut in at is not known. A rise that breaks
	// it by itself is told all the same; a lesser one is not held up as enough.
	lacks(t, "a rise that it may bear", shutIn(t, fluid, rigid, "").Pressure, "cases")
	wide := replaced(fluid, "15.5 degC", "30 degC") // 15.5 K · 10.5 bar/K, more than 150 bar
	is(t, "a rise that breaks it by itself", shutIn(t, wide, rigid, "").Pressure, "162.75 bar", quantity.Pressure, 0.02)
}

// In a cylinder at its stop the whole chamber is shut in: 20 mm bore, 50 mm
// stroke and 5 cm3 dead volume make 20.708 cm3, the tube 78.540 cm3 more.
func TestVolumeOfAChamber(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  valve: {kind: directional-valve, p: rail, t: sump, a: a, rest: 0}
  pipe: {kind: tube, from: a, to: head, bore: 10 mm, length: 1 m}
  ram: {kind: cylinder, head: head, bore: 20 mm, stroke: 50 mm, dead_volume: {head: 5 cm3}}
nodes: {a: {volume: 10 cm3}}
cases: {run: {lasts: 1 s, expects: [{part: ram, reaches: 50 mm, within: 1 s}]}}
`)
	if len(f.Trapped) != 1 {
		t.Fatalf("%d volumes shut in", len(f.Trapped))
	}
	is(t, "volume", f.Trapped[0].Volume, "109.248 cm3", quantity.Volume, 1e-5)
	notes(t, "volume", f.Trapped[0].Volume, "shut by valve")
}
