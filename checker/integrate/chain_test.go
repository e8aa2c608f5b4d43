package integrate

import "math"

// chain is an invented network with the numerical habits of an oil-hydraulic
// circuit: a compensated source feeds a line of volumes coupled by square-law
// resistances rounded over 5 kPa; at each volume a valve with a first-order lag
// fills or empties a chamber that moves a spring-loaded mass between two stiff
// stops, and warms. Rates reach from 1e-2/s (heat) to 1e6/s. Numbers of the size of
// a small machine's, SI.
type chain struct {
	branches  int
	integrals bool      // pump work, and of each branch heat and path
	command   []float64 // of each branch, changed at breaks
	pattern   Pattern
	slots     []int // of the elements of the Jacobian in the order they are made
}

// Variables of a branch.
const (
	line = iota // pressure
	spool
	chamber // pressure
	place
	speed
	heat // temperature
	variables
)

const (
	bulk, density, specific     = 1.4e9, 860.0, 1900.0
	lineVolume, deadVolume      = 40e-6, 5e-6
	lineFlow, valveFlow         = 4e-7, 1.2e-7 // m³/s a √Pa
	rounding                    = 5e3
	area, stroke, mass          = 8e-4, 0.06, 1.5
	preload, rate, drag, rub    = 800.0, 15e3, 60.0, 40.0
	stopDepth                   = 1e-3 * stroke
	stopRate                    = 20e6 * area / stopDepth
	lag, leak, tank             = 0.02, 2e-13, 1e5
	delivery, setting, band     = 4e-4, 18e6, 1e6
	pumpLag, slip               = 0.03, 1e-12
	heatCapacity, loss          = 300.0, 2.0
	supplyHeat, room, smallFlow = 330.0, 293.0, 1e-7
)

var stopDamping = 2 * math.Sqrt(stopRate*mass)

func newChain(branches int, integrals bool) *chain {
	c := &chain{branches: branches, integrals: integrals, command: make([]float64, branches)}
	var places []Place
	y := c.start()
	c.elements(y, func(row, column int, _ float64) { places = append(places, Place{row, column}) })
	c.pattern = NewPattern(c.states(), places)
	for _, p := range places {
		c.slots = append(c.slots, c.pattern.Slot(p.Row, p.Column))
	}
	return c
}

func (c *chain) states() int { return 1 + variables*c.branches }

func (c *chain) sums() int {
	if c.integrals {
		return 1 + 2*c.branches
	}
	return 0
}

// root is the square law d/√|d|, rounded, and its slope.
func root(d float64) (q, slope float64) {
	w := d*d + rounding*rounding
	r := math.Sqrt(math.Sqrt(w))
	return d / r, (1 - 0.5*d*d/w) / r
}

// stop is the force of a stop and its slopes: never pulling, its damping fading in.
func stop(depth, speed float64) (force, byDepth, bySpeed float64) {
	fade := min(1, depth/stopDepth)
	force = stopRate*depth + stopDamping*fade*speed
	if depth <= 0 || force <= 0 {
		return 0, 0, 0
	}
	byDepth, bySpeed = stopRate, stopDamping*fade
	if depth < stopDepth {
		byDepth += stopDamping * speed / stopDepth
	}
	return force, byDepth, bySpeed
}

// edges are the flows through the two edges of a branch's valve and their leaks,
// with their slopes by the pressure over them and by the spool.
type edges struct{ in, out, leakIn, leakOut, inBy, outBy, shut, inBySpool, outBySpool, shutBySpool float64 }

func (c *chain) edges(s []float64) (e edges) {
	open, closed := max(s[spool], 0), max(-s[spool], 0)
	in, inBy := root(s[line] - s[chamber])
	out, outBy := root(s[chamber] - tank)
	e.in, e.inBy = valveFlow*open*in, valveFlow*open*inBy
	e.out, e.outBy = valveFlow*closed*out, valveFlow*closed*outBy
	if s[spool] > 0 {
		e.inBySpool = valveFlow * in
	} else {
		e.outBySpool = -valveFlow * out
	}
	e.shut = leak * (1 - min(math.Abs(s[spool]), 1))
	if math.Abs(s[spool]) < 1 {
		e.shutBySpool = -math.Copysign(leak, s[spool])
	}
	e.leakIn, e.leakOut = e.shut*(s[line]-s[chamber]), e.shut*(s[chamber]-tank)
	return e
}

