package drawing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"headroom/specs"
)

// A cell is what stands in a row: an item, or the passing of a net through the row.
type cell struct {
	item *item
	x    float64 // of its left edge
	w    float64
	ends []end
	row  int
	born int // its place in the spec; of a passing, after the items
}

// An end is where a net meets a cell.
type end struct {
	net  int
	dx   float64 // from the cell's left edge
	top  bool
	dash bool
	key  string // of the item's port; "" for a passing
}

// A place is an end with its cell.
type place struct {
	cell *cell
	end  int
}

func (p place) x() float64 { return p.cell.x + p.cell.ends[p.end].dx }

// A plan is the picture before lines are drawn.
type plan struct {
	nets     []string // node names
	rows     [][]*cell
	channels [][]meeting
	cells    int
	pumps    []*cell
	trials   int       // that are left
	lines    []line    // room to work in
	floors   []float64 // where each row ends, below
}

// A meeting is a net's places in one channel.
type meeting struct {
	net    int
	below  []place // on the row beneath: upper edges
	above  []place // on the row over it: lower edges
	places []place
}

const (
	gap     = 20.0 // between parts
	narrow  = 8.0  // beside a passing
	passing = 10.0 // width of a passing
	grid    = 10.0
	apart   = 9.0 // least distance of lines of different nets
	slack   = 2.0 // by which spaces may shrink for the sake of whole coordinates
)

// planOf puts items into rows and lets nets pass through the rows between their ends.
func planOf(items []*item, rows int) *plan {
	p := &plan{rows: make([][]*cell, rows), channels: make([][]meeting, rows+1)}
	index := map[string]int{}
	var lowest, highest []int
	for i, it := range items {
		c := &cell{item: it, w: it.width, row: it.row, born: i}
		for _, pin := range it.glyph.pins {
			if pin.tank {
				continue
			}
			n, known := index[pin.node]
			if !known {
				n = len(p.nets)
				index[pin.node] = n
				p.nets = append(p.nets, pin.node)
				lowest, highest = append(lowest, far), append(highest, -1)
			}
			channel := it.row
			if pin.top {
				channel++
			}
			lowest[n], highest[n] = min(lowest[n], channel), max(highest[n], channel)
			c.ends = append(c.ends, end{net: n, dx: it.shift + pin.x, top: pin.top, dash: pin.dashed, key: pin.key})
		}
		if _, ok := it.part.(*specs.Pump); ok {
			p.pumps = append(p.pumps, c)
		}
		p.rows[it.row] = append(p.rows[it.row], c)
	}
	for n := range p.nets {
		for row := lowest[n]; row < highest[n]; row++ {
			p.rows[row] = append(p.rows[row], &cell{w: passing, row: row, born: len(items) + n, ends: []end{
				{net: n, dx: passing / 2, top: false}, {net: n, dx: passing / 2, top: true}}})
		}
	}
	p.meet()
	return p
}

// meet gathers who meets whom in each channel.
func (p *plan) meet() {
	for channel := range p.channels {
		at := map[int]int{}
		var list []meeting
		meetingOf := func(net int) *meeting {
			i, known := at[net]
			if !known {
				i = len(list)
				at[net] = i
				list = append(list, meeting{net: net})
			}
			return &list[i]
		}
		gather := func(row int, top bool) {
			if row < 0 || row >= len(p.rows) {
				return
			}
			for _, c := range p.rows[row] {
				for i, e := range c.ends {
					if e.top != top {
						continue
					}
					m := meetingOf(e.net)
					m.places = append(m.places, place{c, i})
					if top {
						m.below = append(m.below, place{c, i})
					} else {
						m.above = append(m.above, place{c, i})
					}
				}
			}
		}
		gather(channel-1, true)
		gather(channel, false)
		slices.SortFunc(list, func(a, b meeting) int { return a.net - b.net })
		p.channels[channel] = list
	}
	for _, row := range p.rows {
		p.cells += len(row)
	}
}

