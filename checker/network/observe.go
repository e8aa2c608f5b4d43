package network

import (
	"math"
	"slices"

	"headroom/checker/integrate"
)

// An observer reads off a run, step by step: each step is sampled at its
// middle and its end, and where something begins or ceases to count. Means and
// balances are integrated over these by Simpson's rule.
type observer struct {
	m        *model
	channels []channel
	ranges   []Range
	seen     []bool
	books    []book
	carried  []carried // where settling asks for it
	energy   powers
	starts   start

	before, middle, after sample
	marks                 []float64
	from                  float64 // where the first sample of the pass was taken

	low     []lasting // of each node's pressure, 10 ms
	turns   []turns   // of each node's pressure
	settled []Range   // each node's pressure from 20 ms on
	lines   []lineWatch
	packs   []packWatch
	expects []expectWatch
	sampler *sampler
	roughly bool // steps are sampled at their ends alone
	strokes bool // nothing is read off but what is expected of strokes
	closers []closer
	goesOn  bool // the next pass is one of a count that is told together

	fullest, emptiest stocked // kept where asked for
	stores            float64 // m³, size of all accumulators
	filling           bool    // the case began with them empty
}

// A sample is everything at one time.
type sample struct {
	t      float64
	y, dy  []float64
	values []float64
	books  []bookSample
	flows  []float64
	powers powers
}

const (
	lastingDip      = 10e-3 // s, that a pressure must last to count as lasting
	lastingFlow     = 1.0   // s, likewise a velocity
	firstTransients = 20e-3 // s, after which a pressure counts as settled from its start
)

// newObserver prepares to read off a model.
func newObserver(m *model) *observer {
	t := &teller{m: m}
	for i := range m.nodes {
		n := &m.nodes[i]
		t.part = i
		pressure := channel{name: "pressure", dim: "pressure", state: n.column, pressed: true}
		if n.reservoir {
			pressure.read = func([]float64) float64 { return n.p }
		}
		t.add(pressure)
		t.state("temperature", "temperature", n.heatRow)
		t.value("viscosity", "kinematic-viscosity", func([]float64) float64 { return n.oil.nu })
	}
	for i, e := range m.elements {
		t.part = i
		e.tell(t)
	}
	o := &observer{m: m, channels: t.channels, marks: []float64{firstTransients, startTransient}}
	n := len(o.channels)
	o.ranges, o.seen = make([]Range, n), make([]bool, n)
	o.books = make([]book, len(m.nodes))
	o.low, o.turns, o.settled = make([]lasting, len(m.nodes)), make([]turns, len(m.nodes)), make([]Range, len(m.nodes))
	for _, s := range []*sample{&o.before, &o.middle, &o.after} {
		s.y, s.dy = make([]float64, len(m.states)), make([]float64, len(m.states))
		s.values, s.books = make([]float64, n), make([]bookSample, len(m.nodes))
	}
	o.watchLines(t)
	o.watchPacks(t)
	o.watchExpectations()
	slices.Sort(o.marks)
	o.marks = slices.Compact(o.marks)
	return o
}

// carries lets the observer keep what every passage carries.
func (o *observer) carries() {
	o.carried = make([]carried, len(o.m.passages))
	for _, s := range []*sample{&o.before, &o.middle, &o.after} {
		s.flows = make([]float64, len(o.m.passages))
	}
}

// nodeChannels is how many channels each node has, before those of the parts.
const nodeChannels = 3

// take evaluates the model at the sample's time and state.
func (o *observer) take(s *sample) {
	o.m.evaluate(s.t, s.y, s.dy)
	o.read(s)
}

// read fills a sample from the last evaluation.
func (o *observer) read(s *sample) {
	for i := range o.channels {
		c := &o.channels[i]
		if c.state >= 0 {
			s.values[i] = c.of(s.y[c.state])
		} else {
			s.values[i] = c.read(s.y)
		}
	}
	o.m.keepBooks(s.books)
	o.m.massFlows(s.flows)
	s.powers = o.m.powers(s.y)
}