func (c *chain) evaluate(_ float64, y, dy []float64) {
	first := y[1+line]
	dy[0] = (min(max(1+(setting-first)/band, 0), 1) - y[0]) / pumpLag
	into := delivery*y[0] - slip*first
	n := c.states()
	if c.integrals {
		dy[n] = delivery * y[0] * first
	}
	for b := range c.branches {
		s, d := y[1+b*variables:][:variables], dy[1+b*variables:][:variables]
		e := c.edges(s)
		out := 0.0
		if b < c.branches-1 {
			q, _ := root(s[line] - y[1+(b+1)*variables+line])
			out = lineFlow * q
		}
		x, v := s[place], s[speed]
		d[line] = bulk / lineVolume * (into - out - e.in - e.leakIn)
		d[spool] = (c.command[b] - s[spool]) / lag
		d[chamber] = bulk / (deadVolume + area*max(x, 0)) * (e.in + e.leakIn - e.out - e.leakOut - area*v)
		d[place] = v
		low, _, _ := stop(-x, -v)
		high, _, _ := stop(x-stroke, v)
		d[speed] = ((s[chamber]-tank)*area - preload - rate*x - drag*v - rub*math.Tanh(v/1e-3) + low - high) / mass
		warm := (e.in + math.Sqrt(e.in*e.in+smallFlow*smallFlow)) / 2
		d[heat] = (density*specific*warm*(supplyHeat-s[heat]) + e.in*(s[line]-s[chamber]) - loss*(s[heat]-room)) / heatCapacity
		if c.integrals {
			dy[n+1+2*b], dy[n+2+2*b] = e.in*(s[line]-s[chamber]), v
		}
		into = out
	}
}

func (c *chain) jacobian(_ float64, y, values []float64) {
	k := 0
	c.elements(y, func(_, _ int, v float64) {
		values[c.slots[k]] += v
		k++
	})
}

// elements makes the elements of the Jacobian, in the same order always.
func (c *chain) elements(y []float64, add func(row, column int, v float64)) {
	n := c.states()
	steep := 0.0
	if over := (y[1+line] - setting) / band; over > 0 && over < 1 {
		steep = -1 / band
	}
	add(0, 0, -1/pumpLag)
	add(0, 1+line, steep/pumpLag)
	add(1+line, 0, bulk/lineVolume*delivery)
	add(1+line, 1+line, -bulk/lineVolume*slip)
	if c.integrals {
		add(n, 0, delivery*y[1+line])
		add(n, 1+line, delivery*y[0])
	}
	for b := range c.branches {
		o := 1 + b*variables
		s := y[o:][:variables]
		if b < c.branches-1 {
			next := o + variables
			_, by := root(s[line] - y[next+line])
			by *= bulk / lineVolume * lineFlow
			add(o+line, o+line, -by)
			add(o+line, next+line, by)
			add(next+line, o+line, by)
			add(next+line, next+line, -by)
		}
		e := c.edges(s)
		c.elementsOfOil(o, s, e, add)
		_, lowPlace, lowSpeed := stop(-s[place], -s[speed])
		_, highPlace, highSpeed := stop(s[place]-stroke, s[speed])
		still := math.Tanh(s[speed] / 1e-3)
		add(o+place, o+speed, 1)
		add(o+speed, o+chamber, area/mass)
		add(o+speed, o+place, (-rate-lowPlace-highPlace)/mass)
		add(o+speed, o+speed, (-drag-rub/1e-3*(1-still*still)-lowSpeed-highSpeed)/mass)
		if c.integrals {
			over := s[line] - s[chamber]
			add(n+1+2*b, o+line, e.in+e.inBy*over)
			add(n+1+2*b, o+chamber, -e.in-e.inBy*over)
			add(n+1+2*b, o+spool, e.inBySpool*over)
			add(n+2+2*b, o+speed, 1)
		}
	}
}

