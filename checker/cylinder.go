package checker

import (
	"fmt"

	"headroom/checker/strength"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// cylinder tells what bends a cylinder's rod, what brings it home, and what
// holds a load that hangs on it.
func (s *survey) cylinder(i int, part specs.Part, f *facts.Part) {
	c, ok := part.(*specs.Cylinder)
	if !ok {
		return
	}
	s.buckling(i, c, f)
	s.springReturn(i, c, f)
	s.hanging(i, c, f)
}

// slenderStroke is the stroke over the rod's diameter from which a rod may
// buckle: pinned at both ends with the rod out its length is twice that, and its
// slenderness 80, about where Euler's law begins.
const slenderStroke = 10

// buckling tells whether a rod is slender, what it bears and how it is pressed.
// A rod of unstated diameter counts as thick as the piston.
func (s *survey) buckling(i int, c *specs.Cylinder, f *facts.Part) {
	rod := c.RodDiameter
	if !rod.Given() {
		rod = c.Bore
	}
	o := facts.Origin{At: c.Stroke.At, Key: s.path(i, "stroke")}
	switch {
	case c.BucklingLength.Given():
		f.Slender = s.holds(true, *s.given(c.BucklingLength, s.path(i, "buckling_length")).From)
	case !rod.Given() || !c.Stroke.Given():
		f.Slender = facts.Flag{Missing: lacking(keyed{c.Stroke, s.path(i, "stroke")}, keyed{rod, s.path(i, "rod_diameter")})}
	default:
		o.Note = fmt.Sprintf("a stroke of %.1f diameters of the rod", c.Stroke.SI/rod.SI)
		f.Slender = s.holds(c.Stroke.SI > slenderStroke*rod.SI, o)
	}
	f.BucklingForce = s.bucklingForce(i, c)
	f.RodForce = s.rodForce(i, c)
}

func (s *survey) bucklingForce(i int, c *specs.Cylinder) facts.Fact {
	at := under(s.roots[i])
	if key := lacking(at(c.BucklingLength, "buckling_length"), at(c.RodDiameter, "rod_diameter")); key != "" {
		return missing(key)
	}
	return s.known(strength.RodBuckling(c.RodDiameter.SI, c.BucklingLength.SI), facts.Origin{
		At: c.BucklingLength.At, Key: s.path(i, "buckling_length"),
		Note:  fmt.Sprintf("%s of solid steel, %s free", print(c.RodDiameter.SI, quantity.Length), print(c.BucklingLength.SI, quantity.Length)),
		Basis: "Euler 1744; Tetmajer 1886",
	})
}

// rodForce is the most that the head side's pressure presses on the rod, the
// other side without pressure.
func (s *survey) rodForce(i int, c *specs.Cylinder) facts.Fact {
	head, ok := s.graph.At(i, "head")
	if !ok || !c.Bore.Given() {
		return missing(s.path(i, "bore"))
	}
	return reckoned(s.sees.pressure[head], rising, func(pressed facts.Fact) facts.Fact {
		full, _ := areas(c)
		o := *pressed.From
		o.At, o.Key = c.Bore.At, s.path(i, "bore")
		o.Note = print(pressed.Value, quantity.Pressure) + " on the head side"
		return s.known(max(0, pressed.Value)*full, o)
	})
}

// springReturn tells what brings a single-acting cylinder with a spring home,
// from where the spring is weakest, and what it has to overcome.
func (s *survey) springReturn(i int, c *specs.Cylinder, f *facts.Part) {
	o := facts.Origin{At: c.At, Key: s.roots[i]}
	f.SpringReturned = s.holds(c.Spring != nil && !c.Rod.Given(), o)
	if !f.SpringReturned.Value {
		return
	}
	at := under(s.roots[i])
	if key := lacking(at(c.Spring.Preload, "spring.preload"), at(c.Bore, "bore")); key != "" {
		f.ReturnForce, f.ReturnResistance = missing(key), missing(key)
		return
	}
	least := c.Load.SI
	for v := range s.cases {
		least = min(least, lowest(s.cases[v].load(c.Name, c.Load)))
	}
	full, _ := areas(c)
	back := s.idlePressure() - s.air
	o.At, o.Key = c.Spring.Preload.At, s.path(i, "spring.preload")
	o.Note = fmt.Sprintf("preload %s, load %s at least", print(c.Spring.Preload.SI, quantity.Force), print(max(0, least), quantity.Force))
	f.ReturnForce = s.known(c.Spring.Preload.SI+max(0, least), o)
	o.At, o.Key = c.At, s.roots[i]
	o.Note = fmt.Sprintf("dry friction %s, %s from the reservoir, load %s that draws it out",
		print(c.Friction.Coulomb.SI, quantity.Force), print(back*full, quantity.Force), print(max(0, -least), quantity.Force))
	f.ReturnResistance = s.known(c.Friction.Coulomb.SI+back*full+max(0, -least), o)
}

// hanging tells what holds a load that hangs on a cylinder: whether a hose lies
// between its loaded side and the valve that holds it, and whether that valve
// is shut at rest and tight.
func (s *survey) hanging(i int, c *specs.Cylinder, f *facts.Part) {
	f.Hangs = s.flag(c.Hangs, s.path(i, "hangs"))
	if !c.Hangs.Given() || !c.Hangs.Value {
		return
	}
	side, key := s.loadedSide(i, c)
	if key != "" {
		f.HangingHose, f.LoadHeld = facts.Flag{Missing: key}, facts.Flag{Missing: key}
		return
	}
	node, ok := s.graph.At(i, side)
	if !ok {
		f.HangingHose, f.LoadHeld = facts.Flag{Missing: s.path(i, side)}, facts.Flag{Missing: s.path(i, side)}
		return
	}
	o := facts.Origin{At: c.Hangs.At, Key: s.path(i, "hangs"), Node: s.graph.Nodes[node].Name}
	section := s.graph.Nodes[node].Section
	o.Note = "no hose on its " + side + " side"
	hose := false
	for _, part := range s.graph.Sections[section].Parts {
		if _, hose = s.spec.Parts[part].(*specs.Hose); hose {
			o.Note = s.graph.Name(part) + " on its " + side + " side"
			break
		}
	}
	f.HangingHose = s.holds(hose, o)
	f.LoadHeld = s.loadHeld(node, side, o)
}

// loadedSide is the side whose oil bears the load, over all cases.
func (s *survey) loadedSide(i int, c *specs.Cylinder) (side, key string) {
	least, most := c.Load.SI, c.Load.SI
	for v := range s.cases {
		load := s.cases[v].load(c.Name, c.Load)
		least, most = min(least, lowest(load)), max(most, highest(load))
	}
	switch {
	case most > 0 && most >= -least:
		return "head", ""
	case least < 0:
		return "rod", ""
	}
	return "", s.path(i, "load")
}

// loadHeld tells whether a node is shut with every valve at rest, with nothing that
// leaks at it or where its oil can go from it.
func (s *survey) loadHeld(node int, side string, o facts.Origin) facts.Flag {
	at, _ := s.joinedAt(node)
	o.Note = side + " side " + at.String()
	if at != shut {
		return s.holds(false, o)
	}
	reached := s.graph.OnwardAtRest(node)
	for k := range s.graph.Passages {
		p := &s.graph.Passages[k]
		leaks := p.Way == topology.Leak || p.Way == topology.Slip
		if leaks && (reached[p.From] || reached[p.To]) {
			o.Note += ", but " + s.graph.Name(p.Part) + " leaks"
			return s.holds(false, o)
		}
	}
	return s.holds(true, o)
}
