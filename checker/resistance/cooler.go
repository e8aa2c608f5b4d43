package resistance

import "math"

// CoolerHeat is the heat (W) a cooler takes from a stream of the given heat
// capacity rate w = ρ c |Q| (W/K) that enters warmer than the coolant by
// excess (K), and its derivatives along w and excess:
//
//	H = w (1 − exp(−G/w)) (T_up − T_coolant)
//
// conductance = G (W/K).
//
// Domain: w ≥ 0, G > 0; H tends to w·excess at low flow and to G·excess at
// high, and never cools below the coolant. Heats where excess is negative.
//
// Source: effectiveness–NTU method with a coolant of constant temperature,
// ε = 1 − exp(−NTU), NTU = G/w (Incropera & DeWitt, Fundamentals of Heat and
// Mass Transfer, ch. 11; from memory).
//
// Accuracy: exact for the constant G and coolant temperature given.
func CoolerHeat(conductance, w, excess float64) (heat, perRate, perKelvin float64) {
	ntu := conductance / w
	left := math.Exp(-ntu)
	if left == 0 { // nor does ntu·left, which is no number where ntu is infinite
		return w * excess, excess, w
	}
	taken := -math.Expm1(-ntu)
	return w * taken * excess, (taken - ntu*left) * excess, w * taken
}
