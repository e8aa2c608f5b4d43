package resistance

import "math"

// LaminarDischarge is the discharge coefficient of a sharp-edged orifice at
// the orifice Reynolds number re, when that is too low for a constant one:
//
//	C_d = δ √Re, up to the turbulent value cd
//
// delta = δ is the laminar flow coefficient. SquareLaw does not use it: it
// tells how far an orifice in thick oil is from the constant C_d.
//
// Domain: re ≥ 0; the knee at TransitionReynolds is sharp, the real one round.
//
// Source: Merritt, Hydraulic Control Systems (1967): δ 0.2 for a round
// orifice, 0.157 for a slot (both from memory).
//
// Accuracy: 10 % or so about the knee.
func LaminarDischarge(cd, delta, re float64) float64 {
	return min(cd, delta*math.Sqrt(re))
}

// TransitionReynolds is the orifice Reynolds number above which the discharge
// coefficient is constant:
//
//	Re_t = (C_d/δ)²
//
// Domain, source and accuracy as for LaminarDischarge.
func TransitionReynolds(cd, delta float64) float64 {
	return (cd / delta) * (cd / delta)
}
