package friction

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

// slope is the central difference of f at x with step h, Richardson
// extrapolated once.
func slope(f func(float64) float64, x, h float64) float64 {
	d := func(h float64) float64 { return (f(x+h) - f(x-h)) / (2 * h) }
	return (4*d(h/2) - d(h)) / 3
}
