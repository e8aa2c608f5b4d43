package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newFlowRegulator)

type flowRegulator struct {
	plain
	way         *passage
	held, needs float64
}

func newFlowRegulator(b *builder, p *specs.FlowRegulator) element {
	r := &flowRegulator{way: b.passage(b.node(p.From), b.node(p.To), 1), held: p.Flow.SI, needs: p.Needs.SI}
	b.kinkAtDrop(r.way, 0)
	b.kinkAtDrop(r.way, r.needs)
	return r
}

func (r *flowRegulator) flow(m *model, _ float64, _, _ []float64) {
	q, per := resistance.FlowRegulator(r.held, r.needs, m.drop(r.way))
	r.way.law = law{q: q, perPA: per, perPB: -per}
	m.pass(r.way)
}

func (r *flowRegulator) tell(t *teller) { t.way(r.way) }
