package topology

import (
	"slices"
	"strings"

	"headroom/specs"
)

// A Trapped is a set of nodes that can be closed on all sides: no passage out
// of it stands open in some state of the valves that the spec knows.
type Trapped struct {
	Nodes     []int             // in the order of first mention
	Cylinders map[int]Placement // that have a chamber in it, and where they stand
	Closers   []int             // the valves that close it, in the spec's order
	Untold    bool              // whether it can be closed is not known: too many states of valves to try
}

// A Placement is where a cylinder stands.
type Placement uint8

// The placements of a cylinder.
const (
	Retracted Placement = iota
	Between
	Extended
)

// Trapped finds every such set, each section closed as narrowly as its valves
// can. What counts as a way out: a reservoir, an accumulator, a leak, a relief
// or check valve outwards into what has a way out, a reducing valve's held port
// (it opens to t), a cylinder free to move.
func (s *Shutter) Trapped() []Trapped {
	g := s.g
	var found []Trapped
	known := map[string]bool{}
	for i := range g.Sections {
		t, shut := s.shut(g.Sections[i].Nodes)
		if !shut && !t.Untold {
			continue
		}
		if key := g.nodeNames(t.Nodes); !known[key] {
			known[key] = true
			found = append(found, t)
		}
	}
	return found
}

func (g *Graph) nodeNames(nodes []int) string {
	names := make([]string, len(nodes))
	for i, n := range nodes {
		names[i] = g.Nodes[n].Name
	}
	return strings.Join(names, ", ")
}

// A Shutter finds what can be closed on all sides.
type Shutter struct {
	g       *Graph
	states  map[int][]float64   // of each directional valve, the closed one first
	places  map[int][]Placement // of each cylinder, where it can stand at rest
	drained Set                 // nodes that keep no pressure
	tried   int
}

// Shutter makes one, from the states of the valves that the spec knows.
func (g *Graph) Shutter() *Shutter {
	return &Shutter{g: g, states: g.spoolStates(), places: g.placements(), drained: g.drained()}
}

// enough bounds how many states of the valves are tried for one section. Whether
// it can be closed at all is then not known; a valve with a closed centre needs one,
// so only a net of dozens of two-position valves comes near.
const enough = 4096

// shut closes a set of nodes on all sides, if that can be done, or says that it
// gave up.
func (s *Shutter) shut(nodes []int) (Trapped, bool) {
	if s.g.ports(nodes) < 2 {
		return Trapped{}, false // a loose end, told as such
	}
	a := &attempt{has: map[int]bool{}, spools: map[int]float64{}, shuttle: map[int]Edge{}, places: map[int]Placement{}}
	for _, n := range nodes {
		a.add(n)
	}
	s.tried = 0
	closed, shut := s.close(a)
	if !shut {
		return Trapped{Nodes: slices.Clone(nodes), Untold: s.tried > enough}, false
	}
	return s.result(closed), true
}

// ports counts the ports at some nodes.
func (g *Graph) ports(nodes []int) int {
	count := 0
	for _, n := range nodes {
		count += len(g.Nodes[n].Ports)
	}
	return count
}

// close takes in all that cannot be shut off, then tries the states of one
// undecided part after the other. It gives the first set without a way out.
func (s *Shutter) close(a *attempt) (*attempt, bool) {
	if s.tried++; s.tried > enough || !s.expand(a) {
		return nil, false
	}
	part, decided := s.undecided(a)
	if decided {
		return a, true
	}
	switch s.g.Circuit.Parts[part].(type) {
	case *specs.DirectionalValve:
		return try(s, a, s.states[part], func(b *attempt, spool float64) { b.spools[part] = spool })
	case *specs.ShuttleValve:
		return try(s, a, []Edge{PA, PB}, func(b *attempt, inlet Edge) { b.shuttle[part] = inlet })
	default:
		return try(s, a, s.places[part], func(b *attempt, place Placement) { b.places[part] = place })
	}
}

// try closes an attempt under one of some choices after the other.
func try[C any](s *Shutter, a *attempt, choices []C, choose func(*attempt, C)) (*attempt, bool) {
	for _, c := range choices {
		b := a.fork()
		choose(b, c)
		if closed, shut := s.close(b); shut {
			return closed, true
		}
	}
	return nil, false
}

// result makes of a closed attempt what is told of it.
func (s *Shutter) result(a *attempt) Trapped {
	t := Trapped{Nodes: slices.Clone(a.in), Cylinders: map[int]Placement{}}
	slices.Sort(t.Nodes)
	for _, n := range t.Nodes {
		for _, port := range s.g.Nodes[n].Ports {
			switch s.g.Circuit.Parts[port.Part].(type) {
			case *specs.Cylinder:
				t.Cylinders[port.Part] = a.places[port.Part]
			case *specs.Tube, *specs.Hose, *specs.Orifice, *specs.Filter, *specs.Cooler:
			default:
				if port.Key == "pilot" {
					continue // it shuts nothing here
				}
				t.Closers = append(t.Closers, port.Part)
			}
		}
	}
	slices.Sort(t.Closers)
	t.Closers = slices.Compact(t.Closers)
	return t
}
