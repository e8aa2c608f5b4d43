package integrate

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// randomPattern has a diagonal and about degree further places a column.
func randomPattern(r *rand.Rand, n int, degree float64) Pattern {
	var places []Place
	for j := range n {
		places = append(places, Place{j, j})
		for range r.IntN(int(2*degree) + 1) {
			places = append(places, Place{r.IntN(n), j})
		}
	}
	return NewPattern(n, places)
}

// denseSolve solves d x − J x = b by elimination with partial pivoting.
func denseSolve(p Pattern, j []float64, d float64, b []float64) []float64 {
	n := len(b)
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, n+1)
		a[i][i], a[i][n] = d, b[i]
	}
	for c := range n {
		for s := p.Start[c]; s < p.Start[c+1]; s++ {
			if p.Row[s] < n {
				a[p.Row[s]][c] -= j[s]
			}
		}
	}
	for k := range n {
		best := k
		for i := k; i < n; i++ {
			if math.Abs(a[i][k]) > math.Abs(a[best][k]) {
				best = i
			}
		}
		a[k], a[best] = a[best], a[k]
		for i := k + 1; i < n; i++ {
			m := a[i][k] / a[k][k]
			for c := k; c <= n; c++ {
				a[i][c] -= m * a[k][c]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = a[i][n]
		for c := i + 1; c < n; c++ {
			x[i] -= a[i][c] * x[c]
		}
		x[i] /= a[i][i]
	}
	return x
}

// Against dense elimination with partial pivoting, on random patterns and values;
// rows beyond the matrix (integrals) must not matter.
func TestFactorsAgainstDense(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for trial := range 200 {
		n := 1 + r.IntN(40)
		p := randomPattern(r, n, 3*r.Float64())
		if trial%2 == 1 {
			var places []Place
			for j := range n {
				places = append(places, Place{n + r.IntN(3), j})
				for _, i := range p.Row[p.Start[j]:p.Start[j+1]] {
					places = append(places, Place{i, j})
				}
			}
			p = NewPattern(n, places)
		}
		j := make([]float64, len(p.Row))
		for s := range j {
			j[s] = r.NormFloat64()
		}
		b := make([]float64, n)
		for i := range b {
			b[i] = r.NormFloat64()
		}
		d := 3 + 10*r.Float64()
		f := newFactors(p, orderByPattern(equationRows(p, n)))
		if f.refactor(d, j) == notANumber {
			t.Fatal("finite values taken for others")
		}
		x := slices.Clone(b)
		f.solve(x)
		for i, want := range denseSolve(p, j, d, b) {
			if math.Abs(x[i]-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("trial %d, n = %d: x[%d] = %g, want %g", trial, n, i, x[i], want)
			}
		}
	}
}

// Pivots by value: matrices whose diagonal cannot serve, against dense elimination.
func TestPivotsByValue(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for trial := range 100 {
		n := 2 + r.IntN(30)
		turn := r.Perm(n)
		var places []Place
		for j := range n {
			places = append(places, Place{turn[j], j}, Place{r.IntN(n), j}, Place{r.IntN(n), j}, Place{j, j})
		}
		p := NewPattern(n, places)
		j := make([]float64, len(p.Row))
		for s := range j {
			j[s] = r.NormFloat64()
		}
		for c := range n {
			j[p.Slot(c, c)] = 1e-13 * r.NormFloat64() // nothing on the diagonal
		}
		for c := range n {
			j[p.Slot(turn[c], c)] += 10
		}
		rows := equationRows(p, n)
		values := make([][]float64, n)
		for i, row := range rows {
			for _, c := range row {
				values[i] = append(values[i], -j[p.Slot(i, int(c))])
			}
		}
		e, ok := orderByValue(rows, values)
		if !ok {
			t.Fatalf("trial %d: taken for singular", trial)
		}
		f := newFactors(p, e)
		f.refactor(0, j)
		b := make([]float64, n)
		for i := range b {
			b[i] = r.NormFloat64()
		}
		x := slices.Clone(b)
		f.solve(x)
		for i, want := range denseSolve(p, j, 0, b) {
			if math.Abs(x[i]-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("trial %d, n = %d: x[%d] = %g, want %g", trial, n, i, x[i], want)
			}
		}
	}
}

func TestSingularMatrixIsNoticed(t *testing.T) {
	rows := [][]int32{{0, 1}, {0, 1}, {2}}
	if _, ok := orderByValue(rows, [][]float64{{1, 2}, {2, 4}, {1}}); ok {
		t.Error("a singular matrix was ordered")
	}
	p := NewPattern(2, []Place{{0, 0}, {1, 1}})
	f := newFactors(p, orderByPattern(equationRows(p, 2)))
	for _, c := range []struct {
		d    float64
		j    []float64
		want health
	}{
		{1, []float64{0, 0}, sound},
		{1, []float64{1, 0}, doubtful},
		{1, []float64{math.NaN(), 0}, notANumber},
		{1, []float64{0, math.Inf(-1)}, notANumber},
	} {
		if got := f.refactor(c.d, c.j); got != c.want {
			t.Errorf("refactor(%g, %v) = %v, want %v", c.d, c.j, got, c.want)
		}
	}
}

// A matrix that loses its digits with pivots on the diagonal, M = [[1e-13, 1.3],
// [−1.7, 1.1]] at h = 1: the solver must notice, pivot anew, and solve well.
func TestBadPivotsAreReplaced(t *testing.T) {
	j := []float64{4 - 1e-13, 1.7, -1.3, 2.9}
	system := System{
		States: 2, Autonomous: true, Pattern: dense(2),
		Evaluate: func(_ float64, y, dy []float64) {
			dy[0], dy[1] = j[0]*y[0]+j[2]*y[1], j[1]*y[0]+j[3]*y[1]
		},
		Jacobian: func(_ float64, _, values []float64) { copy(values, j) },
	}
	s, err := New(system, Options{Relative: []float64{1}, Absolute: []float64{1e9}})
	if err != nil {
		t.Fatal(err)
	}
	s.y[0], s.y[1], s.limit = 1, 2, 1
	s.evaluate(0, s.y, s.f)
	s.linearise(1)
	s.h = 1
	if o := s.firstStage(4); o != accurate {
		t.Fatalf("outcome %v", o)
	}
	if s.statistics.FreshPivots != 1 || s.factors.diagonal {
		t.Errorf("%d new orders of pivots, on the diagonal: %v", s.statistics.FreshPivots, s.factors.diagonal)
	}
	for i, want := range denseSolve(system.Pattern, j, 4, s.f) {
		if math.Abs(s.k[0][i]-want) > 1e-11*math.Abs(want) {
			t.Errorf("k[%d] = %.15g, want %.15g", i, s.k[0][i], want)
		}
	}
}

// The work of elimination grows as the number of states in a network.
func TestWorkGrowsLinearly(t *testing.T) {
	work := func(branches int) (elements, products float64) {
		c := newChain(branches, true)
		f := newFactors(c.pattern, orderByPattern(equationRows(c.pattern, c.states())))
		return float64(len(f.value)) / float64(c.states()), float64(len(f.products)) / float64(c.states())
	}
	elements, products := work(20)
	for _, branches := range []int{80, 320} {
		e, p := work(branches)
		if e > 1.05*elements || p > 1.05*products {
			t.Errorf("%d branches: %.2f elements and %.2f products a state, %.2f and %.2f at 20", branches, e, p, elements, products)
		}
	}
}

func TestPattern(t *testing.T) {
	p := NewPattern(3, []Place{{2, 0}, {0, 2}, {0, 0}, {2, 0}, {1, 2}})
	if !slices.Equal(p.Start, []int{0, 2, 2, 4}) || !slices.Equal(p.Row, []int{0, 2, 0, 1}) {
		t.Fatalf("start %v, row %v", p.Start, p.Row)
	}
	for _, c := range []struct{ row, column, want int }{{0, 0, 0}, {2, 0, 1}, {1, 0, -1}, {0, 1, -1}, {1, 2, 3}, {0, 3, -1}, {0, -1, -1}} {
		if got := p.Slot(c.row, c.column); got != c.want {
			t.Errorf("slot of %d, %d is %d, want %d", c.row, c.column, got, c.want)
		}
	}
	for _, bad := range []Pattern{
		{}, {Start: []int{0, 1}, Row: []int{0}}, {Start: []int{0, 1, 2, 3}, Row: []int{0, 1, 3}},
		{Start: []int{0, 2, 1, 3}, Row: []int{0, 1, 2}}, {Start: []int{0, 2, 2, 2}, Row: []int{1, 0}},
		{Start: []int{0, 2, 2, 2}, Row: []int{1, 1}}, {Start: []int{0, 1, 1, 1}, Row: []int{-1}},
		{Start: []int{0, 9, 1, 1}, Row: []int{0}}, {Start: []int{1, 1, 1, 1}, Row: []int{0}},
	} {
		if bad.check(3, 3) == nil {
			t.Errorf("%v passes for a pattern of 3 by 3", bad)
		}
	}
}

// Groups of columns cover each column once and share no row.
func TestColouring(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 50 {
		n := 1 + r.IntN(30)
		p := randomPattern(r, n, 2)
		seen := make([]int, n)
		for _, group := range newColouring(p, n).groups {
			rows := map[int]bool{}
			for _, j := range group {
				seen[j]++
				for _, i := range p.Row[p.Start[j]:p.Start[j+1]] {
					if rows[i] {
						t.Fatalf("two columns of a group have row %d", i)
					}
					rows[i] = true
				}
			}
		}
		if slices.Max(seen) != 1 || slices.Min(seen) != 1 {
			t.Fatalf("columns are in %v groups", seen)
		}
	}
	if c := newChain(50, false); len(newColouring(c.pattern, c.states()).groups) > 10 {
		t.Errorf("%d groups for a chain", len(newColouring(c.pattern, c.states()).groups))
	}
}
