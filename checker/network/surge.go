package network

import (
	"math"
	"slices"

	"headroom/checker/resistance"
)

// A closer is what can stop a flow quickly: an opening, or a piston that comes to its
// stop. Its value is what falls to nothing: the opening, the speed, the demand.
type closer struct {
	part  int
	value func(y []float64) float64           // at the last evaluation
	flow  func(node int, y []float64) float64 // through it, at one of its nodes, whichever way
	shut  func(y []float64) bool              // it is where a closure ends
	nodes []int                               // at which it closes
	told  bool                                // it goes where it is told: what it comes to rest at is a closure too
	lines []closing

	keeps float64   // s, how long a past it needs
	past  []float64 // rows of time and reading, the oldest first
	full  int       // how many rows there are before old ones are dropped
	peak  float64   // highest value of the past, or of what was dropped
	ends  bool      // it has nearly closed
	done  bool      // it has closed, and not opened since
	rest  float64   // where it was last seen to rest part open, 0 before
}

// A closing is one line that a closer may stop.
type closing struct {
	watch  int // index of the line
	line   *line
	node   int
	toward float64 // 1 where the line's `to` is at the closer, −1 its `from`
}

const (
	closureBegins = 0.9 // of the value it falls from, and
	closureEnds   = 0.1
	quickClosure  = 10.0 // times L/a: what is slower makes no surge worth telling

	// A closure begins where its value held, or fell at less than a tenth of the pace of
	// the closure itself: the end of a slow one is no quick one.
	steadyBefore = 1.1

	slowestWave = 200.0 // m/s: below that of any line, so that enough of the past is kept
	shutAt      = 1e-3  // of the value it falls from: it is shut for good
	leastRest   = 1e-3  // s, for which it stays where it comes to rest part open
	leastSurge  = 1e3   // Pa: less is what rounding leaves
)

// A reading of a closer is its value, then of each line the speed towards it, what
// passes the closer there (m³/s), and the pressure of the node.
const perClosing = 3

func (c *closer) width() int { return 1 + perClosing*len(c.lines) }

// watchClosers finds the closers and the lines at them.
func (o *observer) watchClosers() {
	always := func([]float64) bool { return true }
	through := func(p *passage) func(int, []float64) float64 {
		return func(int, []float64) float64 { return math.Abs(p.q) }
	}
	for i, e := range o.m.elements {
		switch e := e.(type) {
		case *directionalValve:
			for k := range e.edges {
				edge := &e.edges[k]
				o.addCloser(closer{
					part: i, nodes: []int{edge.way.a, edge.way.b}, flow: through(edge.way), shut: always, told: true,
					value: func(y []float64) float64 { return max(0, edge.side*y[e.spool]) },
				})
			}
		case *reducingValve:
			for _, edge := range [...]edge{{way: e.feed, side: 1}, {way: e.vent, side: -1}} {
				o.addCloser(closer{
					part: i, nodes: []int{edge.way.a, edge.way.b}, flow: through(edge.way), shut: always,
					value: func([]float64) float64 { return max(0, edge.side*e.opening) },
				})
			}
		case *consumer:
			o.addCloser(closer{
				part: i, nodes: []int{e.way.a, e.way.b}, flow: through(e.way), shut: always, told: true,
				value: func([]float64) float64 { return math.Abs(e.drawn) },
			})
		case *cylinder:
			o.addCloser(pistonCloser(i, e))
		}
	}
}

// pistonCloser is a piston that stops what flows to and from it at its stops.
func pistonCloser(part int, e *cylinder) closer {
	nodes := []int{e.head}
	if e.rod >= 0 {
		nodes = append(nodes, e.rod)
	}
	return closer{
		part: part, nodes: nodes,
		value: func(y []float64) float64 { return math.Abs(y[e.velocity]) },
		flow: func(node int, y []float64) float64 {
			if node == e.head {
				return e.headArea * math.Abs(y[e.velocity])
			}
			return e.rodArea * math.Abs(y[e.velocity])
		},
		shut: func(y []float64) bool {
			return y[e.position] <= e.depth || y[e.position] >= e.stroke-e.depth
		},
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
			default:
				continue
			}
			c.keeps = max(c.keeps, 6*quickClosure*l.tube.Length/slowestWave)
		}
	}
	if len(c.lines) > 0 {
		o.closers = append(o.closers, c)
	}
}

