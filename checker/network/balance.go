package network

import "math"

// bookSample is what a node's bookkeeping needs of one instant.
type bookSample struct {
	flow, inflow float64 // m³/s; what flows in, or is swept, without regard to sign
	fresh        float64 // m³/s, what flows in alone
	give, p      float64 // m³/Pa and Pa of the state; 1 and m³ at a reservoir
	swell, T     float64 // m³/K and K
	air          float64 // kg/Pa, oil that squeezed free air makes room for
	chambers     float64
}

// A book is the bookkeeping of one node: what flowed in, against the change of
// what it holds, each integrated on its own.
type book struct {
	flow, inflow, fresh, held float64
	air                       float64 // kg that squeezed free air has made room for
}

// carried is the oil (kg) that passed a passage in a pass, each way.
type carried struct{ forth, back float64 }

func (c *carried) add(a, mid, b, sixth float64) {
	c.forth += sixth * (max(0, a) + 4*max(0, mid) + max(0, b))
	c.back -= sixth * (min(0, a) + 4*min(0, mid) + min(0, b))
}

// massFlows are those of the passages (kg/s).
func (m *model) massFlows(s []float64) {
	for i := range s {
		p := &m.passages[i]
		s[i] = p.q * m.nodes[p.a].dense
		if p.q < 0 {
			s[i] = p.q * m.nodes[p.b].dense
		}
	}
}

func (m *model) keepBooks(s []bookSample) {
	for i := range m.nodes {
		n := &m.nodes[i]
		s[i] = bookSample{
			flow: n.net + n.swept, inflow: n.inflow + math.Abs(n.swept), fresh: n.inflow, give: n.give, p: n.s,
			swell: (n.content + n.shared) * n.oil.alpha, T: n.T, chambers: n.chambers,
		}
		if n.reservoir {
			s[i].p, s[i].chambers = n.content, 0
		} else if n.s >= tornBelow {
			s[i].air = n.dense * n.content * (n.oil.soft - n.oil.rhoP/n.oil.rho)
		}
	}
}

// add takes an interval in, sixth being a sixth of its length: time integrals
// by Simpson's rule, those over states by the same parabola.
func (b *book) add(s0, sm, s1 *bookSample, sixth float64) {
	b.flow += sixth * (s0.flow + 4*sm.flow + s1.flow)
	b.inflow += sixth * (s0.inflow + 4*sm.inflow + s1.inflow)
	b.fresh += sixth * (s0.fresh + 4*sm.fresh + s1.fresh)
	b.held += along(s0.give, sm.give, s1.give, s0.p, sm.p, s1.p) - along(s0.swell, sm.swell, s1.swell, s0.T, sm.T, s1.T)
	b.held += s1.chambers - s0.chambers
	b.air += along(s0.air, sm.air, s1.air, s0.p, sm.p, s1.p)
}

// along is ∫ c dx of two parabolas.
func along(c0, cm, c1, x0, xm, x1 float64) float64 {
	return (c0*(4*xm-3*x0-x1) + 4*cm*(x1-x0) + c1*(x0-4*xm+3*x1)) / 6
}

// powers are the terms of the energy balance that are integrated (W); the heat of
// oil and metal is reckoned from the states at both ends instead, so that the
// balance tells whether these follow from what came in. Compression is the work
// that goes into squeezing oil, in nodes and on its way between them, and into its
// expansion against pressure; its heat is left out.
type powers struct {
	shaft, pack, ambient, coolant                             float64
	plates, gas, toAir, work, lifting, compression, reservoir float64
}

// powers are the terms at the last evaluation.
func (m *model) powers(y []float64) powers {
	var e powers
	for i := range m.nodes {
		n := &m.nodes[i]
		e.ambient -= n.ambient * (n.T - m.ambient)
		wet := n.content + n.shared
		e.compression -= (n.p - m.air) * wet * n.oil.alpha * n.dT
		if !n.reservoir {
			e.compression += (n.p - m.air) * n.give * n.dp
		}
	}
	for i := range m.passages {
		p := &m.passages[i]
		a, b := &m.nodes[p.a], &m.nodes[p.b]
		if p.rise != 0 {
			e.lifting += p.q * p.rise * (a.oil.rho + b.oil.rho) / 2
		}
		if p.q >= 0 {
			e.compression -= (b.p - m.air) * p.q * (a.dense/b.dense - 1)
		} else {
			e.compression += (a.p - m.air) * p.q * (b.dense/a.dense - 1)
		}
	}
	for _, el := range m.elements {
		el.work(m, y, &e)
	}
	return e
}

