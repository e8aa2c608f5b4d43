package drawing

import (
	"math"

	"headroom/specs"
)

// The symbols follow the grammar of ISO 1219-1 (from memory, not traced): a circle
// turns, a square controls, a diamond conditions, a filled triangle points with the
// oil, a dashed line pilots or drains. Working ports lie on the upper and lower edge,
// the flow runs upwards unless the symbol is turned over.

const unit = 10.0 // the drawing's module; squares of valves have four

// symbolOf draws a part. down tells that both working ports of a user look down; w and
// h are the extent of its name, for the kind that has it inside.
func symbolOf(p specs.Part, air float64, down bool, w, h float64) *glyph {
	switch p := p.(type) {
	case *specs.Reservoir:
		return reservoir(p.Pressure.Given() && p.Pressure.SI > air+1)
	case *specs.Pump:
		return pump(p)
	case *specs.Accumulator:
		return accumulator(p.Type.Value)
	case *specs.Tube:
		return tube()
	case *specs.Hose:
		return hose()
	case *specs.Orifice:
		return orifice()
	case *specs.CheckValve:
		return checkValve(p.Cracking.SI > 0)
	case *specs.PilotCheckValve:
		return pilotCheckValve(p.Cracking.SI > 0)
	case *specs.ShuttleValve:
		return shuttleValve()
	case *specs.ReliefValve:
		return reliefValve()
	case *specs.FlowRegulator:
		return flowRegulator()
	case *specs.Filter:
		return filter(p.Bypass.Given())
	case *specs.Cooler:
		return cooler()
	case *specs.DirectionalValve:
		return directionalValve(p)
	case *specs.ReducingValve:
		return reducingValve(p.Rest.SI > air+1)
	case *specs.Cylinder:
		return cylinder(p.Rod.Given(), p.Spring != nil)
	case *specs.Motor:
		return motor(p, down)
	case *specs.Consumer:
		return consumer(down, w, h)
	case *specs.FrictionPack:
		return frictionPack()
	}
	return unknown(p)
}

// reservoir is an open tank whose pipe ends below the level, or a closed one under pressure.
func reservoir(pressed bool) *glyph {
	g := &glyph{w: 6 * unit, h: 4 * unit}
	if pressed {
		g.curve(outline, 10, 12, -3, 12, -3, 38, 10, 38)
		g.curve(outline, 50, 12, 63, 12, 63, 38, 50, 38)
		g.line(outline, 10, 12, 50, 12)
		g.line(outline, 10, 38, 50, 38)
	} else {
		g.line(outline, 0, 14, 0, 38, 60, 38, 60, 14)
	}
	g.line(detail, 30, 0, 30, 31)
	g.pin("at", 30, true)
	return g
}

// tankSize is the frame of a small reservoir that closes a line.
const (
	tankWidth  = 2 * unit
	tankHeight = 2 * unit
)

// smallTank is a reservoir drawn again where a line returns to it.
func smallTank(g *glyph, x, y float64, s style) {
	g.line(s, x, y, x, y+13)
	g.line(outline, x-10, y+8, x-10, y+18, x+10, y+18, x+10, y+8)
}

func pump(p *specs.Pump) *glyph {
	g := &glyph{w: 7.4 * unit, h: 8 * unit}
	x, y := 4*unit, 4*unit
	shaft(g, x-26, y)
	g.circle(outline, x, y, 26)
	g.ring(solid, x, y-26, x-8, y-12, x+8, y-12)
	g.line(detail, x, 0, x, y-26)
	g.line(detail, x, y+26, x, g.h)
	if p.Compensator != nil {
		g.w += 2 * unit
		g.line(detail, x-24, y+24, x+24, y-24)
		g.arrow(x+25, y-25, 1, -1, 9)
		g.rect(outline, x+29, y-10, 16, 16)
		g.line(dashed, x, 6, x+37, 6, x+37, y-10)
		g.line(detail, x+37, y+3, x+37, y-4)
		g.arrow(x+37, y-8, 0, -1, 6)
		g.spring(x+45, y-2, x+54, y-2, 8, 2)
		g.line(detail, x+29, y-2, x+26, y-2)
	}
	g.pin("from", x, false)
	g.pin("to", x, true)
	drain(g, x, y, p.Drain)
	return g
}

