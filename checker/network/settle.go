package network

import (
	"fmt"
	"math"
	"slices"

	"headroom/checker/integrate"
)

const (
	settledWithin = 0.3  // K: the change still to come, of every temperature
	carriedWithin = 0.5  // K: the same by what the oil carries alone, which knows of no feedback
	mostPasses    = 20   // that one case may take to settle
	leastPasses   = 3    // before anything is said of a trend
	runsAwayPast  = 50.0 // K past the peak temperature of the fluid
	mostColumns   = 3    // differences that the extrapolation looks at
	growsBeyond   = 1e-3 // of a change, that counts as growth
	noChange      = 2e-5 // K: changes below are what the integrator's tolerance leaves
	farthestLeap  = 20.0 // K, along what the differences say nothing of
	muchOf        = 0.05 // of a change, that is worth a leap
	farAhead      = 1e3  // passes, beyond which nothing is looked for by what the oil carries
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
	heat   []float64   // J that the circuit took up
	grows  int
	near   bool // the last pass told that all rests
	leapt  bool // a start was extrapolated, of any pass so far
	plain  int  // passes since, that began as the one before ended

	refiner *refiner   // of what is left when that does not find it; nil before
	mixing  *exchange  // of what is left when that does not, either; nil before
	held    *Unsettled // what there was to tell before the mixing
	heldEnd []float64  // and where the pass ended that told it
}

func newSettler(r *runner) *settler {
	s := &settler{r: r, limit: r.m.hottestAllowed() + runsAwayPast}
	r.watch.carries()
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
	var keep, ends []float64 // what the next pass begins with, and where the last ended
	theta := s.pick(start)
	for pass := 1; ; pass++ {
		before := *out
		*out = Outcome{Case: out.Case}
		r.pass(pass, keep, out)
		if out.Failure != nil && s.onlySought(theta, out.Failure) {
			*out, theta = before, s.result[len(s.result)-1]
			s.plain++
			if s.mixing == nil && s.refiner != nil {
				s.refiner = newRefiner(s) // which begins with what a plain pass shows
			}
			copy(keep, ends)
			continue
		}
		if out.Failure != nil {
			out.Failure.Why += fmt.Sprintf(", in pass %d", pass)
			out.keepBefore(&before)
			return
		}
		out.Repeats.Done = pass
		s.theta, s.result = append(s.theta, theta), append(s.result, s.pick(r.end))
		s.heat = append(s.heat, s.takenUp())
		if s.decide(out) {
			switch {
			case out.Repeats.Settled:
				s.comesBack(out)
			case s.held != nil && out.Repeats.Unsettled == s.held:
				s.tellHeld(out)
			}
			return
		}
		if s.held != nil && s.heldEnd == nil {
			s.heldEnd = slices.Clone(r.end)
		}
		theta = s.next()
		keep, ends = append(keep[:0], r.end...), append(ends[:0], r.end...)
		for i, at := range s.at {
			keep[at] = theta[i]
		}
	}
}

// byCarriedOil is the largest change (K) still to come by what the oil carries from
// node to node, and metal to oil: what several parts in a row hand on to each other in
// their own time shows little in one pass, and not at all in how the differences fall.
// What takes thousands of passes to come counts as far as a thousand bring it.
func (s *settler) byCarriedOil() float64 {
	x := &exchange{s: s}
	x.rates()
	for k := range x.matrix {
		x.matrix[k][k] -= 1 / farAhead
	}
	g, _, _ := s.change(len(s.result) - 1)
	worst := 0.0
	for _, left := range x.toCome(g) {
		worst = max(worst, math.Abs(left))
	}
	return worst
}

// tellHeld tells an unsettled case from where it was before the mixing, by a pass from
// there: where that ended, without rest, may be far from all the circuit comes to.
func (s *settler) tellHeld(out *Outcome) {
	tried := Outcome{Case: out.Case, Repeats: out.Repeats}
	s.r.pass(out.Repeats.Done+1, slices.Clone(s.heldEnd), &tried)
	if tried.Failure != nil {
		out.Failure = tried.Failure
		out.Failure.Why += ", in the pass that tells where the passes led"
		return
	}
	*out = tried
}

// warmer (K) is by how much comesBack starts off from where all rests.
const warmer = 1.0

