package network

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

// A closer is what can stop a flow quickly: a metering edge, or a piston that
// comes to its stop. Its value is what falls to nothing: the opening, or speed.
type closer struct {
	part  int
	value func(y []float64) float64
	shut  func(y []float64) bool // it is where a closure ends
	nodes []int                  // at which it closes

	high   float64 // since it was last shut
	begins float64 // when it was last above 90 % of that
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
					value: func(y []float64) float64 { return max(0, edge.side*y[e.spool]) },
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
				value: func(y []float64) float64 { return math.Abs(y[e.velocity]) },
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
		o.closers[i].high = 0
		o.closers[i].pass(o, &o.before)
	}
	for i := range o.lines {
		o.lines[i].surges = nil
	}
}

// passClosers looks for closures that end at a sample, which the model was
// evaluated at last.
func (o *observer) passClosers(s *sample) {
	for i := range o.closers {
		c := &o.closers[i]
		c.pass(o, s)
	}
}

func (c *closer) pass(o *observer, s *sample) {
	v := c.value(s.y)
	switch {
	case v >= c.high*closureBegins:
		c.high = max(c.high, v)
		c.begins = s.t
		for i := range c.lines {
			l := &c.lines[i]
			l.speed = l.toward * l.line.way.q / l.line.area
		}
	case v <= c.high*closureEnds:
		if c.shut(s.y) {
			for i := range c.lines {
				o.surge(c, &c.lines[i], s)
			}
		}
		c.high = v
	}
}

// surge notes the surge of a line that a closure has just stopped:
// resistance.Surge, for a closure within ten times L/a.
func (o *observer) surge(c *closer, l *closing, s *sample) {
	stopped := l.speed - l.toward*l.line.way.q/l.line.area
	if l.speed <= 0 || stopped <= 0 {
		return
	}
	n := &o.m.nodes[l.node]
	a := resistance.WaveSpeed(1/n.oil.soft, n.oil.rho, l.line.compliance())
	length, time := l.line.tube.Length, s.t-c.begins
	if time > quickClosure*length/a {
		return
	}
	w := &o.lines[l.watch]
	found := Surge{
		By: o.m.circuit.Parts[c.part].Base().Name, Time: s.t, Pressure: n.p,
		Rise: resistance.Surge(n.oil.rho, a, min(stopped, l.speed), length, time),
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
