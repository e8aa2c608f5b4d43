package network

import (
	"math"
	"slices"
)

// An exchange finds the temperatures at rest from what the oil carries from node to
// node. Over a pass, with M_ij the heat that a kelvin at j brings to i as a share of the
// heat that a kelvin of i holds, what a pass changes, g = F − θ, follows θ about as
//
//	∂F/∂θ = (I − M)⁻¹,  so that  r = g − M⁻¹ g
//
// is what is still to come. What M leaves out (coolers, friction that thins with the
// oil, what a repeat puts back) shows in the last few passes: r is mixed as in settler.
//
// Source: an implicit step of the mixing of a network; D. G. Anderson, J. ACM 12 (1965)
// 547, preconditioned.
type exchange struct {
	s           *settler
	theta, step [][]float64
	matrix      [][]float64 // M
}

const (
	exchangeTo   = 60 // passes
	mixedColumns = 5  // differences that the mixing looks at
)

// rates are M after the last pass.
func (x *exchange) rates() {
	s := x.s
	m, lasts, n := s.r.m, s.r.m.spec.Lasts.SI, len(s.at)
	place := make(map[int]int, n)
	for i, at := range s.at {
		place[at] = i
	}
	x.matrix = make([][]float64, n)
	for i := range x.matrix {
		x.matrix[i] = make([]float64, n)
	}
	heat := s.capacities()
	bring := func(to, from int, w float64) { // w in J/K
		x.matrix[to][from] += w / heat[to]
		x.matrix[to][to] -= w / heat[to]
	}
	for i := range m.passages {
		p := &m.passages[i]
		a, b := place[m.nodes[p.a].heatRow], place[m.nodes[p.b].heatRow]
		if a != b {
			bring(b, a, m.oil.heat*s.r.watch.carried[i].forth)
			bring(a, b, m.oil.heat*s.r.watch.carried[i].back)
		}
	}
	for i := range m.nodes {
		k := place[m.nodes[i].heatRow]
		x.matrix[k][k] -= m.nodes[i].ambient * lasts / heat[k]
	}
	for _, e := range m.elements {
		switch e := e.(type) {
		case *frictionPack:
			k, head := place[e.plates], place[m.nodes[e.head].heatRow]
			bring(k, head, e.part.ToCylinder.SI*lasts)
			bring(head, k, e.part.ToCylinder.SI*lasts)
			x.matrix[k][k] -= e.part.ToAir.SI * lasts / heat[k]
		case *accumulator:
			k := place[e.warmth]
			x.matrix[k][k] -= lasts / e.constant
		}
	}
	for k := range x.matrix {
		x.matrix[k][k] -= 1 / slowest
	}
}

// toCome is r of what a pass changed.
func (x *exchange) toCome(g []float64) []float64 {
	n := len(g)
	a := make([][]float64, n)
	for i := range a {
		a[i] = append(slices.Clone(x.matrix[i]), g[i])
	}
	for k := range n { // elimination with the largest pivot of each column
		best := k
		for i := k + 1; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[best][k]) {
				best = i
			}
		}
		a[k], a[best] = a[best], a[k]
		for i := k + 1; i < n; i++ {
			if f := a[i][k] / a[k][k]; f != 0 {
				for j := k; j <= n; j++ {
					a[i][j] -= f * a[k][j]
				}
			}
		}
	}
	r := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		v := a[i][n]
		for j := i + 1; j < n; j++ {
			v -= a[i][j] * r[j]
		}
		r[i] = v / a[i][i]
	}
	for i := range r {
		r[i] = g[i] - r[i]
	}
	return r
}

// take adds the last pass.
func (x *exchange) take() {
	last := len(x.s.result) - 1
	g, _, _ := x.s.change(last)
	x.rates()
	x.theta, x.step = append(x.theta, x.s.theta[last]), append(x.step, x.toCome(g))
}

// rest is where the passes so far show the least still to come, and what would be
// still to come there.
func (x *exchange) rest() (star, left []float64) {
	last := len(x.theta) - 1
	star, left = slices.Clone(x.theta[last]), slices.Clone(x.step[last])
	var all []difference
	for k := last - 1; k >= 0; k-- {
		d := difference{left: minus(x.step[k+1], x.step[k]), led: minus(x.theta[k+1], x.theta[k])}
		d.least = 1e-2 * math.Sqrt(dot(d.left, d.left))
		all = append(all, d)
	}
	mix(star, left, all, mixedColumns)
	return star, left
}

// next is where the next pass starts.
func (x *exchange) next() []float64 {
	star, left := x.rest()
	last := len(x.theta) - 1
	worst := 0.0
	for i := range star {
		star[i] += left[i]
		worst = max(worst, math.Abs(star[i]-x.theta[last][i]))
	}
	share := min(1, longestStep/worst)
	for i := range star {
		star[i] = x.theta[last][i] + share*(star[i]-x.theta[last][i])
		if x.s.r.m.states[x.s.at[i]] == temperatureState {
			star[i] = min(star[i], max(x.s.limit, x.theta[last][i]))
		}
		star[i] = max(star[i], x.s.coldest(i))
	}
	return star
}

// remaining is the largest change still to come, by M alone and as mixed, and of which
// temperature.
func (x *exchange) remaining() (worst float64, where int) {
	last := len(x.theta) - 1
	star, left := x.rest()
	for i := range star {
		mixed, alone := math.Abs(star[i]+left[i]-x.theta[last][i]), math.Abs(x.step[last][i])
		if change := max(mixed, alone); change > worst {
			worst, where = change, i
		}
	}
	return worst, where
}
