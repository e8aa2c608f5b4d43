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
