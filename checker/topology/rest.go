package topology

import "headroom/specs"

// A Rest is what the nodes are joined with when power is lost: every valve at
// its `rest`, pumps and accumulators still under pressure.
type Rest struct {
	Pressed Set // a pump or an accumulator presses on it
	Drained Set // a reservoir is reached from it

	// Held is the reducing valve whose `rest` pressure rules at a node, or -1.
	Held []int
}

// AtRest works out the rest state of the whole circuit.
func (g *Graph) AtRest() *Rest {
	r := &Rest{Held: make([]int, len(g.Nodes))}
	for n := range r.Held {
		r.Held[n] = -1
	}
	sources := append(g.portsOf("to", isPump), g.portsOf("at", isAccumulator)...)
	piloted := map[int]bool{}
	for {
		r.Pressed = g.reach(sources, func(p *Passage, forwards bool) bool { return g.atRest(p, forwards, piloted) })
		if !g.pilot(r.Pressed, piloted) {
			break
		}
	}
	r.Drained = g.reachThrough(g.portsOf("at", isReservoir), func(p *Passage, forwards bool) bool {
		return g.atRest(p, !forwards, piloted)
	})
	for i, p := range g.Circuit.Parts {
		if _, ok := p.(*specs.ReducingValve); ok {
			g.holdFrom(i, r, piloted)
		}
	}
	return r
}

// atRest takes what lets flow pass with every valve at rest, for as long as
// there is a pressure: leakage does not count, nor does a consumer.
func (g *Graph) atRest(p *Passage, forwards bool, piloted map[int]bool) bool {
	switch p.Way {
	case Open, Turned, Shuttle:
		return true
	case Check, Regulated:
		return forwards
	case Piloted:
		return !forwards && piloted[p.Part]
	case Spool:
		v := g.Circuit.Parts[p.Part].(*specs.DirectionalValve)
		return v.Rest.Given() && opens(p.Edge, v.Rest.SI)
	}
	return false
}

// OnwardAtRest are the nodes to which oil can go from a node with every valve at
// rest: itself, and what lies past lines, check valves and flow regulators with
// their flow, and spools that rest open.
func (g *Graph) OnwardAtRest(node int) Set {
	return g.reach([]int{node}, func(p *Passage, forwards bool) bool { return g.atRest(p, forwards, nil) })
}

// OpenAtRest tells whether a passage lets flow out of its From with every valve
// at rest: for a reducing valve's a→t, above its rest pressure.
func (g *Graph) OpenAtRest(passage int) bool {
	p := &g.Passages[passage]
	return p.Way == Reducing && p.Edge == AT || g.atRest(p, true, nil)
}

// pilot notes the pilot check valves whose pilots are pressed; true where there
// is a new one.
func (g *Graph) pilot(pressed Set, piloted map[int]bool) (more bool) {
	for _, p := range g.Passages {
		if p.Way != Piloted || piloted[p.Part] {
			continue
		}
		if pilot, ok := g.At(p.Part, "pilot"); ok && pressed[pilot] {
			piloted[p.Part] = true
			more = true
		}
	}
	return more
}

// holdFrom spreads a reducing valve's rest pressure over what its held port is
// joined with and no other pressure rules.
func (g *Graph) holdFrom(valve int, r *Rest, piloted map[int]bool) {
	a, ok := g.At(valve, "a")
	if !ok || r.Pressed[a] {
		return
	}
	for n, held := range g.reach([]int{a}, func(p *Passage, forwards bool) bool { return g.atRest(p, forwards, piloted) }) {
		if held && !r.Pressed[n] && !g.Nodes[n].Reservoir && r.Held[n] < 0 {
			r.Held[n] = valve
		}
	}
}
