package drawing

import (
	"cmp"
	"math"
	"slices"
)

// wish is where a cell would stand by its ends: in line with what it meets. An end
// that meets a single other counts for more: a straight line is worth it.
func (p *plan) wish(c *cell) (x, weight float64) {
	sum := 0.0
	for i := range c.ends {
		e := &c.ends[i]
		channel := c.row
		if e.top {
			channel++
		}
		m := p.meetingAt(channel, e.net)
		others, total, least := 0, 0.0, math.Inf(1)
		for _, o := range m.places {
			if o.cell == c {
				continue
			}
			others++
			total += o.x()
			if d := math.Abs(o.x() - c.x - e.dx); d < math.Abs(least) {
				least = o.x() - c.x - e.dx
			}
		}
		if others == 0 {
			continue
		}
		w, target := 1.0, total/float64(others)
		if others == 1 {
			w = 6
			if c.item == nil && m.places[0].cell.item == nil && m.places[1].cell.item == nil {
				w = 12 // two passings in a row: a long line should be straight
			}
		}
		sum += w * (target - e.dx)
		weight += w
	}
	if weight == 0 {
		return c.x, 0
	}
	return sum / weight, weight
}

// settle moves cells, in their order, towards where they would stand.
func (p *plan) settle(times int) {
	for t := range times {
		for i := range p.rows {
			if t%2 == 0 {
				p.settleRow(i)
			} else {
				p.settleRow(len(p.rows) - 1 - i)
			}
		}
	}
}

// settleRow places a row's cells nearest to their wishes that their order and widths
// allow: a weighted isotonic regression by pooling adjacent violators.
func (p *plan) settleRow(r int) {
	row := p.rows[r]
	type block struct {
		sum, weight float64
		from        int
	}
	blocks := make([]block, 0, len(row))
	offset := make([]float64, len(row))
	o := 0.0
	for i, c := range row {
		offset[i] = o
		o += c.w + space(row, i)
		at, weight := p.wish(c)
		weight = max(weight, 0.05)
		blocks = append(blocks, block{(at - offset[i]) * weight, weight, i})
		for n := len(blocks); n > 1 && blocks[n-2].sum/blocks[n-2].weight >= blocks[n-1].sum/blocks[n-1].weight; n-- {
			blocks[n-2].sum += blocks[n-1].sum
			blocks[n-2].weight += blocks[n-1].weight
			blocks = blocks[:n-1]
		}
	}
	for i, b := range blocks {
		to := len(row)
		if i+1 < len(blocks) {
			to = blocks[i+1].from
		}
		for k := b.from; k < to; k++ {
			row[k].x = b.sum/b.weight + offset[k]
		}
	}
}

func (p *plan) positions() []float64 {
	all := make([]float64, 0, p.cells)
	for _, row := range p.rows {
		for _, c := range row {
			all = append(all, c.x)
		}
	}
	return all
}

func (p *plan) put(positions []float64) {
	i := 0
	for _, row := range p.rows {
		for _, c := range row {
			c.x = positions[i]
			i++
		}
	}
}

// legalise puts cells on whole coordinates, rows from below, so that no two nets
// stand on one line in a channel.
func (p *plan) legalise() {
	for r, row := range p.rows {
		taken := map[int][]float64{} // by net, in the channel below
		for _, m := range p.channels[r] {
			for _, o := range m.below {
				taken[m.net] = append(taken[m.net], o.x())
			}
		}
		lines := make([]line, 0, len(taken))
		for net, xs := range taken {
			for _, x := range xs {
				lines = append(lines, line{net, x})
			}
		}
		slices.SortFunc(lines, func(a, b line) int { return cmp.Or(cmp.Compare(a.x, b.x), a.net-b.net) })
		bound := math.Inf(-1)
		for i, c := range row {
			c.x = c.fit(bound, lines, taken)
			bound = c.x + c.w + space(row, i)
		}
	}
}

// A line stands upright in a channel.
type line struct {
	net int
	x   float64
}

// fit is the place nearest to a cell's present one, from bound on, at which it is
// clear of other nets' lines below; one that makes a line straight is preferred.
func (c *cell) fit(bound float64, lines []line, taken map[int][]float64) float64 {
	at := math.Round(c.x)
	var tries []float64
	for _, e := range c.ends {
		if xs := taken[e.net]; !e.top && len(xs) == 1 {
			if x := xs[0] - e.dx; math.Abs(x-at) <= 2*grid {
				tries = append(tries, x)
			}
		}
	}
	bound -= slack
	start := max(at, math.Ceil(bound))
	tries = append(tries, start)
	for k := 1.0; k <= 12; k++ {
		tries = append(tries, start+k*2, start-k*2)
	}
	for _, strict := range []bool{true, false} {
		for _, x := range tries {
			if x >= bound && c.clear(x, lines, strict) {
				return x
			}
		}
	}
	for x := start; ; x++ {
		if c.clear(x, lines, false) {
			return x
		}
	}
}

// clear tells whether a cell at x keeps apart from other nets' lines below it; strictly
// taken, from its own too but for those that it continues.
func (c *cell) clear(x float64, lines []line, strict bool) bool {
	for _, e := range c.ends {
		if e.top {
			continue
		}
		at := x + e.dx
		i, _ := slices.BinarySearchFunc(lines, at-apart, func(l line, v float64) int { return cmp.Compare(l.x, v) })
		for ; i < len(lines) && lines[i].x < at+apart; i++ {
			if lines[i].net != e.net || strict && lines[i].x != at {
				return false
			}
		}
	}
	return true
}