// meetingAt finds a net's meeting in a channel.
func (p *plan) meetingAt(channel, net int) *meeting {
	list := p.channels[channel]
	i, _ := slices.BinarySearchFunc(list, net, func(m meeting, n int) int { return m.net - n })
	return &list[i]
}

// arrange orders every row so that few lines cross, and places it: the best of several
// beginnings, and of what comes of small disturbances of the best.
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

// pack sets every row's cells side by side.
func (p *plan) pack() {
	for _, row := range p.rows {
		lineUp(row, 0)
	}
}

// lineUp sets cells side by side from x on.
func lineUp(row []*cell, x float64) {
	for i, c := range row {
		c.x = x
		x += c.w + space(row, i)
	}
}

// space is what lies between a cell of a row and the next.
func space(row []*cell, i int) float64 {
	if i+1 < len(row) && (row[i].item == nil || row[i+1].item == nil) {
		return narrow
	}
	return gap
}

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

// cost is what a picture costs the eye: crossings first, then the length of lines
// across, bends, and the width of the sheet.
func (p *plan) cost() float64 {
	sum := 0.0
	for channel := range p.channels {
		trunks := p.trunks(channel)
		sum += 60 * float64(crossings(trunks))
		for i := range trunks {
			if l := trunks[i].right - trunks[i].left; l > 0.5 {
				sum += 0.25*l + bend
			}
		}
	}
	left, right := math.Inf(1), math.Inf(-1)
	for _, row := range p.rows {
		if len(row) > 0 {
			left, right = min(left, row[0].x), max(right, row[len(row)-1].x+row[len(row)-1].w)
		}
	}
	for _, c := range p.pumps {
		sum += 0.05 * (c.x - left) // the supply stands at the left, as is usual
	}
	return sum + 0.5*(right-left) + 10*float64(p.mirrored())
}

// mirrored counts the parts that stand mirrored: only for good reason.
func (p *plan) mirrored() int {
	n := 0
	for _, row := range p.rows {
		for _, c := range row {
			if c.item != nil && c.item.aside {
				n++
			}
		}
	}
	return n
}

// A trunk is the part of a net that runs across in a channel, and what leads off it.
type trunk struct {
	net         int
	left, right float64
	down, up    []float64 // where lines leave, sorted
	track       int
}

// trunks are those of a channel; one with left = right is a straight line.
func (p *plan) trunks(channel int) []trunk {
	list := make([]trunk, 0, len(p.channels[channel]))
	for i := range p.channels[channel] {
		m := &p.channels[channel][i]
		t := trunk{net: m.net, left: math.Inf(1), right: math.Inf(-1)}
		for _, o := range m.below {
			t.down = append(t.down, o.x())
		}
		for _, o := range m.above {
			t.up = append(t.up, o.x())
		}
		slices.Sort(t.down)
		slices.Sort(t.up)
		for _, side := range [][]float64{t.down, t.up} {
			if len(side) > 0 {
				t.left, t.right = min(t.left, side[0]), max(t.right, side[len(side)-1])
			}
		}
		list = append(list, t)
	}
	return list
}

// within counts the values strictly between two others.
func within(sorted []float64, left, right float64) int {
	from, _ := slices.BinarySearch(sorted, left)
	to, _ := slices.BinarySearch(sorted, right)
	for from < len(sorted) && sorted[from] <= left {
		from++
	}
	return max(to-from, 0)
}

// over is how often two trunks cross when a runs above b.
func over(a, b *trunk) int {
	return within(a.down, b.left, b.right) + within(b.up, a.left, a.right)
}

// crossings is the least number of crossings of each two trunks.
func crossings(trunks []trunk) int {
	sum := 0
	for i := range trunks {
		for j := i + 1; j < len(trunks); j++ {
			a, b := &trunks[i], &trunks[j]
			if a.right < b.left || b.right < a.left {
				continue
			}
			sum += min(over(a, b), over(b, a))
		}
	}
	return sum
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
