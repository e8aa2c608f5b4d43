package checker

import (
	"fmt"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// boundOrigin tells how a bound came about at a node.
func (s *survey) boundOrigin(b bound, in, node int) facts.Origin {
	o := s.setBy(b, in, node)
	if b.height > 0 {
		o.Note += ", and " + print(b.height, quantity.PressureDifference) + " by differences of height"
	}
	return o
}

func (s *survey) setBy(b bound, in, node int) facts.Origin {
	v := &s.cases[in]
	o := facts.Origin{Case: v.spec.Name, Node: s.graph.Nodes[node].Name}
	switch b.by.kind {
	case byRelief:
		valve := v.parts[b.by.part].(*specs.ReliefValve)
		o.At, o.Key = valve.Cracking.At, s.path(b.by.part, "cracking")
		o.Note = fmt.Sprintf("at most %s open at %s", valve.Name, print(b.by.opening.flow, quantity.Flow))
		if lost := b.by.opening.lost; lost >= worthTelling {
			o.Note += fmt.Sprintf(", %s lost on the way to it", print(lost, quantity.PressureDifference))
		}
	case byCharge:
		charge := v.spec.Begins.Charge
		o.At, o.Key, o.Note = charge.At, v.root+".begins.charge", "the charge it begins with"
	case byReducing:
		valve := v.parts[b.by.part].(*specs.ReducingValve)
		o.At, o.Key = valve.At, s.roots[b.by.part]
		o.Note = fmt.Sprintf("%s told to hold %s, and its band", valve.Name, print(v.holds(valve)-s.air, quantity.Pressure))
	case byLoad:
		c := v.parts[b.by.part].(*specs.Cylinder)
		o.At, o.Key, o.Note = c.At, s.roots[b.by.part], "load and spring of "+c.Name+" at rest"
	case byReservoir:
		return s.reservoirOrigin(b.by.part)
	default:
		o.At, o.Key, o.Note = v.spec.At, v.root, "nothing presses on it"
	}
	return o
}

// worthTelling is the pressure loss below which a note leaves it out: 0.1 bar.
const worthTelling = 1e4

// reservoirOrigin is that of the pressure of the reservoir at a node.
func (s *survey) reservoirOrigin(node int) facts.Origin {
	o := facts.Origin{Node: s.graph.Nodes[node].Name}
	for _, port := range s.graph.Nodes[node].Ports {
		if r, ok := s.spec.Parts[port.Part].(*specs.Reservoir); ok {
			o.At, o.Key, o.Note = r.At, s.roots[port.Part], "gas pressure of "+r.Name
			if r.Pressure.Source > specs.FromDefault {
				o.At, o.Key = r.Pressure.At, s.path(port.Part, "pressure")
			}
		}
	}
	return o
}
