package drawing

import (
	"cmp"
	"math"
	"slices"
)

// straighten takes bends out of lines that join two ends only: it moves one end, with
// all that hangs straight on it, into line with the other, and what stands in the way
// aside, wherever that makes the picture cheaper.
//
// With legal set it keeps to what legalise has settled: whole coordinates, and no two
// nets on one line.
func (p *plan) straighten(legal bool) {
	best := p.cost()
	for better := true; better; {
		better = false
		for channel := range p.channels {
			for i := range p.channels[channel] {
				m := &p.channels[channel][i]
				if !m.single() || m.below[0].x() == m.above[0].x() {
					continue
				}
				d := m.below[0].x() - m.above[0].x()
				for _, move := range []struct {
					c *cell
					d float64
				}{{m.above[0].cell, d}, {m.below[0].cell, -d}} {
					if p.trials--; p.trials < 0 {
						return
					}
					before := p.positions()
					if p.shift(p.hanging(move.c), move.d) && (!legal || p.legal()) {
						if c := p.cost(); c < best-0.01 {
							best, better = c, true
							break
						}
					}
					p.put(before)
				}
			}
		}
	}
}

// single tells whether a meeting joins one end below with one above.
func (m *meeting) single() bool { return len(m.below) == 1 && len(m.above) == 1 }

// hanging is a cell and all that straight lines join to it.
func (p *plan) hanging(c *cell) map[*cell]bool {
	all := map[*cell]bool{c: true}
	queue := []*cell{c}
	for len(queue) > 0 {
		c := queue[0]
		queue = queue[1:]
		for _, e := range c.ends {
			channel := c.row
			if e.top {
				channel++
			}
			m := p.meetingAt(channel, e.net)
			if !m.single() || math.Abs(m.below[0].x()-m.above[0].x()) > 0.01 {
				continue
			}
			for _, o := range m.places {
				if !all[o.cell] {
					all[o.cell] = true
					queue = append(queue, o.cell)
				}
			}
		}
	}
	return all
}

// shift moves some cells, and pushes their neighbours on; false where the cells get
// into each other's way.
func (p *plan) shift(cells map[*cell]bool, d float64) bool {
	for _, row := range p.rows {
		moved := false
		for _, c := range row {
			if cells[c] {
				c.x += d
				moved = true
			}
		}
		if !moved {
			continue
		}
		// what stands left of a moved cell goes left, the rest right
		last := len(row) - 1
		for last >= 0 && !cells[row[last]] {
			last--
		}
		for i := last - 1; i >= 0; i-- {
			if most := row[i+1].x - row[i].w - space(row, i); row[i].x > most {
				if cells[row[i]] {
					return false
				}
				row[i].x = most
			}
		}
		for i := last + 1; i < len(row); i++ {
			row[i].x = max(row[i].x, row[i-1].x+row[i-1].w+space(row, i-1))
		}
	}
	return true
}

// legal tells whether the lines of different nets keep apart in every channel.
func (p *plan) legal() bool {
	for channel := range p.channels {
		lines := p.lines[:0]
		for i := range p.channels[channel] {
			m := &p.channels[channel][i]
			for _, o := range m.places {
				lines = append(lines, line{m.net, o.x()})
			}
		}
		slices.SortFunc(lines, func(a, b line) int { return cmp.Compare(a.x, b.x) })
		for i := 1; i < len(lines); i++ {
			if lines[i].net != lines[i-1].net && lines[i].x-lines[i-1].x < apart {
				return false
			}
		}
		p.lines = lines
	}
	return true
}
