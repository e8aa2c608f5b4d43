package checker

import (
	"math"

	"headroom/checker/resistance"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
)

// This file bounds pressures without time. In a net of resistances no node can
// come to more than what drives the flow, so it is enough to follow what drives:
//
//   - a pump, as far as a relief valve lets it: one that nothing can shut off
//     from it, with the whole flow of all pumps that can come to it in it
//   - an accumulator and what else a case begins with as charge: its flow is
//     not limited, so that no relief valve on the way bounds it
//   - a load or spring that pushes a cylinder back, and a reservoir's gas
//
// and where it comes past reducing valves, which let pass no more than they are
// commanded to. Two things are left to the simulation: chambers that a
// directional valve can shut, where the mass of what moves adds its own, and
// lines that stand open to a reservoir, where the flow decides.

// A bound is what the pressure of a section does not pass in one case, and what
// sets it.
type bound struct {
	value  float64 // Pa absolute; +Inf where nothing bounds it, 0 where nothing presses
	still  float64 // without what the mass of moving parts adds
	by     setter
	height float64 // Pa, of value: what differences of height in the section come to
	lacks  string  // what would supply it, when the reason is a single one
}

// A setter is what sets a bound.
type setter struct {
	kind    setterKind
	part    int     // relief valve, reducing valve, cylinder or reservoir
	opening opening // of a relief valve
}

type setterKind uint8

const (
	byNothing setterKind = iota
	byRelief
	byCharge
	byReducing
	byLoad
	byReservoir
)

// bounds are the extremes that hold at any time.
func (s *survey) bounds() extremes {
	x := s.newExtremes()
	w := s.newBounder()
	worst := make([]bound, len(s.graph.Sections))
	in := make([]int, len(worst)) // the case in which it comes about
	for c := range s.cases {
		for i, b := range w.oneCase(&s.cases[c]) {
			still := max(b.still, worst[i].still)
			if c == 0 || b.value > worst[i].value {
				worst[i], in[i] = b, c
			}
			worst[i].still = still
		}
	}
	if len(s.cases) == 0 {
		for i := range worst {
			worst[i] = bound{value: math.Inf(1), still: math.Inf(1), lacks: "cases"}
		}
	}
	for n := range s.graph.Nodes {
		i := s.graph.Nodes[n].Section
		x.pressure[n], x.ceiling[n] = s.boundAt(w, n, worst[i], in[i])
		x.still[n] = worst[i].still - s.air
	}
	return x
}

// boundAt is a section's bound at one of its nodes: as the highest pressure where
// the node can come to it, else as a mere ceiling.
func (s *survey) boundAt(w *bounder, n int, b bound, in int) (facts.Fact, float64) {
	node := &s.graph.Nodes[n]
	if node.Reservoir {
		o := s.reservoirOrigin(n)
		return s.known(w.reservoirs[n]-s.air, o), w.reservoirs[n] - s.air
	}
	if math.IsInf(b.value, 1) {
		if b.lacks != "" {
			return missing(b.lacks), math.Inf(1)
		}
		return simulated(), math.Inf(1)
	}
	gauge := b.value - s.air
	switch node.Role {
	case topology.Pressure, topology.Control:
		return s.known(gauge, s.boundOrigin(b, in, n)), gauge
	case topology.Suction:
		if b.by.kind == byReservoir {
			return s.known(gauge, s.boundOrigin(b, in, n)), gauge
		}
	}
	return simulated(), gauge
}

// A bounder bounds the sections of one circuit, case by case.
type bounder struct {
	s          *survey
	joints     [][]topology.Joint // out of each section
	entries    [][]int            // nodes of each section by which pump flow enters
	spread     []float64          // m, greatest difference of height in each section
	moving     []bool             // a piston or motor moves fluid in it
	guarded    []bool             // all that leads into it are held ports of reducing valves
	reservoirs map[int]float64    // node to gas pressure, Pa absolute
	idle       float64            // Pa absolute, at which nodes begin that are not charged
	pushes     []push
}

func (s *survey) newBounder() *bounder {
	w := &bounder{s: s, joints: s.graph.Joints(), reservoirs: map[int]float64{}}
	n := len(s.graph.Sections)
	w.moving, w.guarded = make([]bool, n), make([]bool, n)
	for i := range w.guarded {
		w.guarded[i] = true
	}
	for _, out := range w.joints {
		for _, j := range out {
			if !s.throughHeldPort(j) {
				w.guarded[j.To] = false
			}
		}
	}
	base := caseView{parts: s.spec.Parts}
	for i, p := range s.spec.Parts {
		switch p.(type) {
		case *specs.Cylinder, *specs.Motor:
			for _, port := range s.graph.Ports[i] {
				w.moving[s.graph.Nodes[port.Node].Section] = true
			}
		case *specs.Reservoir:
			if at, ok := s.graph.At(i, "at"); ok {
				w.reservoirs[at] = s.reservoirPressure(&base, at)
			}
		}
	}
	w.idle = s.air
	for _, pressure := range w.reservoirs {
		w.idle = max(w.idle, pressure)
	}
	w.spread = s.spreads()
	w.entries = w.findEntries()
	w.pushes = s.findPushes()
	return w
}

// throughHeldPort tells whether a joint leads into a reducing valve's held port.
func (s *survey) throughHeldPort(j topology.Joint) bool {
	p := &s.graph.Passages[j.Passage]
	return p.Way == topology.Reducing && (p.Edge == topology.PA) == j.Forwards
}

// findEntries finds by which nodes pump flow comes into each section: at pumps,
// and where a joint leads in from a section that is nearer to a pump.
func (w *bounder) findEntries() [][]int {
	g := w.s.graph
	entries := make([][]int, len(g.Sections))
	depth := make([]int, len(g.Sections))
	var queue []int
	for _, pump := range w.s.pumps {
		if to, ok := g.At(pump, "to"); ok {
			i := g.Nodes[to].Section
			entries[i] = append(entries[i], to)
			if depth[i] == 0 {
				depth[i] = 1
				queue = append(queue, i)
			}
		}
	}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		for _, j := range w.joints[i] {
			if depth[j.To] == 0 {
				depth[j.To] = depth[i] + 1
				queue = append(queue, j.To)
			}
			if depth[j.To] > depth[i] {
				entries[j.To] = append(entries[j.To], w.into(j))
			}
		}
	}
	return entries
}

// into is the node at which a joint enters its section.
func (w *bounder) into(j topology.Joint) int {
	p := &w.s.graph.Passages[j.Passage]
	if j.Forwards {
		return p.To
	}
	return p.From
}

// oneCase bounds every section in one case.
func (w *bounder) oneCase(v *caseView) []bound {
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
		pumped[i].still = pumped[i].value
		if w.moving[i] && !w.guarded[i] {
			pumped[i] = bound{value: math.Inf(1), still: pumped[i].value}
		}
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
	caps := make([]bound, len(w.s.graph.Sections))
	for i := range caps {
		caps[i].value = math.Inf(1)
	}
	for r := range w.s.reliefs {
		if w.s.reliefs[r].returns {
			w.cap(caps, v, &w.s.reliefs[r])
		}
	}
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
	for n, pressure := range w.reservoirs {
		b := bound{value: pressure, by: setter{kind: byReservoir, part: n}}
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
	for _, p := range w.pushes {
		if force := p.force(v); force > 0 {
			w.raise(stored, nil, g.Nodes[p.node].Section, bound{value: w.s.air + force/p.area, by: setter{kind: byLoad, part: p.cylinder}})
		}
	}
	return stored
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
