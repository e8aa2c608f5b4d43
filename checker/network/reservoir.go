package network

import (
	"headroom/specs"
)

var _ = register(newReservoir)

// A reservoir fixes the pressure of its node; its content is the node's state.
type reservoir struct {
	plain
	part  *specs.Reservoir
	node  int
	row   int
	first bool // in the spec
}

func newReservoir(b *builder, p *specs.Reservoir) element {
	r := &reservoir{part: p, node: b.node(p.AtPort)}
	r.row = b.m.nodes[r.node].row
	r.first = len(b.m.reservoirs) == 0
	b.m.reservoirs = append(b.m.reservoirs, r)
	b.vary(r.node, r.row, 1, false)
	return r
}

// flow does nothing: the node's balance is the reservoir's.
func (r *reservoir) flow(*model, float64, []float64, []float64) {}

// begin fills the reservoir: its fluid at 15 °C when the circuit was charged,
// and what all the circuit's fluid has expanded by since, which is why nodes
// and the other parts begin first.
func (r *reservoir) begin(m *model, y, _ []float64) {
	swelling := m.swelling(m.spec.Begins.Fluid.SI)
	y[r.row] = r.part.Fill.SI * swelling
	if !r.first {
		return
	}
	for i := range m.nodes {
		n := &m.nodes[i]
		y[r.row] += n.shared * (swelling - 1)
		if !n.reservoir {
			y[r.row] += n.content * (swelling - 1)
		}
	}
}

func (r *reservoir) work(m *model, _ []float64, e *powers) {
	n := &m.nodes[r.node]
	e.reservoir += (n.p - m.air) * n.net
}

func (r *reservoir) tell(t *teller) {
	t.state("level", "volume", r.row)
}