func (o *observer) beginClosers() {
	for i := range o.closers {
		c := &o.closers[i]
		c.past, c.peak, c.full, c.ends, c.done, c.rest = c.past[:0], 0, leastPast, false, false, 0
		c.add(o, &o.before, c.value(o.before.y))
	}
	for i := range o.lines {
		o.lines[i].surges = nil
	}
}

// passClosers looks for closures up to a sample, at which the model was evaluated last.
func (o *observer) passClosers(s *sample) {
	for i := range o.closers {
		c := &o.closers[i]
		v, before := c.value(s.y), c.row(c.rows() - 1)[1]
		if v == 0 && before == 0 {
			continue // it stays shut
		}
		c.add(o, s, v)
		if c.done && v <= before {
			c.forget()
			continue // it still comes to rest
		}
		c.done = false
		o.throttles(c, s, v, before)
		if v > c.peak*closureEnds && !c.ends {
			continue
		}
		high := c.highest()
		if v > high*closureEnds && !c.ends {
			continue
		}
		rests := v >= before || v <= high*shutAt // or springs back
		if !c.ends || rests {
			o.closes(c, s)
		}
		if c.ends = !rests; rests {
			c.done = v <= before
			c.forget()
		}
	}
}

// closes notes the surges of a closer that has nearly closed, or comes to rest.
func (o *observer) closes(c *closer, s *sample) {
	if c.shut(s.y) {
		for k := range c.lines {
			o.surge(c, k, 0)
		}
	}
}

// throttles notes the surges of a closer that comes to rest part open: where it stays
// for as long as it took to get there.
func (o *observer) throttles(c *closer, s *sample, v, before float64) {
	if v > before {
		c.rest = 0
	}
	if !c.told || v > before || v > closureBegins*c.peak || v <= closureEnds*c.peak || c.rest > 0 && v > closureBegins*c.rest {
		return
	}
	high := c.highest()
	begins, held := c.falls(v + closureBegins*(high-v))
	ends, _ := c.falls(v + closureEnds*(high-v))
	if v > closureBegins*high || s.t-ends < max(ends-begins, leastRest) || c.lowestSince(held) < v-unmoved*c.peak {
		return
	}
	c.rest = v
	for k := range c.lines {
		o.surge(c, k, v)
	}
}

const (
	leastPast = 64   // rows that are kept before old ones are dropped
	unmoved   = 1e-6 // of the peak: a change that is none
)

// add takes in a reading of the last evaluation, and drops what is too old to matter.
// While the value stays the same, its first and its last reading stand for all.
func (c *closer) add(o *observer, s *sample, v float64) {
	if n := c.rows(); n > 1 {
		a, b := c.row(n - 2)[1], c.row(n - 1)[1]
		if least := unmoved * c.peak; math.Abs(v-a) <= least && math.Abs(v-b) <= least {
			c.past = c.past[:len(c.past)-1-c.width()]
		}
	}
	c.past = append(c.past, s.t, v)
	for k := range c.lines {
		l := &c.lines[k]
		c.past = append(c.past, l.toward*l.line.way.q/l.line.area, c.flow(l.node, s.y), o.m.nodes[l.node].p)
	}
	c.peak = max(c.peak, v)
	if c.rows() < c.full {
		return
	}
	old := 0
	for old+1 < c.rows() && c.row(old + 1)[0] < s.t-c.keeps {
		old++
	}
	c.past = c.past[:copy(c.past, c.past[old*(1+c.width()):])]
	c.full = max(leastPast, 2*c.rows())
}

// forget drops all but the last reading.
func (c *closer) forget() {
	c.past = c.past[:copy(c.past, c.row(c.rows()-1))]
	c.peak, c.full = c.row(0)[1], leastPast
}

func (c *closer) rows() int { return len(c.past) / (1 + c.width()) }

