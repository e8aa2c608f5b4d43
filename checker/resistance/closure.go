package resistance

import "math"

// ClosureTime is how long a valve takes to go from 90 % to 10 % of its opening
// (s) when its command falls to zero in a ramp over the time T = over (s) and
// the spool follows with the first-order lag τ (s):
//
//	s(t) = 1 − t/T + (τ/T)(1 − e^(−t/τ))   during the ramp
//	s(t) = s(T) e^(−(t − T)/τ)             after it
//
// Domain: over, lag ≥ 0. 0.8 T without lag, τ ln 9 without ramp, 0 without
// either.
//
// Source: solution of τ ds/dt = command − s; 10–90 % as the customary measure
// of a rise or fall time.
//
// Accuracy: 1e-12.
func ClosureTime(over, lag float64) float64 {
	return timeAtOpening(0.1, over, lag) - timeAtOpening(0.9, over, lag)
}

// timeAtOpening is when the opening has fallen to level.
func timeAtOpening(level, over, lag float64) float64 {
	if over == 0 {
		return -lag * math.Log(level)
	}
	atEnd := lag / over * -math.Expm1(-over/lag)
	if atEnd > level {
		return over + lag*math.Log(atEnd/level)
	}
	// t − τ (1 − e^(−t/τ)) = (1 − level) T: convex and rising, so Newton from
	// above comes down to the root without passing it.
	t := (1-level)*over + lag
	for range 100 {
		missing := t + lag*math.Expm1(-t/lag) - (1-level)*over
		step := missing / -math.Expm1(-t/lag)
		t -= step
		if !(step > 1e-15*t) {
			break
		}
	}
	return t
}
