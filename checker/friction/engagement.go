package friction

// EngagementTime is how long two inertias (kg m²) that differ by the speed
// slip (rad/s) take to run together under a constant torque (N m):
//
//	t = I Δω/T,  I = I1 I2/(I1 + I2)
//
// input = I1, output = I2; +Inf stands for a side that holds its speed.
//
// Domain: inertias and torque above zero; no load on either side.
//
// Source: momentum of both sides; e.g. Shigley, Mechanical Engineering Design,
// clutches, energy considerations.
//
// Accuracy: exact for a constant torque.
func EngagementTime(input, output, slip, torque float64) float64 {
	return commonInertia(input, output) * slip / torque
}

// EngagementEnergy is the heat (J) of that engagement:
//
//	E = I Δω²/2
//
// whatever the torque and its course. Domain and source as EngagementTime.
func EngagementEnergy(input, output, slip float64) float64 {
	return commonInertia(input, output) * slip * slip / 2
}

// commonInertia is I1 I2/(I1 + I2), in a form that bears an infinite one.
func commonInertia(input, output float64) float64 {
	return 1 / (1/input + 1/output)
}
