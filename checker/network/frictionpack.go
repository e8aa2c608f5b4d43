package network

import (
	"math"

	"headroom/checker/friction"
	"headroom/specs"
)

var _ = register(newFrictionPack)

// A frictionPack is a spring-applied clutch or brake: its clamp is what the
// release cylinder leaves of the spring. Its load turns with the rotation of its
// output; one below zero drives it forwards, as that of a motor does.
type frictionPack struct {
	part             *specs.FrictionPack
	cylinder         *cylinder
	head             int
	radius           float64
	faces            int
	takeUp, released float64
	inertia          float64
	input, load      *input
	output, plates   int

	oo, oP, oX, oT, tO, tP, tX, tT, tHead, heatT, heatHead int32

	pack packNow
}

// packNow is what was computed of a pack at the last evaluation.
type packNow struct {
	clamp, perP, perX    float64
	torque, perSlip      float64
	perClamp, muT        float64
	dragX                float64
	slip, in             float64
	heat, rate, capacity float64
	capacityT, against   float64
}

func newFrictionPack(b *builder, p *specs.FrictionPack) element {
	f := &frictionPack{
		part: p, faces: p.Faces.Value, takeUp: p.TakeUp.SI,
		released: friction.FullLift(p.TakeUp.SI, p.Faces.Value, p.Clearance.SI),
		inertia:  p.Driven.Inertia.SI,
		load:     b.follow(b.m.spec.Loads, p.Name, p.Driven.Load.SI),
		output:   b.state(shaftState, p.Name), plates: b.state(platesState, p.Name),
	}
	contact := friction.UniformWear
	if p.Contact.Value == "uniform-pressure" {
		contact = friction.UniformPressure
	}
	f.radius = friction.Radius(contact, p.InnerRadius.SI, p.OuterRadius.SI)
	f.input = constant(0)
	if d := b.drive(p.Name); d != nil && len(d.Speed.Points) > 0 {
		f.input = profile(d.Speed)
	}
	b.input(f.input)
	b.late = append(b.late, func() { f.join(b) })
	return f
}

// join finds the release cylinder.
func (f *frictionPack) join(b *builder) {
	c, is := b.m.byPart[f.part.ReleasedBy.Value].(*cylinder)
	if !is {
		b.fail("%s is released by %s, which is no cylinder", f.part.Name, f.part.ReleasedBy.Value)
		return
	}
	f.cylinder, f.head = c, c.head
	n := &b.m.nodes[f.head]
	for _, s := range [...]struct {
		slot        *int32
		row, column int
	}{
		{&f.oo, f.output, f.output}, {&f.oP, f.output, n.column}, {&f.oX, f.output, c.position}, {&f.oT, f.output, f.plates},
		{&f.tO, f.plates, f.output}, {&f.tP, f.plates, n.column}, {&f.tX, f.plates, c.position}, {&f.tT, f.plates, f.plates},
		{&f.tHead, f.plates, n.heatRow}, {&f.heatT, n.heatRow, f.plates}, {&f.heatHead, n.heatRow, n.heatRow},
	} {
		b.slot(s.slot, s.row, s.column)
	}
	b.kink(restingPosition, func(_ *model, y []float64) float64 { return y[c.position] - f.takeUp })
	if f.part.Drag.SI > 0 && f.released > f.takeUp {
		b.kink(restingPosition, func(_ *model, y []float64) float64 { return y[c.position] - f.released })
	}
	b.kink(restingForce, func(m *model, y []float64) float64 {
		return f.cylinder.preload - (m.pressure(f.head, y)-m.air)*c.headArea
	})
}

func (f *frictionPack) begin(m *model, y, keep []float64) {
	y[f.output] = m.spec.Begins.Output.SI
	y[f.plates] = m.spec.Begins.Plates.SI
	if keep != nil {
		y[f.plates] = keep[f.plates]
	}
}

