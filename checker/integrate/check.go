package integrate

import "math"

// A Mismatch is a place where a System's Jacobian and differences of its Evaluate
// do not agree.
type Mismatch struct {
	Place
	Given, Differenced float64 // Given is 0 where the pattern lacks the place
}

// CheckJacobian compares the Jacobian of a system at a time and state with
// differences of Evaluate over ±size of each component, integrals and places
// outside the pattern included. It lists, by columns, the places where the two
// differ by more than a thousandth of the larger, beyond what the differences
// themselves are sure of: the difference of those upwards and downwards, large at a
// kink within ±size, and rounding. For tests; it allocates.
func CheckJacobian(system System, t float64, y, size []float64) []Mismatch {
	rows := system.States + system.Integrals
	base, above, below := make([]float64, rows), make([]float64, rows), make([]float64, rows)
	values := make([]float64, len(system.Pattern.Row))
	moved := append([]float64(nil), y...)
	system.Evaluate(t, y, base)
	system.Jacobian(t, y, values)
	var list []Mismatch
	for j := range system.States {
		moved[j] = y[j] + size[j]
		up := moved[j] - y[j]
		system.Evaluate(t, moved, above)
		moved[j] = y[j] - size[j]
		down := y[j] - moved[j]
		system.Evaluate(t, moved, below)
		moved[j] = y[j]
		for i, f := range base {
			given := 0.0
			if slot := system.Pattern.Slot(i, j); slot >= 0 {
				given = values[slot]
			}
			rise, fall := (above[i]-f)/up, (f-below[i])/down
			mean := (rise + fall) / 2
			unsure := math.Abs(rise-fall) + 1e-12*(math.Abs(f)+math.Abs(above[i])+math.Abs(below[i]))/min(up, down)
			if off := math.Abs(given - mean); !(off <= 1e-3*max(math.Abs(given), math.Abs(mean))+unsure) {
				list = append(list, Mismatch{Place{i, j}, given, mean})
			}
		}
	}
	return list
}
