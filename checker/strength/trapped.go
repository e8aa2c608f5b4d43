package strength

import "math"

// TrappedRate is how fast the pressure of oil that is shut in rises with its
// temperature (Pa/K):
//
//	dp/dT = (α − 3 α_w)/(1/K + C)
//
// alpha = α is the oil's volume expansion and wallAlpha = α_w the wall's
// linear one (1/K), k = K the oil's isothermal bulk modulus (Pa, with its free air) and
// compliance = C the share by which the volume grows per pascal (1/Pa): 0 for
// a rigid wall, TubeVolumeCompliance, or for several spaces and hoses together
// the sum of their dV/dp over the volume.
//
// Domain: K > 0, C ≥ 0. A rigid cold wall gives α K.
//
// Source: conservation of mass, oil against wall.
//
// Accuracy: that of α and K; no leakage, wall and oil equally warm. What warms at
// leisure is as stiff as its isothermal modulus, and expands the less the more it is
// pressed. With the isentropic modulus and the expansion at atmospheric pressure, as
// circuits have them, the rate of mineral oil is high by α² T K/(ρ c), 15 %, and by
// 7 % more at 200 bar: 30 K above 20 °C come out at 386 bar instead of 309, on the
// safe side.
func TrappedRate(alpha, wallAlpha, k, compliance float64) float64 {
	return (alpha - 3*wallAlpha) / (1/k + compliance)
}

// TubeVolumeCompliance is the share by which the space in a closed tube grows
// per pascal (1/Pa), k = D_o/D_i, young = E (Pa), poisson = µ:
//
//	C = [(2k² + 3) − µ (6 − 2k²)]/[E (k² − 1)]
//
// Domain: k > 1.
//
// Source: 2 ε_θ + ε_z at the bore from Lamé's stresses; for a thin wall e it
// tends to (D/(E e))(5/4 − µ).
//
// Accuracy: exact while elastic.
func TubeVolumeCompliance(k, young, poisson float64) float64 {
	k2 := k * k
	return (2*k2 + 3 - poisson*(6-2*k2)) / (young * (k2 - 1))
}

// TrappedPressure is the pressure (Pa) that shut-in oil reaches when it warms
// (or cools) from one temperature to another (K), from the pressure p (Pa):
//
//	p(T) = p + ∫ rate(T, p) dT
//
// rate is dp/dT at a temperature and pressure, in general TrappedRate with the
// properties there.
//
// Domain: finite temperatures; the rate smooth over a tenth of a kelvin.
//
// Source: classical Runge–Kutta method, in steps of 0.1 K or less.
//
// Accuracy: 1e-6 of the rise for oil with free air.
func TrappedPressure(p, from, to float64, rate func(T, p float64) float64) float64 {
	const longest = 0.1 // K
	steps := int(math.Ceil(math.Abs(to-from) / longest))
	if steps == 0 {
		return p
	}
	h := (to - from) / float64(steps)
	for i := range steps {
		T := from + float64(i)*h
		k1 := rate(T, p)
		k2 := rate(T+h/2, p+h/2*k1)
		k3 := rate(T+h/2, p+h/2*k2)
		k4 := rate(T+h, p+h*k3)
		p += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return p
}
