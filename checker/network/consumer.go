package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newConsumer)

// drawnAt is the pressure difference (Pa) that gives a consumer all it demands.
const drawnAt = 1e5

// A consumer draws what its case demands.
type consumer struct {
	plain
	way    *passage
	demand *input
	drawn  float64
}

func newConsumer(b *builder, p *specs.Consumer) element {
	c := &consumer{
		way:    b.passage(b.node(p.From), b.node(p.To), 1),
		demand: b.follow(b.m.spec.Demands, p.Name, 0),
	}
	if c.demand.points != nil {
		b.kinkAtDrop(c.way, 0)
		b.kinkAtDrop(c.way, drawnAt)
	}
	return c
}

func (c *consumer) flow(m *model, t float64, _, _ []float64) {
	c.drawn = c.demand.at(t)
	q, per := resistance.FlowRegulator(c.drawn, drawnAt, m.drop(c.way))
	c.way.law = law{q: q, perPA: per, perPB: -per}
	m.pass(c.way)
}

func (c *consumer) tell(t *teller) {
	t.way(c.way)
	t.demand(c)
}
