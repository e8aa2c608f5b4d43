package checker

import (
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
)

// This file finds the nodes whose pressure in a case is made up. A case begins with
// the load on every cylinder. Where that load stands against oil that valves shut in, it
// rests on it as the case begins (see resting.go) if that can be worked out; else it
// drops on it in the first instants, and the chamber that it draws larger falls below
// the reservoir's pressure until oil leaks in. Where the case then moves that cylinder
// by no command, no change of its load and no valve that it sets or has stuck, the dip
// says nothing of the design.

// madeUp tells whether a node's pressure in a case is, given the cylinder that the
// case leaves untouched there; -1 for none.
func (s *survey) madeUp(n, cylinder int, v *caseView) facts.Flag {
	o := facts.Origin{At: v.spec.At, Key: v.root, Case: v.spec.Name, Node: s.graph.Nodes[n].Name}
	if cylinder >= 0 {
		o.Note = "the case leaves " + s.graph.Name(cylinder) + " at rest"
	}
	return s.holds(cylinder >= 0, o)
}

// untouched is by node the loaded cylinder that a case leaves untouched there; -1
// for none. Given are the nodes with which the chambers of each are shut in.
func (s *survey) untouched(shut map[int]topology.Set, v *caseView) []int {
	by := make([]int, len(s.graph.Nodes))
	for n := range by {
		by[n] = -1
	}
	for i, p := range s.spec.Parts {
		c, ok := p.(*specs.Cylinder)
		if !ok || shut[i] == nil {
			continue
		}
		load := v.load(c.Name, c.Load)
		if least := lowest(load); least == 0 || least != highest(load) || s.touched(shut[i], v) || s.touched(s.pilots(shut[i]), v) {
			continue
		}
		for n, in := range shut[i] {
			if in {
				by[n] = i
			}
		}
	}
	return by
}

// shutChambers are the nodes of shutIn by cylinder.
func (s *survey) shutChambers() map[int]topology.Set {
	all := map[int]topology.Set{}
	for i, p := range s.spec.Parts {
		if _, ok := p.(*specs.Cylinder); ok {
			all[i] = s.shutIn(i)
		}
	}
	return all
}

// shutIn are the nodes with which the chambers of a cylinder are joined past no
// spool, where those chambers are shut at rest; nil where one of them is not.
func (s *survey) shutIn(cylinder int) topology.Set {
	var chambers []int
	for _, port := range s.graph.Ports[cylinder] {
		if joined, _ := s.joinedAt(port.Node); joined != shut {
			return nil
		}
		chambers = append(chambers, port.Node)
	}
	return s.pastNoSpool(chambers)
}

// pilots are the nodes that are joined past no spool with the pilots of the check
// valves at some nodes: what opens those moves what they shut in.
func (s *survey) pilots(at topology.Set) topology.Set {
	var pilots []int
	for i, p := range s.spec.Parts {
		if _, ok := p.(*specs.PilotCheckValve); !ok {
			continue
		}
		to, known := s.graph.At(i, "to")
		if pilot, ok := s.graph.At(i, "pilot"); ok && known && at[to] {
			pilots = append(pilots, pilot)
		}
	}
	return s.pastNoSpool(pilots)
}

// pastNoSpool are the nodes that are joined with some past no spool, return lines
// left out.
func (s *survey) pastNoSpool(starts []int) topology.Set {
	at := make(topology.Set, len(s.graph.Nodes))
	var next []int
	enter := func(n int) {
		if node := &s.graph.Nodes[n]; !at[n] && !node.Reservoir && node.Role != topology.Return {
			at[n] = true
			next = append(next, n)
		}
	}
	for _, n := range starts {
		enter(n)
	}
	for len(next) > 0 {
		n := next[0]
		next = next[1:]
		for _, k := range s.graph.Nodes[n].Passages {
			switch p := &s.graph.Passages[k]; p.Way {
			case topology.Open, topology.Check, topology.Piloted, topology.Regulated, topology.Shuttle:
				enter(p.From)
				enter(p.To)
			}
		}
	}
	return at
}

// touched tells whether a case moves a valve at any of some nodes: by a command, by
// where it begins, or by what it changes of it.
func (s *survey) touched(at topology.Set, v *caseView) bool {
	moved := map[string]bool{}
	for i := range v.spec.Commands {
		moved[v.spec.Commands[i].Valve.Value] = true
	}
	for i := range v.spec.Begins.Spools {
		moved[v.spec.Begins.Spools[i].Name] = true
	}
	for i := range v.spec.With {
		moved[v.spec.With[i].Part] = true
	}
	for n, in := range at {
		if !in {
			continue
		}
		for _, port := range s.graph.Nodes[n].Ports {
			if moved[s.graph.Name(port.Part)] {
				return true
			}
		}
	}
	return false
}
