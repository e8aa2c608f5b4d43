package strength

import (
	"math"
	"strconv"
	"strings"
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

// asPrinted fails unless got is the number a table prints, within half of its
// last digit.
func asPrinted(t *testing.T, what string, got float64, text string) {
	t.Helper()
	want, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(text, ".")
	if half := 0.5001 * math.Pow(10, -float64(len(decimals))); !(math.Abs(got-want) <= half) {
		t.Errorf("%s = %.10g, printed %s", what, got, text)
	}
}

const mm = 1e-3
