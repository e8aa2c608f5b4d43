package topology

import "headroom/specs"

// join adds the passages of one part: the one place to teach the graph a new
// part kind.
func (g *Graph) join(i int, part specs.Part) {
	switch p := part.(type) {
	case *specs.Reservoir:
		if at, ok := g.At(i, "at"); ok {
			g.Nodes[at].Reservoir = true
		}
	case *specs.Tube:
		g.pass(i, Open, NoEdge, p.From, p.To)
	case *specs.Hose:
		g.pass(i, Open, NoEdge, p.From, p.To)
	case *specs.Orifice:
		g.pass(i, Open, NoEdge, p.From, p.To)
	case *specs.Filter:
		g.pass(i, Open, NoEdge, p.From, p.To)
	case *specs.Cooler:
		g.pass(i, Open, NoEdge, p.From, p.To)
	case *specs.CheckValve:
		g.pass(i, Check, NoEdge, p.From, p.To)
	case *specs.PilotCheckValve:
		g.pass(i, Check, NoEdge, p.From, p.To)
		g.pass(i, Piloted, NoEdge, p.From, p.To)
	case *specs.ShuttleValve:
		g.pass(i, Shuttle, NoEdge, p.A, p.To)
		g.pass(i, Shuttle, NoEdge, p.B, p.To)
	case *specs.ReliefValve:
		g.pass(i, Relief, NoEdge, p.From, p.To)
	case *specs.FlowRegulator:
		g.pass(i, Regulated, NoEdge, p.From, p.To)
	case *specs.Consumer:
		g.pass(i, Drawn, NoEdge, p.From, p.To)
	case *specs.DirectionalValve:
		g.directional(i, p)
	case *specs.ReducingValve:
		g.pass(i, Reducing, PA, p.P, p.A)
		g.pass(i, Reducing, AT, p.A, p.T)
	case *specs.Pump:
		g.pass(i, Pumped, NoEdge, p.From, p.To)
		g.slip(i, p.To, p.Drain)
	case *specs.Motor:
		g.pass(i, Turned, NoEdge, p.From, p.To)
		g.slip(i, p.From, p.Drain)
	}
}

// directional adds the four edges of a directional valve, and its leaks where
// it states a leakage: from p to t always, past each edge while the spool is
// not at its end.
func (g *Graph) directional(i int, v *specs.DirectionalValve) {
	edges := [...]struct {
		edge     Edge
		from, to specs.Port
	}{{PA, v.P, v.A}, {AT, v.A, v.T}, {PB, v.P, v.B}, {BT, v.B, v.T}}
	for _, e := range edges {
		g.pass(i, Spool, e.edge, e.from, e.to)
	}
	if v.Leak == nil || !(v.Leak.Flow.SI > 0) {
		return
	}
	g.pass(i, Leak, PT, v.P, v.T)
	for _, e := range edges {
		g.pass(i, Leak, e.edge, e.from, e.to)
	}
}

// slip adds the leakage of a displacement machine to its drain, by default the
// circuit's only reservoir.
func (g *Graph) slip(i int, pressed, drain specs.Port) {
	if !drain.Given() {
		drain = g.drain
	}
	g.pass(i, Slip, NoEdge, pressed, drain)
}

// onlyReservoir is the port of the circuit's reservoir, where it has just one;
// else a port that is not connected.
func onlyReservoir(c *specs.Circuit) specs.Port {
	var only specs.Port
	for _, p := range c.Parts {
		r, ok := p.(*specs.Reservoir)
		if !ok {
			continue
		}
		if only.Given() {
			return specs.Port{}
		}
		only = r.AtPort
	}
	return only
}

// pass adds a passage between two ports that are both connected.
func (g *Graph) pass(part int, way Way, edge Edge, from, to specs.Port) {
	if !from.Given() || !to.Given() || from.Node == "" || to.Node == "" {
		return
	}
	p := Passage{Part: part, Way: way, Edge: edge, From: g.node(from.Node), To: g.node(to.Node)}
	at := len(g.Passages)
	g.Passages = append(g.Passages, p)
	g.Nodes[p.From].Passages = append(g.Nodes[p.From].Passages, at)
	if p.To != p.From {
		g.Nodes[p.To].Passages = append(g.Nodes[p.To].Passages, at)
	}
}