func (f *frictionPack) flow(m *model, t float64, y, dy []float64) {
	s := &f.pack
	head := &m.nodes[f.head]
	x, plates := y[f.cylinder.position], y[f.plates]
	s.clamp, s.perP, s.perX = friction.Clamp(f.cylinder.preload, head.p-m.air, f.cylinder.headArea, x, f.takeUp)
	s.in = f.input.at(t)
	s.slip = s.in - y[f.output]
	mu, muT := at(&f.part.Friction, plates)
	drag, dragX := f.drag(x)
	s.torque, s.perSlip, s.perClamp = friction.Torque(mu, f.faces, f.radius, s.clamp, drag, s.slip)
	s.dragX = dragX * s.torque / max(drag+mu*float64(f.faces)*f.radius*s.clamp, tiny)
	s.muT = muT / mu * s.perClamp * s.clamp
	s.capacity, s.capacityT = at(&f.part.Plates.SpecificHeat, plates)
	s.capacity *= f.part.Plates.Mass.SI
	s.capacityT *= f.part.Plates.Mass.SI
	s.heat = s.torque * s.slip
	toHead := f.part.ToCylinder.SI * (plates - head.T)
	s.rate = (s.heat - f.part.ToAir.SI*(plates-m.ambient) - toHead) / s.capacity
	head.heat += toHead
	sign, slope := friction.Rounded(y[f.output], loadRounding)
	load := f.load.at(t)
	resisting := load * sign
	s.against = load * slope
	if load < 0 { // it drives the output on, whichever way that turns
		resisting, s.against = load, 0
	}
	dy[f.output] = (s.torque - resisting) / f.inertia
	dy[f.plates] = s.rate
}

// tiny keeps a quotient of two nothings from being no number.
const tiny = 1e-300

// drag is the torque of the faces as they part, growing over the clearance,
// and its slope along the lift.
func (f *frictionPack) drag(x float64) (torque, perX float64) {
	from := f.takeUp
	if f.released <= from {
		from = 0
	}
	full := f.part.Drag.SI
	switch {
	case x <= from:
		return 0, 0
	case x >= f.released:
		return full, 0
	}
	return full * (x - from) / (f.released - from), full / (f.released - from)
}

// at is a table and its slope, linear between points, the ends held.
func at(t *specs.Table, x float64) (value, slope float64) {
	p := t.Points
	if len(p) == 0 {
		return math.NaN(), 0
	}
	if x <= p[0].X || len(p) == 1 {
		return p[0].Y, 0
	}
	for i := 1; i < len(p); i++ {
		if x < p[i].X {
			slope = (p[i].Y - p[i-1].Y) / (p[i].X - p[i-1].X)
			return p[i-1].Y + slope*(x-p[i-1].X), slope
		}
	}
	return p[len(p)-1].Y, 0
}

func (f *frictionPack) slopes(_ *model, _, j []float64) {
	s := &f.pack
	perX, perP := s.perClamp*s.perX+s.dragX, s.perClamp*s.perP
	j[f.oo] -= (s.perSlip + s.against) / f.inertia
	j[f.oP] += perP / f.inertia
	j[f.oX] += perX / f.inertia
	j[f.oT] += s.muT / f.inertia
	j[f.tO] -= (s.perSlip*s.slip + s.torque) / s.capacity
	j[f.tP] += perP * s.slip / s.capacity
	j[f.tX] += perX * s.slip / s.capacity
	lost := f.part.ToAir.SI + f.part.ToCylinder.SI
	j[f.tT] += (s.muT*s.slip - lost - s.rate*s.capacityT) / s.capacity
	j[f.tHead] += f.part.ToCylinder.SI / s.capacity
	j[f.heatT] += f.part.ToCylinder.SI
	j[f.heatHead] -= f.part.ToCylinder.SI
}

func (f *frictionPack) work(m *model, y []float64, e *powers) {
	e.pack += f.pack.heat
	e.toAir += f.part.ToAir.SI * (y[f.plates] - m.ambient)
	e.plates += f.pack.rate * f.pack.capacity
}

func (f *frictionPack) tell(t *teller) {
	t.state("output_speed", "rotational-speed", f.output)
	t.state("plate_temperature", "temperature", f.plates)
	t.late("torque", "torque", func([]float64) float64 { return f.pack.torque })
	t.late("power", "power", func([]float64) float64 { return f.pack.heat })
	t.value("clamp", "force", func([]float64) float64 { return f.pack.clamp })
	t.value("input_speed", "rotational-speed", func([]float64) float64 { return f.pack.in })
	t.engagements(f)
}
