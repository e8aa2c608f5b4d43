package resistance

import (
	"math"
	"testing"
)

// near fails unless got is within the share rel of want (within rel itself
// where want is 0).
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	scale := math.Abs(want)
	if scale == 0 {
		scale = 1
	}
	if !(math.Abs(got-want) <= rel*scale) {
		t.Errorf("%s = %.10g, want %.10g within %g of it (off by %.3g)", what, got, want, rel, (got-want)/scale)
	}
}

// within fails unless got is within the absolute tolerance of want.
func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.10g, want %.10g ± %g", what, got, want, tolerance)
	}
}

// slope is the central difference of f at x with step h, Richardson
// extrapolated once.
func slope(f func(float64) float64, x, h float64) float64 {
	d := func(h float64) float64 { return (f(x+h) - f(x-h)) / (2 * h) }
	return (4*d(h/2) - d(h)) / 3
}

const (
	bar  = 1e5
	lpm  = 1e-3 / 60 // m³/s in one L/min
	mm   = 1e-3
	inch = 0.0254
	foot = 0.3048
)

var sink float64
