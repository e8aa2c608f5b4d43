package strength

import "math"

// TubeBurst is the pressure (Pa) at which a tube of diameter ratio
// k = D_o/D_i must be expected to burst, from the yield strength sy and the
// tensile strength su (Pa) of its material at the temperature it has:
//
//	p_b = min(LameBurst, Faupel)
//
// The lower of two, because each is safe where the other is not. Lamé's
// elastic stress set to the tensile strength needs no theory of flow and is
// what working pressures of hydraulic tube are calculated with: but
// annealed metal, with S_y/S_u below about 0.6, stretches and thins before it
// reaches S_u around, and bursts below Lamé. Faupel's formula sees that; but in
// hard thick walls it credits yielding that goes right through, which a notch
// or a weld may not allow.
//
// Domain: k > 1, 0 < S_y ≤ S_u. The wall is the least the tolerance allows.
//
// Source: see LameBurst and Faupel; the choice of the lower is ours.
//
// Accuracy: below either formula alone; no burst test was laid beside it.
func TubeBurst(sy, su, k float64) float64 {
	return min(LameBurst(su, k), Faupel(sy, su, k))
}

// LameBurst is the pressure (Pa) at which Lamé's hoop stress at the bore
// reaches the tensile strength su (Pa):
//
//	p = S_u (k² − 1)/(k² + 1)
//
// Domain: k ≥ 1.
//
// Source: Lamé; one of the formulas of SAE J1065, appendix A. Trade tables of
// working pressures of SAE J524 and J525 tube are a quarter of it.
//
// Accuracy: always below S_u ln k, which ideal plastic flow would carry.
func LameBurst(su, k float64) float64 {
	return su * (k*k - 1) / (k*k + 1)
}

// Faupel is the burst pressure (Pa) of a ductile thick-walled tube:
//
//	p = (2 S_y/√3) ln k (2 − S_y/S_u)
//
// Domain: k ≥ 1, 0 < S_y ≤ S_u. With S_y = S_u it is FullYield.
//
// Source: Faupel, Trans. ASME 78 (1956) 1031 (formula read in a trade text;
// citation from memory).
//
// Accuracy: ±15 % of Faupel's burst tests (from memory).
func Faupel(sy, su, k float64) float64 {
	return FullYield(sy, k) * (2 - sy/su)
}

// FullYield is the pressure (Pa) at which the whole wall of a closed tube has
// yielded, without hardening:
//
//	p = (2 S_y/√3) ln k
//
// Domain: k ≥ 1. Source: plasticity of a thick tube after von Mises, e.g.
// Hill, The Mathematical Theory of Plasticity. Accuracy: exact for a material
// that does not harden.
func FullYield(sy, k float64) float64 {
	return 2 * sy / math.Sqrt(3) * math.Log(k)
}

// FirstYield is the pressure (Pa) at which the bore of a closed tube begins to
// yield after von Mises:
//
//	p = S_y (k² − 1)/(√3 k²)
//
// Domain: k ≥ 1. Source: Lamé with von Mises. Accuracy: exact.
func FirstYield(sy, k float64) float64 {
	return sy * (k*k - 1) / (math.Sqrt(3) * k * k)
}
