package strength

import (
	"math"
	"testing"
)

// Stresses by hand: Euler π² 210 000/λ², Tetmajer 335 − 0.62 λ, in MPa.
func TestRodBuckling(t *testing.T) {
	for _, tt := range []struct {
		name   string
		d, l   float64 // m
		stress float64 // MPa
	}{
		{"λ 200: Euler, 2 072 617/40 000", 0.056, 2.8, 51.815},
		{"λ 100: Euler", 0.040, 1.0, 207.262},
		{"λ 60: Tetmajer", 0.040, 0.6, 297.8},
		{"λ 20: Tetmajer", 0.040, 0.2, 322.6},
		{"λ 88: Euler is less by then", 0.040, 0.88, 267.641},
	} {
		t.Run(tt.name, func(t *testing.T) {
			want := tt.stress * 1e6 * math.Pi / 4 * tt.d * tt.d
			if got := RodBuckling(tt.d, tt.l); math.Abs(got-want) > 1e-4*want {
				t.Errorf("it buckles at %.1f kN, by hand %.1f kN", got/1e3, want/1e3)
			}
		})
	}
	// 56 mm and 2.8 m by the moment of inertia: 48.27 cm4, π² · 210 GPa · 48.27e-8/7.84.
	if got := RodBuckling(0.056, 2.8); math.Abs(got-127.62e3) > 20 {
		t.Errorf("56 mm over 2.8 m: %.2f kN, by hand 127.62 kN", got/1e3)
	}
}

// A longer rod never holds more.
func TestRodBucklingFalls(t *testing.T) {
	before := math.Inf(1)
	for l := 0.01; l < 8; l += 0.01 {
		f := RodBuckling(0.03, l)
		if f > before || f <= 0 {
			t.Fatalf("at %.2f m it holds %g N, before %g N", l, f, before)
		}
		before = f
	}
}
