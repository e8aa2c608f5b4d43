package network

import (
	"fmt"
	"math"
)

const (
	settledWithin = 0.3  // K: the change still to come, of every temperature
	mostPasses    = 20   // that one case may take to settle
	leastPasses   = 3    // before anything is said of a trend
	runsAwayPast  = 50.0 // K past the peak temperature of the fluid
	mostColumns   = 3    // differences that the extrapolation looks at
	growsBeyond   = 1e-3 // of a change, that counts as growth
	noChange      = 2e-5 // K: changes below are what the integrator's tolerance leaves
	farthestLeap  = 20.0 // K, along what the differences say nothing of
	mostLeaps     = 3
	muchOf        = 0.05 // of a change, that is worth a leap
	slowest       = 1e4  // passes: the longest time constant that is looked for
)

// A settler finds the temperatures that a case leaves as it found them: the
// fixed point of one pass, F(θ) = θ. Plain repetition creeps there with the
// time constant of the reservoir; so from the third pass on the next start is
// extrapolated from the last few passes,
//
//	θ* = F_k − Σ γ_j (F_{j+1} − F_j),  γ least squares of g_k − Σ γ_j (g_{j+1} − g_j),  g = F − θ
//
// With one difference this is the projection Δ r/(1 − r) of a geometric series,
// r the ratio of successive changes. What is left to come is θ* − F_k. What of g_k
// lies across all differences may have far to go yet: a reservoir that is large for
// the case changes so little in a pass that the differences do not show it. The
// start leaps along it, so that the next differences do.
//
// Source: D. G. Anderson, J. ACM 12 (1965) 547; H. F. Walker and P. Ni, SIAM J.
// Numer. Anal. 49 (2011) 1715.
type settler struct {
	r      *runner
	at     []int // states that carry over: temperatures
	limit  float64
	theta  [][]float64 // starts of the passes so far
	result [][]float64 // what they became
	grows  int
	leaps  int
}

func newSettler(r *runner) *settler {
	s := &settler{r: r, limit: r.m.hottestAllowed() + runsAwayPast}
	for i, kind := range r.m.states {
		if kind == temperatureState || kind == gasTemperatureState || kind == platesState {
			s.at = append(s.at, i)
		}
	}
	return s
}

// hottestAllowed is the temperature the fluid may have for short.
func (m *model) hottestAllowed() float64 {
	if peak := m.circuit.Fluid.PeakTemperature; peak.Given() {
		return peak.SI
	}
	return m.circuit.Fluid.MaxTemperature.SI
}

// settle repeats the case until its temperatures settle, run away, or fail to
// do either.
func (r *runner) settle(out *Outcome) {
	s := newSettler(r)
	start := make([]float64, len(r.y))
	r.m.start(start, nil)
	for i := range r.m.inputs {
		r.m.inputs[i].reset()
	}
	var keep []float64
	theta := s.pick(start)
	for pass := 1; ; pass++ {
		name := out.Case
		*out = Outcome{Case: name}
		r.pass(pass, keep, out)
		out.Repeats.Done = pass
		if out.Failure != nil {
			out.Failure.Why += fmt.Sprintf(" in pass %d", pass)
			return
		}
		s.theta, s.result = append(s.theta, theta), append(s.result, s.pick(r.end))
		if s.decide(out) {
			return
		}
		theta = s.next()
		keep = append(keep[:0], r.end...)
		for i, at := range s.at {
			keep[at] = theta[i]
		}
	}
}

func (s *settler) pick(y []float64) []float64 {
	v := make([]float64, len(s.at))
	for i, at := range s.at {
		v[i] = y[at]
	}
	return v
}

// change is what pass k changed, and the largest of it.
func (s *settler) change(k int) (g []float64, largest float64, where int) {
	g = make([]float64, len(s.at))
	for i := range g {
		g[i] = s.result[k][i] - s.theta[k][i]
		if a := math.Abs(g[i]); a > largest {
			largest, where = a, i
		}
	}
	return g, largest, where
}

// decide tells whether the matter is closed, and how.
func (s *settler) decide(out *Outcome) bool {
	last := len(s.result) - 1
	_, now, where := s.change(last)
	if last > 0 {
		if _, before, _ := s.change(last - 1); now > before*(1+growsBeyond) {
			s.grows++
		} else {
			s.grows = 0
		}
	}
	hottest, at := s.hottest()
	switch {
	case hottest > s.limit:
		s.runAway(out, at, "it passes the fluid's peak temperature by 50 K")
	case s.grows >= 3:
		s.runAway(out, where, "its change per repeat grows")
	case last+1 >= leastPasses && s.remaining() < settledWithin:
		out.Repeats.Settled = true
	case s.r.steps+s.r.rejections > mostBudgets*s.r.budget:
		s.runAway(out, where, "its budget of steps is used up before it settles")
	case last+1 >= mostPasses:
		s.runAway(out, where, "it does not settle")
	default:
		return false
	}
	return true
}

