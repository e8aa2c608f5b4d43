package strength

import "math"

// The steel of piston rods.
const (
	rodModulus = 210e9  // Pa, Young's modulus E of steel (EN 1993-1-1:2005, 3.2.6)
	tetmajerA  = 335e6  // Pa, a of Tetmajer's line for steel of 335 MPa yield, from memory
	tetmajerB  = 0.62e6 // Pa, b of the same line, from memory
	rodSlender = 89.0   // λ from which Euler's law holds for it, from memory
)

// RodBuckling is the force (N) under which a round solid steel rod of the
// diameter d (m) and the free length l (m) buckles:
//
//	F = π² E I/l²,  I = π d⁴/64                (Euler)
//	F = A (a − b λ), where λ ≤ 89 and it is less (Tetmajer)
//
// with λ = 4 l/d. The free length is Euler's: the whole length between two
// pins, half of it between two clamped ends, twice where one end is free.
//
// Domain: d > 0, l > 0; a rod pressed in line, not bent by its own weight.
//
// Source: Euler 1744; Tetmajer 1886, his line for steel of 335 MPa yield from
// memory (335 − 0.62 λ MPa). Accuracy: exact for a straight elastic rod; a real
// one is never straight, for which factors of 2.5 to 3.5 are usual.
func RodBuckling(d, l float64) float64 {
	inertia := math.Pi * math.Pow(d, 4) / 64
	euler := math.Pi * math.Pi * rodModulus * inertia / (l * l)
	slenderness := 4 * l / d
	if slenderness > rodSlender {
		return euler
	}
	return min(euler, math.Pi/4*d*d*(tetmajerA-tetmajerB*slenderness))
}
