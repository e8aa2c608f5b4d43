package network

import (
	"cmp"
	"math"
	"slices"
)

const (
	refineFrom  = 7    // passes after which the search for rest is made part by part
	mostSlow    = 4    // parts that are tried one at a time
	slowFrom    = 0.7  // passes of its time constant, from which a part counts as slow
	trialChange = 5.0  // K
	longestStep = 40.0 // K
)

// A refiner finds the temperatures at rest where several parts warm slowly, each in
// its own time: a large reservoir and a chamber that hardly changes its oil. The
// differences of a few passes do not tell these apart, so each is tried: it begins
// warmer by 5 K, all else as it was, and what a pass then changes gives a column of
//
//	S_ij = ∂g_i/∂θ_j,  g = F − θ,  of the slow parts
//
// with which Newton's step S Δ = −g leads to rest. What is not slow follows the
// hub, the part that holds most heat, and takes a plain pass to find its place;
// each such pass brings S up to date.
//
// Source: Newton's method with Broyden's update, Math. Comp. 19 (1965) 577.
type refiner struct {
	s        *settler
	slow     []int       // of s.at; the hub first
	constant []float64   // time constant of each of s.at, in passes
	theta, g []float64   // of the plain pass that was looked at last
	slope    [][]float64 // S
	tried    int         // slow parts that have been; −1 before there is a base
	plain    bool        // the pass under way begins as the one before ended
}

// newRefiner begins with a plain pass.
func newRefiner(s *settler) *refiner { return &refiner{s: s, tried: -1, plain: true} }

// next is where the next pass starts.
func (r *refiner) next() []float64 {
	last := len(r.s.result) - 1
	g, _, _ := r.s.change(last)
	switch {
	case !r.plain && r.tried == len(r.slow):
		r.plain = true // after a step, what follows finds its place
		return r.s.result[last]
	case r.tried < 0:
		r.theta, r.g = r.s.theta[last], g
		r.choose()
		r.tried, r.plain = 0, false
		return r.trial()
	case r.tried < len(r.slow):
		for i, at := range r.slow {
			r.slope[i][r.tried] = (g[at] - r.g[at]) / trialChange
		}
		if r.tried++; r.tried < len(r.slow) {
			return r.trial()
		}
	default:
		r.update(r.s.theta[last], g)
		r.theta, r.g = r.s.theta[last], g
	}
	r.plain = false
	return r.stepped()
}

// choose finds the slow parts: the hub, and those with most still to come.
func (r *refiner) choose() {
	r.constant = r.s.constants()
	heat := r.s.capacities()
	hub := 0
	for i := range r.constant {
		if heat[i]*r.constant[i] > heat[hub]*r.constant[hub] {
			hub = i
		}
	}
	r.slow = []int{hub}
	var others []int
	for i, passes := range r.constant {
		if i != hub && passes >= slowFrom {
			others = append(others, i)
		}
	}
	slices.SortStableFunc(others, func(a, b int) int {
		return cmp.Compare(math.Abs(r.g[b])*r.constant[b], math.Abs(r.g[a])*r.constant[a])
	})
	r.slow = append(r.slow, others[:min(len(others), mostSlow-1)]...)
	r.slope = make([][]float64, len(r.slow))
	for i := range r.slope {
		r.slope[i] = make([]float64, len(r.slow))
	}
}

// trial is the base with one slow part warmer; what is not slow goes with the hub.
func (r *refiner) trial() []float64 {
	return r.moved(r.theta, func(k int) float64 {
		if k == r.tried {
			return trialChange
		}
		return 0
	})
}

// moved is a start with each slow part moved, and all others with the hub.
func (r *refiner) moved(from []float64, by func(slow int) float64) []float64 {
	v := slices.Clone(from)
	for i := range v {
		k := slices.Index(r.slow, i)
		v[i] += by(max(k, 0))
		if r.s.r.m.states[r.s.at[i]] == temperatureState {
			v[i] = min(v[i], max(r.s.limit, from[i]))
		}
		v[i] = max(v[i], r.s.coldest(i))
	}
	return v
}

// stepped is the start that Newton's step leads to.
func (r *refiner) stepped() []float64 {
	step := r.step()
	from := slices.Clone(r.s.result[len(r.s.result)-1])
	for _, at := range r.slow {
		from[at] = r.theta[at]
	}
	return r.moved(from, func(k int) float64 { return max(-longestStep, min(step[k], longestStep)) })
}

// step is what is still to come of the slow parts, by S.
func (r *refiner) step() []float64 {
	n := len(r.slow)
	a, x := make([][]float64, n), make([]float64, n)
	for i, at := range r.slow {
		a[i], x[i] = slices.Clone(r.slope[i]), -r.g[at]
	}
	return eliminate(a, x)
}

// eliminate solves a x = b by Gauss's elimination with the largest pivot of each
// column; a and b are used up. A row that says nothing leads far.
func eliminate(a [][]float64, b []float64) []float64 {
	n := len(b)
	for c := range n {
		top := c
		for i := c + 1; i < n; i++ {
			if math.Abs(a[i][c]) > math.Abs(a[top][c]) {
				top = i
			}
		}
		a[c], a[top], b[c], b[top] = a[top], a[c], b[top], b[c]
		if math.Abs(a[c][c]) < 1e-12 {
			a[c][c] = -1e-12
		}
		for i := c + 1; i < n; i++ {
			f := a[i][c] / a[c][c]
			for k := c; k < n; k++ {
				a[i][k] -= f * a[c][k]
			}
			b[i] -= f * b[c]
		}
	}
	for c := n - 1; c >= 0; c-- {
		for k := c + 1; k < n; k++ {
			b[c] -= a[c][k] * b[k]
		}
		b[c] /= a[c][c]
	}
	return b
}

// update is Broyden's: S + (Δg − S Δθ) Δθᵀ/|Δθ|².
func (r *refiner) update(theta, g []float64) {
	n := len(r.slow)
	d, size := make([]float64, n), 0.0
	for k, at := range r.slow {
		d[k] = theta[at] - r.theta[at]
		size += d[k] * d[k]
	}
	if size < settledWithin*settledWithin {
		return // too little to learn from
	}
	for i, at := range r.slow {
		off := g[at] - r.g[at]
		for k := range d {
			off -= r.slope[i][k] * d[k]
		}
		for k := range d {
			r.slope[i][k] += off * d[k] / size
		}
	}
}

// remaining is the largest change still to come after a plain pass, and of which
// temperature; +Inf while it cannot be told.
func (r *refiner) remaining() (worst float64, where int) {
	if r.tried < len(r.slow) || r.tried < 0 || !r.plain {
		return math.Inf(1), 0
	}
	last := len(r.s.result) - 1
	g, _, _ := r.s.change(last)
	at := refiner{s: r.s, slow: r.slow, slope: r.slope, g: g}
	for k, change := range at.step() {
		if change = math.Abs(change); change > worst {
			worst, where = change, r.slow[k]
		}
	}
	for i := range g {
		if slices.Contains(r.slow, i) {
			continue
		}
		if change := math.Abs(g[i]) * max(1, r.constant[i]); change > worst {
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