// begin starts a pass.
func (o *observer) begin(t float64, y []float64) {
	o.from = t
	clear(o.seen)
	clear(o.ranges)
	clear(o.books)
	clear(o.carried)
	o.energy = powers{}
	o.restart(t, y)
	for i := range o.channels {
		o.ranges[i].Begin = o.before.values[i]
	}
	o.starts = o.m.stock()
	for i := range o.m.nodes {
		v := o.before.values[nodeChannels*i]
		o.low[i].window = lastingDip
		o.low[i].start(t, -v)
		if o.goesOn {
			o.turns[i].add(v)
		} else {
			o.turns[i].start(v)
		}
		o.settled[i] = Range{Lowest: Extreme{v, t}, Highest: Extreme{v, t}, Begin: v}
	}
	o.beginStock()
	o.beginLines(t)
	o.beginPacks(t)
	o.beginExpectations(t)
}

// restart takes the sample that steps go on from: inputs may have jumped.
func (o *observer) restart(t float64, y []float64) {
	s := &o.before
	s.t = t
	copy(s.y, y)
	o.take(s)
	for i, v := range s.values {
		o.extend(i, t, v)
	}
}

// observe reads off one step.
func (o *observer) observe(p *integrate.Step) {
	from := p.From
	for _, mark := range o.marks {
		if mark > from && mark < p.To {
			o.interval(p, mark)
			from = mark
		}
	}
	o.interval(p, p.To)
	if o.sampler != nil {
		o.sampler.step(p)
	}
}

// interval reads off what is left of a step, to a time.
func (o *observer) interval(p *integrate.Step, to float64) {
	a, mid, b := &o.before, &o.middle, &o.after
	mid.t, b.t = a.t+(to-a.t)/2, to
	p.Values(mid.t, mid.y)
	p.Values(b.t, b.y)
	if o.strokes {
		o.passExpectations(p)
		o.before, o.after = o.after, o.before
		return
	}
	last := o.m.last
	evaluated := last.t == to && slices.Equal(last.y, b.y)
	switch {
	case o.roughly && evaluated:
		o.read(b)
		mid.between(a, b)
	case o.roughly:
		o.take(b)
		mid.between(a, b)
	case evaluated:
		// The integrator has just evaluated the end of its step.
		dy := o.m.dy
		o.read(b)
		o.passClosers(b)
		o.m.ready()
		o.take(mid)
		o.m.dy = dy
	default:
		o.take(mid)
		o.take(b)
		o.passClosers(b)
	}
	o.passStock(b)
	width := b.t - a.t
	for i := range o.channels {
		o.between(p, i, a.values[i], mid.values[i], b.values[i])
		if sum := a.values[i] + 4*mid.values[i] + b.values[i]; sum == sum {
			o.ranges[i].Mean += width / 6 * sum
		}
	}
	o.energy.add(&a.powers, &mid.powers, &b.powers, width/6)
	for i := range o.books {
		o.books[i].add(&a.books[i], &mid.books[i], &b.books[i], width/6)
	}
	for i := range o.carried {
		o.carried[i].add(a.flows[i], mid.flows[i], b.flows[i], width/6)
	}
	o.passNodes(mid)
	o.passNodes(b)
	o.passLines(mid)
	o.passLines(b)
	o.passPacks(p)
	o.passExpectations(p)
	o.before, o.after = o.after, o.before
}

// between makes a sample the mean of two: enough where what a run is for hangs on
// no mean and no peak.
func (s *sample) between(a, b *sample) {
	for i := range s.values {
		s.values[i] = (a.values[i] + b.values[i]) / 2
	}
	copy(s.books, a.books)
	s.powers = powers{pack: (a.powers.pack + b.powers.pack) / 2}
}

// between extends a channel's range by an interval, a state's by its extreme
// within.
func (o *observer) between(p *integrate.Step, i int, v0, vm, v1 float64) {
	o.extend(i, o.middle.t, vm)
	o.extend(i, o.after.t, v1)
	c := &o.channels[i]
	bend := v0 - 2*vm + v1
	if c.state < 0 || bend == 0 {
		return
	}
	at := 0.5 + 0.25*(v0-v1)/bend
	if !(at > 0 && at < 1) {
		return
	}
	r := &o.ranges[i]
	if peak := vm - (v1-v0)*(v1-v0)/(8*bend); peak > r.Highest.Value || peak < r.Lowest.Value {
		t := o.before.t + at*(o.after.t-o.before.t)
		o.extend(i, t, c.of(p.At(t, c.state)))
	}
}

