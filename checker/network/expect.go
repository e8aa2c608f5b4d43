package network

import (
	"math"

	"headroom/checker/integrate"
)

// expectWatch follows one expectation of a case.
type expectWatch struct {
	from, until float64
	out         ExpectationOutcome
	begun       bool

	cylinder *cylinder // a stroke
	level    float64
	node     int // a pressure
	sign     float64
	pack     *frictionPack // a lock
}

// watchExpectations lists the expectations of the case, and the times at which
// they begin or cease to count.
func (o *observer) watchExpectations() {
	spec := o.m.spec
	for i := range spec.Expects {
		e := &spec.Expects[i]
		w := expectWatch{from: e.From.SI, until: spec.Lasts.SI, node: -1}
		switch {
		case e.Part.Given():
			w.cylinder, _ = o.m.byPart[e.Part.Value].(*cylinder)
			w.level = e.Reaches.SI
		case e.Pack.Given():
			w.pack, _ = o.m.byPart[e.Pack.Value].(*frictionPack)
		default:
			w.node, w.sign = o.m.byNode[e.Node.Value], 1
			if e.AtMost.Given() {
				w.sign = -1
			}
			if e.Until.Given() {
				w.until = e.Until.SI
			}
			o.marks = append(o.marks, w.until)
		}
		if w.from > 0 {
			o.marks = append(o.marks, w.from)
		}
		o.expects = append(o.expects, w)
	}
}

func (o *observer) beginExpectations(t float64) {
	for i := range o.expects {
		e := &o.expects[i]
		e.out, e.begun = ExpectationOutcome{}, false
		if e.from <= t {
			o.enter(e, &o.before)
		}
	}
}

// enter is when an expectation begins to count.
func (o *observer) enter(e *expectWatch, s *sample) {
	e.begun = true
	switch {
	case e.cylinder != nil:
		if math.Abs(s.y[e.cylinder.position]-e.level) <= near*e.cylinder.stroke {
			e.out = ExpectationOutcome{Measure: 0, Time: s.t, Came: true}
		}
	case e.node >= 0:
		e.out = ExpectationOutcome{Measure: o.m.pressure(e.node, s.y), Time: s.t, Came: true}
	case e.pack != nil:
		for i := range o.packs {
			if w := &o.packs[i]; w.pack == e.pack && w.phaseIn(o.m, s) == packLocked && w.turns(s) {
				e.out = ExpectationOutcome{Measure: 0, Time: s.t, Came: true}
			}
		}
	}
}

// passExpectations takes an interval in.
func (o *observer) passExpectations(p *integrate.Step) {
	for i := range o.expects {
		e := &o.expects[i]
		switch {
		case !e.begun:
			if o.after.t >= e.from {
				o.enter(e, &o.after)
			}
		case e.cylinder != nil && !e.out.Came:
			o.passStroke(e, p)
		case e.node >= 0 && o.after.t <= e.until:
			o.passPressure(e, p)
		}
	}
}

// passStroke sees whether a position was crossed.
func (o *observer) passStroke(e *expectWatch, p *integrate.Step) {
	x := e.cylinder.position
	above := func(s *sample) bool { return s.y[x] >= e.level }
	a, b := &o.before, &o.middle
	if above(a) == above(b) {
		a, b = b, &o.after
	}
	if above(a) == above(b) {
		return
	}
	t := locate(a.t, b.t, func(t float64) bool { return p.At(t, x) >= e.level })
	e.out = ExpectationOutcome{Measure: t - e.from, Time: t, Came: true}
}

// passPressure extends the lowest or highest pressure.
func (o *observer) passPressure(e *expectWatch, p *integrate.Step) {
	take := func(t, v float64) {
		if e.sign*v < e.sign*e.out.Measure {
			e.out.Measure, e.out.Time = v, t
		}
	}
	n := &o.m.nodes[e.node]
	if n.reservoir {
		return
	}
	v0, _ := pressureOf(o.before.y[n.row])
	vm, _ := pressureOf(o.middle.y[n.row])
	v1, _ := pressureOf(o.after.y[n.row])
	take(o.middle.t, vm)
	take(o.after.t, v1)
	bend := v0 - 2*vm + v1
	if at := 0.5 + 0.25*(v0-v1)/bend; at > 0 && at < 1 {
		t := o.before.t + at*(o.after.t-o.before.t)
		v, _ := pressureOf(p.At(t, n.row))
		take(t, v)
	}
}

// lockedAllAlong is a pack that locks as it begins to count, for it never slips after.
func (o *observer) lockedAllAlong(e *expectWatch) {
	if e.pack == nil || e.out.Came || !e.begun {
		return
	}
	for i := range o.packs {
		if w := &o.packs[i]; w.pack == e.pack && w.phaseIn(o.m, &o.before) == packLocked {
			e.out = ExpectationOutcome{Measure: 0, Time: e.from, Came: true}
		}
	}
}

func (o *observer) tellExpectations(out *Outcome) {
	for i := range o.expects {
		o.lockedAllAlong(&o.expects[i])
		out.Expectations = append(out.Expectations, o.expects[i].out)
	}
}
