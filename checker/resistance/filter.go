package resistance

import "math"

// FilterConductance is the flow per pressure drop (m³/s/Pa) of a filter
// element in oil of kinematic viscosity nu = μ/ρ (m²/s) at the pressure there:
//
//	G = (Q_r/Δp_r)(ν_r/ν)
//
// rated, drop and ratedNu are Q_r, Δp_r and ν_r of its rated point.
//
// Domain: all above zero. Flow Q = G Δp, both directions alike; the derivative
// along ν is −Q/ν.
//
// Source: Darcy's law of a porous medium, laminar in the element.
//
// Accuracy: that of the rating; the housing's own drop, which follows the
// square of flow, is not told apart.
func FilterConductance(rated, drop, ratedNu, nu float64) float64 {
	return rated / drop * (ratedNu / nu)
}

// FilterBypass is the flow (m³/s) through the bypass valve beside a filter
// element at the pressure drop dp (Pa), and its derivative:
//
//	Q = Q_r √((Δp − bypass)/Δp_r), rounded as SquareLaw, above bypass; else 0
//
// rated and drop are Q_r and Δp_r of the element's rated point, bypass the
// cracking pressure (Pa).
//
// Domain: any dp, in a fluid of RatedDensity; in another Q is √(860 kg/m³ / ρ) of
// it, as with RatedCoefficient. Closed below bypass and backwards.
//
// Source: CheckValve; that a bypass is sized like its element, common
// practice.
//
// Accuracy: rough above bypass, exact in the pressure at which it opens.
func FilterBypass(rated, drop, bypass, dp float64) (flow, perPascal float64) {
	return CheckValve(rated/math.Sqrt(drop), bypass, dp)
}
