package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newFilter)

type filter struct {
	plain
	way                    *passage
	rated, drop, viscosity float64
	bypass, k              float64 // 0: none
}

func newFilter(b *builder, p *specs.Filter) element {
	f := &filter{
		way:   b.passage(b.node(p.From), b.node(p.To), 1),
		rated: p.Flow.SI, drop: p.Drop.SI, viscosity: p.RatedAt.SI,
	}
	if p.Bypass.Given() {
		f.bypass, f.k = p.Bypass.SI, rated(p.Flow, p.Drop)
		b.kinkAtOpening(f.way, f.bypass)
	}
	return f
}

func (f *filter) flow(m *model, _ float64, _, _ []float64) {
	a, b := &m.nodes[f.way.a], &m.nodes[f.way.b]
	rho, mu := a.oil.rho+b.oil.rho, a.oil.mu+b.oil.mu
	nu := mu / rho
	g := resistance.FilterConductance(f.rated, f.drop, f.viscosity, nu)
	dp := a.p - b.p
	open := law{}
	if f.bypass > 0 && dp > f.bypass-foot {
		m.check(f.way, f.k, f.bypass)
		open = f.way.law
	}
	q := g * dp
	perMu, perRho := -q/mu, q/rho
	f.way.law = law{
		q:     open.q + q,
		perPA: open.perPA + g + perMu*a.oil.muP + perRho*a.oil.rhoP,
		perPB: open.perPB - g + perMu*b.oil.muP + perRho*b.oil.rhoP,
		perTA: open.perTA + perMu*a.oil.muT + perRho*a.oil.rhoT,
		perTB: open.perTB + perMu*b.oil.muT + perRho*b.oil.rhoT,
	}
	m.pass(f.way)
}

func (f *filter) tell(t *teller) { t.way(f.way) }
