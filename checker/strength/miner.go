package strength

import "math"

// Endurance is how many cycles a part is good for: Count cycles of the range
// At (Pa), and by a straight line of slope Exponent on a log–log chart at any
// other.
type Endurance struct{ Count, At, Exponent float64 }

// Cycles is the number of cycles of a range (Pa) to the end of life:
//
//	N = N_r (Δp_r/Δp)^m
//
// Domain: range ≥ 0; +Inf at 0. No endurance limit is assumed.
//
// Source: Basquin (1910).
//
// Accuracy: scatter of a factor of two or more is usual.
func (e Endurance) Cycles(span float64) float64 {
	return e.Count * math.Pow(e.At/span, e.Exponent)
}

// Damage is the share of life that counted cycles use up:
//
//	D = Σ n_i/N_i
//
// Domain: any cycles; 1 is the end of life.
//
// Source: Palmgren (1924), Miner (1945).
//
// Accuracy: order and mean of the cycles are left out; sums at failure from
// 0.3 to 3 are on record (from memory).
func (e Endurance) Damage(cycles []Cycle) float64 {
	var sum float64
	for _, c := range cycles {
		sum += c.Count / e.Cycles(c.Range)
	}
	return sum
}
