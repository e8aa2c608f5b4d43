package drawing

import (
	"math"
	"slices"
)

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
