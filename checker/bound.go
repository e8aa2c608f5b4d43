package checker

import (
	"math"

	"headroom/checker/topology"
	"headroom/rules/facts"
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
// commanded to. Left to the simulation are chambers that a directional valve can
// shut, where the mass of what moves adds its own, lines that stand open to a
// reservoir, where the flow decides, and what a motor reaches that its load
// drives. What a moving mass pushes back for an instant into a rail that a relief
// valve protects is not counted in a bound.

// A bound is what the pressure of a section does not pass in one case, and what
// sets it.
type bound struct {
	value  float64 // Pa absolute; +Inf where nothing bounds it, 0 where nothing presses
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
	s.bounder = w
	worst := make([]bound, len(s.graph.Sections))
	in := make([]int, len(worst)) // the case in which it comes about
	for c := range s.cases {
		for i, b := range w.oneCase(&s.cases[c]) {
			if c == 0 || b.value > worst[i].value {
				worst[i], in[i] = b, c
			}
		}
	}
	if len(s.cases) == 0 {
		for i := range worst {
			worst[i] = bound{value: math.Inf(1), lacks: "cases"}
		}
	}
	for n := range s.graph.Nodes {
		i := s.graph.Nodes[n].Section
		x.pressure[n], x.ceiling[n] = s.boundAt(w, n, worst[i], in[i])
	}
	return x
}

// boundAt is a section's bound at one of its nodes: as the highest pressure where
// the node can come to it, else as a mere ceiling.
func (s *survey) boundAt(w *bounder, n int, b bound, in int) (facts.Fact, float64) {
	node := &s.graph.Nodes[n]
	if node.Reservoir {
		o := s.reservoirOrigin(n)
		return s.known(w.gases[n]-s.air, o), w.gases[n] - s.air
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
