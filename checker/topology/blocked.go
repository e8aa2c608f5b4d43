package topology

import (
	"maps"

	"headroom/specs"
)

// Blocks tells whether a cylinder's rod side can be shut on all sides while its
// head side is pressed, and the first valve that shuts it. A directional valve
// that feeds the head side must then stand so that it does. Untold says that there
// are too many states of valves to know.
func (s *Shutter) Blocks(cylinder int) (closer int, can, untold bool) {
	head, connected := s.g.At(cylinder, "head")
	rod, double := s.g.At(cylinder, "rod")
	if !connected || !double || s.g.Nodes[head].Section == s.g.Nodes[rod].Section {
		return 0, false, false
	}
	pressing := *s
	pressing.states = s.pressing(s.g.Nodes[head].Section)
	t, shut := pressing.shut(s.g.Sections[s.g.Nodes[rod].Section].Nodes)
	if !shut || len(t.Closers) == 0 {
		return 0, false, t.Untold
	}
	return t.Closers[0], true, false
}

// pressing are the states of the directional valves, of those that can feed a
// section only the states in which they do.
func (s *Shutter) pressing(section int) map[int][]float64 {
	states := maps.Clone(s.states)
	for _, part := range s.g.Sections[section].Parts {
		if _, ok := s.g.Circuit.Parts[part].(*specs.DirectionalValve); ok && s.supplies(part, section) {
			states[part] = nil
			for _, spool := range s.states[part] {
				if s.feeds(part, section, spool) {
					states[part] = append(states[part], spool)
				}
			}
		}
	}
	return states
}

// supplies tells whether a directional valve joins its p with a section at all.
func (s *Shutter) supplies(valve, section int) bool {
	return s.feeds(valve, section, 1) || s.feeds(valve, section, -1)
}

// feeds tells whether a directional valve at a spool position joins its p with
// a section.
func (s *Shutter) feeds(valve, section int, spool float64) bool {
	first, last := s.g.Of(valve)
	for i := first; i < last; i++ {
		p := &s.g.Passages[i]
		supply := p.Way == Spool && (p.Edge == PA || p.Edge == PB)
		if supply && opens(p.Edge, spool) && s.g.Nodes[p.To].Section == section {
			return true
		}
	}
	return false
}
