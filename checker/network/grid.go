package network

import "math"

// A cells is how a positive argument is parted: each octave into cells of equal
// width, found by the exponent and the first bits of the mantissa.
type cells struct {
	bits  uint // cells an octave: 1 << bits
	first uint64
	count uint64
}

// newCells makes none where there is nothing between low and high.
func newCells(low, high float64, bits uint) cells {
	c := cells{bits: bits}
	if !(low <= high) {
		return c
	}
	c.first = c.key(low)
	c.count = c.key(high) - c.first + 1
	return c
}

func (c *cells) key(x float64) uint64 { return math.Float64bits(x) >> (52 - c.bits) }

// find is the cell of x and the place in it, 0 to 1; ok is false beyond the cells.
func (c *cells) find(x float64) (cell uint64, ok bool) {
	cell = c.key(x) - c.first
	return cell, cell < c.count
}

// ends are the ends of a cell.
func (c *cells) ends(cell uint64) (low, high float64) {
	return math.Float64frombits((c.first + cell) << (52 - c.bits)), math.Float64frombits((c.first + cell + 1) << (52 - c.bits))
}

// A function is a smooth law of one argument, with its slope.
type function func(x float64) (value, slope float64)

// A cubic is the polynomial c0 + u (c1 + u (c2 + u c3)) over a cell.
type cubic struct{ c0, c1, c2, c3 float64 }

// hermite is the cubic through a law's values and slopes at both ends.
func hermite(low, high float64, law function) cubic {
	width := high - low
	y0, s0 := law(low)
	y1, s1 := law(high)
	s0, s1 = s0*width, s1*width
	return cubic{y0, s0, 3*(y1-y0) - 2*s0 - s1, 2*(y0-y1) + s0 + s1}
}

// at is the value at u, and the slope along u.
func (c *cubic) at(u float64) (value, slope float64) {
	return c.c0 + u*(c.c1+u*(c.c2+u*c.c3)), c.c1 + u*(2*c.c2+3*u*c.c3)
}

// A grid tabulates a law; its cells are filled when they are first needed, from
// the law alone, so what it returns does not depend on what was asked before.
type grid struct {
	cells
	law    function
	cubics []gridCell
}

type gridCell struct {
	at, perWidth float64
	cubic
}

func newGrid(low, high float64, bits uint, law function) grid {
	g := grid{cells: newCells(low, high, bits), law: law}
	g.cubics = make([]gridCell, g.count)
	return g
}

// at is the law and its slope at x; beyond the grid the law itself.
func (g *grid) at(x float64) (value, slope float64) {
	i, ok := g.find(x)
	if !ok {
		return g.law(x)
	}
	c := &g.cubics[i]
	if c.perWidth == 0 {
		low, high := g.ends(i)
		*c = gridCell{low, 1 / (high - low), hermite(low, high, g.law)}
	}
	value, slope = c.cubic.at((x - c.at) * c.perWidth)
	return value, slope * c.perWidth
}

// A twin tabulates two laws of one argument, all cells filled: it may be shared.
type twin struct {
	cells
	one, other function
	cubics     []twinCell
}

type twinCell struct {
	at, perWidth float64
	one, other   cubic
}

func newTwin(low, high float64, bits uint, one, other function) twin {
	g := twin{cells: newCells(low, high, bits), one: one, other: other}
	g.cubics = make([]twinCell, g.count)
	for i := range g.cubics {
		low, high := g.ends(uint64(i))
		g.cubics[i] = twinCell{low, 1 / (high - low), hermite(low, high, one), hermite(low, high, other)}
	}
	return g
}

// at is both laws and their slopes at x; beyond the cells the laws themselves.
func (g *twin) at(x float64) (one, oneSlope, other, otherSlope float64) {
	i, ok := g.find(x)
	if !ok {
		one, oneSlope = g.one(x)
		other, otherSlope = g.other(x)
		return one, oneSlope, other, otherSlope
	}
	c := &g.cubics[i]
	u := (x - c.at) * c.perWidth
	one, oneSlope = c.one.at(u)
	other, otherSlope = c.other.at(u)
	return one, oneSlope * c.perWidth, other, otherSlope * c.perWidth
}
