package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newCooler)

// A cooler is a resistance that takes heat from what leaves it.
type cooler struct {
	plain
	way                     *passage
	k, conductance, coolant float64

	heat, perRate, perKelvin float64 // of the last evaluation
}

func newCooler(b *builder, p *specs.Cooler) element {
	return &cooler{
		way: b.passage(b.node(p.From), b.node(p.To), 1),
		k:   rated(p.Flow, p.Drop), conductance: p.Conductance.SI, coolant: p.Coolant.SI,
	}
}

// ends are the upstream and the downstream node.
func (c *cooler) ends(m *model) (up, down *node) {
	up, down = &m.nodes[c.way.a], &m.nodes[c.way.b]
	if c.way.q < 0 {
		return down, up
	}
	return up, down
}

func (c *cooler) flow(m *model, _ float64, _, _ []float64) {
	m.square(c.way, c.k, 0)
	m.pass(c.way)
	up, down := c.ends(m)
	rate := up.oil.rho * m.oil.heat * max(c.way.q, -c.way.q)
	c.heat, c.perRate, c.perKelvin = resistance.CoolerHeat(c.conductance, rate, up.T-c.coolant)
	down.heat -= c.heat
}

func (c *cooler) slopes(m *model, _, j []float64) {
	up, _ := c.ends(m)
	w, heat := c.way, &c.way.slots.heatB
	sign, q := 1.0, w.q
	upP, upT := heat.pa, heat.ta
	if w.q < 0 {
		sign, q, heat = -1, -w.q, &w.slots.heatA
		upP, upT = heat.pb, heat.tb
	}
	perFlow := c.perRate * up.oil.rho * m.oil.heat * sign
	j[heat.pa] -= perFlow * w.perPA
	j[heat.ta] -= perFlow * w.perTA
	j[heat.pb] -= perFlow * w.perPB
	j[heat.tb] -= perFlow * w.perTB
	j[upP] -= c.perRate * m.oil.heat * q * up.oil.rhoP
	j[upT] -= c.perRate*m.oil.heat*q*up.oil.rhoT + c.perKelvin
}

func (c *cooler) work(_ *model, _ []float64, e *powers) { e.coolant -= c.heat }

func (c *cooler) tell(t *teller) {
	t.late("heat", "power", func([]float64) float64 { return c.heat })
	t.way(c.way)
}
