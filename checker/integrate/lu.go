package integrate

import (
	"math"
	"slices"
)

// factors are the sparse factors L D U of M = d I − J for one order of pivots, L
// and U with unit diagonals. What depends on the pattern alone is worked out once;
// refactor and solve run over fixed lists, without loops within loops of a few
// turns each, and allocate nothing.
//
// value holds the elements of L by rows from the first, then those of U by rows
// from the last, then the pivots, then one element that takes what is no part of
// M. Rows are in the order of elimination.
type factors struct {
	lower, upper terms // the elements of L and of U in the order of value
	products     []product
	ends         []int32 // where the products of each pivot end
	entry        []int32 // slot of J -> element of value
	shift        []int32 // state -> element of value that takes d

	row, column []int32 // equation and unknown of each pivot
	diagonal    bool    // they are the same

	value   []float64
	before  []float64 // pivots before elimination
	inverse []float64 // of the pivots, by equation
	x       []float64
}

// terms are what elements of a factor do to a right-hand side held by equations:
// each subtracts its multiple of the element at from from that at to.
type terms struct{ to, from []int32 }

func (t *terms) add(to, from int32) {
	t.to, t.from = append(t.to, to), append(t.from, from)
}

// apply subtracts, in order.
func (t *terms) apply(value, x []float64) {
	to, from := t.to[:len(value)], t.from[:len(value)]
	for p, v := range value {
		x[to[p]] -= v * x[from[p]]
	}
}

// A product of the elimination: the element at to loses that at lower times that
// at upper over the pivot.
type product struct{ to, lower, upper int32 }

// newFactors lays out the factors of a matrix of the pattern for an elimination.
// Slots of rows from len(e.row) on are not part of the matrix.
func newFactors(p Pattern, e elimination) *factors {
	n := len(e.row)
	f := &factors{
		row: e.row, column: e.column, diagonal: slices.Equal(e.row, e.column),
		before: make([]float64, n), inverse: make([]float64, n), x: make([]float64, n),
		entry: make([]int32, len(p.Row)), shift: make([]int32, n),
	}
	step := make([]int32, n)     // at which an equation is the pivot's
	equation := make([]int32, n) // that has an unknown as its pivot
	for k, i := range e.row {
		step[i], equation[e.column[k]] = int32(k), i
	}
	lower := make([][]int32, n) // steps that each row loses something in
	for k, rows := range e.lower {
		for _, i := range rows {
			lower[step[i]] = append(lower[step[i]], int32(k))
		}
	}
	at := make([]map[int32]int32, n) // equation -> unknown -> element of value
	for k, steps := range lower {
		at[e.row[k]] = make(map[int32]int32, len(steps)+len(e.upper[k])+1)
		for _, q := range steps {
			at[e.row[k]][e.column[q]] = int32(len(f.lower.to))
			f.lower.add(e.row[k], e.row[q])
		}
	}
	first := len(f.lower.to)
	for k := n - 1; k >= 0; k-- {
		for _, j := range e.upper[k] {
			at[e.row[k]][j] = int32(first + len(f.upper.to))
			f.upper.add(e.row[k], equation[j])
		}
	}
	first += len(f.upper.to)
	for k := range n {
		at[e.row[k]][e.column[k]] = int32(first + k)
	}
	f.value = make([]float64, first+n+1)
	f.place(p, e, at)
	return f
}

// place finds where the elements of J, the diagonal and the products of the
// elimination go.
func (f *factors) place(p Pattern, e elimination, at []map[int32]int32) {
	n := len(e.row)
	for j := range n {
		f.shift[j] = at[j][int32(j)]
		for s := p.Start[j]; s < p.Start[j+1]; s++ {
			f.entry[s] = int32(len(f.value) - 1)
			if i := p.Row[s]; i < n {
				f.entry[s] = at[i][int32(j)]
			}
		}
	}
	for k, row := range e.row {
		for _, i := range e.lower[k] {
			for _, j := range e.upper[k] {
				f.products = append(f.products, product{at[i][j], at[i][e.column[k]], at[row][j]})
			}
		}
		f.ends = append(f.ends, int32(len(f.products)))
	}
}

// health of a factorisation.
type health int

const (
	sound    health = iota
	doubtful        // a pivot changed so much in elimination that digits may be lost
	notANumber
)

// A pivot is doubtful when elimination made it this many times smaller or larger.
const doubt = 1e8

// refactor computes the factors of d I − J in the present order of pivots, J by
// slots.
func (f *factors) refactor(d float64, jacobian []float64) health {
	if f.fill(d, jacobian) {
		return notANumber
	}
	lower, upper, pivots := f.parts()
	value, inverse := f.value, f.inverse
	before := f.before[:len(pivots)]
	copy(before, pivots)
	steady, first := true, int32(0)
	ends, row := f.ends[:len(pivots)], f.row[:len(pivots)]
	for k, pivot := range pivots {
		over := 1 / pivot
		inverse[row[k]] = over
		for _, p := range f.products[first:ends[k]] {
			value[p.to] -= value[p.lower] * value[p.upper] * over
		}
		first = ends[k]
		a, b := math.Abs(pivot), math.Abs(before[k])
		steady = steady && a*doubt > b && a <= b*doubt
	}
	from, to := f.lower.from[:len(lower)], f.upper.to[:len(upper)]
	for q := range lower {
		lower[q] *= inverse[from[q]]
	}
	for q := range upper {
		upper[q] *= inverse[to[q]]
	}
	if steady {
		return sound
	}
	return doubtful
}

// fill sets value to M and tells whether an element of J is not finite.
func (f *factors) fill(d float64, jacobian []float64) bool {
	value := f.value
	clear(value)
	entry := f.entry[:len(jacobian)]
	odd := uint64(0)
	for s, v := range jacobian {
		odd |= oddBit(v)
		value[entry[s]] = -v
	}
	for _, q := range f.shift {
		value[q] += d
	}
	return isOdd(odd)
}

// parts are the parts of value.
func (f *factors) parts() (lower, upper, pivots []float64) {
	a, b := len(f.lower.to), len(f.lower.to)+len(f.upper.to)
	return f.value[:a], f.value[a:b], f.value[b : b+len(f.row)]
}

// solve replaces b in x by the solution of M x = b.
func (f *factors) solve(x []float64) {
	lower, upper, _ := f.parts()
	f.lower.apply(lower, x)
	for i, d := range f.inverse {
		x[i] *= d
	}
	f.upper.apply(upper, x)
	if !f.diagonal {
		for k, i := range f.row {
			f.x[f.column[k]] = x[i]
		}
		copy(x, f.x)
	}
}

// oddBit has its highest bit set when v is infinite or NaN: adding a unit of the
// exponent to the bits without the sign carries when the exponent is all ones.
func oddBit(v float64) uint64 { return math.Float64bits(v)&^(1<<63) + 1<<52 }

// isOdd tells whether any of the ored bits had it set.
func isOdd(bits uint64) bool { return bits>>63 != 0 }
