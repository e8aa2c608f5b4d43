package topology

import "headroom/specs"

// A Circulation is what the pumps keep going round, and what filters do in it.
type Circulation struct {
	Filters []int // those that stand in it, in the spec's order
	Parts   []bool
	ways    [][]bool // of each filter: the parts it is on the way of
}

// Circulates works out what takes part in the pumps' circulation: what a pump's
// outlet reaches, and from where a pump's inlet is reached, reservoirs between.
func (g *Graph) Circulates() *Circulation {
	const noPart = -1
	c := &Circulation{Parts: make([]bool, len(g.Circuit.Parts))}
	down, up := g.downstream(noPart), g.upstream(noPart)
	for i := range c.Parts {
		c.Parts[i] = g.passed(i, down, up)
	}
	for i, part := range g.Circuit.Parts {
		if _, ok := part.(*specs.Filter); ok {
			g.stand(c, i)
		}
	}
	return c
}

// stand notes a filter that is passed forwards between two pumps, or a pump and
// itself, and the parts that the circulation does not reach but past it.
func (g *Graph) stand(c *Circulation, filter int) {
	from, connected := g.At(filter, "from")
	to, also := g.At(filter, "to")
	if !connected || !also {
		return
	}
	down, up := g.downstream(filter), g.upstream(filter)
	if !down[from] || !up[to] {
		return
	}
	way := make([]bool, len(c.Parts))
	for i, circulates := range c.Parts {
		way[i] = circulates && i != filter && !g.passed(i, down, up)
	}
	c.Filters, c.ways = append(c.Filters, filter), append(c.ways, way)
}

// OnTheWay are the filters that all fluid passes which goes from a pump through
// the part and back to a pump.
func (c *Circulation) OnTheWay(part int) []int {
	var filters []int
	for i, f := range c.Filters {
		if c.ways[i][part] {
			filters = append(filters, f)
		}
	}
	return filters
}

// passed tells whether flow passes a part: comes to where one of its passages
// begins, and goes on from where it ends. What has no passages is passed by the
// flow at its node.
func (g *Graph) passed(part int, down, up Set) bool {
	first, last := g.Of(part)
	for i := first; i < last; i++ {
		p := &g.Passages[i]
		if circulates(p, true) && down[p.From] && up[p.To] || circulates(p, false) && down[p.To] && up[p.From] {
			return true
		}
	}
	if first < last {
		return false
	}
	for _, port := range g.Ports[part] {
		if down[port.Node] && up[port.Node] {
			return true
		}
	}
	return false
}

// downstream is what the pumps' outlets reach without passing one part.
func (g *Graph) downstream(without int) Set {
	return g.reachThrough(g.portsOf("to", isPump), func(p *Passage, forwards bool) bool {
		return p.Part != without && circulates(p, forwards)
	})
}

// upstream is from where the pumps' inlets are reached without passing one part.
func (g *Graph) upstream(without int) Set {
	return g.reachThrough(g.portsOf("from", isPump), func(p *Passage, forwards bool) bool {
		return p.Part != without && circulates(p, !forwards)
	})
}
