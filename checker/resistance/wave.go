package resistance

import "math"

// WaveSpeed is the speed of a pressure wave (m/s) in a line that holds a fluid
// of bulk modulus k (Pa, with its free air) and density rho (kg/m³):
//
//	a = √(K/ρ)/√(1 + K C),  C = (dA/dp)/A
//
// compliance = C (1/Pa) is the wall's: TubeCompliance, HoseCompliance, or 0
// for a rigid wall.
//
// Domain: all above zero (C may be 0).
//
// Source: Korteweg (1878).
//
// Accuracy: that of K; for long waves, without the wall's inertia.
func WaveSpeed(k, rho, compliance float64) float64 {
	return math.Sqrt(k / (rho * (1 + k*compliance)))
}

// surgeSteps is in how many steps MeanWaveSpeed follows a surge.
const surgeSteps = 32

// MeanWaveSpeed is the mean speed (m/s) of the waves that take the velocity dv (m/s)
// off a fluid, from the pressure p (Pa absolute) on. As the pressure rises the free air
// in it is squeezed, and each wave is quicker than the one before:
//
//	dp/dv = ρ(p) a(p),  mean = Δp/(ρ Δv)
//
// with ρ at the pressure before, so that ρ a Δv with the mean is the whole rise. at
// tells the bulk modulus K (Pa, with free air) and the density ρ (kg/m³) at a pressure;
// compliance is C of WaveSpeed.
//
// Domain: p, K and ρ above zero; where dv is not above zero the speed at p.
//
// Source: Joukowsky (1898) for each small part of the change of velocity (a simple
// wave), with Korteweg's speed.
//
// Accuracy: 1e-5 of the simple wave. A wave that has steepened to a shock stays below
// it: with 0.5 % of free air and 3 m/s by 1 % from 5 bar on, by 5 % from 2 bar on.
func MeanWaveSpeed(p, dv, compliance float64, at func(p float64) (k, rho float64)) float64 {
	k, rho := at(p)
	if !(dv > 0) {
		return WaveSpeed(k, rho, compliance)
	}
	rate := func(p float64) float64 {
		k, rho := at(p)
		return rho * WaveSpeed(k, rho, compliance)
	}
	top, h := p, dv/surgeSteps
	for range surgeSteps {
		k1 := rate(top)
		k2 := rate(top + h/2*k1)
		k3 := rate(top + h/2*k2)
		k4 := rate(top + h*k3)
		top += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return (top - p) / (rho * dv)
}

// TubeCompliance is C of a tube of bore D and wall e (m) with Young's modulus
// young = E (Pa):
//
//	C = D c1/(E e)
//
// c1 = 1 for a thin wall, or ThickWall.
//
// Domain: all above zero. Source: Korteweg (1878). Accuracy: with c1 = 1, good
// where D/e is above 25.
func TubeCompliance(bore, wall, young, c1 float64) float64 {
	return bore * c1 / (young * wall)
}

// Anchorage is how a line is held along its length.
type Anchorage int

const (
	AnchoredUpstream   Anchorage = iota // at its upstream end only
	AnchoredThroughout                  // against any axial movement
	ExpansionJoints                     // free to lengthen everywhere
)

// ThickWall is c1 of TubeCompliance for a wall of any thickness e (m) about a
// bore D (m), poisson = µ:
//
//	c1 = 2e(1 + µ)/D + q D/(D + e)
//
// with q = 1 − µ/2 anchored upstream, 1 − µ² throughout, 1 with expansion
// joints.
//
// Domain: bore and wall above zero.
//
// Source: Wylie & Streeter, Fluid Transients (from memory); anchored upstream
// it is Lamé's widening of the bore of a closed tube, which a test shows.
//
// Accuracy: exact for an elastic tube.
func ThickWall(bore, wall, poisson float64, anchorage Anchorage) float64 {
	q := 1 - poisson/2
	switch anchorage {
	case AnchoredThroughout:
		q = 1 - poisson*poisson
	case ExpansionJoints:
		q = 1
	}
	return 2*wall*(1+poisson)/bore + q*bore/(bore+wall)
}

// HoseCompliance is C of a hose that takes in stretch = dV/(L dp), volume per
// length and pressure (m²/Pa), about its bore (m):
//
//	C = stretch/A
//
// Domain: bore > 0. Source: definition. Accuracy: that of the figure; a hose
// stiffens under pressure.
func HoseCompliance(stretch, bore float64) float64 {
	return stretch / CircleArea(bore)
}
