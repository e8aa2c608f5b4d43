package resistance

import (
	"math"
	"testing"
)

// colebrook is Darcy's f by Colebrook–White,
// 1/√f = −2 lg(ε/(3.7 D) + 2.51/(Re √f)), the reference for turbulent flow.
func colebrook(re, roughness float64) float64 {
	x := 8.0 // 1/√f
	for range 100 {
		x = -2 * math.Log10(roughness/3.7+2.51*x/re)
	}
	return 1 / (x * x)
}

// Colebrook–White and Churchill (1977), computed independently; the row at
// 1e5, 1e-4 is also printed by an open-source library (fluids) with these
// digits.
func TestFrictionFactor(t *testing.T) {
	for _, row := range []struct{ re, roughness, colebrook, churchill float64 }{
		{100, 0, 0, 0.640000}, {1000, 0, 0, 0.064000}, {2000, 0, 0, 0.032043},
		{2300, 0, 0, 0.030840},
		{3000, 0, 0.043519, 0.042975}, {4000, 0, 0.039907, 0.040590}, {4000, 0.01, 0.049082, 0.050578},
		{1e4, 0, 0.030883, 0.031002}, {1e4, 0.001, 0.032382, 0.032690},
		{1e5, 1e-4, 0.018513866, 0.018462625},
		{1e5, 0, 0.017990, 0.017875}, {1e5, 0.001, 0.022175, 0.022343},
		{1e5, 0.01, 0.038504, 0.038734}, {1e5, 0.05, 0.071781, 0.071950},
		{1e6, 0, 0.011645, 0.011612}, {1e6, 1e-4, 0.013441, 0.013508}, {1e6, 0.001, 0.019943, 0.020022},
		{1e7, 1e-4, 0.012166, 0.012210},
		{1e8, 0.01, 0.037904, 0.037885}, {1e8, 0.05, 0.071551, 0.071503},
	} {
		within(t, "Churchill", FrictionFactor(row.re, row.roughness), row.churchill, 6e-7)
		if row.colebrook != 0 {
			within(t, "Colebrook", colebrook(row.re, row.roughness), row.colebrook, 6e-7)
		}
	}
	near(t, "Churchill, all digits", FrictionFactor(1e5, 1e-4), 0.018462625, 3e-8)
}

// What the comment promises about the distance to Colebrook–White and 64/Re.
func TestFrictionFactorAccuracy(t *testing.T) {
	for _, band := range []struct{ from, to, share float64 }{
		{4000, 1e4, 0.032}, {1e4, 1e5, 0.022}, {1e5, 1e8, 0.015},
	} {
		for re := band.from; re <= band.to; re *= 1.15 {
			for _, roughness := range []float64{0, 1e-6, 1e-5, 1e-4, 1e-3, 0.01, 0.03, 0.05} {
				near(t, "f", FrictionFactor(re, roughness), colebrook(re, roughness), band.share)
			}
		}
	}
	for re := 1e-6; re <= 1000; re *= 3 {
		near(t, "laminar f", FrictionFactor(re, 0.05), 64/re, 1e-12)
	}
	near(t, "f at 2300 over 64/Re", FrictionFactor(2300, 0)*2300/64, 1.11, 0.003)
}

func TestFrictionFactorOutside(t *testing.T) {
	if f := FrictionFactor(0, 0); !math.IsInf(f, 1) {
		t.Errorf("f at rest = %g, want +Inf", f)
	}
	for _, re := range []float64{-1, math.NaN()} {
		if f := FrictionFactor(re, 0); !math.IsNaN(f) {
			t.Errorf("f(%g) = %g, want NaN", re, f)
		}
	}
}

// The full formula meets 64/Re where it is no longer worked out, and its
// logarithmic slope is that of the formula.
func TestPoiseuille(t *testing.T) {
	for _, roughness := range []float64{0, 1e-4, 0.05} {
		phi, s := churchill(certainlyLaminar, roughness)
		near(t, "φ where the formula takes over", phi, 64, 2e-11)
		within(t, "slope where the formula takes over", s, 0, 1e-9)
		near(t, "f just above", FrictionFactor(certainlyLaminar*1.0001, roughness)*certainlyLaminar*1.0001, 64, 2e-11)
		for re := 1300.0; re < 1e8; re *= 1.3 {
			_, s := poiseuille(re, roughness)
			lnPhi := func(lnRe float64) float64 { phi, _ := poiseuille(math.Exp(lnRe), roughness); return math.Log(phi) }
			within(t, "d ln φ/d ln Re", s, slope(lnPhi, math.Log(re), 1e-3), 1e-8)
			if s < 0 || s > 3 {
				t.Errorf("slope %g at Re %g: drop would not rise steadily with flow", s, re)
			}
		}
	}
}

func BenchmarkFrictionFactor(b *testing.B) {
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		sum += FrictionFactor(12345, 1e-4)
	}
	sink = sum
}