// shaft is the driven or driving shaft at the left of a circle, and its sense of rotation.
func shaft(g *glyph, x, y float64) {
	g.line(detail, x-14, y-3, x, y-3)
	g.line(detail, x-14, y+3, x, y+3)
	g.curve(detail, x-10, y+10, x-4, y+5, x-4, y-5, x-10, y-9)
	g.arrow(x-12, y-11, -1, -0.9, 6)
}

// drain is the case drain of a pump or motor about x, y.
func drain(g *glyph, x, y float64, port specs.Port) {
	if !port.Given() {
		return
	}
	g.line(dashed, x+23, y+12, x+30, y+12, x+30, g.h)
	g.pins = append(g.pins, pin{key: "drain", x: x + 30, dashed: true})
}

func motor(p *specs.Motor, down bool) *glyph {
	g := &glyph{w: 7.4 * unit, h: 8 * unit}
	x, y := 4*unit, 4*unit
	shaft(g, x-26, y)
	g.circle(outline, x, y, 26)
	g.ring(solid, x, y+12, x-8, y+26, x+8, y+26)
	g.line(detail, x, y+26, x, g.h)
	g.pin("from", x, false)
	if down {
		g.w += 2.6 * unit
		g.line(detail, x, y-26, x, y-33, x+54, y-33, x+54, g.h)
		g.pin("to", x+54, false)
	} else {
		g.line(detail, x, 0, x, y-26)
		g.pin("to", x, true)
	}
	drain(g, x, y, p.Drain)
	return g
}

// accumulator is a capsule, the gas above: a bladder, diaphragm or piston parts it from the oil.
func accumulator(separator string) *glyph {
	g := &glyph{w: 4 * unit, h: 8 * unit}
	g.curve(outline, 6, 18, 6, 1, 34, 1, 34, 18)
	g.curve(outline, 6, 52, 6, 69, 34, 69, 34, 52)
	g.line(outline, 6, 18, 6, 52)
	g.line(outline, 34, 18, 34, 52)
	switch separator {
	case "bladder":
		g.curve(detail, 13, 7, 6, 26, 8, 44, 20, 44, 32, 44, 34, 26, 27, 7)
	case "piston":
		g.rect(detail, 6, 33, 28, 6)
	case "diaphragm":
		g.curve(detail, 6, 35, 11, 47, 29, 47, 34, 35)
	default:
		g.line(detail, 6, 36, 34, 36)
	}
	g.ring(detail, 20, 26, 15, 17, 25, 17)
	g.line(detail, 20, 64.7, 20, g.h)
	g.pin("at", 20, false)
	return g
}

// tube is a working line with a tick at either end, so that its name has an extent.
func tube() *glyph {
	g := &glyph{w: 2 * unit, h: 5 * unit}
	g.line(outline, 10, 0, 10, g.h)
	g.line(detail, 6, 6, 14, 6)
	g.line(detail, 6, g.h-6, 14, g.h-6)
	inline(g, 10)
	return g
}

// hose is a slack line between two fixed ends.
func hose() *glyph {
	g := &glyph{w: 3 * unit, h: 5 * unit}
	g.line(detail, 20, 0, 20, 6)
	g.curve(outline, 20, 6, 2, 12, 2, g.h-12, 20, g.h-6)
	g.line(detail, 20, g.h-6, 20, g.h)
	g.circle(solid, 20, 6, 2.6)
	g.circle(solid, 20, g.h-6, 2.6)
	inline(g, 20)
	return g
}

