package topology

// A Set marks nodes by index.
type Set []bool

// A pass tells whether a search may take a passage, forwards from From to To
// or backwards.
type pass func(p *Passage, forwards bool) bool

// reach marks the nodes that a search from the starts comes to. A reservoir
// ends it: what enters a reservoir is not driven further. It is marked.
func (g *Graph) reach(starts []int, may pass) Set {
	return g.search(starts, may, func(n int) bool { return !g.Nodes[n].Reservoir })
}

// reachThrough is reach that also goes on through reservoirs, as the fluid does
// in its circulation.
func (g *Graph) reachThrough(starts []int, may pass) Set {
	return g.search(starts, may, func(int) bool { return true })
}

func (g *Graph) search(starts []int, may pass, through func(node int) bool) Set {
	seen := make(Set, len(g.Nodes))
	queue := make([]int, 0, 16)
	for _, n := range starts {
		if !seen[n] {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for len(queue) > 0 {
		n := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if !through(n) {
			continue
		}
		for _, i := range g.Nodes[n].Passages {
			p := &g.Passages[i]
			next, forwards := p.To, true
			if n == p.To {
				next, forwards = p.From, false
			}
			if !seen[next] && may(p, forwards) {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	return seen
}

// Standing tells whether a passage always stands open, both ways.
func (g *Graph) Standing(passage int) bool { return g.Passages[passage].Way == Open }

// nothingShuts follows flow past what nothing can shut: a check valve does not
// shut against flow in its own direction.
func nothingShuts(p *Passage, forwards bool) bool {
	return p.Way == Open || p.Way == Check && forwards
}

// nothingShutsBefore is nothingShuts against the flow: where it can come from.
func nothingShutsBefore(p *Passage, forwards bool) bool { return nothingShuts(p, !forwards) }

// mayFlow follows flow wherever it may pass in some state of the valves, but
// not through a pump.
func mayFlow(p *Passage, forwards bool) bool {
	switch p.Way {
	case Open, Spool, Reducing, Shuttle, Turned, Leak:
		return true
	case Check, Regulated, Relief, Drawn, Slip:
		return forwards
	case Piloted:
		return !forwards
	}
	return false
}

// mayFlowBefore is mayFlow against the flow: where it can come from.
func mayFlowBefore(p *Passage, forwards bool) bool { return mayFlow(p, !forwards) }

// circulates follows the main flow on its way from pump to reservoir: past
// valves from p by a or b to t, through pumps, without leakage.
func circulates(p *Passage, forwards bool) bool {
	switch p.Way {
	case Open, Shuttle:
		return true
	case Check, Spool, Reducing, Regulated, Relief, Drawn, Pumped, Turned:
		return forwards
	case Piloted:
		return !forwards
	}
	return false
}
