package fluid

import "testing"

func TestModulusIsLinearAndBounded(t *testing.T) {
	m := Modulus{Value: 1.55e9, AtTemperature: kelvin(40), AtPressure: 101325, PerPressure: 9.5, PerKelvin: -7e6}
	for _, row := range []struct{ celsius, p, want float64 }{
		{40, 101325, 1.55e9},
		{40, 101325 + 20e6, 1.74e9},
		{60, 101325, 1.41e9},
		{0, 101325 + 10e6, 1.925e9},
		{240, 101325, 0.155e9}, // the line would be 0.15e9
		{400, 101325, 0.155e9},
	} {
		near(t, "K", m.At(kelvin(row.celsius), row.p), row.want, 1e-12)
	}
}

// Hayward's isentropic secant moduli of a VG 46 oil and the tangents that
// follow, GPa at 0, 100, 200, 350 bar; computed independently, half a last
// digit. At 350 bar the tangent is 9 to 11 % above the secant.
func TestTangentFromSecant(t *testing.T) {
	const slope = 5.6
	for _, row := range []struct {
		k0      float64
		secant  [4]float64
		tangent [4]float64
	}{
		{1.889e9, [4]float64{1.889, 1.945, 2.001, 2.085}, [4]float64{1.889, 1.992, 2.098, 2.263}},
		{1.515e9, [4]float64{1.515, 1.571, 1.627, 1.711}, [4]float64{1.515, 1.619, 1.726, 1.893}},
	} {
		for i, p := range []float64{0, 10e6, 20e6, 35e6} {
			near(t, "secant", row.k0+slope*p, row.secant[i]*1e9, 4e-4)
			near(t, "tangent", TangentFromSecant(row.k0, slope, p), row.tangent[i]*1e9, 4e-4)
		}
		share := TangentFromSecant(row.k0, slope, 35e6) / (row.k0 + slope*35e6)
		if share < 1.08 || share > 1.11 {
			t.Errorf("tangent over secant at 350 bar = %.4f", share)
		}
	}
}

// The definition itself: V = V0 (1 − p/K_s) and K = −V dp/dV.
func TestTangentIsTheDerivative(t *testing.T) {
	const k0, m = 1.5e9, 5.6
	volume := func(p float64) float64 { return 1 - p/(k0+m*p) }
	for _, p := range []float64{0, 5e6, 20e6, 60e6} {
		near(t, "K", TangentFromSecant(k0, m, p), -volume(p)/slope(volume, p, 1e6), 1e-8)
	}
}

// Hayward's isentropic and isothermal secants of a VG 46 oil at 60 °C and no
// pressure, 1.515 and 1.310 GPa (coefficients from memory, so 5 %), with
// expansion and density of ASTM D1250 and c_p 2025 J/kg/K (Cragoe).
func TestIsentropicModulus(t *testing.T) {
	T := kelvin(60)
	alpha := Expansion(LubricantExpansion(870), T)
	near(t, "K_S", IsentropicModulus(1.310e9, alpha, T, 841.49, 2025), 1.515e9, 0.05)

	// The ideal gas: α = 1/T, K_T = p, ρ = p/(R T), c_p = 3.5 R give K_S = 1.4 p.
	const R, p, temperature = 296.8, 5e6, 320.0
	near(t, "K_S of an ideal gas", IsentropicModulus(p, 1/temperature, temperature, p/(R*temperature), 3.5*R), 1.4*p, 1e-12)
}
