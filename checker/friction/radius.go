package friction

import "math"

// Contact is how pressure spreads over a friction face.
type Contact int

const (
	UniformWear     Contact = iota // run in: p r is constant, highest at the inside
	UniformPressure                // new: p is the same everywhere
)

// Radius is the radius R (m) at which the friction force of a ring-shaped face
// acts, so that torque = friction · force · R on each face:
//
//	uniform wear:      R = (r_o + r_i)/2
//	uniform pressure:  R = ⅔ (r_o³ − r_i³)/(r_o² − r_i²)
//
// inner = r_i, outer = r_o (m).
//
// Domain: 0 ≤ r_i ≤ r_o, r_o > 0; a ring without width gives its radius.
//
// Source: the two classical theories of disc clutches, as in Bhandari, Design
// of Machine Elements, ch. 11 (T = f F (D + d)/4 and
// T = f F (D³ − d³)/(3 (D² − d²)) a face).
//
// Accuracy: exact for the contact assumed; the two differ by 4 % at
// r_i/r_o = 0.5.
func Radius(contact Contact, inner, outer float64) float64 {
	if contact == UniformPressure {
		return 2. / 3 * (outer*outer + outer*inner + inner*inner) / (outer + inner)
	}
	return (outer + inner) / 2
}

// FacePressure is the highest pressure p_a (Pa) on a face that a force (N)
// presses:
//
//	uniform wear:      p_a = F/(2π r_i (r_o − r_i)), at the inner edge
//	uniform pressure:  p_a = F/(π (r_o² − r_i²))
//
// Domain: 0 < r_i < r_o. Source: as Radius (F = π p_a d (D − d)/2 and
// F = π p_a (D² − d²)/4). Accuracy: exact for the contact assumed.
func FacePressure(contact Contact, force, inner, outer float64) float64 {
	if contact == UniformPressure {
		return force / FaceArea(inner, outer)
	}
	return force / (2 * math.Pi * inner * (outer - inner))
}

// FaceArea is the area (m²) of one face, to refer energy and power to: that of
// an engagement is divided by the area of all faces.
func FaceArea(inner, outer float64) float64 {
	return math.Pi * (outer*outer - inner*inner)
}
