package drawing

import (
	"cmp"
	"math"
	"slices"
)

// Distances across the rows.
const (
	trackStep  = 17.0 // between lines that run side by side
	channelPad = 11.0 // between a row and the nearest line
	dotSize    = 3.0  // radius of a dot where lines are joined
	plugSize   = 5.0  // length of a line that leads nowhere
	jumpSize   = 4.0  // radius of the bow by which a line passes over another
)

// A segment is a straight piece of a net's line.
type segment struct {
	net    int
	a, b   point
	dashed bool
}

func (s segment) level() bool { return s.a.y == s.b.y }

// rank sorts level pieces before upright ones.
func rank(s segment) int {
	if s.level() {
		return 0
	}
	return 1
}

// A route is all lines of a picture.
type route struct {
	segments []segment
	dots     []dot
	plugs    []dot   // crosses at the ends of lines that lead nowhere
	top      float64 // the bottom lies at 0
}

// A dot is where three or four pieces of a net meet.
type dot struct {
	net int
	at  point
}

// run draws the lines of a plan whose cells stand; it settles where rows lie.
func (p *plan) run() *route {
	r := &route{}
	heights := make([]float64, len(p.rows))
	for i, row := range p.rows {
		for _, c := range row {
			if it := c.item; it != nil {
				heights[i] = max(heights[i], it.up+it.glyph.h+it.down)
			}
		}
	}
	y := 0.0 // upwards from the bottom; negative
	for channel := range p.channels {
		trunks := p.tracked(channel)
		tracks := 0
		for _, t := range trunks {
			tracks = max(tracks, t.track+1)
		}
		height := 2 * channelPad
		if tracks > 0 {
			height += float64(tracks-1) * trackStep
		}
		if channel == 0 && len(trunks) == 0 || channel == len(p.channels)-1 && len(trunks) == 0 {
			height = 0
		}
		r.lay(p, channel, trunks, y, y-height)
		y -= height
		if channel < len(p.rows) {
			p.floors = append(p.floors, y)
			p.stand(channel, y, heights[channel])
			y -= heights[channel]
		}
	}
	r.top = y
	r.legs(p, heights)
	r.join()
	return r
}

// stand sets a row's items: those with ports below only on the row's floor, those with
// ports above only under its ceiling, all others between.
func (p *plan) stand(row int, floor, height float64) {
	for _, c := range p.rows[row] {
		it := c.item
		if it == nil {
			continue
		}
		it.x = c.x + it.shift
		over, under := false, false
		for _, pin := range it.glyph.pins {
			over, under = over || pin.top, under || !pin.top && !pin.tank
		}
		free := height - it.up - it.glyph.h - it.down
		switch {
		case under && !over:
			it.y = floor - it.down - it.glyph.h
		case over && !under:
			it.y = floor - height + it.up
		default:
			it.y = floor - it.down - it.glyph.h - math.Round(free/2)
		}
	}
}

// tracked gives the trunks of a channel their tracks, counted from below: in an order
// that costs few crossings, each as low as those it overlaps allow.
func (p *plan) tracked(channel int) []trunk {
	all := p.trunks(channel)
	list := make([]trunk, 0, len(all))
	for _, t := range all {
		t.track = -1
		if t.right > t.left {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b trunk) int {
		lean := func(t *trunk) float64 {
			return float64(len(t.up)-len(t.down)) / float64(len(t.up)+len(t.down))
		}
		return cmp.Or(cmp.Compare(lean(&a), lean(&b)), cmp.Compare(a.right-a.left, b.right-b.left), a.net-b.net)
	})
	for range len(list) { // neighbours change places while that saves crossings
		changed := false
		for i := 0; i+1 < len(list); i++ {
			if over(&list[i], &list[i+1]) < over(&list[i+1], &list[i]) {
				list[i], list[i+1] = list[i+1], list[i]
				changed = true
			}
		}
		if !changed {
			break
		}
	}
	for i := range list {
		for j := range i {
			if list[j].left-2*apart <= list[i].right && list[i].left-2*apart <= list[j].right {
				list[i].track = max(list[i].track, list[j].track+1)
			}
		}
		list[i].track = max(list[i].track, 0)
	}
	for _, t := range all {
		if t.right <= t.left {
			t.track = -1
			list = append(list, t)
		}
	}
	return list
}

// lay draws what lies in a channel between two heights.
func (r *route) lay(p *plan, channel int, trunks []trunk, floor, ceiling float64) {
	for _, t := range trunks {
		m := p.meetingAt(channel, t.net)
		if t.track < 0 {
			if len(m.below) > 0 && len(m.above) > 0 {
				b, a := m.below[0], m.above[0]
				r.add(t.net, t.left, floor, t.left, ceiling, b.cell.ends[b.end].dash || a.cell.ends[a.end].dash)
			} else if len(m.places) == 1 && m.places[0].cell.item != nil {
				r.plug(t.net, m, floor, ceiling)
			}
			continue
		}
		y := floor - channelPad - float64(t.track)*trackStep
		r.add(t.net, t.left, y, t.right, y, p.pilots(m))
		for _, o := range m.below {
			r.add(t.net, o.x(), floor, o.x(), y, o.cell.ends[o.end].dash)
		}
		for _, o := range m.above {
			r.add(t.net, o.x(), y, o.x(), ceiling, o.cell.ends[o.end].dash)
		}
	}
}