// inline gives a symbol its two ports: from below, to above.
func inline(g *glyph, x float64) {
	g.pin("from", x, false)
	g.pin("to", x, true)
}

// orifice narrows the line between two edges: flow that viscosity does not change.
func orifice() *glyph {
	g := &glyph{w: 4 * unit, h: 5 * unit}
	g.line(detail, 20, 0, 20, g.h)
	g.line(outline, 6, 14, 16, 25, 6, 36)
	g.line(outline, 34, 14, 24, 25, 34, 36)
	inline(g, 20)
	return g
}

// seat is a ball on its seat, with the spring that gives it a cracking pressure.
func seat(g *glyph, x, y float64, sprung bool, top, bottom float64) {
	g.line(outline, x-11, y-6, x, y+9, x+11, y-6)
	g.circle(outline, x, y-3.6, 7)
	g.line(detail, x, bottom, x, y+9)
	if sprung {
		g.spring(x, y-10.6, x, y-24, 9, 2)
		g.line(detail, x-6, y-24, x+6, y-24)
		g.line(detail, x, y-24, x, top)
		return
	}
	g.line(detail, x, y-10.6, x, top)
}

func checkValve(sprung bool) *glyph {
	g := &glyph{w: 4 * unit, h: 5 * unit}
	seat(g, 20, 33, sprung, 0, g.h)
	inline(g, 20)
	return g
}

// pilotCheckValve is a check valve that pilot pressure opens against the flow.
func pilotCheckValve(sprung bool) *glyph {
	g := &glyph{w: 6 * unit, h: 6 * unit}
	seat(g, 22, 38, sprung, 0, g.h)
	g.rect(frame, 4, 8, 36, 44)
	g.line(dashed, 50, g.h, 50, 44, 25, 44)
	inline(g, 22)
	g.pins = append(g.pins, pin{key: "pilot", x: 50, dashed: true})
	return g
}

// shuttleValve passes the higher of two pressures: one ball between two seats.
func shuttleValve() *glyph {
	g := &glyph{w: 6 * unit, h: 5 * unit}
	g.rect(frame, 6, 10, 48, 30)
	g.line(detail, 0+10, g.h, 10, 25, 14, 25)
	g.line(outline, 23, 15, 14, 25, 23, 35)
	g.circle(outline, 26, 25, 6)
	g.line(outline, 37, 15, 46, 25, 37, 35)
	g.line(detail, 46, 25, 50, 25, 50, g.h)
	g.line(detail, 32, 0, 32, 22)
	g.pin("a", 10, false)
	g.pin("b", 50, false)
	g.pin("to", 32, true)
	return g
}

// reliefValve is closed at rest: its arrow stands beside the ports until the inlet's
// pilot pressure overcomes the spring.
func reliefValve() *glyph {
	g := &glyph{w: 7 * unit, h: 7 * unit}
	g.rect(outline, 14, 17, 36, 36)
	g.line(detail, 32, 0, 32, 17)
	g.line(detail, 32, 53, 32, g.h)
	g.line(detail, 23, 49, 23, 27)
	g.arrow(23, 20, 0, -1, 8)
	g.line(dashed, 32, 61, 6, 61, 6, 35, 14, 35)
	g.spring(50, 35, 68, 35, 12, 3)
	inline(g, 32)
	return g
}

// flowRegulator holds a flow whatever the pressures: a throttle, and the arrow on the
// line that stands for compensation of pressure.
func flowRegulator() *glyph {
	g := &glyph{w: 5 * unit, h: 6 * unit}
	g.rect(outline, 5, 10, 40, 40)
	g.line(detail, 25, 0, 25, g.h)
	g.curve(outline, 13, 20, 22, 25, 22, 35, 13, 40)
	g.curve(outline, 37, 20, 28, 25, 28, 35, 37, 40)
	g.arrow(25, 11, 0, -1, 8)
	inline(g, 25)
	return g
}

