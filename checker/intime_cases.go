package checker

import (
	"fmt"
	"math"

	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// casesInTime tells what happened in each case.
func (s *survey) casesInTime(f *facts.Circuit) {
	expectation := 0
	for c := range s.runs {
		r := &s.runs[c]
		s.caseInTime(r, f.Cases[c])
		for i := range s.spec.Parts {
			s.partInTime(i, r, &f.PartsInCase[c*len(f.Parts)+i].Here)
		}
		for n := range s.graph.Nodes {
			s.nodeInTime(n, r, f.Nodes[n].At, &f.NodesInCase[c*len(f.Nodes)+n].Here)
		}
		for e := range r.view.spec.Expects {
			s.expectationInTime(e, r, f.Expectations[expectation])
			expectation++
		}
	}
}

// caseInTime tells how a case as a whole went.
func (s *survey) caseInTime(r *run, f *facts.Case) {
	written := facts.Origin{At: r.view.spec.At, Key: r.view.root, Case: r.view.spec.Name}
	f.Finished = s.finished(r, written)
	f.Settled = s.settled(r, written)
	value := func(of func() (float64, string)) facts.Fact {
		return s.inCase(search{from: written}, r, func(*run) (moment, bool) {
			v, note := of()
			return moment{value: v, note: note}, true
		})
	}
	f.BalanceNode = value(func() (float64, string) {
		b := &r.out.Balance
		if b.NodeName == "" {
			return b.Node, ""
		}
		return b.Node, "worst at " + b.NodeName
	})
	f.BalanceMass = value(func() (float64, string) {
		b := &r.out.Balance
		return math.Abs(b.Mass), print(b.Charge, quantity.Mass) + " in all"
	})
	f.BalanceEnergy = value(func() (float64, string) {
		t := &r.out.Balance.Terms
		return math.Abs(r.out.Balance.Energy), fmt.Sprintf("%s by shafts, %s by packs", print(t.Shaft, quantity.Energy), print(t.Pack, quantity.Energy))
	})
	f.MeanSupply = value(func() (float64, string) { return s.meanSupply(r) })
	f.MeanDemand = value(func() (float64, string) { return s.meanDemand(r) })
	s.idleInTime(r, f)
}

// finished tells whether a case could be integrated to its end, or where and
// why it stopped.
func (s *survey) finished(r *run, o facts.Origin) facts.Flag {
	switch {
	case r.fault != "":
		o.Note = "it cannot be computed: " + r.fault
		return s.holds(false, o)
	case r.out == nil:
		return facts.Flag{Missing: r.lacks}
	case r.out.Failure == nil:
		return s.holds(true, o)
	}
	e := r.out.Failure
	o.Time, o.Timed, o.Note = e.Time, true, e.Why
	if e.Where != "" {
		o.Note += fmt.Sprintf("; it was held up by the %s of %s", e.State, e.Where)
	}
	return s.holds(false, o)
}

// settled tells whether the temperatures of a case that settles did, or which of
// them ran away.
func (s *survey) settled(r *run, o facts.Origin) facts.Flag {
	if r.lacks != "" {
		return facts.Flag{Missing: r.lacks}
	}
	repeats := &r.out.Repeats
	if !r.view.spec.Repeats.Settle {
		return facts.Flag{Missing: "repeats: settle of case " + r.view.spec.Name}
	}
	if repeats.Unsettled != nil {
		o.Note = unsettledText(repeats)
	}
	return s.holds(repeats.Settled, o)
}

// unsettledText says what of a case did not settle, and why.
func unsettledText(repeats *network.Repeats) string {
	u := repeats.Unsettled
	return fmt.Sprintf("after %d passes %s is at %s and changes by %s per repeat: %s", u.After, u.Where,
		print(u.Temperature, quantity.Temperature), print(u.PerRepeat, quantity.TemperatureDifference), u.Why)
}

// meanSupply is what the pumps of a case could give on the average: at full
// displacement, less their slip. A pump that a pressure switches counts as
// running all the time.
func (s *survey) meanSupply(r *run) (flow float64, note string) {
	for _, i := range s.pumps {
		pump, _ := caseAs[*specs.Pump](r, i)
		speed, slip := r.reading(i, "speed"), r.reading(i, "slip")
		if speed == nil || slip == nil || !r.view.turns(i) {
			continue
		}
		if r.view.switched(pump.Name) {
			flow += pump.Displacement.SI*r.view.speed[i] - slip.Highest.Value
		} else {
			flow += pump.Displacement.SI*speed.Mean - slip.Mean
		}
	}
	return flow, ""
}

// switched tells whether a pressure switches a pump.
func (v *caseView) switched(name string) bool {
	for _, d := range v.spec.Drives {
		if d.Name == name {
			return d.Value.Switch != nil
		}
	}
	return false
}

// meanDemand is what a case takes on the average: all that pumps and
// accumulators gave, but for what relief valves blew off; and what consumers
// asked for and did not get.
func (s *survey) meanDemand(r *run) (flow float64, note string) {
	lacked := 0.0
	for i := range s.spec.Parts {
		switch s.spec.Parts[i].(type) {
		case *specs.Pump:
			if q := r.reading(i, "flow"); q != nil {
				flow += q.Mean
			}
		case *specs.Accumulator:
			if oil := r.reading(i, "oil"); oil != nil {
				flow += (oil.Begin - oil.End) / r.out.Lasts
			}
		case *specs.ReliefValve:
			if q := r.reading(i, "flow"); q != nil && s.blowsOff(i) {
				flow -= q.Mean
			}
		case *specs.Consumer:
			if asked, got := r.reading(i, "demand"), r.reading(i, "flow"); asked != nil && got != nil {
				lacked += max(0, asked.Mean-got.Mean)
			}
		}
	}
	if lacked > reachedFlow {
		note = print(lacked, quantity.Flow) + " of it asked for in vain"
	}
	return flow + lacked, note
}

// partInTime tells what happened to a part in a case.
func (s *survey) partInTime(i int, r *run, here *facts.Here) {
	o := s.partOrigin(i)
	in := func(q search, of func(r *run) (moment, bool)) facts.Fact { q.from = o; return s.inCase(q, r, of) }
	over := func(q search, less float64, of func(n *network.NodeOutcome) network.Extreme) facts.Fact {
		return in(q, func(r *run) (moment, bool) { return s.overPorts(i, r, q.lowest, less, of) })
	}
	here.HighestPressure = over(search{}, s.air, func(n *network.NodeOutcome) network.Extreme { return n.Pressure.Highest })
	here.LowestPressure = over(search{lowest: true}, s.air, func(n *network.NodeOutcome) network.Extreme { return emptied(n.Pressure.Lowest) })
	here.LowestAbsolute = over(search{lowest: true}, 0, func(n *network.NodeOutcome) network.Extreme { return emptied(n.Pressure.Lowest) })
	here.LastingAbsolute = over(search{lowest: true}, 0, func(n *network.NodeOutcome) network.Extreme { return emptied(n.Lasting) })
	here.Hottest = over(search{warmth: true}, 0, func(n *network.NodeOutcome) network.Extreme { return n.Temperature.Highest })
	switch r.view.parts[i].(type) {
	case *specs.Consumer:
		here.LowestDifference = in(search{}, lowestOf(i, "drawing_drop"))
	case *specs.Accumulator:
		here.UsefulBegin = in(search{}, func(r *run) (moment, bool) { return edge(r.reading(i, "useful"), false) })
		o.Note = s.usefulIs(r.view.parts[i].(*specs.Accumulator)) // told once where the two stand side by side
		here.UsefulLeast = in(search{}, lowestOf(i, "useful"))
		here.UsefulEnd = in(search{}, func(r *run) (moment, bool) { return edge(r.reading(i, "useful"), true) })
	case *specs.Pump:
		here.InletAbsolute = in(search{}, lowestOf(i, "inlet_pressure_absolute"))
	}
}

// usefulIs says how the useful fluid of an accumulator is reckoned.
func (s *survey) usefulIs(a *specs.Accumulator) string {
	if !a.LowestWorking.Given() {
		return "all its oil, for no lowest_working is stated"
	}
	return "given slowly, the gas at its temperature of that instant, down to " + print(a.LowestWorking.SI-s.air, quantity.Pressure)
}

// edge is what a reading was when its case began or ended.
func edge(v *network.Reading, end bool) (moment, bool) {
	if v == nil {
		return moment{}, false
	}
	if end {
		return moment{value: v.End}, true
	}
	return moment{value: v.Begin}, true
}

// overPorts is the worst over a part's nodes in one case.
func (s *survey) overPorts(i int, r *run, lowest bool, less float64, of func(n *network.NodeOutcome) network.Extreme) (top moment, has bool) {
	for _, port := range s.graph.Ports[i] {
		n := r.nodes[port.Node]
		if n == nil {
			continue
		}
		m := when(of(n))
		m.value -= less
		m.node = n.Node
		if !has || (m.value < top.value) == lowest && m.value != top.value {
			top, has = m, true
		}
	}
	return top, has
}

// nodeInTime tells what happened at a node in a case.
func (s *survey) nodeInTime(n int, r *run, at specs.Span, here *facts.Here) {
	from := facts.Origin{At: at}
	in := func(q search, less float64, of func(n *network.NodeOutcome) network.Extreme) facts.Fact {
		q.from = from
		return s.inCase(q, r, func(r *run) (moment, bool) {
			if r.nodes[n] == nil {
				return moment{}, false
			}
			m := when(of(r.nodes[n]))
			m.value -= less
			return m, true
		})
	}
	here.HighestPressure = in(search{}, s.air, func(n *network.NodeOutcome) network.Extreme { return n.Pressure.Highest })
	here.LowestPressure = in(search{}, s.air, func(n *network.NodeOutcome) network.Extreme { return emptied(n.Pressure.Lowest) })
	here.LowestAbsolute = in(search{}, 0, func(n *network.NodeOutcome) network.Extreme { return emptied(n.Pressure.Lowest) })
	here.LastingAbsolute = in(search{}, 0, func(n *network.NodeOutcome) network.Extreme { return emptied(n.Lasting) })
	here.Hottest = in(search{warmth: true}, 0, func(n *network.NodeOutcome) network.Extreme { return n.Temperature.Highest })
	if s.vapour != nil {
		here.VapourPressure = s.vapourAt(here.Hottest)
	}
}

// expectationInTime tells what came of an expectation.
func (s *survey) expectationInTime(e int, r *run, f *facts.Expectation) {
	from := facts.Origin{At: f.At, Case: r.view.spec.Name}
	if r.lacks != "" {
		f.CameAbout = facts.Flag{Missing: r.lacks}
		f.Time, f.Lowest, f.Highest = missing(r.lacks), missing(r.lacks), missing(r.lacks)
		return
	}
	out := &r.out.Expectations[e]
	f.CameAbout = s.holds(out.Came, from)
	if !out.Came {
		return
	}
	from.Time, from.Timed = out.Time, true
	from.Note = r.moments.held[e]
	switch f.Kind.Value {
	case expectsAtLeast:
		f.Lowest = s.known(out.Measure-s.air, from)
	case expectsAtMost:
		f.Highest = s.known(out.Measure-s.air, from)
	default:
		f.Time = s.known(out.Measure, from)
	}
}
