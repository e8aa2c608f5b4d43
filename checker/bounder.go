package checker

import (
	"headroom/checker/topology"
	"headroom/specs"
)

// A bounder bounds the sections of one circuit, case by case.
type bounder struct {
	s          *survey
	joints     [][]topology.Joint // out of each section
	entries    [][]int            // nodes of each section by which pump flow enters
	spread     []float64          // m, greatest difference of height in each section
	moving     []bool             // a piston or motor moves fluid in it
	guarded    []bool             // all that leads into it are held ports of reducing valves
	gases      map[int]float64    // of each node with a reservoir, Pa absolute
	reservoirs []int              // these nodes, in the spec's order
	idle       float64            // Pa absolute, at which nodes begin that are not charged
	pushes     []push
	motors     []int                 // parts
	capped     map[*caseView][]bound // what relief valves let the pumps come to, by section
}

func (s *survey) newBounder() *bounder {
	w := &bounder{s: s, joints: s.graph.Joints(), gases: map[int]float64{}, capped: map[*caseView][]bound{}}
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
			if _, ok := p.(*specs.Motor); ok {
				w.motors = append(w.motors, i)
			}
		case *specs.Reservoir:
			if at, ok := s.graph.At(i, "at"); ok {
				w.gases[at] = s.reservoirPressure(&base, at)
				w.reservoirs = append(w.reservoirs, at)
			}
		}
	}
	w.idle = s.air
	for _, at := range w.reservoirs {
		w.idle = max(w.idle, w.gases[at])
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
