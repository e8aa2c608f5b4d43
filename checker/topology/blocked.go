package topology

import (
	"slices"

	"headroom/specs"
)

// Blocks tells whether a cylinder's rod side can be shut on all sides while its
// head side is pressed, and the first valve that shuts it. Every directional valve
// on the way to the head side must then stand so that something presses on it.
// Untold says that there are too many states of valves to know.
func (s *Shutter) Blocks(cylinder int) (closer int, can, untold bool) {
	head, connected := s.g.At(cylinder, "head")
	rod, double := s.g.At(cylinder, "rod")
	if !connected || !double || s.g.Nodes[head].Section == s.g.Nodes[rod].Section {
		return 0, false, false
	}
	states, pressed := s.leading(s.g.sources(cylinder), head)
	if !pressed {
		return 0, false, false
	}
	pressing := *s
	pressing.states = states
	t, shut := pressing.shut(s.g.Sections[s.g.Nodes[rod].Section].Nodes)
	if !shut || len(t.Closers) == 0 {
		return 0, false, t.Untold
	}
	return t.Closers[0], true, false
}

// Joins tells whether a way joins a cylinder's head side with its rod side while
// each directional valve on it stands in one state.
func (s *Shutter) Joins(cylinder int) bool {
	head, connected := s.g.At(cylinder, "head")
	rod, double := s.g.At(cylinder, "rod")
	if !connected || !double {
		return false
	}
	_, joined := s.leading([]int{head}, rod)
	return joined
}

// sources are the nodes at which something other than one cylinder may press: pumps,
// accumulators, and motors and other cylinders, which a load may drive.
func (g *Graph) sources(but int) []int {
	var nodes []int
	for i, p := range g.Circuit.Parts {
		for _, port := range g.Ports[i] {
			presses := false
			switch p.(type) {
			case *specs.Pump:
				presses = port.Key == "to"
			case *specs.Accumulator, *specs.Motor:
				presses = true
			case *specs.Cylinder:
				presses = i != but
			}
			if presses {
				nodes = append(nodes, port.Node)
			}
		}
	}
	return nodes
}

// leading are the states of the directional valves, of each only those in which
// pressure can come from some nodes to another, whatever the rest of them do; ok is
// false where it cannot, or a valve would have to stand in two states at once.
func (s *Shutter) leading(from []int, to int) (states map[int][]float64, ok bool) {
	states = make(map[int][]float64, len(s.states))
	for valve, known := range s.states {
		for _, spool := range known {
			if s.leads(from, to, valve, spool) {
				states[valve] = append(states[valve], spool)
			}
		}
		if states[valve] == nil {
			return nil, false
		}
	}
	return states, len(states) > 0 || s.leads(from, to, -1, 0)
}

// leads tells whether pressure can come from some nodes to another with one
// directional valve at a spool position and the rest of them in any state.
func (s *Shutter) leads(from []int, to, valve int, spool float64) bool {
	keeps := func(n int) bool { return !s.g.Nodes[n].Reservoir && !s.drained[n] }
	return keeps(to) && s.g.search(from, func(p *Passage, forwards bool) bool {
		switch {
		case !mayFlow(p, forwards):
			return false
		case p.Way != Spool:
			return true
		case p.Part == valve:
			return opens(p.Edge, spool)
		}
		return slices.ContainsFunc(s.states[p.Part], func(spool float64) bool { return opens(p.Edge, spool) })
	}, keeps)[to]
}
