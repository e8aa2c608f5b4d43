package topology

// DeadEnd marks the nodes that only the oil of a chamber moves through: what
// lies between it and the one valve that feeds and drains it. Check valves,
// pilot check valves and flow regulators on the way belong to it: they send the
// same oil to and fro. It is none where a pump, a motor, an accumulator, a
// consumer or a reservoir has a port in it, nor between two valves: there oil
// goes round.
func (g *Graph) DeadEnd(chamber int) (nodes Set, valve int, dead bool) {
	nodes = g.reach([]int{chamber}, func(p *Passage, _ bool) bool {
		switch p.Way {
		case Open, Check, Regulated: // a pilot check valve is a check valve too
			return true
		}
		return false
	})
	valve = -1
	for n, in := range nodes {
		if !in {
			continue
		}
		if g.Nodes[n].Reservoir {
			return nodes, -1, false
		}
		for _, k := range g.Nodes[n].Passages {
			switch p := &g.Passages[k]; p.Way {
			case Spool, Reducing, Shuttle:
				if valve >= 0 && valve != p.Part {
					return nodes, -1, false
				}
				valve = p.Part
			case Pumped, Turned, Slip, Drawn:
				return nodes, -1, false
			}
		}
		for _, port := range g.Nodes[n].Ports {
			if isAccumulator(g.Circuit.Parts[port.Part]) {
				return nodes, -1, false
			}
		}
	}
	return nodes, valve, valve >= 0
}