func (c *closer) row(i int) []float64 {
	w := 1 + c.width()
	return c.past[i*w : (i+1)*w]
}

func (c *closer) highest() (v float64) {
	for i := range c.rows() {
		v = max(v, c.row(i)[1])
	}
	return v
}

// lowestSince is the lowest value from a reading on.
func (c *closer) lowestSince(i int) float64 {
	v := c.row(i)[1]
	for i++; i < c.rows(); i++ {
		v = min(v, c.row(i)[1])
	}
	return v
}

// falls is when the value was last at a level, and the last reading before.
func (c *closer) falls(level float64) (t float64, before int) {
	for i := c.rows() - 2; i >= 0; i-- {
		if a, b := c.row(i), c.row(i+1); a[1] >= level {
			return a[0] + (b[0]-a[0])*(a[1]-level)/max(a[1]-b[1], math.SmallestNonzeroFloat64), i
		}
	}
	return c.row(0)[0], 0
}

// at is a column of the readings at a time, straight between them.
func (c *closer) at(t float64, column int) float64 {
	for i := c.rows() - 2; i >= 0; i-- {
		if a, b := c.row(i), c.row(i+1); a[0] <= t {
			share := 0.0
			if b[0] > a[0] {
				share = min(1, (t-a[0])/(b[0]-a[0]))
			}
			return a[column] + share*(b[column]-a[column])
		}
	}
	return c.row(0)[column]
}

// surge notes the surge of a line that a closure to a low value has just stopped, or
// slowed: of all values that it may have fallen from, within ten times L/a, the one
// that stopped most.
func (o *observer) surge(c *closer, k int, low float64) {
	l := &c.lines[k]
	n := &o.m.nodes[l.node]
	a := resistance.WaveSpeed(1/n.oil.soft, n.oil.rho, WallCompliance(l.line.part))
	length, column := l.line.tube.Length, 2+perClosing*k
	best, high := Surge{By: o.m.circuit.Parts[c.part].Base().Name}, 0.0
	for i := c.rows() - 1; i >= 0; i-- {
		from := c.row(i)
		if from[1] <= high {
			continue // it rose again after
		}
		high = from[1]
		fall := high - low
		begins, held := c.falls(low + closureBegins*fall)
		ends, _ := c.falls(low + closureEnds*fall)
		if fall <= 0 || c.lowestSince(held) > low+closureEnds*fall || ends < startTransient || ends-begins > quickClosure*length/a {
			continue
		}
		if c.at(from[0]-(ends-from[0]), 1) > low+steadyBefore*fall {
			continue // the end of a slower closure
		}
		// All that went from the line through the closer is stopped: in a model without
		// waves the line itself goes on filling its end.
		through := c.row(held)[column+1]
		stopped := min(c.row(held)[column], through/l.line.area)
		if low > 0 { // what still goes is not stopped
			stopped *= 1 - c.row(c.rows() - 1)[column+1]/max(through, math.SmallestNonzeroFloat64)
		}
		if !(stopped > 0) {
			continue
		}
		pressure := c.at(ends, column+2)
		mean := resistance.MeanWaveSpeed(pressure, stopped, WallCompliance(l.line.part), o.m.oil.stiffness(n.T))
		if rise := resistance.Surge(n.oil.rho, mean, stopped, length, ends-begins); rise > best.Rise {
			best.Rise, best.Time, best.Pressure = rise, ends, pressure
		}
	}
	if best.Rise > leastSurge {
		o.lines[l.watch].keep(best)
	}
}

// keep notes a surge: of each closer the one that comes to the highest pressure, and
// the one that adds most.
func (w *lineWatch) keep(found Surge) {
	highest, most := found, found
	w.surges = slices.DeleteFunc(w.surges, func(k Surge) bool {
		if k.By != found.By {
			return false
		}
		if k.Pressure+k.Rise >= highest.Pressure+highest.Rise {
			highest = k
		}
		if k.Rise >= most.Rise {
			most = k
		}
		return true
	})
	w.surges = append(w.surges, highest)
	if most != highest {
		w.surges = append(w.surges, most)
	}
}