// add takes an interval in.
func (e *powers) add(s0, sm, s1 *powers, sixth float64) {
	e.shaft += sixth * (s0.shaft + 4*sm.shaft + s1.shaft)
	e.pack += sixth * (s0.pack + 4*sm.pack + s1.pack)
	e.ambient += sixth * (s0.ambient + 4*sm.ambient + s1.ambient)
	e.coolant += sixth * (s0.coolant + 4*sm.coolant + s1.coolant)
	e.plates += sixth * (s0.plates + 4*sm.plates + s1.plates)
	e.gas += sixth * (s0.gas + 4*sm.gas + s1.gas)
	e.toAir += sixth * (s0.toAir + 4*sm.toAir + s1.toAir)
	e.work += sixth * (s0.work + 4*sm.work + s1.work)
	e.lifting += sixth * (s0.lifting + 4*sm.lifting + s1.lifting)
	e.compression += sixth * (s0.compression + 4*sm.compression + s1.compression)
	e.reservoir += sixth * (s0.reservoir + 4*sm.reservoir + s1.reservoir)
}

// start is what a circuit holds: mass (kg), and heat of its oil and metal above
// the temperature at which the case begins (J).
type start struct{ mass, oil, metal float64 }

// stock is what the circuit holds at the last evaluation.
func (m *model) stock() start {
	var s start
	for i := range m.nodes {
		n := &m.nodes[i]
		over := n.T - m.spec.Begins.Fluid.SI
		mass := n.dense*n.content + n.oil.rho*n.shared
		s.oil += m.oil.heat * mass * over
		s.metal += n.capacity * over
		s.mass += mass + n.oil.rho*n.compliance*(n.p-m.air)
	}
	return s
}

// error is how far the books of a node are apart, as a share of what flowed in or
// was swept. What is less than a fitting's worth (1 cm³) counts as that: in a dead
// end the integrator's own tolerance, some 0.1 mm³, is a large share of next to
// nothing. Where a reservoir holds more than flowed in, it is a share of what it
// holds: that is what its level is told to.
func (b *book) error(n *node) float64 {
	of := max(b.inflow, leastVolume)
	if n.reservoir {
		of = max(of, n.content)
	}
	return math.Abs(b.flow-b.held) / of
}

// tellBalance sums up the three balances.
func (o *observer) tellBalance(out *Outcome) {
	b := &out.Balance
	for i := range o.books {
		n := &o.m.nodes[i]
		if off := o.books[i].error(n); off > b.Node || b.NodeName == "" {
			b.Node, b.NodeName = off, n.name
		}
	}
	o.take(&o.after)
	end := o.m.stock()
	b.Charge = o.starts.mass
	b.Mass = (end.mass+o.madeRoom())/o.starts.mass - 1
	e := &o.energy
	b.Terms = Energy{
		Shaft: e.shaft, Pack: e.pack, Ambient: e.ambient, Coolant: e.coolant,
		Oil: end.oil - o.starts.oil, Metal: end.metal - o.starts.metal, Plates: e.plates, Gas: e.gas, ToAir: e.toAir,
		Work: e.work, Lifting: e.lifting, Compression: e.compression, Reservoir: e.reservoir,
	}
	b.Energy = b.Terms.gap(worthJudging * o.m.oil.heat * o.starts.mass)
}

// madeRoom is the oil (kg) that went where free air was squeezed, less what came back.
// The density of the oil does not carry its air, while its modulus does: this much is
// in the nodes beyond what their pressures and volumes tell. Where oil tears, below 10
// kPa, these tell it all.
func (o *observer) madeRoom() float64 {
	mass := 0.0
	for i := range o.books {
		mass += o.books[i].air
	}
	return mass
}

// worthJudging is the warming of the charge (K) below which an energy is too small
// for its balance to say anything: temperatures are asked for to 0.5 K.
const worthJudging = 0.1

// gap is how far the two sides are apart, each term on the side of its sign, as
// a share of the larger, or of the least that is worth judging (J).
func (t *Energy) gap(least float64) float64 {
	in, out := 0.0, 0.0
	for _, v := range [...]float64{t.Shaft, t.Pack, t.Ambient, t.Coolant, -t.Oil, -t.Metal, -t.Plates, -t.Gas, -t.ToAir, -t.Work, -t.Lifting, -t.Compression, -t.Reservoir} {
		if v > 0 {
			in += v
		} else {
			out -= v
		}
	}
	return (in - out) / max(in, out, least)
}