// filter is a diamond with its mesh across the flow, and the valve that lets the flow
// past it once it clogs.
func filter(bypass bool) *glyph {
	g := &glyph{w: 5 * unit, h: 6 * unit}
	x := 25.0
	if bypass {
		g.w, x = 7*unit, 45
		g.line(detail, x, 4, 9, 4, 9, 13)
		g.spring(9, 13, 9, 22, 7, 2)
		g.circle(outline, 9, 27, 5)
		g.line(outline, 1, 26, 9, 36, 17, 26)
		g.line(detail, 9, 36, 9, 56, x, 56)
		g.circle(solid, x, 4, 2)
		g.circle(solid, x, 56, 2)
	}
	g.ring(outline, x, 8, x+22, 30, x, 52, x-22, 30)
	g.line(dashed, x-22, 30, x+22, 30)
	g.line(detail, x, 0, x, 8)
	g.line(detail, x, 52, x, g.h)
	inline(g, x)
	return g
}

// cooler is a diamond that heat leaves on both sides.
func cooler() *glyph {
	g := &glyph{w: 6 * unit, h: 6 * unit}
	g.ring(outline, 30, 8, 52, 30, 30, 52, 8, 30)
	g.line(detail, 30, 0, 30, 8)
	g.line(detail, 30, 52, 30, g.h)
	g.line(detail, 32, 30, 43, 30)
	g.arrow(51, 30, 1, 0, 9)
	g.line(detail, 28, 30, 17, 30)
	g.arrow(9, 30, -1, 0, 9)
	inline(g, 30)
	return g
}

const square = 4 * unit // a valve's position

// directionalValve is three squares: the spool above 0, at 0 and below 0. The ports
// stand at the position of rest; a spring holds it, a solenoid moves it away.
func directionalValve(p *specs.DirectionalValve) *glyph {
	const end, top = 2.2 * unit, 1 * unit // an operator's length; where the squares begin
	g := &glyph{w: 3*square + 2*end, h: square + 2*unit, spot: beneath, below: top + square}
	ports := valvePorts{g: g, top: top, low: top + square, left: 10, right: 30, four: p.B.Given()}
	if !ports.four {
		ports.left = 12
	}
	for i, position := range []func(x float64){ports.forwards, ports.closed, ports.backwards} {
		x := end + float64(i)*square
		g.rect(outline, x, top, square, square)
		position(x)
	}
	rest := restOf(p)
	ports.lines(end + float64(rest)*square)
	operators(g, end, top, rest)
	return g
}

// restOf is the square that a spool rests nearest to.
func restOf(p *specs.DirectionalValve) int {
	switch {
	case p.Rest.SI >= 0.5:
		return 0
	case p.Rest.SI <= -0.5:
		return 2
	}
	return 1
}

// valvePorts are where the ports of a directional valve meet its squares: p and a in
// the left column, t and b in the right.
type valvePorts struct {
	g           *glyph
	top, low    float64
	left, right float64
	four        bool // there is a port b
}

// forwards is the spool above 0: p to a, b to t.
func (v valvePorts) forwards(x float64) {
	v.straight(x+v.left, v.low, v.top)
	if v.four {
		v.straight(x+v.right, v.top, v.low)
	} else {
		v.blocked(x+v.right, v.low, -8)
	}
}

// closed is the spool at 0.
func (v valvePorts) closed(x float64) {
	v.blocked(x+v.left, v.low, -8)
	v.blocked(x+v.right, v.low, -8)
	v.blocked(x+v.left, v.top, 8)
	if v.four {
		v.blocked(x+v.right, v.top, 8)
	}
}

