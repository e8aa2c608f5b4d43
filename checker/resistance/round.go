package resistance

// openingRange is the pressure (Pa) over which a pressure-operated element
// goes from shut to open: 1 bar. Our own choice, to keep the flow smooth.
const openingRange = 1e5

// roundedStep rises from 0 at x ≤ 0 to 1 at x ≥ 1, as 3x² − 2x³ between, and
// gives its derivative. It is exactly 0 and 1 outside, so what is shut does
// not leak.
func roundedStep(x float64) (step, slope float64) {
	switch {
	case x <= 0:
		return 0, 0
	case x >= 1:
		return 1, 0
	}
	return x * x * (3 - 2*x), 6 * x * (1 - x)
}
