package network

import (
	"math"

	"headroom/checker/friction"
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newCylinder)

const (
	stopDepth    = 1e-3  // of the stroke: how far F_ref presses a stop in
	stopPressure = 200e5 // Pa, on the head area: F_ref where no spring is stronger
)

// A cylinder moves a mass against spring, load, friction and its stops.
type cylinder struct {
	part               *specs.Cylinder
	head, rod          int // nodes; rod −1: single acting
	headArea, rodArea  float64
	headIn, rodIn      float64 // volume per position, of the nodes
	mass, stroke       float64
	preload, rate      float64
	coulomb, viscous   float64
	load               *input
	stiffness, damping float64 // of a stop
	depth              float64
	position, velocity int

	xv, vx, vv, headV, rodV, vHead, vRod int32

	drive, resisting, stop   float64 // forces of the last evaluation
	perSpeed, perX, stopPerV float64
}

func newCylinder(b *builder, p *specs.Cylinder) element {
	c := &cylinder{
		part: p, head: b.node(p.Head), rod: -1,
		headArea: resistance.CircleArea(p.Bore.SI),
		mass:     p.MovingMass.SI, stroke: p.Stroke.SI,
		coulomb: p.Friction.Coulomb.SI, viscous: p.Friction.Viscous.SI,
		load:     b.follow(b.m.spec.Loads, p.Name, p.Load.SI),
		position: b.state(positionState, p.Name), velocity: b.state(velocityState, p.Name),
	}
	if p.Spring != nil {
		c.preload, c.rate = p.Spring.Preload.SI, p.Spring.Rate.SI
	}
	c.depth = stopDepth * c.stroke
	c.stiffness = max(c.preload, stopPressure*c.headArea) / c.depth
	c.damping = 2 * math.Sqrt(c.stiffness*c.mass)
	c.chambers(b)
	b.slot(&c.xv, c.position, c.velocity)
	b.slot(&c.vx, c.velocity, c.position)
	b.slot(&c.vv, c.velocity, c.velocity)
	b.kink(restingPosition, func(_ *model, y []float64) float64 { return y[c.position] })
	b.kink(restingPosition, func(_ *model, y []float64) float64 { return y[c.position] - c.stroke })
	return c
}

// chambers joins the cylinder to its nodes.
func (c *cylinder) chambers(b *builder) {
	m, p := b.m, c.part
	h := &m.nodes[c.head]
	h.volume += p.DeadVolume.Head.SI
	c.headIn = b.chamber(c.head, c.position, c.headArea)
	b.slot(&c.headV, h.row, c.velocity)
	b.slot(&c.vHead, c.velocity, h.column)
	b.slot(&c.rodV, h.row, -1)
	b.slot(&c.vRod, c.velocity, -1)
	if !p.Rod.Given() {
		return
	}
	c.rod = b.node(p.Rod)
	c.rodArea = c.headArea - resistance.CircleArea(p.RodDiameter.SI)
	r := &m.nodes[c.rod]
	r.volume += p.DeadVolume.Rod.SI + c.rodArea*c.stroke
	c.rodIn = b.chamber(c.rod, c.position, -c.rodArea)
	b.slot(&c.rodV, r.row, c.velocity)
	b.slot(&c.vRod, c.velocity, r.column)
}

// begin puts the cylinder where the case has it: by default, and wherever it
// is to stand at a stop, in balance with the stop.
func (c *cylinder) begin(m *model, y, _ []float64) {
	x := 0.0
	for _, p := range m.spec.Begins.Positions {
		if p.Name == c.part.Name {
			x = p.Value.SI
		}
	}
	push := c.push(m) - c.load.at(0)
	switch {
	case x <= 0:
		x = min(0, (push-c.preload)/(c.rate+c.stiffness))
	case x >= c.stroke:
		x = c.stroke + max(0, (push-c.preload-c.rate*c.stroke)/(c.rate+c.stiffness))
	}
	y[c.position], y[c.velocity] = x, 0
	c.fill(m, x)
}

// fill adds the chambers to the volumes of their nodes.
func (c *cylinder) fill(m *model, x float64) {
	m.nodes[c.head].chambers += c.headIn * x
	if c.rod >= 0 {
		m.nodes[c.rod].chambers += c.rodIn * x
	}
}

// chamber makes a node's volume change with a position; that of a reservoir is
// its content alone.
func (b *builder) chamber(node, position int, area float64) float64 {
	if b.m.nodes[node].reservoir {
		return 0
	}
	b.vary(node, position, area, false)
	return area
}

// push is the force of the pressures towards extending.
func (c *cylinder) push(m *model) float64 {
	f := (m.nodes[c.head].p - m.air) * c.headArea
	if c.rod >= 0 {
		f -= (m.nodes[c.rod].p - m.air) * c.rodArea
	}
	return f
}

func (c *cylinder) flow(m *model, t float64, y, dy []float64) {
	x, v := y[c.position], y[c.velocity]
	c.fill(m, x)
	m.nodes[c.head].sweep(c.headArea * v)
	if c.rod >= 0 {
		m.nodes[c.rod].sweep(-c.rodArea * v)
	}
	sign, slope := friction.Rounded(v, friction.SlidingRounding)
	c.drive = c.push(m)
	c.resisting = c.preload + c.rate*x + c.load.at(t) + c.coulomb*sign + c.viscous*v
	c.perSpeed = c.coulomb*slope + c.viscous
	c.stop, c.perX, c.stopPerV = c.against(x, v)
	dy[c.position] = v
	dy[c.velocity] = (c.drive - c.resisting + c.stop) / c.mass
}

// against is the force of the stops towards extending, and its slopes. A stop
// is a spring, critically damped, the damping fading in over its depth; it
// never pulls.
func (c *cylinder) against(x, v float64) (force, perX, perV float64) {
	in, inward, sign := -x, -v, 1.0
	if x > c.stroke {
		in, inward, sign = x-c.stroke, v, -1
	}
	if in <= 0 {
		return 0, 0, 0
	}
	fade, perFade := 1.0, 0.0
	if in < c.depth {
		fade, perFade = in/c.depth, 1/c.depth
	}
	f := c.stiffness*in + c.damping*fade*inward
	if f <= 0 {
		return 0, 0, 0
	}
	return sign * f, -(c.stiffness + c.damping*perFade*inward), -c.damping * fade
}

func (c *cylinder) slopes(_ *model, _, j []float64) {
	j[c.headV] -= c.headArea
	j[c.rodV] += c.rodArea
	j[c.xv]++
	j[c.vx] += (c.perX - c.rate) / c.mass
	j[c.vv] += (c.stopPerV - c.perSpeed) / c.mass
	j[c.vHead] += c.headArea / c.mass
	j[c.vRod] -= c.rodArea / c.mass
}

func (c *cylinder) work(_ *model, y []float64, e *powers) { e.work += c.drive * y[c.velocity] }

func (c *cylinder) tell(t *teller) {
	t.state("position", "length", c.position)
	t.add(channel{name: "speed", dim: "velocity", state: c.velocity, from: startTransient})
}
