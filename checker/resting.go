package checker

import (
	"headroom/checker/topology"
	"headroom/specs"
)

// This file finds the pressures of the oil on which loads rest as a case begins. Where
// valves shut a cylinder's chambers, its load came to rest on the oil in one of them
// before the case began, and the other is at the reservoir's pressure:
//
//	(p_head − p_air) A_head − (p_rod − p_air) A_rod = preload + c x + load
//
// with the areas A of the two sides, the spring's preload and rate c, and the position
// x. Friction is left out. Where several loads rest on the same oil, it is at the
// highest of their pressures.

// resting are these pressures (Pa absolute) in a case, by the name of the node; nil
// where there are none.
func (s *survey) resting(v *caseView) map[string]float64 {
	var on map[string]float64
	for i := range v.parts {
		c, ok := v.parts[i].(*specs.Cylinder)
		if !ok {
			continue
		}
		chamber, pressure := s.bearer(i, c, v)
		if pressure <= 0 {
			continue
		}
		port, known := s.graph.At(i, chamber)
		at := s.shutIn(i)
		if !known || at == nil || s.beginsMoved(at, v) || s.beginsMoved(s.pilots(at), v) {
			continue
		}
		onward := s.graph.OnwardAtRest(port)
		if !s.onlyRests(onward, i, chamber) {
			continue
		}
		for n, in := range onward {
			if name := s.graph.Nodes[n].Name; in && pressure > on[name] {
				if on == nil {
					on = map[string]float64{}
				}
				on[name] = pressure
			}
		}
	}
	return on
}

// bearer is the chamber of a cylinder that bears its load and spring as a case begins,
// and the pressure in it (Pa absolute), the other at the reservoir's; 0 where a stop
// bears them, or nothing is to be borne.
func (s *survey) bearer(i int, c *specs.Cylinder, v *caseView) (chamber string, pressure float64) {
	if !c.Bore.Given() || !c.Stroke.Given() || c.Rod.Given() && !c.RodDiameter.Given() {
		return "", 0
	}
	x := 0.0
	for _, p := range v.spec.Begins.Positions {
		if p.Name == c.Name {
			x = p.Value.SI
		}
	}
	force := c.Load.SI
	if load := v.load(c.Name, c.Load); len(load.Points) > 0 {
		force = load.Points[0].Y
	}
	if c.Spring != nil {
		force += c.Spring.Preload.SI + c.Spring.Rate.SI*x
	}
	head, rod := areas(c)
	idle := s.firstReservoir(v)
	switch {
	case force > 0 && x > 0:
		return "head", max(0, s.air+(force+(idle-s.air)*rod)/head)
	case force < 0 && x < c.Stroke.SI && rod > 0:
		return "rod", max(0, s.air+((idle-s.air)*head-force)/rod)
	}
	return "", 0
}

// firstReservoir is the pressure (Pa absolute) at which nodes begin that are not
// charged: of the first reservoir.
func (s *survey) firstReservoir(v *caseView) float64 {
	for _, p := range v.parts {
		if r, ok := p.(*specs.Reservoir); ok && r.Pressure.Given() {
			return r.Pressure.SI
		}
	}
	return s.air
}

// beginsMoved tells whether a case begins with a directional valve at any of some nodes
// where it does not rest.
func (s *survey) beginsMoved(at topology.Set, v *caseView) bool {
	for i, p := range s.spec.Parts {
		rests, ok := p.(*specs.DirectionalValve)
		if !ok {
			continue
		}
		begins := v.parts[i].(*specs.DirectionalValve)
		spool := begins.Rest
		for _, b := range v.spec.Begins.Spools {
			if b.Name == rests.Name {
				spool = b.Value
			}
		}
		if begins.Stuck.Given() {
			spool = begins.Stuck
		}
		if spool.SI == rests.Rest.SI {
			continue
		}
		for _, port := range s.graph.Ports[i] {
			if at[port.Node] {
				return true
			}
		}
	}
	return false
}

// onlyRests tells whether what a chamber presses on is at rest with it: nothing that
// is charged, and not the cylinder's other chamber.
func (s *survey) onlyRests(onward topology.Set, cylinder int, chamber string) bool {
	for n, in := range onward {
		if in && (s.graph.Nodes[n].Charged || s.graph.Nodes[n].Reservoir) {
			return false
		}
	}
	for _, port := range s.graph.Ports[cylinder] {
		if port.Key != chamber && onward[port.Node] {
			return false
		}
	}
	return true
}
