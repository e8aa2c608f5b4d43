package network

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newPilotCheckValve)

type pilotCheckValve struct {
	plain
	way                *passage
	pilot              int
	k, cracking, ratio float64
}

func newPilotCheckValve(b *builder, p *specs.PilotCheckValve) element {
	v := &pilotCheckValve{pilot: b.node(p.Pilot), k: rated(p.Flow, p.Drop), cracking: p.Cracking.SI, ratio: p.Ratio.SI}
	v.way = b.passage(b.node(p.From), b.node(p.To), 1, b.m.nodes[v.pilot].column)
	b.kinkAtDrop(v.way, v.cracking)
	b.kinkAtDrop(v.way, 0)
	b.kink(restingPressure, func(m *model, y []float64) float64 { return v.balance(m, y) })
	return v
}

// balance is how far the pilot is above what opens the valve backwards.
func (v *pilotCheckValve) balance(m *model, y []float64) float64 {
	from, to, pilot := m.pressure(v.way.a, y), m.pressure(v.way.b, y), m.pressure(v.pilot, y)
	return pilot - from - (to-from+v.cracking)/v.ratio
}

func (v *pilotCheckValve) flow(m *model, _ float64, _, _ []float64) {
	a, b := &m.nodes[v.way.a], &m.nodes[v.way.b]
	rho := (a.oil.rho + b.oil.rho) / 2
	f := resistance.PilotCheckValve(v.k/math.Sqrt(rho), v.cracking, v.ratio, a.p, b.p, m.nodes[v.pilot].p)
	v.way.byDensity(f.Flow, 0, -f.Flow/(2*rho), a, b)
	v.way.perPA += f.PerFrom
	v.way.perPB += f.PerTo
	v.way.perFirst = f.PerPilot
	m.pass(v.way)
}

func (v *pilotCheckValve) tell(t *teller) { t.way(v.way) }
