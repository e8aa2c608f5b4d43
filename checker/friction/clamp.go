package friction

// Clamp is the force (N) that presses the faces of a pack whose cylinder holds
// pressure against its spring, and its derivatives:
//
//	N = max(0, F_0 − p A) · fade,  fade = 1 at lift ≤ 0, falling straight to 0
//	at lift = take-up
//
// preload = F_0 (N), pressure = p (Pa above the air), area = A (m²), lift how
// far the cylinder has left its stop and takeUp the lift (m) over which the
// pack's own elasticity lets the clamp go.
//
// Domain: area, takeUp > 0. The slopes jump at the ends of both ramps.
//
// Source: balance of forces on the pressure plate; the straight fade stands
// for the elasticity of plates and housing.
//
// Accuracy: that of the spring; friction in the seals left out.
func Clamp(preload, pressure, area, lift, takeUp float64) (force, perPascal, perLift float64) {
	full := preload - pressure*area
	if full <= 0 || lift >= takeUp {
		return 0, 0, 0
	}
	if lift <= 0 {
		return full, -area, 0
	}
	fade := 1 - lift/takeUp
	return full * fade, -area * fade, -full / takeUp
}

// FullLift is the lift (m) at which every face runs free: the take-up and the
// clearance of each of the faces.
//
//	lift = take-up + faces · clearance
//
// Domain: all ≥ 0. Source: geometry. Accuracy: exact; wear adds to it.
func FullLift(takeUp float64, faces int, clearance float64) float64 {
	return takeUp + float64(faces)*clearance
}

// ReleasePressure is the pressure (Pa above the air) that holds the cylinder
// at a lift (m) against its spring:
//
//	p = (F_0 + c · lift)/A
//
// preload = F_0 (N), rate = c (N/m), area = A (m²). At lift 0 it is the
// pressure at which the clamp is gone, at FullLift that of full release.
//
// Domain: area > 0. Source: balance of forces. Accuracy: that of the spring;
// friction in the seals left out.
func ReleasePressure(preload, rate, lift, area float64) float64 {
	return (preload + rate*lift) / area
}
