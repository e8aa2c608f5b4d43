package integrate

// A Step is a step just accepted, for an observer. It is valid during the call.
// Between the ends the solution is interpolated, by the method's own formula, of
// one order less than the method.
type Step struct {
	From, To float64
	solver   *Solver
}

// At is component i at a time of the step.
func (p *Step) At(t float64, i int) float64 {
	return p.solver.interpolated(p.fraction(t), i)
}

// Values sets y to all components at a time of the step.
func (p *Step) Values(t float64, y []float64) {
	p.solver.interpolate(p.fraction(t), y)
}

// Turn finds the extreme of component i within the step, if it has a different
// sense of change at both ends: the time, the value, and whether there is one.
func (p *Step) Turn(i int) (t, value float64, ok bool) {
	s := p.solver
	slope := s.polynomial(i)
	last := p.fraction(p.To)
	first, end := slope.rate(0), slope.rate(last)
	if first == 0 || end == 0 || (first > 0) == (end > 0) {
		return 0, 0, false
	}
	theta := changeOfSign(slope.rate, 0, last, first, end, 1e-9)
	return s.t + theta*s.h, s.interpolated(theta, i), true
}

// fraction is a time as a fraction of the step computed.
func (p *Step) fraction(t float64) float64 { return (t - p.solver.t) / p.solver.h }

// blend holds the weights of the interpolation at one place.
type blend struct {
	y, z float64
	n    int
	k    [maxStages]float64
}

// weights at the fraction theta of the present step: see Method.
func (s *Solver) weights(theta float64) blend {
	d := s.method.dense
	w := blend{y: 1 - theta, z: theta, n: len(d[0])}
	outer := theta * (1 - theta)
	for j := range w.n {
		h := 0.0
		for q := len(d) - 1; q >= 0; q-- {
			h = h*theta + d[q][j]
		}
		w.k[j] = outer * h
	}
	return w
}

// interpolated is component i at the fraction theta of the present step.
func (s *Solver) interpolated(theta float64, i int) float64 {
	w := s.weights(theta)
	v := w.y*s.y[i] + w.z*s.z[i]
	for j, k := range s.k[:w.n] {
		v += w.k[j] * k[i]
	}
	return v
}

// interpolate sets v to all components at the fraction theta of the present step.
func (s *Solver) interpolate(theta float64, v []float64) {
	w := s.weights(theta)
	n := len(v)
	y, z := s.y[:n], s.z[:n]
	k1, k2, k3, k4, k5 := s.k[0][:n], s.k[1][:n], s.k[2][:n], s.k[3][:n], s.k[4][:n]
	w1, w2, w3, w4, w5 := w.k[0], w.k[1], w.k[2], w.k[3], w.k[4]
	for i := range v {
		v[i] = (w.y*y[i] + w.z*z[i]) + ((w1*k1[i] + w2*k2[i]) + (w3*k3[i] + w4*k4[i]) + w5*k5[i])
	}
	for j := 5; j < w.n; j++ {
		wj, k := w.k[j], s.k[j][:n]
		for i := range v {
			v[i] += wj * k[i]
		}
	}
}

// cubic is the interpolation of one component, u = y + θ (Δ + (1−θ)(a + bθ + cθ²)).
type cubic struct{ delta, a, b, c float64 }

func (s *Solver) polynomial(i int) cubic {
	p := cubic{delta: s.z[i] - s.y[i]}
	for q, to := range []*float64{&p.a, &p.b, &p.c}[:len(s.method.dense)] {
		for j, h := range s.method.dense[q] {
			*to += h * s.k[j][i]
		}
	}
	return p
}

// rate is du/dθ.
func (p cubic) rate(theta float64) float64 {
	return p.delta + (1-2*theta)*(p.a+theta*(p.b+theta*p.c)) + theta*(1-theta)*(p.b+2*theta*p.c)
}
