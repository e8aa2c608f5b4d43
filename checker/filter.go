package checker

import (
	"math"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// filter tells what a filter's element has to bear.
func (s *survey) filter(i int, part specs.Part, f *facts.Part) {
	filter, ok := part.(*specs.Filter)
	if !ok {
		return
	}
	f.OnSuction = s.onSuction(i, filter)
	f.Bypass = s.given(filter.Bypass, s.path(i, "bypass"))
	f.Collapse = s.given(filter.Collapse, s.path(i, "collapse"))
	f.CollapseDrop = s.collapseDrop(i, filter)
}

// onSuction tells whether a filter stands before a pump that has to draw through
// it: no other pump presses its oil there.
func (s *survey) onSuction(i int, filter *specs.Filter) facts.Flag {
	role := s.graph.LineRole(i)
	o := facts.Origin{At: filter.At, Key: s.roots[i], Note: "its role is " + string(role)}
	from, ok := s.graph.At(i, "from")
	for k, pump := range s.pumps {
		if ok && s.fed[k][from] {
			o.Note = s.graph.Name(pump) + " presses oil through it"
			return s.holds(false, o)
		}
	}
	return s.holds(role == topology.Suction, o)
}

// collapseDrop is the highest drop that an element can see once it is clogged.
// With a bypass, what that takes with the filter's highest flow in it; without
// one, all of the pressure before it: in a return line, where the simulated clean
// element lets all flow pass, that of whatever may come to it once nothing does.
func (s *survey) collapseDrop(i int, filter *specs.Filter) facts.Fact {
	if filter.Bypass.Given() {
		return s.bypassDrop(i, filter)
	}
	from, ok := s.graph.At(i, "from")
	if !ok {
		return missing(s.path(i, "from"))
	}
	before := s.bound.pressure[from]
	cutOff, bounded := s.cutOffOver(from)
	if !bounded && s.cutOffByFilter(i, from) {
		return missing("a relief valve before " + s.graph.Name(i) + " that it does not shut off once it is clogged")
	}
	if to, ok := s.graph.At(i, "to"); ok && s.graph.Nodes[to].Role == topology.Suction && before.Known {
		return s.known(before.Value+s.air, facts.Origin{At: filter.At, Key: s.roots[i], Note: "clogged, with a vacuum behind it"})
	}
	// Nothing flows through a clogged element: the pumps are at their cut-off.
	if bounded && !(before.Known && before.Value < cutOff.Value) {
		before = cutOff
	}
	if !before.Known {
		before = s.highestAbove(from)
	}
	if !before.Known {
		return before
	}
	o, note := *before.From, "clogged, with no bypass: all of the pressure before it"
	if o.Note != "" {
		note += "; " + o.Note
	}
	o.Note = note
	return s.known(before.Value, o)
}

// cutOffByFilter tells whether a pump presses on a filter that parts it from every
// relief valve once it is clogged.
func (s *survey) cutOffByFilter(filter, from int) bool {
	pressed := false
	for k := range s.pumps {
		pressed = pressed || s.fed[k][from]
	}
	if !pressed || s.graph.Vents(from) {
		return false
	}
	for k := range s.reliefs {
		if s.graph.ProtectedPast(s.reliefs[k].part, filter)[from] {
			return false
		}
	}
	return true
}

// highestAbove is the highest pressure bound of what flow can come from to a node in
// some state of the valves, or what the node itself was seen at where that is more.
func (s *survey) highestAbove(node int) facts.Fact {
	top := s.sees.pressure[node]
	above := s.graph.Above(node, func(p *topology.Passage) bool { return s.graph.Nodes[p.To].Reservoir })
	for n, comes := range above {
		if f := s.bound.pressure[n]; comes && f.Known && (!top.Known || f.Value > top.Value) {
			top = f
		}
	}
	return top
}

// bypassDrop is the drop of the open bypass at the filter's highest flow.
func (s *survey) bypassDrop(i int, filter *specs.Filter) facts.Fact {
	flow, in := s.flowIn(i, anyCase)
	if !flow.Known {
		return unknown(flow)
	}
	at := under(s.roots[i])
	if key := lacking(at(filter.Flow, "flow"), at(filter.Drop, "drop")); key != "" {
		return missing(key)
	}
	return s.openBypass(i, filter, flow.Value, in, facts.Origin{Case: in.spec.Name})
}

// openBypass is what a filter's bypass takes from a flow of a case, the fluid as warm
// as that begins.
func (s *survey) openBypass(i int, filter *specs.Filter, flow float64, in *caseView, o facts.Origin) facts.Fact {
	switch {
	case s.oil == nil:
		return missing(s.oilKey)
	case math.IsNaN(in.fluid):
		return missing("environment.ambient")
	}
	o.At, o.Key = filter.Bypass.At, s.path(i, "bypass")
	o.Note = "clogged, its bypass open with " + print(flow, quantity.Flow) + " in it"
	return s.known(bypassLoss(filter, flow, s.oil.Density(in.fluid, s.air)), o)
}
