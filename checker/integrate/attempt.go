package integrate

import "math"

// outcome of an attempt at a step.
type outcome int

const (
	accurate outcome = iota
	inaccurate
	notFinite
	singular
)

// attempt computes a step of length h from the present time and state into z,
// its error, and f at its end into slope unless a break is there.
func (s *Solver) attempt(h, end float64) outcome {
	m := s.method
	lands := h == end-s.t
	s.h, s.to, s.errorAt = h, s.t+h, -1
	if lands {
		s.to = end
	}
	if o := s.firstStage(1 / (h * m.gamma)); o != accurate {
		return o
	}
	var c [maxStages]float64
	for i := 1; i < len(m.alpha); i++ {
		for j, cij := range m.c[i] {
			c[j] = cij / h
		}
		if i < len(m.a) {
			head(s.z, s.sum, s.y, s.k, m.a[i], c[:i])
		} else {
			tail(s.z, s.sum, s.k, c[:i])
		}
		s.evaluate(min(s.begin+m.alpha[i]*h, s.limit), s.z, s.slope)
		if !s.solveStage(i, s.slope) {
			return notFinite
		}
	}
	if o := s.judge(); o != accurate || lands {
		return o
	}
	s.evaluate(s.to, s.z, s.slope)
	if i := firstOdd(s.slope); i >= 0 {
		s.errorAt = i
		return notFinite
	}
	return accurate
}

// firstStage factors M and solves for the first stage, with other pivots where
// the present ones prove bad.
func (s *Solver) firstStage(shift float64) outcome {
	s.statistics.Factorisations++
	factored := s.factors.refactor(shift, s.jacobian)
	if factored == notANumber {
		return notFinite
	}
	clear(s.sum)
	if !s.solveStage(0, s.f) {
		return notFinite
	}
	if factored == sound || s.solved(shift) {
		return accurate
	}
	if !s.pivotAnew(shift) {
		return singular
	}
	clear(s.sum)
	if !s.solveStage(0, s.f) || !s.solved(shift) {
		return singular
	}
	return accurate
}

// evaluate calls the system's function.
func (s *Solver) evaluate(t float64, y, dy []float64) {
	s.statistics.Evaluations++
	s.system.Evaluate(t, y, dy)
}

// solveStage computes stage i from f at its argument and the sum over the stages
// before. It returns false when f is not finite.
func (s *Solver) solveStage(i int, f []float64) bool {
	s.statistics.Solves++
	k := s.k[i]
	f, sum := f[:len(k)], s.sum[:len(k)]
	if g := s.method.shift[i]; g != 0 && !s.system.Autonomous {
		hg := s.h * g
		for j, d := range s.ft {
			sum[j] += hg * d
		}
	}
	odd := uint64(0)
	for j := range k {
		v := f[j] + sum[j]
		odd |= oddBit(v)
		k[j] = v
	}
	if isOdd(odd) {
		s.errorAt = firstOdd(k)
		return false
	}
	n := s.system.States
	s.factors.solve(k[:n])
	if len(k) > n {
		s.integrate(k)
	}
	return true
}

// firstOdd returns the first component that is not finite, or -1.
func firstOdd(v []float64) int {
	odd := uint64(0)
	for _, x := range v {
		odd |= oddBit(x)
	}
	if !isOdd(odd) {
		return -1
	}
	for i, x := range v {
		if isOdd(oddBit(x)) {
			return i
		}
	}
	return -1
}

// integrate completes a stage of the integrals. Their equations hold no unknown
// but the states of the stage: K = hγ (b + (∂f/∂y) K of the states), b in K.
func (s *Solver) integrate(k []float64) {
	n := s.system.States
	r := &s.integrals
	hGamma := s.h * s.method.gamma
	for q, v := range k[n:] {
		first, last := r.start[q], r.start[q+1]
		slot := r.slot[first:last]
		for p, j := range r.column[first:last] {
			v += s.jacobian[slot[p]] * k[j]
		}
		k[n+q] = hGamma * v
	}
}

// judge completes z with the last stage, which is the error, and finds the
// largest error in tolerances.
func (s *Solver) judge() outcome {
	k := s.k[len(s.k)-1]
	n := len(k)
	y, z, relative, absolute := s.y[:n], s.z[:n], s.options.Relative[:n], s.options.Absolute[:n]
	worst, at := 0.0, 0
	for i, e := range k {
		v := z[i] + e
		z[i] = v
		tolerance := absolute[i] + relative[i]*max(math.Abs(y[i]), math.Abs(v))
		if e = math.Abs(e); !(e <= worst*tolerance) {
			worst, at = e/tolerance, i
			if !(worst <= math.MaxFloat64) {
				break
			}
		}
	}
	s.errorAt = at
	if !(worst <= math.MaxFloat64) {
		return notFinite
	}
	s.excess = worst
	if worst > 1 {
		return inaccurate
	}
	return accurate
}
