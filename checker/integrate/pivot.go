package integrate

import "math"

// solved tells whether the first stage satisfies its equations, each to a
// billionth of the sum of the sizes of its terms: the check of factors that are
// doubtful.
func (s *Solver) solved(shift float64) bool {
	const accuracy = 1e-9
	n := s.system.States
	k := s.k[0]
	rest, size := s.inner[:n], s.probe[:n]
	hg := s.h * s.method.shift[0]
	for i := range rest {
		b, own := s.f[i]+hg*s.ft[i], shift*k[i]
		rest[i], size[i] = b-own, math.Abs(b)+math.Abs(own)
	}
	p := &s.system.Pattern
	for j := range n {
		for q := p.Start[j]; q < p.Start[j+1]; q++ {
			if i := p.Row[q]; i < n {
				term := s.jacobian[q] * k[j]
				rest[i] += term
				size[i] += math.Abs(term)
			}
		}
	}
	for i, r := range rest {
		if !(math.Abs(r) <= accuracy*size[i]) {
			return false
		}
	}
	return true
}

// pivotAnew finds another order of pivots, by the present values, and factors
// with it. False when the matrix is singular. It allocates.
func (s *Solver) pivotAnew(shift float64) bool {
	s.statistics.FreshPivots++
	p, n := s.system.Pattern, s.system.States
	rows := equationRows(p, n)
	values := make([][]float64, n)
	for i, row := range rows {
		values[i] = make([]float64, len(row))
		for q, j := range row {
			if slot := p.Slot(i, int(j)); slot >= 0 {
				values[i][q] = -s.jacobian[slot]
			}
			if i == int(j) {
				values[i][q] += shift
			}
			// In units of the tolerance of the unknown, so that a row's elements compare.
			if unit := s.tolerance(int(j), s.y[j]); unit > 0 && !math.IsInf(unit, 0) {
				values[i][q] *= unit
			}
		}
	}
	e, ok := orderByValue(rows, values)
	if !ok {
		return false
	}
	s.factors = newFactors(p, e)
	return s.factors.refactor(shift, s.jacobian) != notANumber
}

// tolerance of component i at a size.
func (s *Solver) tolerance(i int, y float64) float64 {
	return s.options.Absolute[i] + s.options.Relative[i]*math.Abs(y)
}
