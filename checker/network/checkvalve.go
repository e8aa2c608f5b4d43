package network

import "headroom/specs"

var _ = register(newCheckValve)

// A checkValve obeys the square law above its cracking pressure.
type checkValve struct {
	plain
	way         *passage
	k, cracking float64
}

func newCheckValve(b *builder, p *specs.CheckValve) element {
	v := &checkValve{way: b.passage(b.node(p.From), b.node(p.To), 1), k: rated(p.Flow, p.Drop), cracking: p.Cracking.SI}
	b.kinkAtDrop(v.way, v.cracking)
	return v
}

func (v *checkValve) flow(m *model, _ float64, _, _ []float64) {
	m.check(v.way, v.k, v.cracking)
	m.pass(v.way)
}

// check sets a passage's flow: resistance.CheckValve.
func (m *model) check(p *passage, k, cracking float64) {
	if m.nodes[p.a].p-m.nodes[p.b].p <= cracking {
		p.shut()
		return
	}
	m.square(p, k, cracking)
}

func (v *checkValve) tell(t *teller) { t.way(v.way) }
