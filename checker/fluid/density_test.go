package fluid

import (
	"math"
	"testing"
)

// ASTM D1250 with ρ15 870 kg/m³ and its lubricant constants, computed
// independently, tolerance half a last digit.
func TestDensityD1250(t *testing.T) {
	alpha := LubricantExpansion(870)
	for celsius, want := range map[float64]float64{
		-20: 891.80, 0: 879.39, 15: 870, 20: 866.86, 40: 854.22, 60: 841.49, 80: 828.68, 100: 815.78,
	} {
		near(t, "ρ", Density(870, alpha, 1.5e9, kelvin(celsius), ReferencePressure), want, 0.006/want)
	}
}

// ASTM D1250, lubricating oils: α15 = 0.6278/ρ15, computed independently.
func TestLubricantExpansion(t *testing.T) {
	for rho, want := range map[float64]float64{850: 7.386e-4, 870: 7.216e-4, 890: 7.054e-4} {
		near(t, "α15", LubricantExpansion(rho), want, 7e-5)
	}
}

func TestExpansionBelongsToDensity(t *testing.T) {
	const rho15, alpha, k = 870, 7.2e-4, 1.5e9
	for celsius := -40.0; celsius <= 140; celsius += 20 {
		T := kelvin(celsius)
		rho := func(T float64) float64 { return Density(rho15, alpha, k, T, ReferencePressure) }
		near(t, "α_T", Expansion(alpha, T), -slope(rho, T, 0.5)/rho(T), 1e-9)
	}
}

// What the comment of Expansion says of it under pressure.
func TestExpansionUnderPressure(t *testing.T) {
	o := Oil{Density15: 870, Expansion15: 7e-4, Modulus: Modulus{Value: 1.5e9, AtTemperature: kelvin(40), AtPressure: ReferencePressure, PerPressure: 9.5, PerKelvin: -7e6}}
	T, p := kelvin(40), ReferencePressure+35e6
	rho := func(T float64) float64 { return o.Density(T, p) }
	near(t, "share of the expansion at p0", -slope(rho, T, 0.5)/rho(T)/o.Expansion(T), 0.90, 0.006)
}

// The compression term: at p0 none, whatever K; 1 % at a hundredth of K.
func TestDensityUnderPressure(t *testing.T) {
	T := kelvin(50)
	free := Density(870, 7e-4, 1.5e9, T, 101325)
	near(t, "ρ at p0", free, Density(870, 7e-4, 1e9, T, 101325), 1e-15)
	near(t, "ρ at p0 + K/100", Density(870, 7e-4, 1.5e9, T, 101325+15e6), 1.01*free, 1e-12)
}

// What the comment says of the accuracy, against the exact ρ = ρ0 e^(∫dp/K): with a
// modulus that is the same all the way, and with one that rises 11 times the pressure.
func TestDensityUnderPressureAccuracy(t *testing.T) {
	const K, m = 1.5e9, 11
	compressed := func(k, p float64) float64 {
		return Density(870, 7e-4, k, ReferenceTemperature, ReferencePressure+p) / 870
	}
	for p, low := range map[float64]float64{10e6: 0.02e-2, 20e6: 0.09e-2, 35e6: 0.24e-2} {
		near(t, "K the same everywhere", compressed(K, p)/math.Exp(p/K)-1, -(p/K)*(p/K)/2, 0.02)
		exact := math.Exp(math.Log(1+m*p/K) / m)
		if off := 1 - compressed(K+m*p, p)/exact; math.Abs(off-low) > 0.005e-2 {
			t.Errorf("at %g bar density is %.3f %% low, the comment says %.2f %%", p/1e5, 100*off, 100*low)
		}
	}
}
