package network

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

var (
	_ = register(func(b *builder, p *specs.Tube) element { return newLine(b, p, &p.Line, 0) })
	_ = register(func(b *builder, p *specs.Hose) element {
		return newLine(b, p, &p.Line, p.Stretch.SI)
	})
)

// A line is a tube or hose. Its flow follows from one number: with
// G = 2 ρ D³ Δp/(μ² L), what it takes for a line of no losses, Darcy and
// Weisbach's law is
//
//	(f + K D/L) Re² = G
//
// so Re is a function of G alone, whatever oil flows. It is closed where the
// flow is laminar, and tabulated from resistance.Tube above.
type line struct {
	plain
	part    specs.Part
	way     *passage
	tube    resistance.Tube
	area    float64
	kappa   float64 // K D/L
	laminar float64 // G up to which the flow is certainly laminar
	curve   grid    // Re over G
}

// certainlyLaminar is the Reynolds number up to which Churchill's formula is
// 64/Re to 2e-11.
const certainlyLaminar = 1200

func newLine(b *builder, part specs.Part, p *specs.Line, stretch float64) element {
	l := &line{part: part, tube: resistance.Tube{
		Bore: p.Bore.SI, Length: p.Length.SI, Roughness: p.Roughness.SI, Losses: p.Losses.SI, Elevation: p.Elevation.SI,
	}}
	from, to := b.node(p.From), b.node(p.To)
	for _, i := range [...]int{from, to} {
		if n := &b.m.nodes[i]; !n.reservoir {
			n.volume += l.tube.Volume() / 2
			n.compliance += stretch * p.Length.SI / 2
		}
	}
	l.way = b.passage(from, to, 1)
	l.way.rise = resistance.Gravity * p.Elevation.SI
	l.area = resistance.CircleArea(p.Bore.SI)
	l.kappa = p.Losses.SI * p.Bore.SI / p.Length.SI
	l.laminar = certainlyLaminar * (64 + l.kappa*certainlyLaminar)
	l.curve = newGrid(l.laminar, 1e12, 4, l.reynolds)
	return l
}

// reynolds is Re and its slope at G, by the law of the tube for an oil of unit
// density in which one metre per second of it is Re = 1/μ·D.
func (l *line) reynolds(g float64) (re, slope float64) {
	t := l.tube
	t.Elevation = 0
	mu := t.Bore // so that Re = v
	perG := mu * mu * t.Length / (2 * t.Bore * t.Bore * t.Bore)
	f := t.Flow(g*perG, 1, mu)
	return f.Flow / l.area, f.PerPascal / l.area * perG
}

func (l *line) flow(m *model, _ float64, _, _ []float64) {
	a, b := &m.nodes[l.way.a], &m.nodes[l.way.b]
	rho, mu := (a.oil.rho+b.oil.rho)/2, (a.oil.mu+b.oil.mu)/2
	dp := a.p - b.p - l.way.rise*rho
	d := l.tube.Bore
	perPascal := 2 * rho * d * d * d / (mu * mu * l.tube.Length)
	g := math.Abs(dp) * perPascal
	re, slope := l.at(g)
	unit := l.area * mu / (rho * d)
	q, per := unit*re, unit*slope*perPascal
	perRho, perMu := (g*slope-re)*unit/rho, (re-2*g*slope)*unit/mu
	if dp < 0 {
		q, perRho, perMu = -q, -perRho, -perMu
	}
	perRho -= per * l.way.rise
	w := &l.way.law
	w.q = q
	w.perPA = per + (perRho*a.oil.rhoP+perMu*a.oil.muP)/2
	w.perPB = -per + (perRho*b.oil.rhoP+perMu*b.oil.muP)/2
	w.perTA = (perRho*a.oil.rhoT + perMu*a.oil.muT) / 2
	w.perTB = (perRho*b.oil.rhoT + perMu*b.oil.muT) / 2
	m.pass(l.way)
}

// at is Re and its slope at G.
func (l *line) at(g float64) (re, slope float64) {
	if g <= l.laminar {
		root := math.Sqrt(64*64 + 4*l.kappa*g)
		return 2 * g / (64 + root), 1 / root
	}
	return l.curve.at(g)
}

func (l *line) tell(t *teller) {
	t.velocity(l)
	t.way(l.way)
}
