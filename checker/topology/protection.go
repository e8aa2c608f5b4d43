package topology

import "headroom/specs"

// Protected are the nodes from which a relief valve is reached past nothing
// that can be shut; a check valve does not shut against flow towards it.
func (g *Graph) Protected(relief int) Set {
	from, ok := g.At(relief, "from")
	if !ok {
		return make(Set, len(g.Nodes))
	}
	return g.reach([]int{from}, nothingShutsBefore)
}

// ProtectedPast are those of the nodes that a relief valve protects from which it is
// also reached without passing one part, such as a filter that is clogged.
func (g *Graph) ProtectedPast(relief, without int) Set {
	from, ok := g.At(relief, "from")
	if !ok {
		return make(Set, len(g.Nodes))
	}
	return g.reach([]int{from}, func(p *Passage, forwards bool) bool {
		return p.Part != without && nothingShutsBefore(p, forwards)
	})
}

// Vents tells whether a node stands open to a reservoir through tubes, hoses,
// coolers and check valves alone, so that it needs no relief valve.
func (g *Graph) Vents(node int) bool {
	_, vents := g.firstReservoir(g.reach([]int{node}, func(p *Passage, forwards bool) bool {
		switch g.Circuit.Parts[p.Part].(type) {
		case *specs.Tube, *specs.Hose, *specs.Cooler:
			return true
		case *specs.CheckValve:
			return forwards
		}
		return false
	}))
	return vents
}

// Discharge is the reservoir that a relief valve's outlet reaches past nothing
// that can be shut.
func (g *Graph) Discharge(relief int) (reservoir int, reached bool) {
	to, ok := g.At(relief, "to")
	if !ok {
		return 0, false
	}
	return g.firstReservoir(g.reach([]int{to}, nothingShuts))
}

func (g *Graph) firstReservoir(reached Set) (node int, found bool) {
	for n, in := range reached {
		if in && g.Nodes[n].Reservoir {
			return n, true
		}
	}
	return 0, false
}

// Fed are the nodes that a pump feeds past nothing that can be shut.
func (g *Graph) Fed(pump int) Set {
	to, ok := g.At(pump, "to")
	if !ok {
		return make(Set, len(g.Nodes))
	}
	return g.reach([]int{to}, nothingShuts)
}

// Driver is the first accumulator whose stored pressure can reach a pump's
// outlet in some state of the valves, and drive the pump backwards. What drains
// freely to a reservoir on the way keeps no pressure.
func (g *Graph) Driver(pump int) (accumulator int, found bool) {
	to, ok := g.At(pump, "to")
	if !ok {
		return 0, false
	}
	drained := g.drained()
	upstream := g.search([]int{to}, mayFlowBefore, func(n int) bool { return !g.Nodes[n].Reservoir && !drained[n] })
	for i, p := range g.Circuit.Parts {
		if !isAccumulator(p) {
			continue
		}
		if at, ok := g.At(i, "at"); ok && upstream[at] && !drained[at] {
			return i, true
		}
	}
	return 0, false
}

// preload is the cracking pressure (Pa) up to which a check valve counts as one
// that only keeps a return line full, which drives nothing: a judgement.
const preload = 5e5

// drained are the nodes that drain freely to a reservoir past nothing that can be
// shut: through lines, coolers, filters, whose clogging has rules of its own, and check
// valves of little preload. Behind an orifice pressure can stand.
func (g *Graph) drained() Set {
	return g.reachThrough(g.portsOf("at", isReservoir), func(p *Passage, forwards bool) bool {
		switch part := g.Circuit.Parts[p.Part].(type) {
		case *specs.Tube, *specs.Hose, *specs.Cooler, *specs.Filter:
			return true
		case *specs.CheckValve:
			return !forwards && part.Cracking.SI <= preload
		}
		return false
	})
}

// Above are the nodes from which flow can come to a node in some state of the
// valves, not through pumps nor through the passages that are shut.
func (g *Graph) Above(node int, shut func(p *Passage) bool) Set {
	return g.reach([]int{node}, func(p *Passage, forwards bool) bool {
		return mayFlowBefore(p, forwards) && !shut(p)
	})
}
