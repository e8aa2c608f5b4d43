package strength

// Intensified is the pressure (Pa) that a blocked rod side reaches when
// pressure (Pa) drives the head side of the same cylinder:
//
//	p_rod = p_head A_head/A_rod
//
// headArea and rodArea are the full area and the ring area (m²).
//
// Domain: rodArea > 0.
//
// Source: balance of forces on a piston without load.
//
// Accuracy: exact without friction and load; a load against extending lowers
// it, one that pulls raises it.
func Intensified(pressure, headArea, rodArea float64) float64 {
	return pressure * headArea / rodArea
}
