package network

import (
	"headroom/checker/friction"
	"headroom/specs"
)

var _ = register(newMotor)

// A motor takes D n and lets some slip from either port, as each is pressed in turn;
// its torque works against a load, which turns with the rotation; one below zero drives
// it forwards, as what hangs on a winch does.
type motor struct {
	intake                            *passage
	slip, other                       slipping // from `from`, and from `to`
	displacement, efficiency, inertia float64
	load                              *input
	row                               int
	perSpeed, perFrom, perTo          int32
	resisting, against, slope         float64
	lost, lostSlope, perDrop          float64
	fade, fadeP                       float64 // of what it draws from an empty node
	backwards                         bool
}

// loadRounding is the speed (rad/s) within which a load turns its direction.
const loadRounding = 1.0

func newMotor(b *builder, p *specs.Motor) element {
	from, to, drain := b.node(p.From), b.node(p.To), b.node(p.Drain)
	r := &motor{
		displacement: p.Displacement.SI, efficiency: p.MechanicalEfficiency.SI, inertia: p.Inertia.SI,
		load: b.follow(b.m.spec.Loads, p.Name, p.Load.SI),
		row:  b.state(shaftState, p.Name),
	}
	r.intake = b.passage(from, to, 0, r.row)
	missing := p.TurnsAt.Flow.SI - r.displacement*p.TurnsAt.Cond.Speed.SI
	r.slip = newSlip(b, from, drain, from, missing, &p.TurnsAt.Cond)
	r.other = newSlip(b, to, drain, to, missing, &p.TurnsAt.Cond)
	b.slot(&r.perSpeed, r.row, r.row)
	b.slot(&r.perFrom, r.row, b.m.nodes[from].column)
	b.slot(&r.perTo, r.row, b.m.nodes[to].column)
	return r
}

func (r *motor) begin(_ *model, y, _ []float64) { y[r.row] = 0 }

func (r *motor) flow(m *model, t float64, y, dy []float64) {
	r.intake.law = law{q: r.displacement * y[r.row], perFirst: r.displacement}
	m.pass(r.intake)
	r.backwards = r.intake.q < 0
	up := &m.nodes[r.intake.a]
	if r.backwards {
		up = &m.nodes[r.intake.b]
	}
	r.fade, r.fadeP = 1, 0
	if up.fade < 1 {
		r.fade, r.fadeP = up.fade, up.fadeP
	}
	r.slip.flow(m)
	r.other.flow(m)
	sign, slope := friction.Rounded(y[r.row], loadRounding)
	r.resisting = r.load.at(t)
	r.against, r.slope = r.resisting*sign, r.resisting*slope
	if r.resisting < 0 { // it drives the shaft on, whichever way that turns
		r.against, r.slope = r.resisting, 0
	}
	r.lose(m, y[r.row], sign, slope)
	r.backfill(m, y[r.row])
	dy[r.row] = (r.displacement*m.drop(r.intake) - r.lost - r.against) / r.inertia
}

// backfill is what the shaft does on chambers that come empty from a starved inlet: the
// outlet fills them, and it has to push out again what came in. That holds the shaft as
// full chambers would, and becomes heat at the outlet.
func (r *motor) backfill(m *model, speed float64) {
	if r.fade == 1 {
		return
	}
	m.nodes[r.outlet()].heat -= (1 - r.fade) * r.displacement * speed * m.drop(r.intake)
}

// outlet is the node that the motor empties into, whichever way it turns.
func (r *motor) outlet() int {
	if r.backwards {
		return r.intake.a
	}
	return r.intake.b
}

// lose sets the friction torque, (1 − η) D |Δp| against the rotation, whose
// work heats the outlet.
func (r *motor) lose(m *model, speed, sign, slope float64) {
	dp := m.drop(r.intake)
	share := (1 - r.efficiency) * r.displacement
	r.perDrop = share * sign
	if dp < 0 {
		dp, r.perDrop = -dp, -r.perDrop
	}
	r.lost, r.lostSlope = share*dp*sign, share*dp*slope
	m.nodes[r.outlet()].heat += r.lost * speed
}

func (r *motor) slopes(m *model, y, j []float64) {
	per := (r.displacement - r.perDrop) / r.inertia
	j[r.perFrom] += per
	j[r.perTo] -= per
	j[r.perSpeed] -= (r.slope + r.lostSlope) / r.inertia
	heat, inlet := &r.intake.slots.heatB, r.intake.slots.heatB.pa
	if r.backwards {
		heat = &r.intake.slots.heatA
		inlet = heat.pb
	}
	j[heat.pa] += r.perDrop * y[r.row]
	j[heat.pb] -= r.perDrop * y[r.row]
	j[heat.first] += r.lost + r.lostSlope*y[r.row]
	if r.fade == 1 {
		return
	}
	speed, drop := y[r.row], m.drop(r.intake)
	empty := (1 - r.fade) * r.displacement
	j[heat.pa] -= empty * speed
	j[heat.pb] += empty * speed
	j[heat.first] -= empty * drop
	j[inlet] += r.fadeP * r.displacement * speed * drop
}

func (r *motor) work(m *model, y []float64, e *powers) {
	e.work += (r.displacement*m.drop(r.intake) - r.lost) * y[r.row]
}

func (r *motor) tell(t *teller) {
	m := t.m
	t.state("speed", "rotational-speed", r.row)
	t.late("flow", "flow", func([]float64) float64 { // where it enters
		if r.backwards {
			return m.oilIn(r.intake) - m.oilIn(r.other.way)
		}
		return m.oilIn(r.intake) + m.oilIn(r.slip.way)
	})
	t.late("slip", "flow", func([]float64) float64 { return m.oilIn(r.slip.way) + m.oilIn(r.other.way) })
	t.late("drop", "pressure-difference", func([]float64) float64 { return m.drop(r.intake) })
}
