package network

import (
	"math"
	"slices"
)

const (
	refineFrom  = 7    // passes after which the search for rest is made part by part
	couldBeSlow = 0.7  // passes, from which one may be slow together with another
	slowFrom    = 3.0  // passes of its time constant, from which a part counts as slow
	persists    = 0.7  // of a change, that a plain pass leaves of a slow part
	quickLeft   = 4.0  // times its last change, that a quick part may have to go
	findsPlace  = 2    // plain passes after a step, in which what is quick finds its place
	refineTo    = 40   // passes
	trialChange = 5.0  // K
	longestStep = 40.0 // K
	shortStep   = 1.0  // K
	noticed     = noChange / 2
	leastSlope  = 1e-6 // of g: what restores less is as good as nothing
	muchLess    = 0.2  // of a warming of all: parts that moved so little beyond it do not blur its slope
)

// A refiner finds the temperatures at rest where several parts warm slowly, each in
// its own time: a large reservoir, and chambers that hardly change their oil. The
// differences of a few passes do not tell these apart, so they are tried: first all
// begins warmer by 5 K; then all slow parts but the hub, the node that holds most heat.
// What a pass then changes gives, with g = F − θ, c a warming of all and d_i that of one
// part beyond it,
//
//	S_i0 = ∂g_i/∂c,  S_ii = ∂g_i/∂d_i
//
// and Newton's step, c = −g_0/S_00 of the hub and d_i = −(g_i + S_i0 c)/S_ii, leads to
// rest: slow parts have more to do with the hub than with each other, and what they do
// to it ends with their own coming to rest. What is quick takes plain passes after a
// step to find its place, and each search brings the slopes up to date.
//
// Source: Newton's method with the secant's slopes on an arrowhead matrix.
type refiner struct {
	s        *settler
	hub      int
	slow     []bool    // of s.at
	still    []bool    // slow ones that nothing heats or cools as far as a pass shows: they stay as they are
	constant []float64 // time constant of each of s.at, in passes
	theta, g []float64 // of the plain pass that was looked at last
	byHub    []float64 // S_i0
	own      []float64 // S_ii
	trials   int       // made of two; −1 before there is a base
	plain    bool      // the pass under way is one to judge by
	waits    int       // plain passes still to be made before one
	before   []float64 // g of the pass before the base, which was plain as well
}

// newRefiner begins with a plain pass.
func newRefiner(s *settler) *refiner { return &refiner{s: s, trials: -1, plain: true} }

// begin is the last pass's end, but for parts that nothing heats or cools: these are
// put back to where the case begins them, from where the search has dragged them along.
func (r *refiner) begin() []float64 {
	last := len(r.s.result) - 1
	g, _, _ := r.s.change(last)
	v := slices.Clone(r.s.result[last])
	for i, passes := range r.s.constants() {
		if passes >= slowest && math.Abs(g[i]) < noticed {
			v[i] = r.s.theta[0][i]
		}
	}
	return v
}

// next is where the next pass starts.
func (r *refiner) next() []float64 {
	last := len(r.s.result) - 1
	g, _, _ := r.s.change(last)
	switch {
	case r.trials < 0 && r.before == nil:
		r.before = g
		return r.s.result[last]
	case r.trials < 0:
		r.theta, r.g = r.s.theta[last], g
		r.choose()
		r.trials, r.plain = 0, false
		return r.trial()
	case r.trials == 0:
		for i := range g {
			r.byHub[i] = (g[i] - r.g[i]) / trialChange
		}
		r.trials = 1
		return r.trial()
	case r.trials == 1:
		for i := range g {
			if r.slow[i] && i != r.hub && !r.still[i] {
				r.own[i] = r.restoring(i, (g[i]-r.g[i])/trialChange)
			}
		}
		r.trials = 2
	case !r.plain:
		r.waits--
		r.plain = r.waits == 0
		return r.s.result[last]
	default:
		r.update(r.s.theta[last], g)
	}
	step := r.step(r.g)
	r.plain, r.waits = largest(step) < shortStep, findsPlace // after a short step all is at its place
	return r.stepped(step)
}

// choose finds the hub and the slow parts.
func (r *refiner) choose() {
	r.constant = r.s.constants()
	n := len(r.constant)
	r.slow, r.still, r.byHub, r.own = make([]bool, n), make([]bool, n), make([]float64, n), make([]float64, n)
	heat := r.s.capacities()
	for i := range heat {
		if r.s.r.m.states[r.s.at[i]] == temperatureState && heat[i] > heat[r.hub] {
			r.hub = i
		}
	}
	for i, passes := range r.constant {
		stays := passes >= couldBeSlow && r.s.r.m.states[r.s.at[i]] != gasTemperatureState && math.Abs(r.g[i]) > shortStep/10 && math.Abs(r.g[i]) > persists*math.Abs(r.before[i])
		r.slow[i] = i == r.hub || passes >= slowFrom || stays
		r.still[i] = r.slow[i] && i != r.hub && math.Abs(r.g[i]) < noticed
		r.own[i] = r.restoring(i, 0)
	}
}

// restoring is a slope that leads back: where a trial shows none, that of the time
// constant.
func (r *refiner) restoring(i int, slope float64) float64 {
	if slope < -leastSlope {
		return slope
	}
	return -1 / max(1, r.constant[i])
}

