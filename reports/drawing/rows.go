package drawing

import (
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