// extend takes a value of a channel into its range.
func (o *observer) extend(i int, t, v float64) {
	if v != v || t < o.from+o.channels[i].from {
		return
	}
	r := &o.ranges[i]
	if !o.seen[i] {
		o.seen[i] = true
		r.Lowest, r.Highest = Extreme{v, t}, Extreme{v, t}
		return
	}
	if v < r.Lowest.Value {
		r.Lowest = Extreme{v, t}
	}
	if v > r.Highest.Value {
		r.Highest = Extreme{v, t}
	}
}

// passNodes notes what lasts and turns at the nodes.
func (o *observer) passNodes(s *sample) {
	for i := range o.low {
		v := s.values[nodeChannels*i]
		o.low[i].add(s.t, -v)
		o.turns[i].add(v)
		if s.t < o.from+firstTransients {
			continue
		}
		r := &o.settled[i]
		if s.t == o.from+firstTransients || r.Mean == 0 {
			r.Lowest, r.Highest, r.Mean = Extreme{v, s.t}, Extreme{v, s.t}, 1
		}
		if v < r.Lowest.Value {
			r.Lowest = Extreme{v, s.t}
		}
		if v > r.Highest.Value {
			r.Highest = Extreme{v, s.t}
		}
	}
}

// locate is when a condition that differs between two times of a step changes,
// to a billionth of the interval.
func locate(a, b float64, holds func(t float64) bool) float64 {
	at := holds(a)
	for range 40 {
		mid := a + (b-a)/2
		if mid <= a || mid >= b {
			break
		}
		if holds(mid) == at {
			a = mid
		} else {
			b = mid
		}
	}
	return b
}

// finish sums up a pass that ended at t.
func (o *observer) finish(t float64, y []float64, out *Outcome) {
	span := max(t-o.from, math.SmallestNonzeroFloat64)
	copy(o.after.y, y)
	o.after.t = t
	for i := range o.ranges {
		o.ranges[i].Mean /= span
		o.ranges[i].End = o.before.values[i]
	}
	o.tellNodes(out)
	o.tellParts(out)
	o.tellLines(out)
	o.tellPacks(t, out)
	o.tellExpectations(out)
	o.tellBalance(out)
	out.fullest, out.emptiest = o.fullest, o.emptiest
}

func (o *observer) tellNodes(out *Outcome) {
	out.Nodes = make([]NodeOutcome, len(o.m.nodes))
	for i := range out.Nodes {
		r := o.ranges[nodeChannels*i:]
		n := NodeOutcome{Node: o.m.nodes[i].name, Pressure: r[0], Temperature: r[1], Viscosity: r[2], Settled: o.settled[i], Turns: o.turns[i].all()}
		n.Settled.Begin, n.Settled.End, n.Settled.Mean = r[0].Begin, r[0].End, r[0].Mean
		n.Means = []float64{r[1].Mean}
		n.Lasting = r[0].Lowest
		if l := &o.low[i]; l.known {
			n.Lasting = Extreme{-l.best.Value, l.best.Time}
		}
		out.Nodes[i] = n
	}
}

func (o *observer) tellParts(out *Outcome) {
	parts := o.m.circuit.Parts
	out.Parts = make([]PartOutcome, len(parts))
	for i, p := range parts {
		out.Parts[i].Part = p.Base().Name
	}
	for i := nodeChannels * len(o.m.nodes); i < len(o.channels); i++ {
		c := &o.channels[i]
		r := Reading{Name: c.name, Dimension: c.dim, Known: o.seen[i], Range: o.ranges[i]}
		if math.IsNaN(r.Begin) {
			r.Begin = 0
		}
		if math.IsNaN(r.End) {
			r.End = 0
		}
		out.Parts[c.part].Readings = append(out.Parts[c.part].Readings, r)
	}
}
