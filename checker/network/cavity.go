package network

import (
	"math"

	"headroom/checker/fluid"
)

// pressureOf is the absolute pressure of a node's pressure state, and its slope
// along the state: the state itself down to 1 kPa. Below, oil tears and a cavity
// opens at next to no pressure; the state goes on down, as a measure of how large
// the cavity is, and the pressure fades to none:
//
//	p = 1 kPa · exp((s − 1 kPa)/1 kPa)
//
// A form of our own: continuous with its slope, and never below zero.
func pressureOf(s float64) (p, slope float64) {
	if s >= leastAirPressure {
		return s, 1
	}
	slope = math.Exp((s - leastAirPressure) / leastAirPressure)
	return leastAirPressure * slope, slope
}

// pressureAt is the pressure of a node that a vector of states, or a step at a time,
// gives the state of.
func (n *node) pressureAt(state func(row int) float64) float64 {
	if n.reservoir {
		return n.p
	}
	p, _ := pressureOf(state(n.row))
	return p
}

// cavity sets the share r of the node's volume that is oil, below 10 kPa, where free
// air takes up more and more of it and at last the oil tears:
//
//	r = (1 − φ + g(10 kPa))/(1 − φ + g(p)),  g = φ (p0/p)^(1/n),   down to 1 kPa
//	r = r(1 kPa) exp((s − 1 kPa)/K_eff(1 kPa)),                   below
//
// With it d ln r/ds = 1/K_eff less what the oil itself gives: what the balance of a
// node lets in is what it holds, however far a chamber was drawn out before.
//
// Domain: any state. Source: the law of free air that K_eff is made of
// (fluid.EffectiveModulus); its constant tangent below its own domain. Accuracy: what
// free air takes up above 10 kPa counts as oil, some 4 φ of a chamber's volume.
func (n *node) cavity(m *model) {
	o := m.oil
	const exponent = fluid.AirExponent
	phi := o.law.FreeAir
	at := max(n.s, leastAirPressure)
	g, _, _, _ := o.pressure.at(at)
	g *= phi
	n.wet = m.aired / (1 - phi + g)
	n.wetS = g / (exponent * at) / (1 - phi + g)
	if n.s < leastAirPressure {
		n.wet *= math.Exp((n.s - leastAirPressure) * n.oil.soft)
		n.wetS = n.oil.soft
	}
}

// tornBelow is the absolute pressure (Pa) below which cavities are reckoned with: that
// below which a node's outflow fades, so that what runs well has none.
const tornBelow = fadeBelow

// aired is 1 − φ + g where cavities begin.
func (o *oil) aired() float64 {
	g, _, _, _ := o.pressure.at(tornBelow)
	return 1 - o.law.FreeAir + o.law.FreeAir*g
}

// openSlopes completes the Jacobian for nodes with cavities, before their rates are made: slopes along a pressure become slopes along its state, and
// what passes on from a node carries less with it as its oil is torn.
func (m *model) openSlopes(j []float64) {
	torn := false
	for i := range m.nodes {
		n := &m.nodes[i]
		torn = torn || n.wetS != 0
		if n.perS != 1 && n.column >= 0 {
			for s := m.pattern.Start[n.column]; s < m.pattern.Start[n.column+1]; s++ {
				j[s] *= n.perS
			}
		}
		j[n.slots.rowP] -= n.inflow * n.wetS
	}
	if !torn {
		return
	}
	for i := range m.passages {
		p := &m.passages[i]
		up, down, row, heat, q := &m.nodes[p.a], &m.nodes[p.b], p.slots.rowB.pa, p.slots.heatB.pa, p.q
		if q < 0 {
			up, down, row, heat, q = down, up, p.slots.rowA.pb, p.slots.heatA.pb, -q
		}
		if up.wetS != 0 {
			mass := q * up.dense * up.wetS
			j[row] += mass / down.dense
			j[heat] += mass * m.oil.heat * (up.T - down.T)
		}
	}
}