func (c *chain) elementsOfOil(o int, s []float64, e edges, add func(row, column int, v float64)) {
	over := s[line] - s[chamber]
	stiff := bulk / lineVolume
	add(o+line, o+line, -stiff*(e.inBy+e.shut))
	add(o+line, o+chamber, stiff*(e.inBy+e.shut))
	add(o+line, o+spool, -stiff*(e.inBySpool+e.shutBySpool*over))
	add(o+spool, o+spool, -1/lag)
	volume := deadVolume + area*max(s[place], 0)
	stiff = bulk / volume
	net, swept := e.in+e.leakIn-e.out-e.leakOut-area*s[speed], 0.0
	if s[place] > 0 {
		swept = area
	}
	add(o+chamber, o+line, stiff*(e.inBy+e.shut))
	add(o+chamber, o+chamber, -stiff*(e.inBy+e.outBy+2*e.shut))
	add(o+chamber, o+spool, stiff*(e.inBySpool-e.outBySpool+e.shutBySpool*(over-s[chamber]+tank)))
	add(o+chamber, o+speed, -stiff*area)
	add(o+chamber, o+place, -stiff*net/volume*swept)
	small := math.Sqrt(e.in*e.in + smallFlow*smallFlow)
	by := density*specific*(1+e.in/small)/2*(supplyHeat-s[heat]) + over
	add(o+heat, o+line, (by*e.inBy+e.in)/heatCapacity)
	add(o+heat, o+chamber, -(by*e.inBy+e.in)/heatCapacity)
	add(o+heat, o+spool, by*e.inBySpool/heatCapacity)
	add(o+heat, o+heat, -(density*specific*(e.in+small)/2+loss)/heatCapacity)
}

// start is every mass on its low stop in balance, every line charged.
func (c *chain) start() []float64 {
	y := make([]float64, c.states()+c.sums())
	y[0] = 1
	for b := range c.branches {
		s := y[1+b*variables:][:variables]
		s[line], s[chamber], s[heat] = 10e6, tank, room
		s[place] = -preload / (stopRate + rate)
	}
	return y
}

// chainBreaks are the times at which commands change, of every fourth branch each.
var chainBreaks = []float64{0.1, 0.25, 0.4, 0.6, 0.9, 1.2, 1.5, 1.7, 2.2, 2.6, 3.0, 3.4}

const chainEnd = 4.0

func (c *chain) change(t float64, _ []float64) {
	for i, at := range chainBreaks {
		for b := i % 4; at == t && b < c.branches; b += 4 {
			c.command[b] = [3]float64{1, -1, 0.4}[i/4]
		}
	}
}

func (c *chain) kinks() []Event {
	var events []Event
	for b := range c.branches {
		o := 1 + b*variables
		events = append(events,
			Event{Kink: true, Value: func(_ float64, y []float64) float64 { return y[o+place] }},
			Event{Kink: true, Value: func(_ float64, y []float64) float64 { return y[o+place] - stroke }},
			Event{Kink: true, Value: func(_ float64, y []float64) float64 { return y[o+spool] }})
	}
	return events
}

func (c *chain) system() System {
	return System{
		States: c.states(), Integrals: c.sums(), Evaluate: c.evaluate, Pattern: c.pattern, Jacobian: c.jacobian,
		Autonomous: true, Events: c.kinks(),
	}
}

// options are tolerances as a circuit's, scaled with the relative one of 1e-4.
func (c *chain) options(relative float64) Options {
	scale := relative / 1e-4
	r, a := []float64{relative}, []float64{1e-3 * scale}
	for range c.branches {
		r = append(r, relative, relative, relative, relative, relative, relative/10)
		a = append(a, 100*scale, 1e-4*scale, 100*scale, 1e-8*scale, 1e-4*scale, 1e-4*scale)
	}
	for q := range c.sums() {
		r = append(r, relative)
		a = append(a, [2]float64{1e-4 * scale, 0.1 * scale}[q%2])
		if q == 0 {
			a[len(a)-1] = scale
		}
	}
	return Options{Relative: r, Absolute: a}
}

// run solves the case from a fresh start; observe may be nil.
func (c *chain) run(s *Solver, y []float64, observe func(*Step)) (Result, error) {
	clear(c.command)
	return s.Solve(y, Run{To: chainEnd, Breaks: chainBreaks, AtBreak: c.change, Observe: observe})
}
