package network

import (
	"headroom/checker/fluid"
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newPump)

// slipping is the leakage past a pump's or motor's displacement: C_s D Δp/μ.
type slipping struct {
	way         *passage
	conductance float64 // C_s D, m³
	inlet       int     // the node whose viscosity counts
}

// newSlip takes the leakage from what a rating lacks: missing (m³/s) at its
// pressure, its viscosity made dynamic with the density of ratings.
func newSlip(b *builder, from, drain, inlet int, missing float64, at *specs.RatedAt) slipping {
	n := &b.m.nodes[inlet]
	return slipping{
		way:         b.passage(from, drain, 1, n.column, n.heatRow),
		conductance: missing * at.Viscosity.SI * resistance.RatedDensity / at.Pressure.SI,
		inlet:       inlet,
	}
}

func (s *slipping) flow(m *model) {
	n := &m.nodes[s.inlet]
	g := s.conductance / n.oil.mu
	q := g * m.drop(s.way)
	s.way.law = law{q: q, perPA: g, perPB: -g, perFirst: -q * n.oil.muP / n.oil.mu, perOther: -q * n.oil.muT / n.oil.mu}
	m.pass(s.way)
}

// A pump moves oil by displacement and lets some slip to its drain.
type pump struct {
	part         *specs.Pump
	delivery     *passage
	slip         slipping
	speed        *input
	displacement float64 // m³/rad
	efficiency   float64
	drag         float64
	compensator  *compensator
	running      float64 // rad/s, of the last evaluation
	switched     *pressureSwitch
}

// compensator is the pressure control of a pump: du/dt = (u_w − u)/lag,
// u_w = clamp(1 + (set − p_to)/band, 0, 1).
type compensator struct {
	set, band, lag float64
	row            int
	perU, perP     int32
	wanted, slope  float64
}

func newPump(b *builder, p *specs.Pump) element {
	from, to, drain := b.node(p.From), b.node(p.To), b.node(p.Drain)
	u := &pump{part: p, displacement: p.Displacement.SI, efficiency: p.MechanicalEfficiency.SI, drag: p.Drag.SI}
	column := -1
	if c := p.Compensator; c != nil {
		u.compensator = &compensator{set: c.Set.SI, band: c.Band.SI, lag: c.Lag.SI, row: b.state(strokeState, p.Name)}
		column = u.compensator.row
		b.slot(&u.compensator.perU, column, column)
		b.slot(&u.compensator.perP, column, b.m.nodes[to].column)
		b.kinkAtPressure(to, c.Set.SI)
		b.kinkAtPressure(to, c.Set.SI+c.Band.SI)
	}
	u.delivery = b.passage(from, to, 0, column)
	u.slip = newSlip(b, to, drain, from, u.displacement*p.Delivers.Cond.Speed.SI-p.Delivers.Flow.SI, &p.Delivers.Cond)
	u.speed = b.driven(u, p.Name)
	return u
}

// driven is the input for a pump's speed.
func (b *builder) driven(u *pump, name string) *input {
	d := b.drive(name)
	switch {
	case d == nil:
		return b.input(constant(0))
	case d.Switch != nil:
		in := b.input(constant(0))
		u.switched = b.pressureSwitch(in, d.Switch)
		return in
	}
	return b.input(profile(d.Speed))
}

func (u *pump) begin(m *model, y, _ []float64) {
	if c := u.compensator; c != nil {
		y[c.row], _ = c.want(m.nodes[u.delivery.b].p)
	}
}

// want is the displacement the compensator moves to, as a share, and its slope.
func (c *compensator) want(p float64) (share, slope float64) {
	w := 1 + (c.set-p)/c.band
	switch {
	case w >= 1:
		return 1, 0
	case w <= 0:
		return 0, 0
	}
	return w, -1 / c.band
}

func (u *pump) flow(m *model, t float64, y, dy []float64) {
	u.running = u.speed.at(t)
	full := u.displacement * u.running
	u.delivery.law = law{q: full}
	if c := u.compensator; c != nil {
		u.delivery.law = law{q: full * y[c.row], perFirst: full}
		c.wanted, c.slope = c.want(m.nodes[u.delivery.b].p)
		dy[c.row] = (c.wanted - y[c.row]) / c.lag
	}
	// The loss D n |Δp| (1/η − 1) heats the outlet.
	u.delivery.heats = 1/u.efficiency - 1
	if m.drop(u.delivery) < 0 {
		u.delivery.heats = -u.delivery.heats
	}
	m.pass(u.delivery)
	u.slip.flow(m)
}

func (u *pump) slopes(_ *model, _, j []float64) {
	if c := u.compensator; c != nil {
		j[c.perU] -= 1 / c.lag
		j[c.perP] += c.slope / c.lag
	}
}

// shaft is the power that presses oil, less drag.
func (u *pump) shaft(m *model) float64 {
	dp := m.drop(u.delivery)
	return u.delivery.q * (u.delivery.heats - 1) * dp
}

func (u *pump) work(m *model, _ []float64, e *powers) { e.shaft += u.shaft(m) }

func (u *pump) tell(t *teller) {
	m := t.m
	t.late("flow", "flow", func([]float64) float64 { return m.oilIn(u.delivery) - m.oilIn(u.slip.way) })
	t.late("slip", "flow", func([]float64) float64 { return m.oilIn(u.slip.way) })
	t.late("power", "power", func([]float64) float64 { return u.shaft(m) + u.drag*u.running })
	t.value("inlet_pressure_absolute", "absolute-pressure", func([]float64) float64 { return m.nodes[u.delivery.a].p })
	t.value("inlet_viscosity", "kinematic-viscosity", func([]float64) float64 { return m.nodes[u.delivery.a].oil.nu })
	t.value("speed", "rotational-speed", func([]float64) float64 { return u.running })
	if u.compensator != nil {
		t.state("swivel", "number", u.compensator.row)
	} else {
		t.value("swivel", "number", func([]float64) float64 { return 1 })
	}
}

// swelling is how much the volume of the oil at T is that at 15 °C, at p0.
func (m *model) swelling(T float64) float64 {
	return m.oil.law.Density15 / m.oil.law.Density(T, fluid.ReferencePressure)
}