// hottest is the hottest node after the last pass.
func (s *settler) hottest() (T float64, where int) {
	for i, v := range s.result[len(s.result)-1] {
		if s.r.m.states[s.at[i]] == temperatureState && v > T {
			T, where = v, i
		}
	}
	return T, where
}

func (s *settler) runAway(out *Outcome, where int, why string) {
	last := len(s.result) - 1
	g, _, _ := s.change(last)
	out.Repeats.Unsettled = &Unsettled{
		Where: s.r.m.owners[s.at[where]], State: stateNames[s.r.m.states[s.at[where]]],
		Temperature: s.result[last][where], PerRepeat: g[where], Why: why,
	}
}

// remaining is the largest change still to come.
func (s *settler) remaining() float64 {
	star, rest, factor := s.extrapolate()
	worst := 0.0
	for i, v := range s.result[len(s.result)-1] {
		worst = math.Max(worst, math.Abs(star[i]-v)+factor*math.Abs(rest[i]))
	}
	return worst
}

// next is where the next pass starts: extrapolated once there is a trend, and
// it does not grow; never past the temperature at which it counts as run away.
func (s *settler) next() []float64 {
	last := len(s.result) - 1
	if last+1 < leastPasses || s.grows > 0 {
		return s.result[last]
	}
	star, rest, factor := s.extrapolate()
	if factor > 0 {
		s.leaps++
		factor = min(factor, farthestLeap/largest(rest))
	}
	for i := range star {
		star[i] += factor * rest[i]
		if s.r.m.states[s.at[i]] == temperatureState {
			star[i] = min(star[i], max(s.limit, s.result[last][i]))
		}
		star[i] = max(star[i], s.coldest(i))
	}
	return star
}

// coldest is the lowest that a temperature may be extrapolated to: no lower
// than it, or the surroundings, ever were, less 20 K.
func (s *settler) coldest(i int) float64 {
	low := s.r.m.ambient
	for k := range s.theta {
		low = min(low, s.theta[k][i], s.result[k][i])
	}
	return low - 20
}

// extrapolate is θ*, what of the last change the differences say nothing of, and
// how many times that is still to come.
func (s *settler) extrapolate() (star, rest []float64, factor float64) {
	last := len(s.result) - 1
	star = append([]float64(nil), s.result[last]...)
	rest, _, _ = s.change(last)
	var q [][]float64 // orthonormal columns of the differences of g
	var f [][]float64 // of F, combined alike
	for k := last - 1; k >= 0 && len(q) < mostColumns; k-- {
		later, _, _ := s.change(k + 1)
		sooner, size, _ := s.change(k)
		dg, df := make([]float64, len(star)), make([]float64, len(star))
		for i := range dg {
			dg[i] = later[i] - sooner[i]
			df[i] = s.result[k+1][i] - s.result[k][i]
		}
		for c := range q {
			share := dot(q[c], dg)
			subtract(dg, q[c], share)
			subtract(df, f[c], share)
		}
		norm := math.Sqrt(dot(dg, dg))
		if !(norm > 1e-3*size) || norm < 1e-6 {
			break // it says nothing new
		}
		for i := range dg {
			dg[i] /= norm
			df[i] /= norm
		}
		q, f = append(q, dg), append(f, df)
	}
	for c := range q {
		share := dot(q[c], rest)
		subtract(rest, q[c], share)
		subtract(star, f[c], share)
	}
	return star, rest, s.stillToCome(rest)
}

// stillToCome is how many times a part of the last change that no difference
// shows may be still to come: as for a time constant of that many passes, where
// it is much of the change, and nothing where it is not. A few leaps along it show
// what it comes to; what is left then is how far passes are from linear.
func (s *settler) stillToCome(part []float64) float64 {
	_, change, _ := s.change(len(s.result) - 1)
	if size := largest(part); s.leaps >= mostLeaps || size < noChange || size < muchOf*change {
		return 0
	}
	return slowest
}

// largest is the largest size in v, and never quite nothing.
func largest(v []float64) float64 {
	size := 1e-300
	for _, x := range v {
		size = max(size, math.Abs(x))
	}
	return size
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// subtract takes share times b from a.
func subtract(a, b []float64, share float64) {
	for i := range a {
		a[i] -= share * b[i]
	}
}
