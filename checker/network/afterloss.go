package network

import (
	"fmt"
	"math"

	"headroom/specs"
)

// Strokes are how often a cylinder can still be stroked out and back after the
// pumps have failed.
type Strokes struct {
	FromFullest, FromEmptiest int
	Fullest, Emptiest         float64 // when in the case that was
}

const (
	usualPace = 1.0  // s between commands, where the case does not show one
	nearlyAll = 0.99 // of the stroke: a full one, where nothing else says what is full
)

// StrokesAfterLoss counts the strokes of a cylinder from the instants of a case
// at which the accumulators were fullest and emptiest, with the pumps stopped
// and the other valves left as they stand; happened is the case's outcome. Out
// and back follow each other at the pace of the case's own commands; a stroke
// that has not arrived when it is called back ends the count, and so does the
// number that most gives.
func StrokesAfterLoss(c *specs.Circuit, k *specs.Case, happened *Outcome, name string, most int, o Options) (*Strokes, error) {
	oil, err := newOil(&c.Fluid)
	if err != nil {
		return nil, err
	}
	m, err := newModel(c, k, oil)
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", k.Name, err)
	}
	plan, err := m.strokePlan(name)
	if err != nil {
		return nil, err
	}
	plan.most = most
	s := &Strokes{}
	if s.FromEmptiest, err = plan.count(c, oil, o.complete(), &happened.emptiest); err != nil {
		return nil, err
	}
	s.FromFullest = most // what can be done with the least can be done with the most
	if s.FromEmptiest < most {
		if s.FromFullest, err = plan.count(c, oil, o.complete(), &happened.fullest); err != nil {
			return nil, err
		}
	}
	s.Fullest, s.Emptiest = happened.fullest.t, happened.emptiest.t
	return s, nil
}

// stocked is a state of a run with much or little oil in the accumulators.
type stocked struct {
	t, oil float64
	y      []float64
}

func (o *observer) beginStock() {
	n := len(o.m.states)
	o.fullest = stocked{oil: math.Inf(-1), y: make([]float64, n)}
	o.emptiest = stocked{oil: math.Inf(1), y: make([]float64, n)}
	o.passStock(&o.before)
}

// nearlyNone is the share of the accumulators' size below which they are empty.
const nearlyNone = 0.01

// passStock keeps the states with the most and the least oil in the accumulators. A
// case that begins with them empty fills them first: the least counts from the most.
func (o *observer) passStock(s *sample) {
	oil := 0.0
	o.stores = 0
	for _, e := range o.m.elements {
		if a, is := e.(*accumulator); is {
			o.stores += a.size
			oil += a.size - s.y[a.volume]
		}
	}
	if math.IsInf(o.fullest.oil, -1) {
		o.filling = oil <= nearlyNone*o.stores
	}
	fuller := oil > o.fullest.oil
	if fuller {
		o.fullest.oil, o.fullest.t = oil, s.t
		copy(o.fullest.y, s.y)
	}
	if oil < o.emptiest.oil || o.filling && fuller {
		o.emptiest.oil, o.emptiest.t = oil, s.t
		copy(o.emptiest.y, s.y)
	}
}

// loadsAt are the loads of a case as they stand at one time, and go on.
func loadsAt(all []specs.Named[specs.Profile], t float64) (still []specs.Named[specs.Profile]) {
	for _, l := range all {
		if len(l.Value.Points) == 0 {
			continue
		}
		in := profile(l.Value)
		in.enter(t)
		point := l.Value.Points[0]
		point.X, point.Y = 0, in.at(t)
		l.Value.Points = []specs.Point{point}
		still = append(still, l)
	}
	return still
}

// count strokes the cylinder, back first and then out, from a state until it
// fails to arrive.
func (p *strokePlan) count(c *specs.Circuit, oil *oil, o Options, from *stocked) (int, error) {
	given := func(si float64) specs.Quantity { return specs.Quantity{SI: si, Source: specs.FromDefault} }
	k := *p.m.spec
	k.Drives, k.Demands, k.Commands, k.Expects = nil, nil, nil, nil
	k.Loads = loadsAt(p.m.spec.Loads, from.t)
	k.Repeats = specs.Repeats{}
	k.Lasts = given(p.pace * float64(2*p.most))
	valve := specs.Text{Value: p.valve, Source: specs.FromDefault}
	for i := range p.most {
		at := 2 * float64(i) * p.pace
		k.Commands = append(k.Commands,
			specs.Command{Time: given(at), Valve: valve, To: given(p.back), Over: given(p.over)},
			specs.Command{Time: given(at + p.pace), Valve: valve, To: given(p.out), Over: given(p.over)})
		part := specs.Text{Value: p.cylinder.part.Name, Source: specs.FromDefault}
		k.Expects = append(k.Expects,
			specs.Expectation{Part: part, Reaches: given(0), From: given(at)},
			specs.Expectation{Part: part, Reaches: given(p.full), From: given(at + p.pace)})
	}
	m, err := newModel(c, &k, oil)
	if err != nil {
		return 0, err
	}
	m.holdOthers(p.valve, from.y)
	r, err := newRoughRunner(m, o)
	if err != nil {
		return 0, err
	}
	r.watch.strokes = true
	out := &Outcome{Case: k.Name}
	r.passFrom(from.y, out)
	count := 0
	for i, e := range out.Expectations {
		if !e.Came || e.Measure > p.pace {
			break
		}
		count = (i + 1) / 2
	}
	if out.Failure != nil && out.Failure.Time < 2*p.pace*float64(min(count+1, p.most)) {
		return 0, fmt.Errorf("strokes of %s after the loss of the pump could not be integrated: %s", p.cylinder.part.Name, out.Failure)
	}
	return count, nil
}

// holdOthers leaves all valves but one where they stand, and turns packs on both
// sides alike: what counts here are strokes, not heat.
func (m *model) holdOthers(moved string, y []float64) {
	for i, e := range m.elements {
		name := m.parts[i].Base().Name
		if name == moved {
			continue
		}
		switch v := e.(type) {
		case *directionalValve:
			v.want.rest = y[v.spool]
		case *reducingValve:
			v.want.rest = y[v.row]
		case *frictionPack:
			v.input.rest = y[v.output]
		}
	}
}
