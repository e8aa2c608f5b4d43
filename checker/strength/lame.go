package strength

import "math"

// Stresses are those of a closed thick-walled tube (Pa, tension positive).
type Stresses struct {
	BoreHoop, OuterHoop float64 // around, at the bore and at the outside
	BoreRadial          float64 // through the wall, at the bore
	Axial               float64 // along, everywhere
	BoreVonMises        float64 // equivalent, at the bore
}

// Lame are the elastic stresses in a closed tube of diameter ratio
// k = D_o/D_i under the inner pressure p (Pa):
//
//	bore hoop p (k² + 1)/(k² − 1), outer hoop 2p/(k² − 1), axial p/(k² − 1)
//	von Mises at the bore √3 p k²/(k² − 1)
//
// Domain: k > 1. Infinite at 1.
//
// Source: Lamé (1852); e.g. Timoshenko, Strength of Materials, part II.
//
// Accuracy: exact while elastic, away from ends and bends.
func Lame(k, p float64) Stresses {
	k2 := k * k
	axial := p / (k2 - 1)
	return Stresses{
		BoreHoop:     (k2 + 1) * axial,
		OuterHoop:    2 * axial,
		BoreRadial:   -p,
		Axial:        axial,
		BoreVonMises: math.Sqrt(3) * k2 * axial,
	}
}
