package network

import (
	"math"

	"headroom/checker/gas"
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newAccumulator)

const (
	portDischarge = 0.61 // C_d of an accumulator's port, sharp edged
	lastShare     = 1e-3 // of the size, over which the outflow fades
)

// An accumulator is nitrogen behind an orifice.
type accumulator struct {
	part       *specs.Accumulator
	node       int
	k          float64
	size, last float64
	constant   float64
	charge     gas.Charge
	volume     int // of the gas
	warmth     int // of the gas

	rowP, rowT, rowV, heatP, heatT, heatV, heatG, rowG int32
	vP, vT, vV, vG, gP, gT, gV, gG                     int32

	gas     gas.ChargeState
	q       float64 // into it
	share   float64 // of it that the node's volume takes part in
	perNode float64
	perRho  float64
	perOwn  float64 // per pascal of gas, and
	perFade float64 // per m³ of gas, by the fading outflow

	spent float64 // gas volume at the lowest working pressure
}

func newAccumulator(b *builder, p *specs.Accumulator) element {
	charge, err := gas.NewCharge(p.Precharge.Pressure.SI, p.Precharge.Temperature.SI, p.Size.SI)
	if err != nil {
		b.fail("%s: its precharge: %v", p.Name, err)
	}
	a := &accumulator{
		part: p, node: b.node(p.AtPort),
		k:    resistance.OrificeCoefficient(portDischarge, resistance.CircleArea(p.Inlet.SI), 1),
		size: p.Size.SI, last: lastShare * p.Size.SI, constant: p.TimeConstant.SI, charge: charge,
		volume: b.state(gasVolumeState, p.Name), warmth: b.state(gasTemperatureState, p.Name),
	}
	n := &b.m.nodes[a.node]
	b.vary(a.node, a.volume, -1, true)
	for _, s := range [...]struct {
		slot        *int32
		row, column int
	}{
		{&a.rowP, n.row, n.column}, {&a.rowT, n.row, n.heatRow}, {&a.rowV, n.row, a.volume}, {&a.rowG, n.row, a.warmth},
		{&a.heatP, n.heatRow, n.column}, {&a.heatT, n.heatRow, n.heatRow}, {&a.heatV, n.heatRow, a.volume}, {&a.heatG, n.heatRow, a.warmth},
		{&a.vP, a.volume, n.column}, {&a.vT, a.volume, n.heatRow}, {&a.vV, a.volume, a.volume}, {&a.vG, a.volume, a.warmth},
		{&a.gP, a.warmth, n.column}, {&a.gT, a.warmth, n.heatRow}, {&a.gV, a.warmth, a.volume}, {&a.gG, a.warmth, a.warmth},
	} {
		b.slot(s.slot, s.row, s.column)
	}
	b.kink(restingVolume, func(_ *model, y []float64) float64 { return y[a.volume] - (a.size - a.last) })
	return a
}

// begin charges the accumulator to its node's pressure, the gas at ambient
// temperature; empty where that is below its precharge. At a repeat the gas is
// brought there from where it was without heat: it is as warm as the case has left
// it, and no repeat adds heat by being put back.
func (a *accumulator) begin(m *model, y, keep []float64) {
	warmth := m.ambient
	v, err := a.charge.Volume(m.nodes[a.node].p, warmth)
	if keep != nil && err == nil {
		v, warmth = a.charge.ToPressure(keep[a.volume], keep[a.warmth], m.nodes[a.node].p)
	}
	if err != nil || !(v <= a.size) || !m.spec.Begins.Charge.Given() {
		v = a.size
		if keep != nil {
			warmth = a.charge.ToVolume(keep[a.volume], keep[a.warmth], v)
		}
	}
	y[a.volume], y[a.warmth] = v, warmth
	m.nodes[a.node].shared += a.size - v
}

func (a *accumulator) flow(m *model, _ float64, y, dy []float64) {
	n := &m.nodes[a.node]
	v := y[a.volume]
	a.gas = a.charge.At(v, y[a.warmth])
	q, per := resistance.SquareLaw(a.k/math.Sqrt(n.oil.rho), n.p-a.gas.Pressure)
	a.q, a.perNode, a.perOwn, a.perRho, a.perFade = q, per, -per, -q/(2*n.oil.rho), 0
	if q < 0 {
		a.fade(a.size - v)
	} else if n.fade < 1 {
		a.scale(n.fade)
		a.perNode += q * n.fadeP
	}
	if a.share = 1; a.q < 0 { // its oil has no cavities
		a.share = 1 / n.wet
	}
	n.net -= a.q * a.share
	n.inflow += max(0, -a.q*a.share)
	n.heat += a.q * (n.p - a.gas.Pressure)
	n.shared += a.size - v
	dy[a.volume] = -a.q
	dy[a.warmth] = gas.TemperatureRate(y[a.warmth], m.ambient, a.constant, a.gas.Warming, -a.q)
}

// fade lets the outflow end as the last oil leaves.
func (a *accumulator) fade(left float64) {
	if left >= a.last {
		return
	}
	share := max(0, left/a.last)
	if left > 0 {
		a.perFade = -a.q / a.last
	}
	a.scale(share)
}

func (a *accumulator) scale(share float64) {
	a.q *= share
	a.perNode *= share
	a.perOwn *= share
	a.perRho *= share
}

func (a *accumulator) slopes(m *model, y, j []float64) {
	n := &m.nodes[a.node]
	dp := n.p - a.gas.Pressure
	qP := a.perNode + a.perRho*n.oil.rhoP
	qT := a.perRho * n.oil.rhoT
	qV := a.perOwn*a.gas.PressureV + a.perFade
	qG := a.perOwn * a.gas.PressureT
	j[a.rowP] -= qP * a.share
	j[a.rowT] -= qT * a.share
	j[a.rowV] -= qV * a.share
	j[a.rowG] -= qG * a.share
	j[a.heatP] += qP*dp + a.q
	j[a.heatT] += qT * dp
	j[a.heatV] += qV*dp - a.q*a.gas.PressureV
	j[a.heatG] += qG*dp - a.q*a.gas.PressureT
	j[a.vP] -= qP
	j[a.vT] -= qT
	j[a.vV] -= qV
	j[a.vG] -= qG
	w := a.gas.Warming
	j[a.gP] += w * qP
	j[a.gT] += w * qT
	j[a.gV] += w*qV + a.gas.WarmingV*a.q
	j[a.gG] += w*qG + a.gas.WarmingT*a.q - 1/a.constant
}

func (a *accumulator) work(m *model, _ []float64, e *powers) { e.gas += (a.gas.Pressure - m.air) * a.q }

func (a *accumulator) tell(t *teller) {
	t.value("gas_pressure", "pressure", func([]float64) float64 { return a.gas.Pressure })
	t.state("gas_temperature", "temperature", a.warmth)
	t.state("gas_volume", "volume", a.volume)
	t.value("oil", "volume", func(y []float64) float64 { return a.size - y[a.volume] })
	t.late("flow", "flow", func([]float64) float64 { return a.q })
	t.useful(a)
}