// backwards is the spool below 0: a to t, p to b.
func (v valvePorts) backwards(x float64) {
	v.g.line(detail, x+v.left, v.top, x+v.right, v.low)
	v.g.arrow(x+v.right, v.low, v.right-v.left, square, 7)
	if v.four {
		v.g.line(detail, x+v.left, v.low, x+v.right, v.top)
		v.g.arrow(x+v.right, v.top, v.right-v.left, -square, 7)
	} else {
		v.blocked(x+v.left, v.low, -8)
	}
}

func (v valvePorts) straight(x, from, to float64) {
	v.g.line(detail, x, from, x, to)
	v.g.arrow(x, to, 0, to-from, 7)
}

func (v valvePorts) blocked(x, edge, inwards float64) {
	v.g.line(detail, x, edge, x, edge+inwards)
	v.g.line(detail, x-5, edge+inwards, x+5, edge+inwards)
}

// lines lead from the square of rest to the glyph's edges.
func (v valvePorts) lines(x float64) {
	for _, port := range []struct {
		key, letter string
		x           float64
		top         bool
	}{{"p", "P", x + v.left, false}, {"t", "T", x + v.right, false}, {"a", "A", x + v.left, true}, {"b", "B", x + v.right, true}} {
		switch {
		case port.key == "b" && !v.four:
			continue
		case port.top:
			v.g.line(detail, port.x, 0, port.x, v.top)
			v.g.letters(port.letter, port.x-6, v.top-2.5)
		default:
			v.g.line(detail, port.x, v.low, port.x, v.g.h)
			v.g.letters(port.letter, port.x-6, v.low+8.5)
		}
		v.g.pin(port.key, port.x, port.top)
	}
}

// operators are a spring towards rest and a solenoid for each way out of it.
func operators(g *glyph, end, y float64, rest int) {
	spring := func(left bool, at float64) {
		if left {
			g.spring(1, at, end, at, 10, 3)
		} else {
			g.spring(g.w-end, at, g.w-1, at, 10, 3)
		}
	}
	coil := func(left bool, at float64) {
		x := g.w - end
		if left {
			x = end - 16
		}
		g.rect(outline, x, at-8, 16, 16)
		if left {
			g.line(detail, x+4, at-8, x+12, at+8)
		} else {
			g.line(detail, x+12, at-8, x+4, at+8)
		}
	}
	switch rest {
	case 0: // the spring pushes the spool above 0, the coil pulls it below
		spring(true, y+square/2)
		coil(false, y+square/2)
	case 2:
		coil(true, y+square/2)
		spring(false, y+square/2)
	default:
		for _, left := range []bool{true, false} {
			coil(left, y+11)
			spring(left, y+29)
		}
	}
}

// reducingValve holds the pressure at a that its coil commands: a to t while too high,
// p to a while too low; the held pressure pilots it against the coil. The lines along
// its squares say that it stands anywhere between.
func reducingValve(opened bool) *glyph {
	const end, y = 2.2 * unit, 1.4 * unit
	g := &glyph{w: 2*square + 2*end, h: square + 2.8*unit}
	top, low := y, y+square
	for i := range 2 {
		g.rect(outline, end+float64(i)*square, y, square, square)
	}
	g.line(detail, end, top-4, end+2*square, top-4)
	g.line(detail, end, low+4, end+2*square, low+4)
	// left square: a to t, p closed; right square: p to a, t closed
	g.line(detail, end+12, top, end+30, low)
	g.arrow(end+30, low, 18, square, 7)
	g.line(detail, end+12, low, end+12, low-8)
	g.line(detail, end+7, low-8, end+17, low-8)
	r := end + square
	g.line(detail, r+12, low, r+12, top)
	g.arrow(r+12, top, 0, -1, 7)
	g.line(detail, r+30, low, r+30, low-8)
	g.line(detail, r+25, low-8, r+35, low-8)
	x := end
	if opened {
		x = r
	}
	g.line(detail, x+12, 0, x+12, top)
	g.line(detail, x+12, low, x+12, g.h)
	g.line(detail, x+30, low, x+30, g.h)
	g.line(dashed, x+12, 4, 6, 4, 6, y+square/2, end, y+square/2)
	g.rect(outline, r+square, y+12, 16, 16)
	g.line(detail, r+square+12, y+12, r+square+4, y+28)
	g.line(detail, r+square-3, y+33, r+square+15, y+10)
	g.arrow(r+square+19, y+5, 18, -23, 7)
	g.letters("A", x+18, top-6)
	g.letters("P", x+6, low+13)
	g.letters("T", x+24, low+13)
	g.pin("p", x+12, false)
	g.pin("t", x+30, false)
	g.pin("a", x+12, true)
	g.spot, g.below = beneath, low+4
	return g
}

