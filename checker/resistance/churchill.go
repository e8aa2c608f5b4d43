package resistance

import "math"

// FrictionFactor is Darcy's friction factor f (laminar 64/Re, not Fanning's
// quarter of it) at Reynolds number re and relative roughness ε/D, in one
// formula for every regime:
//
//	f = 8 [(8/Re)¹² + (A + B)^(−3/2)]^(1/12)
//	A = {2.457 ln[1/((7/Re)^0.9 + 0.27 ε/D)]}¹⁶
//	B = (37530/Re)¹⁶
//
// Domain: Re > 0 (infinite at 0, NaN below), ε/D 0 to 0.05; verified up to
// Re 1e8.
//
// Source: Churchill, Chemical Engineering 84 (24) (1977) 91.
//
// Accuracy: against Colebrook–White within 3.2 % from Re 4000, 2.2 % from 1e4
// and 1.5 % from 1e5, for ε/D to 0.05; equal to 64/Re up to Re 1000 and 11 %
// above it at 2300, where the flow itself is uncertain.
func FrictionFactor(re, roughness float64) float64 {
	if !(re >= 0) {
		return math.NaN()
	}
	phi, _ := poiseuille(re, roughness)
	return phi / re
}

const (
	// laminarPoiseuille is f Re of laminar flow in a round tube
	// (Hagen–Poiseuille).
	laminarPoiseuille = 64

	// certainlyLaminar is the Reynolds number up to which the formula is 64/Re
	// to 2e-11, whatever the roughness: there it is not worked out.
	certainlyLaminar = 1200
)

// poiseuille is φ = f Re by Churchill's formula, finite down to rest, and its
// logarithmic slope s = d ln φ / d ln Re:
//
//	φ = 8 [8¹² + Re¹² (A + B)^(−3/2)]^(1/12)
func poiseuille(re, roughness float64) (phi, slope float64) {
	if re <= certainlyLaminar {
		return laminarPoiseuille, 0
	}
	return churchill(re, roughness)
}

// churchill is poiseuille with every term.
func churchill(re, roughness float64) (phi, slope float64) {
	smooth := math.Exp(0.9 * math.Log(7/re)) // (7/Re)^0.9
	w := smooth + 0.27*roughness
	lnW := math.Log(w)
	a := pow16(2.457 * -lnW)
	b := pow16(37530 / re)
	sum := a + b

	re2 := re * re
	re4 := re2 * re2
	turbulent := re4 * re4 * re4 / (sum * math.Sqrt(sum))
	const laminar = 8. * 8 * 8 * 8 * 8 * 8 * 8 * 8 * 8 * 8 * 8 * 8
	total := laminar + turbulent
	phi = 8 * math.Exp(math.Log(total)/12)

	aSlope := -16 * 0.9 * smooth / (w * lnW) // d ln A / d ln Re
	const bSlope = -16                       // d ln B / d ln Re
	sumSlope := (a*aSlope + b*bSlope) / sum
	return phi, turbulent / total * (1 - 1.5/12*sumSlope)
}

func pow16(x float64) float64 {
	x *= x
	x *= x
	x *= x
	return x * x
}
