package checker

import (
	"fmt"
	"math"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// This file bounds steady flows without time. Through a passage that alone joins
// two sides of the circuit goes no more than one side can give and the other
// can take. A pump gives and takes what it displaces, a consumer what it
// demands, a flow regulator what it holds, a relief valve what the pumps before
// it give, a check valve what comes to it. Accumulators, cylinders, reservoirs
// and drains give and take without bound; where they stand on both sides, and
// where there is another way round, the simulation decides.

// A oneWay lets at most a flow pass from one node to another.
type oneWay struct {
	from, to int // places in the order of the cuts; -1 at a reservoir
	most     float64
	check    bool // a check valve: what comes to it is worked out
}

// flowsPerCase bounds the flow through each part that always lets it pass, by
// case and part: +Inf where nothing bounds it, NaN where a delivery is not known.
func (s *survey) flowsPerCase() [][]float64 {
	s.flower = s.newFlower()
	flows := make([][]float64, len(s.cases))
	for c := range s.cases {
		s.cases[c].ways = s.flower.waysOf(&s.cases[c])
		flows[c] = s.flower.oneCase(&s.cases[c])
	}
	return flows
}

// flowIn is the highest flow through a part over the cases that count, and the
// case in which it comes about.
func (s *survey) flowIn(part int, counts func(*caseView) bool) (f facts.Fact, in *caseView) {
	most := -1.0
	for c := range s.cases {
		v, flow := &s.cases[c], s.flows[c][part]
		switch {
		case !counts(v):
		case math.IsInf(flow, 1):
			return simulated(), nil
		case math.IsNaN(flow):
			return missing(s.unknownDelivery(v)), nil
		case flow > most:
			most, in = flow, v
		}
	}
	if in == nil {
		return missing("cases"), nil
	}
	o := facts.Origin{At: in.spec.At, Key: in.root, Case: in.spec.Name, Note: "no more can come to it"}
	if pump, ok := s.deliverer(in, most); ok {
		o.At, o.Key = s.driveOf(in, pump)
		o.Note = fmt.Sprintf("all that %s gives at %s", s.graph.Name(pump), print(in.speed[pump], quantity.RotationalSpeed))
	}
	return s.known(most, o), in
}

func anyCase(*caseView) bool    { return true }
func coldCase(v *caseView) bool { return v.cold }

// deliverer is the pump that gives just this flow, where there is one.
func (s *survey) deliverer(v *caseView, flow float64) (pump int, ok bool) {
	for _, p := range s.pumps {
		if flow > 0 && v.delivers(p) == flow {
			return p, true
		}
	}
	return 0, false
}

// driveOf is where a case says how fast a part turns.
func (s *survey) driveOf(v *caseView, part int) (specs.Span, string) {
	name := s.graph.Name(part)
	for _, d := range v.spec.Drives {
		if d.Name == name {
			return d.At, v.root + ".drives." + name
		}
	}
	return v.spec.At, v.root
}

// A flower bounds the flows of one circuit, case by case.
type flower struct {
	s         *survey
	cuts      *topology.Cuts
	place     []int // of each node in the order of the cuts
	unbounded []int // how many places before each give and take without bound
}

func (s *survey) newFlower() *flower {
	w := &flower{s: s, cuts: s.graph.Cuts(), place: make([]int, len(s.graph.Nodes))}
	for n := range w.place {
		w.place[n] = -1
	}
	free := s.freeNodes()
	w.unbounded = make([]int, len(w.cuts.Order)+1)
	for i, n := range w.cuts.Order {
		w.unbounded[i+1] = w.unbounded[i]
		if n == topology.AtReservoir {
			w.unbounded[i+1]++
			continue
		}
		w.place[n] = i
		if free[n] {
			w.unbounded[i+1]++
		}
	}
	return w
}

// freeNodes are those at which something gives and takes without bound.
func (s *survey) freeNodes() []bool {
	free := make([]bool, len(s.graph.Nodes))
	for i, p := range s.spec.Parts {
		for _, port := range s.graph.Ports[i] {
			switch p.(type) {
			case *specs.Accumulator, *specs.Cylinder:
				free[port.Node] = true
			case *specs.Pump, *specs.Motor:
				free[port.Node] = free[port.Node] || port.Key == "drain"
			}
		}
	}
	return free
}

// oneCase bounds the flow through each standing passage, by part: +Inf where
// nothing bounds it, NaN where a pump's delivery is not known.
func (w *flower) oneCase(v *caseView) []float64 {
	flows := make([]float64, len(v.parts))
	for i := range flows {
		flows[i] = math.Inf(1)
		first, last := w.s.graph.Of(i)
		if first == last || !w.s.graph.Standing(first) {
			continue
		}
		if side, ok := w.cuts.Side(first); ok {
			flows[i] = w.through(side, v.ways)
		}
	}
	return flows
}

// waysOf lists what lets flow pass one way only, and how much.
func (w *flower) waysOf(v *caseView) []oneWay {
	var ways []oneWay
	for i := range w.s.graph.Passages {
		p := &w.s.graph.Passages[i]
		way := oneWay{from: w.place[p.From], to: w.place[p.To]}
		switch part := v.parts[p.Part].(type) {
		case *specs.Pump:
			if p.Way == topology.Slip {
				continue
			}
			way.most = v.delivers(p.Part)
		case *specs.Consumer:
			way.most = v.demand(part.Name)
		case *specs.FlowRegulator:
			way.most = math.Inf(1)
			if part.Flow.Given() {
				way.most = part.Flow.SI
			}
		case *specs.ReliefValve:
			if r := w.s.reliefOf(p.Part); r != nil {
				way.most, _ = w.s.pumped(v, r.above)
			}
		case *specs.CheckValve:
			way.most, way.check = math.Inf(1), true
		default:
			continue
		}
		ways = append(ways, way)
	}
	w.settleChecks(ways)
	return ways
}

// settleChecks finds what can come to each check valve at most. Every round
// settles at least one more of a row of them.
func (w *flower) settleChecks(ways []oneWay) {
	for changed := true; changed; {
		changed = false
		for i := range ways {
			if c := &ways[i]; c.check {
				if most := w.comesTo(c.from, ways); most < c.most {
					c.most, changed = most, true
				}
			}
		}
	}
}

// comesTo is the flow that can come to a place from all that is joined with it.
func (w *flower) comesTo(place int, ways []oneWay) float64 {
	if place < 0 {
		return math.Inf(1) // a reservoir
	}
	return w.gives(side{w.cuts.Whole(place), true}, ways)
}

// through is what goes at most through the passage that parts a side from the
// rest.
func (w *flower) through(cut topology.Side, ways []oneWay) float64 {
	beyond, here := side{cut, true}, side{cut, false}
	return max(
		min(w.gives(here, ways), w.takes(beyond, ways)),
		min(w.gives(beyond, ways), w.takes(here, ways)),
	)
}

// goesTo tells on which side of a standing passage its flow ends: where a node
// must lie at which something could stop it.
func (w *flower) goesTo(passage int, v *caseView) func(node int) bool {
	cut, ok := w.cuts.Side(passage)
	if !ok {
		return func(int) bool { return true }
	}
	beyond, here := side{cut, true}, side{cut, false}
	onwards := min(w.gives(here, v.ways), w.takes(beyond, v.ways)) > 0
	back := min(w.gives(beyond, v.ways), w.takes(here, v.ways)) > 0
	return func(node int) bool {
		place := w.place[node]
		return onwards && beyond.has(place) || back && here.has(place)
	}
}

// A side is what lies beyond a cut, or what lies on this side of it.
type side struct {
	cut    topology.Side
	beyond bool
}

func (d side) has(place int) bool {
	if place < d.cut.First || place >= d.cut.Last {
		return false
	}
	return d.beyond == (place >= d.cut.Low && place < d.cut.High)
}

// gives is the flow that can come out of a side.
func (w *flower) gives(d side, ways []oneWay) float64 {
	if w.free(d) {
		return math.Inf(1)
	}
	sum := 0.0
	for i := range ways {
		if d.has(ways[i].to) && !d.has(ways[i].from) {
			sum += ways[i].most
		}
	}
	return sum
}

// takes is the flow that can go into a side.
func (w *flower) takes(d side, ways []oneWay) float64 {
	if w.free(d) {
		return math.Inf(1)
	}
	sum := 0.0
	for i := range ways {
		if d.has(ways[i].from) && !d.has(ways[i].to) {
			sum += ways[i].most
		}
	}
	return sum
}

// free tells whether something on a side gives and takes without bound.
func (w *flower) free(d side) bool {
	inside := w.unbounded[d.cut.High] - w.unbounded[d.cut.Low]
	if d.beyond {
		return inside > 0
	}
	return w.unbounded[d.cut.Last]-w.unbounded[d.cut.First] > inside
}
