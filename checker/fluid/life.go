package fluid

import "math"

// LifeFactor is the life of an oil at temperature T (K) as a multiple of its
// life at reference (K):
//
//	factor = 2^((T_ref − T)/10 K)
//
// Domain: mineral oils from about 60 to 100 °C; outside, the same rule is
// continued, and is doubtful.
//
// Source: common practice, "every 10 K halves the life"; near 65 °C it stands
// for an activation energy of about 66 kJ/mol.
//
// Accuracy: a rule of thumb; the rate of a real oil differs by a factor.
func LifeFactor(T, reference float64) float64 {
	return math.Exp2((reference - T) / 10)
}
