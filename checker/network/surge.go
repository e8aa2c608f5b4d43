package network

import (
	"math"

	"headroom/checker/integrate"
	"headroom/checker/resistance"
	"headroom/specs"
)

// A closer is what can stop a flow quickly: a metering edge, or a piston that
// comes to its stop. Its value is what falls to nothing: the opening, or speed.
type closer struct {
	part  int
	value func(of func(state int) float64) float64
	flow  func(node int, y []float64) float64 // through it, at one of its nodes, whichever way
	shut  func(y []float64) bool              // it is where a closure ends
	nodes []int                               // at which it closes

	high   float64 // since it was last shut
	begins float64 // when it was last above 90 % of that
	done   bool    // it has closed, and not opened since
	lines  []closing
}

// A closing is one line that a closer may stop, and what flowed in it towards
// the closer as the closure began.
type closing struct {
	watch  int // index of the line
	line   *line
	node   int
	toward float64 // 1 where the line's `to` is at the closer, −1 its `from`
	speed  float64
	passed float64 // through the closer, m³/s
}

const (
	closureBegins = 0.9 // of the opening, and
	closureEnds   = 0.1
	quickClosure  = 10.0 // times L/a: what is slower makes no surge worth telling

	// steelModulus and steelPoisson are those of carbon steel (206 GPa, 0.3, from
	// memory): of the metals of tubes the stiffest, so the surge is not understated.
	steelModulus, steelPoisson = 206e9, 0.3
)

// watchClosers finds the closers and the lines at them.
func (o *observer) watchClosers() {
	for i, e := range o.m.elements {
		switch e := e.(type) {
		case *directionalValve:
			for k := range e.edges {
				edge := &e.edges[k]
				o.addCloser(closer{
					part: i, nodes: []int{edge.way.a, edge.way.b},
					value: func(of func(int) float64) float64 { return max(0, edge.side*of(e.spool)) },
					flow:  func(int, []float64) float64 { return math.Abs(edge.way.q) },
					shut:  func([]float64) bool { return true },
				})
			}
		case *cylinder:
			nodes := []int{e.head}
			if e.rod >= 0 {
				nodes = append(nodes, e.rod)
			}
			o.addCloser(closer{
				part: i, nodes: nodes,
				value: func(of func(int) float64) float64 { return math.Abs(of(e.velocity)) },
				flow: func(node int, y []float64) float64 {
					if node == e.head {
						return e.headArea * math.Abs(y[e.velocity])
					}
					return e.rodArea * math.Abs(y[e.velocity])
				},
				shut: func(y []float64) bool {
					return y[e.position] <= e.depth || y[e.position] >= e.stroke-e.depth
				},
			})
		}
	}
}

func (o *observer) addCloser(c closer) {
	for w := range o.lines {
		l := o.lines[w].line
		for _, n := range c.nodes {
			switch n {
			case l.way.b:
				c.lines = append(c.lines, closing{watch: w, line: l, node: n, toward: 1})
			case l.way.a:
				c.lines = append(c.lines, closing{watch: w, line: l, node: n, toward: -1})
			}
		}
	}
	if len(c.lines) > 0 {
		o.closers = append(o.closers, c)
	}
}

func (o *observer) beginClosers() {
	for i := range o.closers {
		c := &o.closers[i]
		c.high, c.done = 0, false
		c.note(c.value(o.before.state), &o.before)
	}
	for i := range o.lines {
		o.lines[i].surges = nil
	}
}

// state is a state of a sample.
func (s *sample) state(i int) float64 { return s.y[i] }

// passClosers looks for closures in an interval, at whose end the model was
// evaluated last.
func (o *observer) passClosers(p *integrate.Step) {
	for i := range o.closers {
		c := &o.closers[i]
		v, before := c.value(o.after.state), c.value(o.before.state)
		if c.done && v <= before {
			continue // it still comes to rest
		}
		c.done = false
		if v >= c.high*closureBegins {
			c.note(v, &o.after)
			continue
		}
		within := func(share float64) float64 {
			return locate(o.before.t, o.after.t, func(t float64) bool {
				return c.value(func(state int) float64 { return p.At(t, state) }) >= c.high*share
			})
		}
		if c.begins == o.before.t {
			c.begins = within(closureBegins)
		}
		if v <= c.high*closureEnds {
			if c.shut(o.after.y) {
				ends := within(closureEnds)
				for k := range c.lines {
					o.surge(c, &c.lines[k], ends, p)
				}
			}
			c.high, c.done = 0, true
		}
	}
}

// note takes up a flow before a closure.
func (c *closer) note(v float64, s *sample) {
	c.high = max(c.high, v)
	c.begins = s.t
	for i := range c.lines {
		l := &c.lines[i]
		l.speed = l.toward * l.line.way.q / l.line.area
		l.passed = c.flow(l.node, s.y)
	}
}

// surge notes the surge of a line that a closure has just stopped:
// resistance.Surge, for a closure within ten times L/a.
func (o *observer) surge(c *closer, l *closing, ends float64, p *integrate.Step) {
	// All that went from the line through the closer is stopped: in a model without
	// waves the line itself goes on filling its end.
	stopped := min(l.speed, l.passed/l.line.area)
	if stopped <= 0 || ends < startTransient {
		return
	}
	n := &o.m.nodes[l.node]
	a := resistance.WaveSpeed(1/n.oil.soft, n.oil.rho, l.line.compliance())
	length, time := l.line.tube.Length, ends-c.begins
	if time > quickClosure*length/a {
		return
	}
	pressure := n.pressureAt(func(row int) float64 { return p.At(ends, row) })
	w := &o.lines[l.watch]
	found := Surge{
		By: o.m.circuit.Parts[c.part].Base().Name, Time: ends, Pressure: pressure,
		Rise: resistance.Surge(n.oil.rho, a, stopped, length, time),
	}
	for i := range w.surges { // the worst of each closer is kept
		if k := &w.surges[i]; k.By == found.By {
			if found.Pressure+found.Rise > k.Pressure+k.Rise {
				*k = found
			}
			return
		}
	}
	w.surges = append(w.surges, found)
}

// compliance is that of a line's wall, (dA/dp)/A.
func (l *line) compliance() float64 {
	switch p := l.part.(type) {
	case *specs.Hose:
		return resistance.HoseCompliance(p.Stretch.SI, p.Bore.SI)
	case *specs.Tube:
		c1 := resistance.ThickWall(p.Bore.SI, p.Wall.SI, steelPoisson, resistance.AnchoredUpstream)
		return resistance.TubeCompliance(p.Bore.SI, p.Wall.SI, steelModulus, c1)
	}
	return 0
}
