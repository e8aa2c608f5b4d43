package checker

import (
	"fmt"
	"math"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// deadEnd tells how much of the oil between a cylinder and its valve one stroke
// changes for fresh, where it goes out only by the way it came.
func (s *survey) deadEnd(i int, part specs.Part, f *facts.Part) {
	c, ok := part.(*specs.Cylinder)
	if !ok {
		return
	}
	f.Bleeds = s.flag(c.Bleeds, s.path(i, "bleeds"))
	o := facts.Origin{At: c.At, Key: s.roots[i], Note: "oil goes through it, or no valve feeds it"}
	for _, port := range s.graph.Ports[i] {
		nodes, valve, dead := s.graph.DeadEnd(port.Node)
		if !dead {
			continue
		}
		o.Note = "the way out is the way in, by " + s.graph.Name(valve)
		if e := s.exchange(nodes, facts.Origin{At: c.At, Key: s.roots[i], Node: s.graph.Nodes[port.Node].Name}); !f.DeadEnd.Known || !e.Known || f.LineExchange.Known && e.Value < f.LineExchange.Value {
			f.LineExchange = e
		}
		f.DeadEnd = s.holds(true, o)
	}
	if !f.DeadEnd.Known {
		f.DeadEnd = s.holds(false, o)
	}
}

// exchange is what all chambers of a dead end displace in a stroke over what its
// lines and nodes hold.
func (s *survey) exchange(nodes []bool, o facts.Origin) facts.Fact {
	swept, held := 0.0, 0.0
	for i, part := range s.spec.Parts {
		inside := 0
		for _, port := range s.graph.Ports[i] {
			if nodes[port.Node] {
				inside++
			}
		}
		if inside == 0 {
			continue
		}
		if key := s.unmeasured(i, part); key != "" {
			return missing(key)
		}
		if l := lineOf(part); l != nil {
			held += lineVolume(l)
		}
		if c, ok := part.(*specs.Cylinder); ok {
			head, rod := areas(c)
			for _, port := range s.graph.Ports[i] {
				if nodes[port.Node] {
					swept += map[string]float64{"head": head, "rod": rod}[port.Key] * c.Stroke.SI
				}
			}
		}
	}
	for n, in := range nodes {
		if in {
			held += s.declared[n]
		}
	}
	held = math.Max(held, leastNode)
	o.Note = fmt.Sprintf("a stroke displaces %s, the way to the valve holds %s", print(swept, quantity.Volume), print(held, quantity.Volume))
	return s.known(swept/held, o)
}