// plug ends the line of a port that nothing else meets.
func (r *route) plug(net int, m *meeting, floor, ceiling float64) {
	o := m.places[0]
	from, to := floor, floor-plugSize
	if len(m.above) > 0 {
		from, to = ceiling, ceiling+plugSize
	}
	r.add(net, o.x(), from, o.x(), to, o.cell.ends[o.end].dash)
	r.plugs = append(r.plugs, dot{net, point{o.x(), to}})
}

// pilots tells whether a net is a pilot or drain line as a whole: all its ends but one are.
func (p *plan) pilots(m *meeting) bool {
	thick := 0
	for _, o := range m.places {
		if !o.cell.ends[o.end].dash {
			thick++
		}
	}
	return thick == 0 || thick == 1 && len(m.places) == 2
}

func (r *route) add(net int, x1, y1, x2, y2 float64, dashed bool) {
	r.segments = append(r.segments, segment{net, point{x1, y1}, point{x2, y2}, dashed})
}

// legs lead through the rows: from their edges to the glyphs, and past them.
func (r *route) legs(p *plan, heights []float64) {
	for row := range p.rows {
		floor, ceiling := p.floors[row], p.floors[row]-heights[row]
		for _, c := range p.rows[row] {
			if c.item == nil {
				x := c.x + c.ends[0].dx
				r.add(c.ends[0].net, x, floor, x, ceiling, false)
				continue
			}
			it := c.item
			for _, e := range c.ends {
				x := c.x + e.dx
				if from := it.y + it.glyph.h; !e.top && from < floor {
					r.add(e.net, x, from, x, floor, e.dash)
				}
				if e.top && it.y > ceiling {
					r.add(e.net, x, ceiling, x, it.y, e.dash)
				}
			}
		}
	}
}

// join puts upright pieces that meet end to end together, and sets dots where three
// pieces of a net meet.
func (r *route) join() {
	slices.SortStableFunc(r.segments, func(a, b segment) int {
		return cmp.Or(a.net-b.net, rank(a)-rank(b), cmp.Compare(a.a.x, b.a.x), cmp.Compare(min(a.a.y, a.b.y), min(b.a.y, b.b.y)))
	})
	var joined []segment
	for _, s := range r.segments {
		if s.a.y > s.b.y {
			s.a, s.b = s.b, s.a
		}
		if s.a == s.b {
			continue
		}
		if n := len(joined); n > 0 && !s.level() {
			if last := &joined[n-1]; last.net == s.net && !last.level() && last.a.x == s.a.x && last.b == s.a && last.dashed == s.dashed {
				last.b = s.b
				continue
			}
		}
		joined = append(joined, s)
	}
	r.segments = joined
	type spot struct {
		net  int
		x, y float64
	}
	arms := map[spot]int{}
	level := map[float64][]segment{}
	for _, s := range r.segments {
		if s.level() {
			level[s.a.y] = append(level[s.a.y], s)
			arms[spot{s.net, s.a.x, s.a.y}]++
			arms[spot{s.net, s.b.x, s.a.y}]++
		}
	}
	for _, s := range r.segments {
		if s.level() {
			continue
		}
		for y, trunks := range level {
			if y < s.a.y || y > s.b.y {
				continue
			}
			for _, t := range trunks {
				if t.net != s.net || s.a.x < t.a.x || s.a.x > t.b.x {
					continue
				}
				at := spot{s.net, s.a.x, y}
				if s.a.x > t.a.x && s.a.x < t.b.x && arms[at] == 0 {
					arms[at] += 2
				}
				if y > s.a.y {
					arms[at]++
				}
				if y < s.b.y {
					arms[at]++
				}
			}
		}
	}
	for at, n := range arms {
		if n > 2 {
			r.dots = append(r.dots, dot{at.net, point{at.x, at.y}})
		}
	}
	byNet := func(a, b dot) int {
		return cmp.Or(a.net-b.net, cmp.Compare(a.at.x, b.at.x), cmp.Compare(a.at.y, b.at.y))
	}
	slices.SortFunc(r.dots, byNet)
	slices.SortFunc(r.plugs, byNet)
}

// jumps are where a level piece passes over upright ones of other nets.
func (r *route) jumps(s segment) []float64 {
	var xs []float64
	for _, o := range r.segments {
		if o.net != s.net && !o.level() && o.a.x > s.a.x && o.a.x < s.b.x && o.a.y < s.a.y && o.b.y > s.a.y {
			xs = append(xs, o.a.x)
		}
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}
