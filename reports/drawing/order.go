package drawing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// arrange orders every row so that few lines cross, and places it: the best that comes
// of small disturbances of the best so far.
func (p *plan) arrange() {
	for _, row := range p.rows {
		slices.SortStableFunc(row, func(a, b *cell) int { return a.born - b.born })
	}
	p.trials = effort / max(p.cells, 1)
	random := rand.New(rand.NewPCG(1, 1)) // always the same
	p.begin()
	best, least := p.state(), p.cost()
	for p.trials > 0 {
		p.disturb(random)
		p.descend()
		if c := p.cost(); c < least-0.01 {
			best, least = p.state(), c
		} else {
			p.restore(best)
		}
	}
	p.restore(best)
	p.legalise()
	p.trials = effort / max(p.cells, 1) / 4
	p.straighten(true)
}

// begin finds an order by sweeps, from the spec's own order, and goes down from there.
func (p *plan) begin() {
	p.pack()
	best, least := p.state(), math.Inf(1)
	for sweep := range sweeps {
		for i := range p.rows {
			row := i
			if sweep%2 == 1 {
				row = len(p.rows) - 1 - i
			}
			p.sort(row)
		}
		p.settle(settles)
		if cost := p.cost(); cost < least {
			best, least = p.state(), cost
		}
	}
	p.restore(best)
	p.descend()
}

// descend makes a picture cheaper as far as single changes do.
func (p *plan) descend() {
	p.settle(settles)
	p.improve()
	p.settle(3 * settles)
	p.straighten(false)
}

// disturb takes a few cells out of their order.
func (p *plan) disturb(random *rand.Rand) {
	var rows [][]*cell
	for _, row := range p.rows {
		if len(row) > 1 {
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		p.trials = 0
		return
	}
	for range 1 + random.IntN(4) {
		row := rows[random.IntN(len(rows))]
		relocate(row, random.IntN(len(row)), random.IntN(len(row)))
	}
}

// relocate moves a cell to another place in its row.
func relocate(row []*cell, from, to int) {
	c, x := row[from], row[0].x
	if from < to {
		copy(row[from:to], row[from+1:to+1])
	} else {
		copy(row[to+1:from+1], row[to:from])
	}
	row[to] = c
	lineUp(row, min(x, c.x))
}

const (
	sweeps  = 16
	settles = 6
	bend    = 24.0 // what a line that is not straight costs, beside its length
)

// A state is an arrangement that can be come back to.
type state struct {
	cells []*cell // row by row
	x     []float64
	aside []bool
}

func (p *plan) state() *state {
	s := &state{x: p.positions()}
	for _, row := range p.rows {
		for _, c := range row {
			s.cells = append(s.cells, c)
			s.aside = append(s.aside, c.item != nil && c.item.aside)
		}
	}
	return s
}

func (p *plan) restore(s *state) {
	i := 0
	for _, row := range p.rows {
		for k := range row {
			c := s.cells[i]
			row[k] = c
			c.x = s.x[i]
			if c.item != nil && c.item.aside != s.aside[i] {
				c.mirror()
			}
			i++
		}
	}
}

// sort orders a row by where its cells would stand: barycentres.
func (p *plan) sort(row int) {
	wish := make(map[*cell]float64, len(p.rows[row]))
	for _, c := range p.rows[row] {
		at, weight := p.wish(c)
		if weight == 0 {
			at = c.x
		}
		wish[c] = at + c.w/2
	}
	slices.SortStableFunc(p.rows[row], func(a, b *cell) int { return cmp.Compare(wish[a], wish[b]) })
	lineUp(p.rows[row], 0)
	p.settleRow(row)
}

// effort bounds how many changes are tried, so that time stays bounded: trials × cells
// is about this.
const effort = 100_000

// improve moves cells past their neighbours and mirrors parts as long as that makes
// the picture cheaper. The number of trials is bounded by the size of the picture, not
// by a clock.
func (p *plan) improve() {
	best := p.cost()
	try := func(change, back func()) bool {
		p.trials--
		before := p.positions()
		change()
		p.settle(2)
		if c := p.cost(); c < best-0.01 {
			best = c
			return true
		}
		back()
		p.put(before)
		return false
	}
	for better := true; better; {
		better = false
		for _, row := range p.rows {
			move := func(from, to int) bool {
				return p.trials > 0 && try(func() { relocate(row, from, to) }, func() { relocate(row, to, from) })
			}
			for i := range row {
				for j := i + 1; j < len(row) && j <= i+3; j++ {
					if move(i, j) || j > i+1 && move(j, i) {
						better = true
					}
				}
				if c := row[i]; c.item != nil && c.item.mirrors() && p.trials > 0 && try(c.mirror, c.mirror) {
					better = true
				}
			}
		}
	}
}

// mirrors tells whether an item may be mirrored left to right: one with several
// ports whose glyph stands alone.
func (it *item) mirrors() bool {
	return len(it.glyph.pins) > 1 && len(it.packs) == 0
}

// mirror turns a cell's item aside, and back.
func (c *cell) mirror() {
	it := c.item
	it.aside = !it.aside
	it.glyph.turnAside()
	it.frame()
	c.w = it.width
	k := 0
	for _, pin := range it.glyph.pins {
		if !pin.tank {
			c.ends[k].dx = it.shift + pin.x
			k++
		}
	}
}
