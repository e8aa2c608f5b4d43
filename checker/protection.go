package checker

import (
	"fmt"
	"math"
	"strings"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// protection tells what relief valves protect, and what they have to take.
func (s *survey) protection(i int, part specs.Part, f *facts.Part) {
	switch p := part.(type) {
	case *specs.Pump:
		f.ReliefPresent = s.relieved(i, "to")
	case *specs.Accumulator:
		f.ReliefPresent = s.relieved(i, "at")
	case *specs.ReliefValve:
		s.reliefFacts(i, p, f)
	}
}

// relieved tells whether a relief valve that nothing can shut off stands at the
// port of a part, or whether the port stands open to a reservoir. Whether the
// valve has somewhere to blow is told of the valve.
func (s *survey) relieved(i int, port string) facts.Flag {
	node, ok := s.graph.At(i, port)
	if !ok {
		return facts.Flag{Missing: s.path(i, port)}
	}
	o := facts.Origin{At: s.spec.Parts[i].Base().At, Key: s.roots[i], Node: s.graph.Nodes[node].Name}
	for r := range s.reliefs {
		if s.reliefs[r].protects[node] {
			o.Note = "protected by " + s.graph.Name(s.reliefs[r].part)
			return s.holds(true, o)
		}
	}
	if s.graph.Vents(node) {
		o.Note = "it stands open to a reservoir"
		return s.holds(true, o)
	}
	o.Note = "no relief valve is reached past nothing that can be shut"
	return s.holds(false, o)
}

func (s *survey) reliefFacts(i int, valve *specs.ReliefValve, f *facts.Part) {
	f.ReliefFlow = s.given(valve.Flow, s.path(i, "flow"))
	r := s.reliefOf(i)
	if r == nil {
		unconnected := s.path(i, "from")
		f.ReliefReturn = facts.Flag{Missing: unconnected}
		f.ReliefMustTake, f.FullFlow, f.ReliefSection, f.WeakestRated = missing(unconnected), missing(unconnected), missing(unconnected), missing(unconnected)
		f.ProtectsHose, f.ProtectsBareTube, f.OverCompensated = f.ReliefReturn, f.ReliefReturn, f.ReliefReturn
		return
	}
	f.Cracking = s.crackingPressure(i, valve, r)
	f.ReliefReturn = s.discharges(i, valve, r)
	f.ReliefMustTake, f.FullFlow, f.ReliefSection = s.mustTake(r)
	s.weakestOfSection(i, s.protectedParts(r), f)
	f.SectionCutOff, _ = s.cutOffOver(r.from)
	o := facts.Origin{At: valve.At, Key: s.roots[i]}
	f.OverCompensated = s.holds(f.SectionCutOff.Known || f.SectionCutOff.Missing != "", o)
}

// weakestOfSection tells the weakest of the parts that a relief valve protects:
// of the hoses, which are never to see more than they are rated for, of tubes
// whose strength follows from their wall, and of all others.
func (s *survey) weakestOfSection(i int, protected []int, f *facts.Part) {
	var hoses, bare, others []int
	for _, part := range protected {
		switch s.spec.Parts[part].(type) {
		case *specs.Hose:
			hoses = append(hoses, part)
		case *specs.Tube:
			if s.bareTube(part) {
				bare = append(bare, part)
			} else {
				others = append(others, part)
			}
		default:
			others = append(others, part)
		}
	}
	o := facts.Origin{At: s.spec.Parts[i].Base().At, Key: s.roots[i]}
	f.WeakestRated = s.weakest(others)
	o.Note = s.names(hoses)
	f.ProtectsHose = s.holds(len(hoses) > 0, o)
	f.WeakestHose = s.weakest(hoses)
	o.Note = s.names(bare)
	f.ProtectsBareTube = s.holds(len(bare) > 0, o)
	f.WeakestTubeBurst = s.weakestBurst(bare)
}

// bareTube tells whether a part is a tube that states no rated pressure: its
// strength follows from its wall.
func (s *survey) bareTube(i int) bool {
	tube, ok := s.spec.Parts[i].(*specs.Tube)
	return ok && !tube.Rated.Pressure.Given()
}

// weakestBurst is the lowest burst pressure of some tubes; unset for none.
func (s *survey) weakestBurst(tubes []int) facts.Fact {
	var least facts.Fact
	for _, i := range tubes {
		f := s.burst(i, s.spec.Parts[i])
		if !f.Known {
			return f
		}
		if !least.Known || f.Value < least.Value {
			f.From.Note = strings.TrimSuffix(s.graph.Name(i)+": "+f.From.Note, ": ") // a burst pressure that is stated has no note
			least = f
		}
	}
	return least
}

// crackingPressure is the pressure at which a relief valve opens: its cracking
// difference above the gas pressure of the reservoir it blows into.
func (s *survey) crackingPressure(i int, valve *specs.ReliefValve, r *relief) facts.Fact {
	f := s.given(valve.Cracking, s.path(i, "cracking"))
	if f.Known && r.returns {
		f.Value += s.reservoirPressure(&caseView{parts: s.spec.Parts}, r.reservoir) - s.air
	}
	return f
}

func (s *survey) discharges(i int, valve *specs.ReliefValve, r *relief) facts.Flag {
	o := facts.Origin{At: valve.At, Key: s.roots[i], Note: "its outlet reaches no reservoir but past what can be shut"}
	if r.returns {
		o.Note = "its outlet reaches " + s.graph.Nodes[r.reservoir].Name
	}
	return s.holds(r.returns, o)
}

// mustTake is the highest flow that a relief valve must take in any case, the
// pressure it comes to with it, and the highest in the section it protects.
func (s *survey) mustTake(r *relief) (flow, full, section facts.Fact) {
	if len(s.cases) == 0 {
		return missing("cases"), missing("cases"), missing("cases")
	}
	for c := range s.cases {
		v := &s.cases[c]
		in := s.takes(r, v)
		if math.IsNaN(in.flow) {
			key := missing(s.unknownDelivery(v))
			return key, key, key
		}
		o := facts.Origin{At: v.spec.At, Key: v.root + ".drives", Case: v.spec.Name, Note: "no pump's flow comes to it"}
		switch {
		case len(in.pumps) > 0:
			o.At, o.Key = s.driveOf(v, in.pumps[0])
			o.Note = "all that " + s.names(in.pumps) + " can give"
			if len(in.regulators) > 0 {
				o.Note += ", and what " + s.names(in.regulators) + " can let through"
			}
		case len(in.regulators) > 0:
			o.At, o.Key = v.parts[in.regulators[0]].Base().At, s.path(in.regulators[0], "flow")
			o.Note = "all that " + s.names(in.regulators) + " can let through"
		}
		if f := s.known(in.flow, o); !flow.Known || f.Value > flow.Value {
			flow = f
		}
		blown := s.open(r, v, in.flow)
		if blown.lacks != "" {
			full, section = missing(blown.lacks), missing(blown.lacks)
			continue
		}
		o.Note = blown.told()
		full = higher(full, s.known(blown.pressure-s.air, o))
		lost, lacks := s.lostBefore(r, v, blown)
		if lacks != "" {
			section = missing(lacks)
			continue
		}
		if lost >= worthTelling {
			o.Note += fmt.Sprintf(", %s lost on the way to it", print(lost, quantity.PressureDifference))
		}
		section = higher(section, s.known(blown.pressure+lost-s.air, o))
	}
	if !r.returns {
		full, section = simulated(), simulated()
	}
	return flow, full, section
}

// higher is the higher of two facts, where none is known yet the other; what is
// missing stays so.
func higher(top, f facts.Fact) facts.Fact {
	if !top.Known && top.Missing == "" || top.Known && f.Value > top.Value {
		return f
	}
	return top
}

// lostBefore is how much higher than at an opened relief valve the pressure is where
// pump flow enters what it protects, as far as other relief valves let it.
func (s *survey) lostBefore(r *relief, v *caseView, blown opening) (most float64, lacks string) {
	if !r.returns {
		return 0, ""
	}
	caps := s.bounder.caps(v)
	for i := range s.graph.Sections {
		if first := s.graph.Sections[i].Nodes[0]; !r.protects[first] || s.graph.Nodes[first].Reservoir {
			continue
		}
		lost, lacks := s.pathLoss(r.from, topology.Upstream, v, blown.flow, blown.pressure, s.bounder.entries[i])
		if lacks != "" {
			return 0, lacks
		}
		most = max(most, min(lost, caps[i].value-blown.pressure))
	}
	return most, ""
}

// told says what is in an opened relief valve.
func (o *opening) told() string {
	return fmt.Sprintf("%s through it, %s behind it", print(o.flow, quantity.Flow), print(o.back, quantity.PressureDifference))
}

// An inflow is the flow that comes to a relief valve in a case, and from where.
type inflow struct {
	flow       float64 // m³/s
	pumps      []int   // whose whole flow comes to it
	regulators []int   // through which other pumps' flow comes
}

// takes is the flow of pumps that a relief valve must take in a case: of all
// that can come to it, but for pumps from which another relief valve, that
// nothing can shut off, takes the whole flow before this one opens. A reducing
// valve told to hold less than this one's cracking pressure, and a flow
// regulator beyond what it holds, let nothing through.
func (s *survey) takes(r *relief, v *caseView) inflow {
	cracking := v.parts[r.part].(*specs.ReliefValve).Cracking.SI + s.air
	regulating := map[int]bool{} // where its flow can come to this valve
	free := s.graph.Above(r.from, func(p *topology.Passage) bool {
		switch part := v.parts[p.Part].(type) {
		case *specs.ReducingValve:
			return p.Edge == topology.PA && v.holds(part) <= cracking
		case *specs.FlowRegulator:
			regulating[p.Part] = true
			return true
		}
		return false
	})
	in := inflow{}
	for _, pump := range s.pumps {
		if to, ok := s.graph.At(pump, "to"); ok && free[to] && v.turns(pump) && !s.relievedBefore(pump, r, v, cracking) {
			in.flow += v.delivers(pump)
			in.pumps = append(in.pumps, pump)
		}
	}
	s.addRegulated(&in, regulating, v)
	return in
}

// addRegulated adds the flow that comes by flow regulators from pumps that are not
// counted already: each gives what it holds, and all of them together no more than
// those pumps give.
func (s *survey) addRegulated(in *inflow, regulating map[int]bool, v *caseView) {
	held, behind := 0.0, 0.0
	given := map[int]bool{}
	for _, pump := range in.pumps {
		given[pump] = true
	}
	added := map[int]bool{}
	for i, part := range v.parts {
		if !regulating[i] {
			continue
		}
		from, _ := s.graph.At(i, "from")
		_, pumps := s.pumped(v, s.graph.Above(from, func(*topology.Passage) bool { return false }))
		delivered := 0.0
		for _, pump := range pumps {
			if given[pump] {
				continue
			}
			delivered += v.delivers(pump)
			if !added[pump] {
				added[pump] = true
				behind += v.delivers(pump)
			}
		}
		if delivered != 0 {
			held += min(part.(*specs.FlowRegulator).Flow.SI, delivered)
			in.regulators = append(in.regulators, i)
		}
	}
	in.flow += min(held, behind)
}

// relievedBefore tells whether another relief valve takes the flow of all pumps
// before it, at a pressure at which this one is still shut. This one sees no more
// than the pump does; where the other protects it, no more than the other and what
// is lost from here to there.
func (s *survey) relievedBefore(pump int, r *relief, v *caseView, cracking float64) bool {
	to, _ := s.graph.At(pump, "to")
	for k := range s.reliefs {
		other := &s.reliefs[k]
		if other == r || !other.returns || !other.protects[to] {
			continue
		}
		flow, _ := s.pumped(v, other.above)
		o := s.open(other, v, flow)
		if o.lacks != "" {
			continue
		}
		lost, lacks := s.pathLoss(other.from, topology.Upstream, v, flow, o.pressure, []int{to})
		if other.protects[r.from] {
			if here, lacksHere := s.pathLoss(other.from, topology.Upstream, v, flow, o.pressure, []int{r.from}); lacksHere == "" && (lacks != "" || here < lost) {
				lost, lacks = here, ""
			}
		}
		if lacks == "" && o.pressure+lost <= cracking {
			return true
		}
	}
	return false
}

// protectedParts are the parts under the pressure that a relief valve limits.
func (s *survey) protectedParts(r *relief) []int {
	var parts []int
	last := -1
	seen := map[int]bool{}
	for n, protected := range r.protects {
		if section := s.graph.Nodes[n].Section; protected && section != last {
			last = section
			for _, part := range s.graph.Sections[section].Parts {
				if !seen[part] {
					seen[part] = true
					parts = append(parts, part)
				}
			}
		}
	}
	return parts
}

// weakest is the lowest rated pressure of some parts. Tubes without a rating are
// left out: see weakestBurst. Any other part without one could be the weakest,
// and leaves it unknown.
func (s *survey) weakest(parts []int) (rated facts.Fact) {
	var lowest int
	var unrated []string
	for _, i := range parts {
		q := s.spec.Parts[i].Base().Rated.Pressure
		switch {
		case !s.bears(i) || s.bareTube(i):
		case !q.Given():
			unrated = append(unrated, s.path(i, "rated.pressure"))
		case !rated.Known || q.SI-s.air < rated.Value:
			rated, lowest = s.given(q, s.path(i, "rated.pressure")), i
		}
	}
	if len(unrated) > 0 || !rated.Known {
		return missing(strings.Join(unrated, ", "))
	}
	rated.From.Note = s.graph.Name(lowest)
	return rated
}

// bears tells whether a part has a rated pressure to be compared: all but
// reservoirs, which end what is under pressure, and plain orifices.
func (s *survey) bears(i int) bool {
	switch s.spec.Parts[i].(type) {
	case *specs.Reservoir, *specs.Orifice:
		return false
	}
	return true
}

// cutOffOver is the highest compensator cut-off of the pumps that feed a node
// past nothing that can be shut; unset where none has a compensator. Bounded
// tells whether they all have one.
func (s *survey) cutOffOver(node int) (top facts.Fact, bounded bool) {
	bounded = true
	for k, pump := range s.pumps {
		if !s.fed[k][node] {
			continue
		}
		p := s.spec.Parts[pump].(*specs.Pump)
		if p.Compensator == nil {
			bounded = false
			continue
		}
		f := s.cutOff(pump, p)
		if !f.Known {
			return f, false
		}
		if !top.Known || f.Value > top.Value {
			top = f
		}
	}
	return top, bounded && top.Known
}
