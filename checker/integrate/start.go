package integrate

import "math"

// linearise computes ∂f/∂y and ∂f/∂t at the present time and state, f being known.
func (s *Solver) linearise(end float64) {
	s.statistics.Jacobians++
	if s.system.Jacobian == nil {
		s.difference()
	} else {
		clear(s.jacobian)
		s.system.Jacobian(s.begin, s.y, s.jacobian)
	}
	if s.system.Autonomous {
		return
	}
	if s.system.TimeDerivative != nil {
		s.system.TimeDerivative(s.begin, s.y, s.ft)
		return
	}
	s.differenceInTime(end)
}

// differenceInTime sets ft to the one-sided difference of second order of f over
// two thousandths of the step to come, or over what t resolves well:
// ∂f/∂t = (4 f(t+d) − f(t+2d) − 3 f(t))/2d, its error d²/3 of the third derivative.
func (s *Solver) differenceInTime(end float64) {
	step := s.next
	if step == 0 {
		step = 1e-3 * (end - s.t)
	}
	d := min(max(1e-3*step, 1e-10*math.Abs(s.begin)), (s.limit-s.begin)/2)
	near, far := s.begin+d, s.begin+2*d
	s.evaluate(near, s.y, s.slope)
	s.evaluate(far, s.y, s.ft)
	s.statistics.ForDifferences += 2
	if far == s.begin {
		clear(s.ft) // a step of hardly a rounding error
		return
	}
	over := 1 / (far - s.begin)
	for i, f := range s.f {
		s.ft[i] = (4*(s.slope[i]-f) - (s.ft[i] - f)) * over
	}
}

// firstStep estimates the length of a step from a fresh start whose error is
// about the tolerance. The error is h⁴ times a small multiple of the fourth
// derivative of y, which in the linearised equations is J² (J f + ∂f/∂t).
func (s *Solver) firstStep(end float64) float64 {
	v, w := s.probe, s.inner
	s.multiply(s.f, v)
	if !s.system.Autonomous {
		for i, d := range s.ft {
			v[i] += d
		}
	}
	s.multiply(v, w)
	s.multiply(w, v)
	worst := 0.0
	for i, e := range v {
		if unit := s.tolerance(i, s.y[i]); math.Abs(e) > worst*unit {
			worst = math.Abs(e) / unit
		}
	}
	left := end - s.t
	if !(worst > 0 && worst <= math.MaxFloat64) {
		return left / 1000
	}
	return min(math.Pow(worst, -0.25), left)
}

// multiply sets w = (∂f/∂y) v.
func (s *Solver) multiply(v, w []float64) {
	p := &s.system.Pattern
	clear(w)
	for j := range s.system.States {
		x := v[j]
		for q := p.Start[j]; q < p.Start[j+1]; q++ {
			w[p.Row[q]] += s.jacobian[q] * x
		}
	}
}
