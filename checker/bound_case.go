package checker

import (
	"math"

	"headroom/checker/resistance"
	"headroom/checker/topology"
	"headroom/specs"
)

// oneCase bounds every section in one case.
func (w *bounder) oneCase(v *caseView) []bound {
	bounds := w.still(v)
	for i := range bounds {
		if w.moving[i] && !w.guarded[i] {
			bounds[i] = bound{value: math.Inf(1)}
		}
	}
	return bounds
}

// still bounds every section in one case while nothing that moves is stopped:
// without what its mass adds.
func (w *bounder) still(v *caseView) []bound {
	caps := w.caps(v)
	pumped := make([]bound, len(caps))
	for _, pump := range w.s.pumps {
		if to, ok := w.s.graph.At(pump, "to"); ok && v.turns(pump) {
			w.raise(pumped, caps, w.s.graph.Nodes[to].Section, bound{value: math.Inf(1)})
		}
	}
	w.spreadOut(v, pumped, caps)
	stored := w.stores(v, pumped)
	w.spreadOut(v, stored, nil)
	for i := range pumped {
		if stored[i].value > pumped[i].value {
			pumped[i] = stored[i]
		}
		w.addHeight(i, &pumped[i])
	}
	return pumped
}

// addHeight adds what the differences of height in a section come to.
func (w *bounder) addHeight(i int, b *bound) {
	if w.s.oil != nil && !math.IsInf(b.value, 1) {
		b.height = w.s.oil.Density15 * resistance.Gravity * w.spread[i]
		b.value += b.height
	}
}

// caps are what relief valves let the pumps come to, by section: +Inf where
// none protects it.
func (w *bounder) caps(v *caseView) []bound {
	if caps, known := w.capped[v]; known {
		return caps
	}
	caps := make([]bound, len(w.s.graph.Sections))
	for i := range caps {
		caps[i].value = math.Inf(1)
	}
	for r := range w.s.reliefs {
		if w.s.reliefs[r].returns {
			w.cap(caps, v, &w.s.reliefs[r])
		}
	}
	w.capped[v] = caps
	return caps
}

// cap lowers the caps of the sections that one relief valve protects.
func (w *bounder) cap(caps []bound, v *caseView, r *relief) {
	s := w.s
	flow, _ := s.pumped(v, r.above)
	open := s.open(r, v, flow)
	for i := range caps {
		// A relief valve protects a section as a whole or not at all.
		if first := s.graph.Sections[i].Nodes[0]; !r.protects[first] || s.graph.Nodes[first].Reservoir {
			continue
		}
		o := open
		if o.lacks == "" {
			o.lost, o.lacks = s.pathLoss(r.from, topology.Upstream, v, flow, o.pressure, w.entries[i])
		}
		if o.lacks != "" {
			if math.IsInf(caps[i].value, 1) {
				caps[i].lacks = o.lacks
			}
			continue
		}
		if b := o.pressure + o.lost; b < caps[i].value {
			caps[i] = bound{value: b, by: setter{kind: byRelief, part: r.part, opening: o}}
		}
	}
}

// stores are the bounds with what stores pressure put in: charges, the gas of
// reservoirs, loads on cylinders.
func (w *bounder) stores(v *caseView, pumped []bound) []bound {
	g := w.s.graph
	stored := make([]bound, len(pumped))
	for i, part := range w.s.spec.Parts {
		if _, ok := part.(*specs.Accumulator); ok {
			if at, ok := g.At(i, "at"); ok {
				stored[g.Nodes[at].Section] = pumped[g.Nodes[at].Section]
			}
		}
	}
	if charge := v.spec.Begins.Charge; charge.Given() {
		for n := range g.Nodes {
			if g.Nodes[n].Charged {
				w.raise(stored, nil, g.Nodes[n].Section, bound{value: charge.SI, by: setter{kind: byCharge}})
			}
		}
	}
	for _, n := range w.reservoirs {
		b := bound{value: w.gases[n], by: setter{kind: byReservoir, part: n}}
		w.raise(stored, nil, g.Nodes[n].Section, b)
		for i := range g.Sections {
			for _, open := range g.Sections[i].OpenTo {
				if open == n {
					w.raise(stored, nil, i, b)
				}
			}
		}
	}
	for i := range g.Sections {
		w.raise(stored, nil, i, bound{value: w.idle, by: setter{kind: byNothing}})
	}
	for _, m := range w.motors {
		if motor := v.parts[m].(*specs.Motor); lowest(v.load(motor.Name, motor.Load)) < 0 {
			for _, port := range g.Ports[m] {
				w.raise(stored, nil, g.Nodes[port.Node].Section, bound{value: math.Inf(1)})
			}
		}
	}
	for _, p := range w.pushes {
		force := p.force(v)
		if force <= 0 {
			continue
		}
		if p.ring > 0 {
			rod := g.Nodes[p.rod].Section
			force += (max(pumped[rod].value, stored[rod].value) - w.s.air) * p.ring
		}
		w.raise(stored, nil, g.Nodes[p.node].Section, bound{value: w.s.air + force/p.area, by: setter{kind: byLoad, part: p.cylinder}})
	}
	return stored
}

// without is the bounder but for one cylinder's own load and spring; those of the others
// press as pushesBut has it.
func (w *bounder) without(cylinder int) *bounder {
	other := *w
	other.pushes = w.s.pushesBut(cylinder, w.pushes)
	return &other
}

// raise lifts a section's bound, as far as its cap lets it; false where it is
// no lower already.
func (w *bounder) raise(bounds, caps []bound, section int, b bound) bool {
	if caps != nil && caps[section].value <= b.value {
		b = caps[section]
	}
	if b.value <= bounds[section].value {
		return false
	}
	bounds[section] = b
	return true
}

// spreadOut carries pressure on from section to section until none rises further.
func (w *bounder) spreadOut(v *caseView, bounds, caps []bound) {
	var queue []int
	for i := range bounds {
		if bounds[i].value > 0 {
			queue = append(queue, i)
		}
	}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		for _, j := range w.joints[i] {
			if g := w.s.graph; g.Nodes[g.Sections[j.To].Nodes[0]].Reservoir {
				continue
			}
			if w.raise(bounds, caps, j.To, w.pass(v, j, bounds[i])) {
				queue = append(queue, j.To)
			}
		}
	}
}

// pass is what is left of a pressure past a joint.
func (w *bounder) pass(v *caseView, j topology.Joint, b bound) bound {
	p := &w.s.graph.Passages[j.Passage]
	switch part := v.parts[p.Part].(type) {
	case *specs.CheckValve:
		b.value -= part.Cracking.SI
	case *specs.ReliefValve:
		b.value -= part.Cracking.SI
	case *specs.ReducingValve:
		return w.passReducing(v, j, p, part, b)
	}
	return b
}

// passReducing lets from p into the held port no more than the valve is told to
// hold, and its band; from t no more than the back pressure it is rated for,
// where it is: that this is kept is judged apart.
func (w *bounder) passReducing(v *caseView, j topology.Joint, p *topology.Passage, valve *specs.ReducingValve, b bound) bound {
	switch {
	case p.Edge == topology.PA:
		held := v.holds(valve) + valve.Band.SI
		if held < b.value {
			return bound{value: held, by: setter{kind: byReducing, part: p.Part}}
		}
	case !j.Forwards && valve.Rated.BackPressure.Given():
		b.value = min(b.value, valve.Rated.BackPressure.SI)
	}
	return b
}
