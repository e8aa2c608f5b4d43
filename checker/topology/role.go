package topology

import "headroom/specs"

// A Role is what a node is for.
type Role string

// The roles of a node.
const (
	Pressure Role = "pressure"
	Return   Role = "return"
	Suction  Role = "suction"
	Drain    Role = "drain"
	Control  Role = "control"
)

// settleRoles gives every node its role: as the spec states it, else by the
// first of these that fits. "Leads" means past nothing that can be shut, and
// no orifice, for that parts pressures.
//
//   - return: a reservoir stands there
//   - suction: a pump draws from it, straight or through lines, filters, coolers
//     and check valves, and no pump delivers into it
//   - pressure: a pump or an accumulator feeds it through tubes, hoses, filters
//     and check valves alone
//   - return: a valve, consumer or motor empties into it, or into what leads to it; a
//     check valve from there leads on only where a reservoir lies ahead, for one that
//     makes up what a cylinder or motor lacks does not make a return of its line
//   - drain: the leakage of a pump or motor goes into it, or into what leads to it
//   - return: it leads to a reservoir
//   - control: all the rest, which valves join now to one side, now to another
func (g *Graph) settleRoles() {
	suction, pressure := g.suctionNodes(), g.pressureNodes()
	emptied, leaked, home := g.emptiedNodes(), g.leakedNodes(), g.homeNodes()
	for i := range g.Nodes {
		n := &g.Nodes[i]
		n.Charged = pressure[i] && !n.Reservoir
		switch {
		case n.Reservoir:
			n.Role, n.Why = Return, "a reservoir stands there"
		case suction[i]:
			n.Role, n.Why = Suction, "a pump draws from it"
		case pressure[i]:
			n.Role, n.Why = Pressure, "a pump or an accumulator feeds it"
		case emptied[i]:
			n.Role, n.Why = Return, "a valve, consumer or motor empties into it"
		case leaked[i]:
			n.Role, n.Why = Drain, "leakage alone goes into it"
		case home[i]:
			n.Role, n.Why = Return, "it leads to a reservoir"
		default:
			n.Role, n.Why = Control, "valves join it now to one side, now to another"
		}
	}
	for _, stated := range g.Circuit.Nodes {
		if stated.Role.Given() {
			n := &g.Nodes[g.index[stated.Name]]
			n.Role, n.Why = Role(stated.Role.Value), ""
			n.Charged = n.Charged || n.Role == Pressure
		}
	}
}

// LineRole is what a line is for: the first of suction, drain, return, pressure
// and control that one of its ends is. A reservoir's own node says nothing.
func (g *Graph) LineRole(part int) Role {
	ends := make(map[Role]bool, 2)
	for _, p := range g.Ports[part] {
		if n := g.Nodes[p.Node]; !n.Reservoir {
			ends[n.Role] = true
		}
	}
	for _, role := range [...]Role{Suction, Drain, Return, Pressure} {
		if ends[role] {
			return role
		}
	}
	if len(ends) == 0 {
		return Return // from reservoir to reservoir
	}
	return Control
}

// suctionNodes are upstream of pump inlets, down to a reservoir.
func (g *Graph) suctionNodes() Set {
	upstream := g.reach(g.portsOf("from", isPump), nothingShutsBefore)
	for _, n := range g.portsOf("to", isPump) {
		upstream[n] = false
	}
	return upstream
}

// pressureNodes are what pumps and accumulators feed.
func (g *Graph) pressureNodes() Set {
	return g.reach(append(g.portsOf("to", isPump), g.portsOf("at", isAccumulator)...), g.feeds)
}

// feeds takes tubes, hoses and filters, and check valves with the flow.
func (g *Graph) feeds(p *Passage, forwards bool) bool {
	switch g.Circuit.Parts[p.Part].(type) {
	case *specs.Tube, *specs.Hose, *specs.Filter:
		return true
	case *specs.CheckValve:
		return forwards
	}
	return false
}

// emptiedNodes are what valves, consumers and motors empty into, and on.
func (g *Graph) emptiedNodes() Set {
	var starts []int
	for _, p := range g.Passages {
		edge := p.Way != Leak && (p.Edge == AT || p.Edge == BT)
		if edge || p.Way == Relief || p.Way == Drawn || p.Way == Turned {
			starts = append(starts, p.To)
		}
	}
	return g.reach(starts, g.homewards())
}

// leakedNodes are what slip goes into, and on.
func (g *Graph) leakedNodes() Set {
	var starts []int
	for _, p := range g.Passages {
		if p.Way == Slip {
			starts = append(starts, p.To)
		}
	}
	return g.reach(starts, g.homewards())
}

// homewards takes what leads, but for check valves behind which there is no way to
// a reservoir, be it past orifices and flow regulators.
func (g *Graph) homewards() func(p *Passage, forwards bool) bool {
	home := g.reachThrough(g.portsOf("at", isReservoir), func(p *Passage, forwards bool) bool {
		return nothingShutsBefore(p, forwards) || p.Way == Regulated && !forwards
	})
	return func(p *Passage, forwards bool) bool {
		return g.leads(p, forwards) && (p.Way != Check || home[p.To])
	}
}

// homeNodes are those that lead to a reservoir.
func (g *Graph) homeNodes() Set {
	return g.reachThrough(g.portsOf("at", isReservoir), func(p *Passage, forwards bool) bool {
		return g.leads(p, !forwards)
	})
}

// leads takes what nothing can shut, but for orifices.
func (g *Graph) leads(p *Passage, forwards bool) bool {
	if _, ok := g.Circuit.Parts[p.Part].(*specs.Orifice); ok {
		return false
	}
	return nothingShuts(p, forwards)
}

func isPump(p specs.Part) bool        { _, ok := p.(*specs.Pump); return ok }
func isAccumulator(p specs.Part) bool { _, ok := p.(*specs.Accumulator); return ok }
func isReservoir(p specs.Part) bool   { _, ok := p.(*specs.Reservoir); return ok }

// portsOf are the nodes at one port of all parts of a kind.
func (g *Graph) portsOf(key string, kind func(specs.Part) bool) []int {
	var nodes []int
	for i, p := range g.Circuit.Parts {
		if !kind(p) {
			continue
		}
		if n, ok := g.At(i, key); ok {
			nodes = append(nodes, n)
		}
	}
	return nodes
}
