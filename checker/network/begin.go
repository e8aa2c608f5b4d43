package network

import "headroom/specs"

// start sets the state in which a case begins. Where keep is given, the
// temperatures of nodes, plates and gas are those of it: a repeat.
func (m *model) start(y, keep []float64) {
	b := &m.spec.Begins
	charged := m.charged()
	base := m.air
	if len(m.reservoirs) > 0 {
		base = m.reservoirs[0].part.Pressure.SI
	}
	clear(y)
	for i := range m.nodes {
		n := &m.nodes[i]
		y[n.heatRow] = b.Fluid.SI
		if keep != nil {
			y[n.heatRow] = keep[n.heatRow]
		}
		if !n.reservoir {
			y[n.row] = base
			if charged[i] {
				y[n.row] = b.Charge.SI
			}
			if p, given := m.starts[n.name]; given {
				y[n.row] = p
			}
		}
		n.load(m, y)
	}
	for _, e := range m.elements {
		if _, last := e.(*reservoir); !last {
			e.begin(m, y, keep)
		}
	}
	for i := range m.nodes {
		m.nodes[i].fill()
	}
	for _, r := range m.reservoirs {
		r.begin(m, y, keep)
	}
}

// charged tells which nodes begin at the case's charge: those whose role is
// pressure, and those without a role that a pump's outlet or an accumulator
// reaches through tubes, hoses, filters, and check valves with the flow; and those
// of accumulators, whatever their role.
func (m *model) charged() []bool {
	in := make([]bool, len(m.nodes))
	if !m.spec.Begins.Charge.Given() {
		return in
	}
	reached := m.fed()
	for i, n := range m.circuit.Nodes {
		if n.Role.Given() {
			in[i] = n.Role.Value == "pressure"
		} else {
			in[i] = reached[i]
		}
	}
	for _, p := range m.parts {
		if a, is := p.(*specs.Accumulator); is && !m.nodes[m.byNode[a.AtPort.Node]].reservoir {
			in[m.byNode[a.AtPort.Node]] = true
		}
	}
	return in
}

// fed are the nodes that pumps and accumulators feed.
func (m *model) fed() []bool {
	in := make([]bool, len(m.nodes))
	var next []int
	enter := func(p specs.Port) {
		if i, known := m.byNode[p.Node]; known && !in[i] && !m.nodes[i].reservoir {
			in[i] = true
			next = append(next, i)
		}
	}
	for _, p := range m.parts {
		switch p := p.(type) {
		case *specs.Pump:
			enter(p.To)
		case *specs.Accumulator:
			enter(p.AtPort)
		}
	}
	for len(next) > 0 {
		name := m.nodes[next[0]].name
		next = next[1:]
		for _, p := range m.parts {
			from, to, back := leads(p)
			if from.Node == name && from.Given() {
				enter(to)
			}
			if back && to.Node == name {
				enter(from)
			}
		}
	}
	return in
}

// leads is the way through a part by which pressure reaches further at the
// start of a case, and whether it leads both ways.
func leads(p specs.Part) (from, to specs.Port, back bool) {
	switch p := p.(type) {
	case *specs.Tube:
		return p.From, p.To, true
	case *specs.Hose:
		return p.From, p.To, true
	case *specs.Filter:
		return p.From, p.To, true
	case *specs.CheckValve:
		return p.From, p.To, false
	}
	return specs.Port{}, specs.Port{}, false
}
