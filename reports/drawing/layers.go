package drawing

import (
	"slices"
)

// graph is what must lie above what: nodes of the circuit, the channel of each above
// those of its lower neighbours.
type graph struct {
	index map[string]int
	above [][]int
	below [][]int
}

func (g *graph) node(name string) int {
	i, known := g.index[name]
	if !known {
		i = len(g.above)
		g.index[name] = i
		g.above, g.below = append(g.above, nil), append(g.below, nil)
	}
	return i
}

// reaches tells whether to lies above from already.
func (g *graph) reaches(from, to int) bool {
	seen := make([]bool, len(g.above))
	stack := []int{from}
	for len(stack) > 0 {
		n := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if n == to {
			return true
		}
		if seen[n] {
			continue
		}
		seen[n] = true
		stack = append(stack, g.above[n]...)
	}
	return false
}

// lift asks that all of high lie above all of low; it does nothing and reports false
// where that contradicts what was asked before.
func (g *graph) lift(low, high []int) bool {
	for _, l := range low {
		for _, h := range high {
			if g.reaches(h, l) {
				return false
			}
		}
	}
	for _, l := range low {
		for _, h := range high {
			g.above[l], g.below[h] = append(g.above[l], h), append(g.below[h], l)
		}
	}
	return true
}

// levels gives every node its channel, from 1: the longest way from below.
func (g *graph) levels() []int {
	level := make([]int, len(g.above))
	wait := make([]int, len(g.above))
	var queue []int
	for n := range g.above {
		level[n] = 1
		wait[n] = len(g.below[n])
		if wait[n] == 0 {
			queue = append(queue, n)
		}
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, a := range g.above[n] {
			level[a] = max(level[a], level[n]+1)
			if wait[a]--; wait[a] == 0 {
				queue = append(queue, a)
			}
		}
	}
	return level
}

// layer settles the stance and the row of every item.
func layer(items []*item) (rows int) {
	g := &graph{index: map[string]int{}}
	for _, it := range items {
		for _, p := range it.glyph.pins {
			if !p.tank {
				g.node(p.node)
			}
		}
	}
	// what stands firm goes first, so that what may stand either way gives in
	for _, it := range items {
		if it.stance != either {
			it.settle(g)
		}
	}
	for _, it := range items {
		if it.stance == either {
			level := g.levels()
			low, high := it.nodes(g)
			if len(low) > 0 && len(high) > 0 && level[low[0]] >= level[high[0]] {
				it.glyph.turnOver()
			}
			it.settle(g)
		}
	}
	level := g.levels()
	tighten(items, g, level)
	for _, it := range items {
		it.row = it.rowBy(g, level)
		rows = max(rows, it.row+1)
	}
	return rows
}

// nodes are those at an item's lower and upper edge.
func (it *item) nodes(g *graph) (low, high []int) {
	for _, p := range it.glyph.pins {
		switch {
		case p.tank:
		case p.top:
			high = append(high, g.node(p.node))
		default:
			low = append(low, g.node(p.node))
		}
	}
	return low, high
}

// settle enters an item into the graph, turned over where it does not fit else.
func (it *item) settle(g *graph) {
	low, high := it.nodes(g)
	if g.lift(low, high) || !it.turns() {
		return
	}
	if g.lift(high, low) {
		it.glyph.turnOver()
	}
}

// turns tells whether an item may stand on its head: one with two pins, in line.
func (it *item) turns() bool {
	pins := it.glyph.pins
	return len(pins) == 2 && pins[0].top != pins[1].top && !pins[0].tank && !pins[1].tank
}

// rowBy is the row in which an item stands: on the highest node at its lower edge,
// else below the lowest at its upper edge.
func (it *item) rowBy(g *graph, level []int) int {
	low, high := it.nodes(g)
	if len(low) > 0 {
		row := 0
		for _, n := range low {
			row = max(row, level[n])
		}
		return row
	}
	if len(high) > 0 {
		row := far
		for _, n := range high {
			row = min(row, level[n]-1)
		}
		return max(row, 0)
	}
	return 0
}

// tighten moves nodes up where that makes lines shorter: within what the graph
// allows, to the middle of where the parts around would have them.
func tighten(items []*item, g *graph, level []int) {
	around := make([][]*item, len(level))
	for _, it := range items {
		low, high := it.nodes(g)
		for _, n := range slices.Concat(low, high) {
			if !slices.Contains(around[n], it) {
				around[n] = append(around[n], it)
			}
		}
	}
	cost := func(n int) int {
		sum := 0
		for _, it := range around[n] {
			sum += it.stretch(g, level)
		}
		return sum
	}
	for range 12 {
		moved := false
		for n := len(level) - 1; n >= 0; n-- {
			lowest, highest := 1, level[n]+8
			for _, b := range g.below[n] {
				lowest = max(lowest, level[b]+1)
			}
			for _, a := range g.above[n] {
				highest = min(highest, level[a]-1)
			}
			was, best, least := level[n], level[n], cost(n)
			for l := lowest; l <= highest; l++ {
				level[n] = l
				if c := cost(n); c < least {
					best, least = l, c
				}
			}
			level[n] = best
			moved = moved || best != was
		}
		if !moved {
			return
		}
	}
}

// stretch is by how many rows an item's lines are longer than they must be.
func (it *item) stretch(g *graph, level []int) int {
	low, high := it.nodes(g)
	row := it.rowBy(g, level)
	sum := 0
	for _, n := range low {
		sum += row - level[n]
	}
	for _, n := range high {
		sum += max(level[n]-row-1, row+1-level[n])
	}
	return sum
}
