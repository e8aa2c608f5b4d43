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

// passStock keeps the states with the most and the least oil in the accumulators.
func (o *observer) passStock(s *sample) {
	oil := 0.0
	for _, e := range o.m.elements {
		if a, is := e.(*accumulator); is {
			oil += a.size - s.y[a.volume]
		}
	}
	if oil > o.fullest.oil {
		o.fullest.oil, o.fullest.t = oil, s.t
		copy(o.fullest.y, s.y)
	}
	if oil < o.emptiest.oil {
		o.emptiest.oil, o.emptiest.t = oil, s.t
		copy(o.emptiest.y, s.y)
	}
}

// A strokePlan is how a case commands a cylinder.
type strokePlan struct {
	m         *model
	cylinder  *cylinder
	valve     string
	out, back float64 // commanded
	pace      float64
	over      float64
	full      float64 // position that makes a full stroke
	most      int     // strokes that are counted
}

// strokePlan finds the valve that moves a cylinder, and what the case tells it.
func (m *model) strokePlan(name string) (*strokePlan, error) {
	c, is := m.byPart[name].(*cylinder)
	if !is {
		return nil, fmt.Errorf("%s is no cylinder of the circuit", name)
	}
	p := &strokePlan{m: m, cylinder: c, full: m.fullStroke(name, c), pace: usualPace}
	sign, err := p.findValve(name)
	if err != nil {
		return nil, err
	}
	low, high, times := p.back, p.back, []float64(nil)
	for i := range m.circuit.Cases { // another case may show the command that this one lacks
		k := &m.circuit.Cases[i]
		for j := range k.Commands {
			if cmd := &k.Commands[j]; cmd.Valve.Value == p.valve {
				low, high = min(low, cmd.To.SI), max(high, cmd.To.SI)
				if k.Name == m.spec.Name && cmd.Time.Given() {
					p.over = cmd.Over.SI
					times = append(times, cmd.Time.SI)
				}
			}
		}
	}
	p.out, p.back = high, low
	if sign < 0 {
		p.out, p.back = low, high
	}
	if p.out == p.back {
		return nil, fmt.Errorf("no case commands %s, which moves %s", p.valve, name)
	}
	for i := 1; i < len(times); i++ {
		if gap := times[i] - times[i-1]; gap > 0 && (i == 1 || gap < p.pace) {
			p.pace = gap
		}
	}
	return p, nil
}

// fullStroke is the position that counts: what the case expects, what releases
// a pack in full, or nearly all of the stroke.
func (m *model) fullStroke(name string, c *cylinder) float64 {
	full := 0.0
	for i := range m.spec.Expects {
		if e := &m.spec.Expects[i]; e.Part.Value == name {
			full = max(full, e.Reaches.SI)
		}
	}
	for _, e := range m.elements {
		if f, is := e.(*frictionPack); is && f.cylinder == c && full == 0 {
			full = min(f.released, c.stroke)
		}
	}
	if full == 0 {
		full = nearlyAll * c.stroke
	}
	return full
}

// findValve looks from the cylinder's ports through lines, orifices and check
// valves for the valve that moves it, and tells which way extends it.
func (p *strokePlan) findValve(name string) (sign float64, err error) {
	m := p.m
	seen := map[int]bool{}
	next := []int{p.cylinder.head}
	sign = 1
	for len(next) > 0 {
		n := next[0]
		next = next[1:]
		if seen[n] || m.nodes[n].reservoir {
			continue
		}
		seen[n] = true
		for i, e := range m.elements {
			part := m.parts[i].Base().Name
			switch e := e.(type) {
			case *reducingValve:
				if e.feed.b == n {
					p.valve, p.back = part, e.start
					return 1, nil
				}
			case *directionalValve:
				for _, edge := range e.edges {
					if edge.name[1] == 'a' && edge.way.b == n || edge.name[1] == 'b' && edge.name[0] == 'p' && edge.way.b == n {
						p.valve, p.back = part, e.start
						return edge.side, nil
					}
				}
			default:
				next = append(next, m.beyond(m.parts[i], n)...)
			}
		}
	}
	return 0, fmt.Errorf("no valve moves %s", name)
}

