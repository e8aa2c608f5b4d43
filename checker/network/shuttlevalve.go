package network

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newShuttleValve)

type shuttleValve struct {
	plain
	fromA, fromB *passage
	k            float64
}

func newShuttleValve(b *builder, p *specs.ShuttleValve) element {
	a, other, to := b.node(p.A), b.node(p.B), b.node(p.To)
	return &shuttleValve{
		fromA: b.passage(a, to, 1, b.m.nodes[other].column),
		fromB: b.passage(other, to, 1, b.m.nodes[a].column),
		k:     rated(p.Flow, p.Drop),
	}
}

func (v *shuttleValve) flow(m *model, _ float64, _, _ []float64) {
	a, b, to := &m.nodes[v.fromA.a], &m.nodes[v.fromB.a], &m.nodes[v.fromA.b]
	// The two ways have each their own density, the mean of its ends.
	rhoA, rhoB := (a.oil.rho+to.oil.rho)/2, (b.oil.rho+to.oil.rho)/2
	f := resistance.ShuttleValve(v.k/math.Sqrt(rhoA), a.p, b.p, to.p)
	v.fromA.byDensity(f.A, 0, -f.A/(2*rhoA), a, to)
	v.fromA.perPA += f.APerA
	v.fromA.perPB += f.APerTo
	v.fromA.perFirst = f.APerB
	m.pass(v.fromA)
	f = resistance.ShuttleValve(v.k/math.Sqrt(rhoB), a.p, b.p, to.p)
	v.fromB.byDensity(f.B, 0, -f.B/(2*rhoB), b, to)
	v.fromB.perPA += f.BPerB
	v.fromB.perPB += f.BPerTo
	v.fromB.perFirst = f.BPerA
	m.pass(v.fromB)
}

func (v *shuttleValve) tell(t *teller) {
	t.named("_a", v.fromA)
	t.named("_b", v.fromB)
}
