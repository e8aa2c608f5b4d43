package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newReliefValve)

type reliefValve struct {
	plain
	way                       *passage
	rated, override, cracking float64
}

func newReliefValve(b *builder, p *specs.ReliefValve) element {
	v := &reliefValve{
		way:   b.passage(b.node(p.From), b.node(p.To), 1),
		rated: p.Flow.SI, override: p.Override.SI, cracking: p.Cracking.SI,
	}
	b.kinkAtOpening(v.way, v.cracking)
	return v
}

func (v *reliefValve) flow(m *model, _ float64, _, _ []float64) {
	above, slope := opening(m.drop(v.way) - v.cracking)
	q, per := resistance.ReliefValve(v.rated, v.override, 0, above)
	v.way.law = law{q: q, perPA: per * slope, perPB: -per * slope}
	m.pass(v.way)
}

// drop is the pressure difference over a passage.
func (m *model) drop(p *passage) float64 { return m.nodes[p.a].p - m.nodes[p.b].p }

func (v *reliefValve) tell(t *teller) { t.way(v.way) }