// trial is the base with all warmer, or with the slow parts but the hub; without what
// is still.
func (r *refiner) trial() []float64 {
	v := slices.Clone(r.theta)
	for i := range v {
		if (r.trials == 0 || r.slow[i] && i != r.hub) && !r.still[i] {
			v[i] += trialChange
		}
	}
	return r.bounded(v, r.theta)
}

// stepped is the start that a step leads to.
func (r *refiner) stepped(step []float64) []float64 {
	from := slices.Clone(r.s.result[len(r.s.result)-1])
	v := slices.Clone(from)
	for i := range v {
		if r.slow[i] {
			from[i], v[i] = r.theta[i], r.theta[i]
		}
		v[i] += step[i]
	}
	return r.bounded(v, from)
}

// bounded keeps a start within what temperatures may be sought at.
func (r *refiner) bounded(v, from []float64) []float64 {
	for i := range v {
		if r.s.r.m.states[r.s.at[i]] == temperatureState {
			v[i] = min(v[i], max(r.s.limit, from[i]))
		}
		v[i] = max(v[i], r.s.coldest(i))
	}
	return v
}

// step is what is still to come of each part, by the slopes: of what is quick that of
// the hub, and nothing of what is still.
func (r *refiner) step(g []float64) []float64 {
	step := make([]float64, len(g))
	short := func(v float64) float64 { return max(-longestStep, min(v, longestStep)) }
	switch slope := r.byHub[r.hub]; {
	case math.Abs(g[r.hub]) < noticed:
	case slope < -leastSlope:
		step[r.hub] = short(-g[r.hub] / slope)
	default: // nothing holds it
		step[r.hub] = math.Copysign(longestStep, g[r.hub])
	}
	for i := range g {
		if i == r.hub || r.still[i] && math.Abs(g[i]) < noticed {
			continue
		}
		step[i] = step[r.hub]
		if left := g[i] + r.byHub[i]*step[r.hub]; r.slow[i] && math.Abs(left) >= noticed {
			step[i] += short(-left / r.own[i])
		}
	}
	return step
}

// update takes slopes from where the last steps led.
func (r *refiner) update(theta, g []float64) {
	moved, beyond := theta[r.hub]-r.theta[r.hub], 0.0
	for i := range g {
		if r.slow[i] && !r.still[i] {
			beyond = max(beyond, math.Abs(theta[i]-r.theta[i]-moved))
		}
	}
	if math.Abs(moved) > settledWithin && beyond < muchLess*math.Abs(moved) {
		if slope := (g[r.hub] - r.g[r.hub]) / moved; slope < -leastSlope {
			r.byHub[r.hub] = slope
		}
	}
	for i := range g {
		own := theta[i] - r.theta[i] - moved
		if r.still[i] {
			r.still[i] = math.Abs(g[i]) < noticed // or what moved heats or cools it
		} else if r.slow[i] && i != r.hub && math.Abs(own) > settledWithin {
			r.own[i] = r.restoring(i, (g[i]-r.g[i]-r.byHub[i]*moved)/own)
		}
	}
	r.theta, r.g = theta, g
}

// remaining is the largest change still to come after a plain pass, and of which
// temperature; +Inf while it cannot be told.
func (r *refiner) remaining() (worst float64, where int) {
	last := len(r.s.result) - 1
	g, _, farthest := r.s.change(last)
	if r.trials < 2 || !r.plain {
		return math.Inf(1), farthest
	}
	step := r.step(g)
	for i := range g {
		change := math.Abs(step[i])
		if !r.slow[i] {
			change = quickLeft * math.Abs(g[i])
		}
		if change > worst {
			worst, where = change, i
		}
	}
	return worst, where
}

// capacities is the heat that each temperature stands for (J/K).
func (s *settler) capacities() []float64 {
	of := map[int]float64{}
	for i := range s.r.m.nodes {
		of[s.r.m.nodes[i].heatRow] = s.r.m.nodes[i].thermal
	}
	for _, e := range s.r.m.elements {
		if f, is := e.(*frictionPack); is {
			of[f.plates] = f.pack.capacity
		}
	}
	heat := make([]float64, len(s.at))
	for i, at := range s.at {
		heat[i] = of[at]
	}
	return heat
}

// constants are the time constants of the temperatures, in passes: heat held over
// what flows in and the surroundings take in a pass, for each kelvin.
func (s *settler) constants() []float64 {
	m, lasts := s.r.m, s.r.m.spec.Lasts.SI
	of := map[int]float64{}
	for i := range m.nodes {
		n := &m.nodes[i]
		takes := n.oil.rho*m.oil.heat*s.r.watch.books[i].fresh + n.ambient*lasts
		of[n.heatRow] = n.thermal / max(takes, math.SmallestNonzeroFloat64)
	}
	for _, e := range m.elements {
		switch e := e.(type) {
		case *frictionPack:
			of[e.plates] = e.pack.capacity / max((e.part.ToAir.SI+e.part.ToCylinder.SI)*lasts, math.SmallestNonzeroFloat64)
		case *accumulator:
			of[e.warmth] = e.constant / lasts
		}
	}
	passes := make([]float64, len(s.at))
	for i, at := range s.at {
		passes[i] = min(of[at], slowest)
	}
	return passes
}
