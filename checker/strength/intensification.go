package strength

// Intensified is the pressure (Pa) that a blocked rod side reaches when
// pressure (Pa) drives the head side of the same cylinder against a load (N):
//
//	p_rod = (p_head A_head − F)/A_rod
//
// headArea and rodArea are the full area and the ring area (m²). A load that
// pulls the rod out is negative, and raises it. It is 0 where the load outweighs
// what drives.
//
// Domain: rodArea > 0.
//
// Source: balance of forces on a piston.
//
// Accuracy: exact without friction, which lowers it.
func Intensified(pressure, load, headArea, rodArea float64) float64 {
	return max(0, (pressure*headArea-load)/rodArea)
}
