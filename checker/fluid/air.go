package fluid

import "math"

// AirExponent is the polytropic exponent n of free air bubbles under the fast
// changes of a working circuit: isentropic air, 1.4. Slow changes tend to 1.
const AirExponent = 1.4

// leastAirPressure bounds the pressure in the law of free air (Pa): below it
// vapour, which the law does not know, would take over.
const leastAirPressure = 1e3

// EffectiveModulus is the bulk modulus (Pa) of a liquid of modulus k (Pa) with
// free air, at absolute pressure p (Pa):
//
//	g = φ (p0/p)^(1/n),  K_eff = (1 − φ + g)/((1 − φ)/K + g/(n p))
//
// phi = φ is the volume fraction of free air at p0 = 101 325 Pa, never at the
// local air pressure; n the polytropic exponent of the air, 1 to 1.4.
//
// Domain: 0 ≤ φ < 1; p held at 1 kPa or above. Air that dissolves under
// pressure is left out, which makes the mixture too soft: the safe side where
// stiffness is wanted, not where a pressure rise is feared.
//
// Source: Rabie, Fluid Power Engineering (2009), eqs 2.49–2.57, with the
// fraction at p0 carried to the working pressure as his derivation needs.
//
// Accuracy: for polytropic bubbles without surface tension, in a liquid whose own
// volume 1 − φ is taken as at p0: high by up to 0.03 % with 0.5 % of air, 0.13 %
// with 5 %.
func EffectiveModulus(k, phi, n, p float64) float64 {
	p = max(p, leastAirPressure)
	g := airVolume(phi, n, p)
	return (1 - phi + g) / ((1-phi)/k + g/(n*p))
}

// airVolume is g, the volume of the free air at p per volume of mixture at p0.
func airVolume(phi, n, p float64) float64 {
	return phi * math.Exp(math.Log(ReferencePressure/p)/n)
}

// effectiveSlopes is EffectiveModulus and its derivatives along T and p when
// the liquid's modulus k itself changes by kT and kp.
func effectiveSlopes(k, kT, kp, phi, n, p float64) (eff, perKelvin, perPressure float64) {
	moving := 1.0
	if p < leastAirPressure {
		p, moving = leastAirPressure, 0
	}
	g := airVolume(phi, n, p)
	gp := -moving * g / (n * p)
	softness := (1-phi)/k + g/(n*p)
	eff = (1 - phi + g) / softness
	liquid := (1 - phi) / (k * k)
	softnessP := -liquid*kp + gp/(n*p) - moving*g/(n*p*p)
	return eff, eff * liquid * kT / softness, (gp - eff*softnessP) / softness
}
