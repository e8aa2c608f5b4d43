package network

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newCheckValve)

// A checkValve obeys the square law above its cracking pressure.
type checkValve struct {
	plain
	way         *passage
	k, cracking float64
}

func newCheckValve(b *builder, p *specs.CheckValve) element {
	v := &checkValve{way: b.passage(b.node(p.From), b.node(p.To), 1), k: rated(p.Flow, p.Drop), cracking: p.Cracking.SI}
	b.kinkAtOpening(v.way, v.cracking)
	return v
}

func (v *checkValve) flow(m *model, _ float64, _, _ []float64) {
	m.check(v.way, v.k, v.cracking)
	m.pass(v.way)
}

// check sets a passage's flow: resistance.CheckValve.
func (m *model) check(p *passage, k, cracking float64) {
	above, slope := opening(m.drop(p) - cracking)
	if above == 0 {
		p.shut()
		return
	}
	a, b := &m.nodes[p.a], &m.nodes[p.b]
	rho := (a.oil.rho + b.oil.rho) / 2
	q, per := resistance.SquareLaw(k/math.Sqrt(rho), above)
	p.byDensity(q, per*slope, -q/(2*rho), a, b)
}

// foot is the pressure (Pa) to either side of its cracking pressure over which
// a valve begins to open. The bare laws bend there; a stiff solver crawls along
// such a bend where an accepted error is wider than the distance to it. A valve
// opens 5 mbar early by it, and from 5 mbar above it passes what the law says.
const foot = 500.0

// opening is how far a pressure difference is above zero, rounded by a parabola
// over the foot, and its slope; zero exactly below.
func opening(x float64) (above, slope float64) {
	switch {
	case x >= foot:
		return x, 1
	case x <= -foot:
		return 0, 0
	}
	x += foot
	return x * x / (4 * foot), x / (2 * foot)
}

// kinkAtOpening is where a valve begins to open, and where its law holds.
func (b *builder) kinkAtOpening(p *passage, cracking float64) {
	b.kinkAtDrop(p, cracking-foot)
	b.kinkAtDrop(p, cracking+foot)
}

func (v *checkValve) tell(t *teller) { t.way(v.way) }