// cylinder has its full area at the left; a spring pushes it in.
func cylinder(double, spring bool) *glyph {
	g := &glyph{w: 12 * unit, h: 5 * unit}
	g.spot = above
	const top, low = 4.0, 34.0
	mid := (top + low) / 2
	g.rect(outline, 0, top, 90, low-top)
	g.rect(outline, 26, top, 8, low-top)
	g.line(outline, 34, mid-4, 118, mid-4, 118, mid+4, 34, mid+4)
	if spring {
		xy := []float64{34, top + 2}
		for i := range 6 {
			y := low - 2
			if i%2 == 1 {
				y = top + 2
			}
			xy = append(xy, 34+float64(i+1)*8, y)
		}
		g.line(detail, append(xy, 90, low-2)...)
	}
	g.line(detail, 10, low, 10, g.h)
	g.pin("head", 10, false)
	if double {
		g.line(detail, 80, low, 80, g.h)
		g.pin("rod", 80, false)
	}
	return g
}

// rodAt is the height of a cylinder's rod, where a friction pack is linked to it.
const rodAt = 19.0

// frictionPack is two combs of plates that turn past each other.
func frictionPack() *glyph {
	g := &glyph{w: 7 * unit, h: 5 * unit, spot: above}
	g.line(outline, 10, 3, 10, 35)
	for i := range 3 {
		x := 20 + float64(i)*12
		g.line(outline, x, 3, x, 15)
		g.line(outline, x, 23, x, 35)
		g.line(detail, x+6, 8, x+6, 30)
	}
	g.line(outline, 20, 3, 50, 3)
	g.line(outline, 20, 35, 50, 35)
	g.line(detail, 26, rodAt-1.6, 66, rodAt-1.6)
	g.line(detail, 26, rodAt+1.6, 66, rodAt+1.6)
	return g
}

// consumer is a plain box about its name: a function known by its flow alone.
func consumer(down bool, w, h float64) *glyph {
	w, h = math.Ceil(max(56, w+16)), max(34, h+10)
	g := &glyph{w: w + 4, h: h + 16, spot: inside}
	g.rect(outline, 2, 4, w, h)
	if down {
		g.line(detail, 16, h+4, 16, g.h)
		g.line(detail, w-12, h+4, w-12, g.h)
		g.arrow(16, h+5, 0, -1, 7)
		g.arrow(w-12, g.h-2, 0, 1, 7)
		g.pin("from", 16, false)
		g.pin("to", w-12, false)
		return g
	}
	x := w/2 + 2
	g.line(detail, x, 0, x, 4)
	g.line(detail, x, h+4, x, g.h)
	g.arrow(x, h+5, 0, -1, 7)
	inline(g, x)
	return g
}

// unknown is a part of a kind that has no symbol: a box with its ports below.
func unknown(p specs.Part) *glyph {
	ports := specs.Ports(p)
	g := &glyph{w: 20*float64(len(ports)) + 20, h: 5 * unit}
	g.rect(outline, 0, 4, g.w, 34)
	for i, port := range ports {
		x := 20 + 20*float64(i)
		g.line(detail, x, 38, x, g.h)
		g.pin(port.Key, x, false)
	}
	return g
}
