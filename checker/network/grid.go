package network

import "math"

// A grid tabulates a smooth law over a positive argument: each octave is parted
// into cells of equal width, and a cell holds the cubic through the law's values
// and slopes at its ends. Cells are filled when they are first needed, from the
// law alone, so what a grid returns does not depend on what was asked before.
type grid struct {
	law   func(x float64) (value, slope float64)
	bits  uint // cells an octave: 1 << bits
	first uint64
	cells []cell
}

// cell is c0 + u (c1 + u (c2 + u c3)) with u = (x − at)/width.
type cell struct {
	at, perWidth   float64
	c0, c1, c2, c3 float64
}

// newGrid tabulates a law from low to high, with 1 << bits cells an octave.
func newGrid(low, high float64, bits uint, law func(x float64) (value, slope float64)) grid {
	g := grid{law: law, bits: bits}
	g.first = g.key(low)
	g.cells = make([]cell, g.key(high)-g.first+1)
	return g
}

// key numbers the cells: the exponent of x and the first bits of its mantissa.
func (g *grid) key(x float64) uint64 { return math.Float64bits(x) >> (52 - g.bits) }

// at is the law and its slope at x; beyond the grid the law itself.
func (g *grid) at(x float64) (value, slope float64) {
	i := g.key(x) - g.first
	if i >= uint64(len(g.cells)) {
		return g.law(x)
	}
	c := &g.cells[i]
	if c.perWidth == 0 {
		g.fill(i)
	}
	u := (x - c.at) * c.perWidth
	value = c.c0 + u*(c.c1+u*(c.c2+u*c.c3))
	slope = (c.c1 + u*(2*c.c2+3*u*c.c3)) * c.perWidth
	return value, slope
}

// fill computes a cell.
func (g *grid) fill(i uint64) {
	low := math.Float64frombits((g.first + i) << (52 - g.bits))
	high := math.Float64frombits((g.first + i + 1) << (52 - g.bits))
	g.cells[i] = hermite(low, high, g.law)
}

// fillAll computes every cell: a grid that several goroutines share must not
// change.
func (g *grid) fillAll() {
	for i := range g.cells {
		g.fill(uint64(i))
	}
}

// hermite is the cubic through a law's values and slopes at both ends.
func hermite(low, high float64, law func(x float64) (value, slope float64)) cell {
	width := high - low
	y0, s0 := law(low)
	y1, s1 := law(high)
	s0, s1 = s0*width, s1*width
	return cell{
		at: low, perWidth: 1 / width,
		c0: y0, c1: s0, c2: 3*(y1-y0) - 2*s0 - s1, c3: 2*(y0-y1) + s0 + s1,
	}
}
