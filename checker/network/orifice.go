package network

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newOrifice)

// An orifice obeys the square law.
type orifice struct {
	plain
	way *passage
	k   float64
}

func newOrifice(b *builder, p *specs.Orifice) element {
	return &orifice{
		way: b.passage(b.node(p.From), b.node(p.To), 1),
		k:   resistance.OrificeCoefficient(p.Discharge.SI, resistance.CircleArea(p.Diameter.SI), 1),
	}
}

func (o *orifice) flow(m *model, _ float64, _, _ []float64) {
	m.square(o.way, o.k, 0)
	m.pass(o.way)
}

func (o *orifice) tell(t *teller) { t.way(o.way) }

// square sets a passage's flow by the square law in Δp − cracking, k that at a
// density of 1 kg/m³; closed below a cracking pressure above zero.
func (m *model) square(p *passage, k, cracking float64) {
	a, b := &m.nodes[p.a], &m.nodes[p.b]
	rho := (a.oil.rho + b.oil.rho) / 2
	q, per := resistance.SquareLaw(k/math.Sqrt(rho), a.p-b.p-cracking)
	p.byDensity(q, per, -q/(2*rho), a, b)
}

// byDensity sets a flow that depends on Δp and on the mean density.
func (l *law) byDensity(q, perPascal, perDensity float64, a, b *node) {
	l.q = q
	l.perPA = perPascal + perDensity*a.oil.rhoP/2
	l.perPB = -perPascal + perDensity*b.oil.rhoP/2
	l.perTA = perDensity * a.oil.rhoT / 2
	l.perTB = perDensity * b.oil.rhoT / 2
	l.perFirst, l.perOther = 0, 0
}

// shut is no flow.
func (l *law) shut() { *l = law{} }

// scale multiplies a flow by an opening, which changes by first and other per
// unit of the two further states.
func (l *law) scale(opening, first, other float64) {
	l.perFirst, l.perOther = l.q*first, l.q*other
	l.q *= opening
	l.perPA *= opening
	l.perPB *= opening
	l.perTA *= opening
	l.perTB *= opening
}

// leak adds a conductance g that changes by first per unit of the first further state.
func (l *law) leak(g, first float64, a, b *node) {
	dp := a.p - b.p
	l.q += g * dp
	l.perPA += g
	l.perPB -= g
	l.perFirst += first * dp
}

// rated is k of square of a part rated for a flow at a drop.
func rated(flow, drop specs.Quantity) float64 {
	return resistance.RatedCoefficient(flow.SI, drop.SI, 1)
}