// beyond is the node at the other end of what oil only passes.
func (m *model) beyond(p specs.Part, n int) []int {
	var from, to specs.Port
	switch p := p.(type) {
	case *specs.Tube:
		from, to = p.From, p.To
	case *specs.Hose:
		from, to = p.From, p.To
	case *specs.Orifice:
		from, to = p.From, p.To
	case *specs.CheckValve:
		from, to = p.From, p.To
	case *specs.PilotCheckValve:
		from, to = p.From, p.To
	case *specs.FlowRegulator:
		from, to = p.From, p.To
	case *specs.Filter:
		from, to = p.From, p.To
	default:
		return nil
	}
	a, b := m.byNode[from.Node], m.byNode[to.Node]
	switch n {
	case a:
		return []int{b}
	case b:
		return []int{a}
	}
	return nil
}

// count strokes the cylinder, back first and then out, from a state until it
// fails to arrive.
func (p *strokePlan) count(c *specs.Circuit, oil *oil, o Options, from *stocked) (int, error) {
	given := func(si float64) specs.Quantity { return specs.Quantity{SI: si, Source: specs.FromDefault} }
	k := *p.m.spec
	k.Drives, k.Demands, k.Loads, k.Commands, k.Expects = nil, nil, nil, nil, nil
	k.Repeats = specs.Repeats{}
	k.Lasts = given(p.pace * float64(2*p.most+1))
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
	r, err := newRunner(m, o.Tolerance, o.Steps)
	if err != nil {
		return 0, err
	}
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
		return 0, fmt.Errorf("strokes of %s after the loss of the pump could not be integrated: %+v", p.cylinder.part.Name, *out.Failure)
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

// InARow counts how often a case can be repeated without pause before plates
// pass their limit, or the fluid its peak temperature: the engagements of a
// pack before that. Counting ends at as many as are asked for, or after as many
// passes; open tells that nothing was too hot until then.
func InARow(c *specs.Circuit, k *specs.Case, pack string, most int, o Options) (count int, open bool, err error) {
	o = o.complete()
	o.Record = nil
	oil, err := newOil(&c.Fluid)
	if err != nil {
		return 0, false, err
	}
	m, err := newModel(c, k, oil)
	if err != nil {
		return 0, false, fmt.Errorf("case %s: %w", k.Name, err)
	}
	f, is := m.byPart[pack].(*frictionPack)
	if !is {
		return 0, false, fmt.Errorf("%s is no friction pack of the circuit", pack)
	}
	r, err := newRunner(m, o.Tolerance, o.Steps)
	if err != nil {
		return 0, false, err
	}
	var keep []float64
	for pass := 0; pass < most && count < most; pass++ {
		out := &Outcome{Case: k.Name}
		r.pass(pass+1, keep, out)
		if out.Failure != nil {
			return count, false, fmt.Errorf("case %s could not be integrated: %s", k.Name, out.Failure.Why)
		}
		if m.limitBroken(f, out) {
			return count, false, nil
		}
		for i := range out.Parts {
			if out.Parts[i].Part == pack {
				count += len(out.Parts[i].Engagements)
			}
		}
		if count == 0 {
			return 0, false, nil
		}
		keep = r.end
	}
	return count, true, nil
}

// limitBroken tells whether a pass was too hot for a pack's plates, for the bulk
// of the fluid, or for its peaks.
func (m *model) limitBroken(f *frictionPack, out *Outcome) bool {
	oil := &m.circuit.Fluid
	for i := range out.Nodes {
		hottest := out.Nodes[i].Temperature.Highest.Value
		if oil.PeakTemperature.Given() && hottest > oil.PeakTemperature.SI || m.nodes[i].reservoir && hottest > oil.MaxTemperature.SI {
			return true
		}
	}
	for i := range out.Parts {
		if p := &out.Parts[i]; p.Part == f.part.Name {
			return p.Reading("plate_temperature").Highest.Value > f.part.Plates.MaxTemperature.SI
		}
	}
	return false
}
