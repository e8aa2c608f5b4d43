package integrate

import (
	"cmp"
	"math"
	"slices"
)

// A colouring groups the columns of a pattern so that no two of a group share a
// row: one evaluation differences a whole group. Source: A. R. Curtis, M. J. D.
// Powell and J. K. Reid, J. Inst. Maths Applics 13 (1974) 117.
type colouring struct {
	groups      [][]int32
	moved, base []float64 // a state moved, f there
}

// newColouring gives each column, those with most rows first, the first group
// that it fits into.
func newColouring(p Pattern, rows int) *colouring {
	columns := make([]int32, len(p.Start)-1)
	for j := range columns {
		columns[j] = int32(j)
	}
	slices.SortStableFunc(columns, func(a, b int32) int {
		return cmp.Compare(p.Start[b+1]-p.Start[b], p.Start[a+1]-p.Start[a])
	})
	c := &colouring{base: make([]float64, rows), moved: make([]float64, rows)}
	var taken [][]bool
	for _, j := range columns {
		own := p.Row[p.Start[j]:p.Start[j+1]]
		g := slices.IndexFunc(taken, func(rows []bool) bool {
			return !slices.ContainsFunc(own, func(i int) bool { return rows[i] })
		})
		if g < 0 {
			g = len(c.groups)
			c.groups, taken = append(c.groups, nil), append(taken, make([]bool, rows))
		}
		c.groups[g] = append(c.groups[g], j)
		for _, i := range own {
			taken[g][i] = true
		}
	}
	return c
}

// disturbance is how far component j is moved for a difference: the root of the
// rounding error of its size, in the direction in which it moves. Its size is the
// largest of: itself, what it moves in the step to come, a thousandth of the
// largest it has been in the run; failing these, of its absolute tolerance.
func (s *Solver) disturbance(j int) float64 {
	const root = 1.4901161193847656e-08 // √2⁻⁵²
	y, dy := s.y[j], s.f[j]
	s.largest[j] = max(s.largest[j], math.Abs(y))
	size := max(math.Abs(y), math.Abs(dy*s.next), 1e-3*s.largest[j])
	if !(size > 0 && size <= math.MaxFloat64) {
		if size = s.options.Absolute[j]; !(size > 0 && size <= 1) {
			size = root
		}
	}
	return math.Copysign(root*size, dy)
}

// difference fills in the Jacobian by forward differences.
func (s *Solver) difference() {
	c, p := s.colours, &s.system.Pattern
	copy(c.moved, s.y)
	for _, group := range c.groups {
		for _, j := range group {
			c.moved[j] += s.disturbance(int(j))
		}
		s.evaluate(s.begin, c.moved, c.base)
		s.statistics.ForDifferences++
		for _, j := range group {
			d := c.moved[j] - s.y[j]
			for q := p.Start[j]; q < p.Start[j+1]; q++ {
				i := p.Row[q]
				s.jacobian[q] = (c.base[i] - s.f[i]) / d
			}
			c.moved[j] = s.y[j]
		}
	}
}