// comesBack makes sure that what has settled is a rest to which the circuit returns,
// by one more pass that begins a little warmer: what it takes up then, in heat, must be
// less. Oil that thins as it warms can have a rest that it leaves, one way or the other,
// for good; the search may find it, and repetition never does.
func (s *settler) comesBack(out *Outcome) {
	last := len(s.result) - 1
	ends, keep := slices.Clone(s.r.end), slices.Clone(s.r.end)
	start := slices.Clone(s.result[last])
	for i, at := range s.at {
		start[i] += warmer
		keep[at] = start[i]
	}
	sampler := s.r.watch.sampler
	s.r.watch.sampler = nil // what is told is the pass before
	tried := Outcome{Case: out.Case}
	s.r.pass(last+2, keep, &tried)
	s.r.watch.sampler = sampler
	ended := s.pick(s.r.end)
	copy(s.r.end, ends)
	why := "it does not come back to where it rests once it is a little warmer, or colder"
	if f := tried.Failure; f != nil {
		why = "whether it comes back to where it rests once it is a little warmer, is not known: " + f.Why
	} else {
		s.theta, s.result = append(s.theta, start), append(s.result, ended)
		if s.takenUp() < s.heat[last] {
			return
		}
		s.theta, s.result = s.theta[:last+1], s.result[:last+1]
	}
	_, _, where := s.change(last)
	s.runAway(out, where, why)
	out.Repeats.Settled = false
}

// onlySought tells of a pass that failed from a start that no pass led to, where it
// may never come: the circuit goes on from where it was.
func (s *settler) onlySought(theta []float64, f *Failure) bool {
	last := len(s.result) - 1
	return last >= 0 && f.Reason != integrate.OutOfSteps && !slices.Equal(theta, s.result[last])
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
	if last > 0 && s.refiner == nil {
		if _, before, _ := s.change(last - 1); now > before*(1+growsBeyond) {
			s.grows++
		} else {
			s.grows = 0
		}
	}
	if s.mixing != nil {
		s.mixing.take()
	}
	hottest, at := s.hottest()
	remaining, farthest := s.remaining()
	// The last slope may bend away before it comes to rest: where a start was sought by
	// it, the pass from there has to tell the same.
	near := s.near
	s.near = remaining < settledWithin
	confirmed := s.near && (near || s.refiner != nil || !s.leapt) && last+1 >= leastPasses && s.byCarriedOil() < carriedWithin
	switch {
	case hottest > s.limit && s.stays(at):
		s.runAway(out, at, "it passes the fluid's peak temperature by 50 K")
	case s.grows >= 3:
		s.runAway(out, where, "its change per repeat grows")
	case hottest <= s.limit && confirmed:
		out.Repeats.Settled = true
	case s.r.left() < s.r.latest:
		s.runAway(out, farthest, fmt.Sprintf("the budget of %d steps of all passes together does not suffice for another", s.r.total))
	case last+1 >= mostPasses && s.refiner == nil:
		s.runAway(out, farthest, "it does not settle")
	case last+1 >= exchangeTo:
		out.Repeats.Unsettled = s.held
	case last+1 >= refineTo && s.held == nil:
		s.runAway(out, farthest, "it does not settle")
		s.held, out.Repeats.Unsettled = out.Repeats.Unsettled, nil
		return false
	default:
		return false
	}
	return true
}

// stays tells whether what is too hot will not cool down again. Where plain passes
// led there, it does not matter. Where a start was extrapolated to there it may
// have been too far: it takes a plain pass from there, in which the node grows
// hotter and the circuit as a whole takes up heat, or all that is still to come
// comes to nothing.
func (s *settler) stays(at int) bool {
	if !s.leapt {
		return true
	}
	g, _, _ := s.change(len(s.result) - 1)
	remaining, _ := s.remaining()
	switch {
	case s.mixing != nil:
		return remaining < settledWithin
	case s.refiner == nil && s.plain == 0 || s.refiner != nil && !s.refiner.plain:
		return false
	}
	return g[at] > 0 && s.heat[len(s.heat)-1] > 0 || remaining < settledWithin
}

// takenUp is the heat (J) that oil, metal and plates took up in the last pass.
func (s *settler) takenUp() float64 {
	g, _, _ := s.change(len(s.result) - 1)
	heat := 0.0
	for i, capacity := range s.capacities() {
		heat += capacity * g[i]
	}
	return heat
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
		After: last + 1, Temperature: s.result[last][where], PerRepeat: g[where], Why: why,
	}
}

// remaining is the largest change still to come, and of which temperature.
func (s *settler) remaining() (worst float64, where int) {
	if s.mixing != nil {
		return s.mixing.remaining()
	}
	if s.refiner != nil {
		return s.refiner.remaining()
	}
	star, rest := s.extrapolate()
	factor := stillToCome(rest)
	for i, v := range s.result[len(s.result)-1] {
		if change := math.Abs(star[i]-v) + factor*math.Abs(rest[i]); change > worst {
			worst, where = change, i
		}
	}
	return worst, where
}
