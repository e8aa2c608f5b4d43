package integrate

import (
	"container/heap"
	"math"
	"slices"
)

// An elimination is the outcome of ordering a square sparse matrix: which row
// and column are the pivot of each step, and where the factors fill in.
type elimination struct {
	row, column []int32   // pivot of step k, in the numbering of the matrix
	upper       [][]int32 // columns of the pivot row of step k without the pivot
	lower       [][]int32 // rows of the pivot column of step k without the pivot
}

// orderByPattern orders by Markowitz's rule with the pivots on the diagonal: of
// the remaining diagonal places the one with the least (r-1)(c-1), r and c the
// counts of its row and column; the lower number among equals. It needs no
// values, so it is done once. Source: H. M. Markowitz, Management Science 3
// (1957) 255; I. S. Duff, A. M. Erisman and J. K. Reid, Direct Methods for Sparse
// Matrices, 2nd ed. 2017, section 7.2. The diagonal must be part of the matrix;
// rows lists the columns of each row.
func orderByPattern(rows [][]int32) elimination {
	a := newActive(rows, nil)
	n := len(rows)
	queue := make(queue, 0, 2*n)
	for i := range n {
		queue = append(queue, candidate{a.cost(i, i), int32(i)})
	}
	heap.Init(&queue)
	var e elimination
	changed := make([]int32, 0, n)
	for len(e.row) < n {
		best := heap.Pop(&queue).(candidate)
		k := best.at
		if a.columnDone[k] || best.cost != a.cost(int(k), int(k)) {
			continue // an older cost of k, the present one is in the queue too
		}
		changed = a.eliminate(&e, k, k, changed[:0])
		for _, i := range changed {
			heap.Push(&queue, candidate{a.cost(int(i), int(i)), i})
		}
	}
	return e
}

// orderByValue orders by Markowitz's rule among the places that are large
// enough: at least threshold times the largest of their row. The values are
// those of rows, and are consumed. It returns false when the matrix is singular
// to working accuracy. Source: as orderByPattern, section 5.2 and 7.2.
func orderByValue(rows [][]int32, values [][]float64) (elimination, bool) {
	const threshold = 0.1
	a := newActive(rows, values)
	n := len(rows)
	var e elimination
	changed := make([]int32, 0, n)
	for len(e.row) < n {
		bestCost, bestSize, bestRow, bestColumn := math.MaxInt, 0.0, int32(-1), int32(-1)
		for i := range n {
			if a.rowDone[i] {
				continue
			}
			largest := 0.0
			for _, v := range a.values[i] {
				largest = max(largest, math.Abs(v))
			}
			for q, j := range a.rows[i] {
				size := math.Abs(a.values[i][q]) / largest
				if !(size >= threshold) {
					continue
				}
				cost := a.cost(i, int(j))
				if cost < bestCost || cost == bestCost && size > bestSize {
					bestCost, bestSize, bestRow, bestColumn = cost, size, int32(i), j
				}
			}
		}
		if bestRow < 0 {
			return e, false
		}
		changed = a.eliminate(&e, bestRow, bestColumn, changed[:0])
	}
	return e, true
}

// active is the part of the matrix that elimination has not reached, by rows
// with their values where there are any, and by columns.
type active struct {
	rows                [][]int32
	values              [][]float64
	columns             [][]int32
	rowDone, columnDone []bool
	at                  []int32 // where a column stands in the row at work, -1 elsewhere
}

func newActive(rows [][]int32, values [][]float64) *active {
	n := len(rows)
	a := &active{
		rows: rows, values: values, columns: make([][]int32, n),
		rowDone: make([]bool, n), columnDone: make([]bool, n), at: make([]int32, n),
	}
	for i, row := range rows {
		a.at[i] = -1
		for _, j := range row {
			a.columns[j] = append(a.columns[j], int32(i))
		}
	}
	return a
}

// cost is Markowitz's count of a place, the most fill its elimination can make.
func (a *active) cost(row, column int) int {
	return (len(a.rows[row]) - 1) * (len(a.columns[column]) - 1)
}

// eliminate takes out the pivot, fills in, records the step in e, and appends to
// changed the rows and columns whose counts changed.
func (a *active) eliminate(e *elimination, row, column int32, changed []int32) []int32 {
	a.rowDone[row], a.columnDone[column] = true, true
	for _, j := range a.rows[row] {
		a.columns[j] = without(a.columns[j], row)
	}
	upper := without(slices.Clone(a.rows[row]), column)
	lower := a.columns[column]
	for _, i := range lower {
		a.eliminateFrom(i, row, column)
	}
	e.row, e.column = append(e.row, row), append(e.column, column)
	e.upper, e.lower = append(e.upper, upper), append(e.lower, lower)
	return append(append(changed, upper...), lower...)
}

// eliminateFrom subtracts the pivot row's multiple from row i.
func (a *active) eliminateFrom(i, row, column int32) {
	for q, j := range a.rows[i] {
		a.at[j] = int32(q)
	}
	factor := 0.0
	if a.values != nil {
		factor = a.values[i][a.at[column]] / a.values[row][slices.Index(a.rows[row], column)]
	}
	for q, j := range a.rows[row] {
		if j == column {
			continue
		}
		if a.at[j] < 0 {
			a.at[j] = int32(len(a.rows[i]))
			a.rows[i] = append(a.rows[i], j)
			a.columns[j] = append(a.columns[j], i)
			if a.values != nil {
				a.values[i] = append(a.values[i], 0)
			}
		}
		if a.values != nil {
			a.values[i][a.at[j]] -= factor * a.values[row][q]
		}
	}
	for _, j := range a.rows[i] {
		a.at[j] = -1
	}
	q := slices.Index(a.rows[i], column)
	a.rows[i] = slices.Delete(a.rows[i], q, q+1)
	if a.values != nil {
		a.values[i] = slices.Delete(a.values[i], q, q+1)
	}
}

// without removes an element from a list that has it, in place.
func without(list []int32, x int32) []int32 {
	q := slices.Index(list, x)
	return slices.Delete(list, q, q+1)
}

// A candidate is a diagonal place with its cost at the time it was queued.
type candidate struct {
	cost int
	at   int32
}

type queue []candidate

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	return q[i].cost < q[j].cost || q[i].cost == q[j].cost && q[i].at < q[j].at
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(candidate)) }
func (q *queue) Pop() any {
	last := (*q)[len(*q)-1]
	*q = (*q)[:len(*q)-1]
	return last
}
