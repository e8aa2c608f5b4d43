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
		if !shut {
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
	g      *Graph
	states map[int][]float64   // of each directional valve, the closed one first
	places map[int][]Placement // of each cylinder, where it can stand at rest
	tried  int
}

// Shutter makes one, from the states of the valves that the spec knows.
func (g *Graph) Shutter() *Shutter {
	return &Shutter{g: g, states: g.spoolStates(), places: g.placements()}
}

// enough bounds how many states of the valves are tried for one section. What
// has no way out after that many is not told as trapped; a valve with a closed
// centre needs one, so only a net of dozens of two-position valves comes near.
const enough = 4096

// An attempt is one set of nodes being closed, and the states chosen so far.
type attempt struct {
	in      []int
	has     map[int]bool
	spools  map[int]float64
	shuttle map[int]Edge // the inlet that feeds: PA stands for a, PB for b
	places  map[int]Placement
	next    int // of in, the first node not yet expanded
}

func (s *Shutter) shut(nodes []int) (Trapped, bool) {
	if s.g.ports(nodes) < 2 {
		return Trapped{}, false // a loose end, told as such
	}
	a := &attempt{has: map[int]bool{}, spools: map[int]float64{}, shuttle: map[int]Edge{}, places: map[int]Placement{}}
	for _, n := range nodes {
		a.add(n)
	}
	s.tried = 0
	a, shut := s.close(a)
	if !shut {
		return Trapped{}, false
	}
	return s.result(a), true
}

// ports counts the ports at some nodes.
func (g *Graph) ports(nodes []int) int {
	count := 0
	for _, n := range nodes {
		count += len(g.Nodes[n].Ports)
	}
	return count
}

func (a *attempt) add(n int) {
	if !a.has[n] {
		a.has[n] = true
		a.in = append(a.in, n)
	}
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
		for _, spool := range s.states[part] {
			b := a.fork()
			b.spools[part] = spool
			if c, shut := s.close(b); shut {
				return c, true
			}
		}
	case *specs.ShuttleValve:
		for _, inlet := range [...]Edge{PA, PB} {
			b := a.fork()
			b.shuttle[part] = inlet
			if c, shut := s.close(b); shut {
				return c, true
			}
		}
	case *specs.Cylinder:
		for _, place := range s.places[part] {
			b := a.fork()
			b.places[part] = place
			if c, shut := s.close(b); shut {
				return c, true
			}
		}
	}
	return nil, false
}

// fork copies an attempt, to be expanded anew under one more decision.
func (a *attempt) fork() *attempt {
	b := &attempt{
		in:      slices.Clone(a.in),
		has:     make(map[int]bool, len(a.has)),
		spools:  make(map[int]float64, len(a.spools)+1),
		shuttle: make(map[int]Edge, len(a.shuttle)+1),
		places:  make(map[int]Placement, len(a.places)+1),
	}
	for k, v := range a.has {
		b.has[k] = v
	}
	for k, v := range a.spools {
		b.spools[k] = v
	}
	for k, v := range a.shuttle {
		b.shuttle[k] = v
	}
	for k, v := range a.places {
		b.places[k] = v
	}
	return b
}

// expand takes in what the set is joined with; false where that is a way out.
func (s *Shutter) expand(a *attempt) bool {
	for ; a.next < len(a.in); a.next++ {
		n := a.in[a.next]
		if s.g.Nodes[n].Reservoir {
			return false
		}
		for _, port := range s.g.Nodes[n].Ports {
			if !s.holds(a, port) {
				return false
			}
		}
		for _, i := range s.g.Nodes[n].Passages {
			p := &s.g.Passages[i]
			if n == p.From && s.joins(a, p, true) {
				a.add(p.To)
			}
			if n == p.To && s.joins(a, p, false) {
				a.add(p.From)
			}
		}
	}
	return true
}

// holds tells whether a part at the set's node keeps it closed. A piston that
// can give way joins the other chamber to the set; without one it is a way out.
func (s *Shutter) holds(a *attempt, port Port) bool {
	switch s.g.Circuit.Parts[port.Part].(type) {
	case *specs.Accumulator:
		return false
	case *specs.DirectionalValve:
		s.shutCentre(a, port.Part)
	case *specs.ShuttleValve:
		s.feedFrom(a, port)
	case *specs.Cylinder:
		s.stop(a, port)
		place, decided := a.places[port.Part]
		if !decided || stopped(place, port.Key) {
			return true
		}
		other, double := s.g.At(port.Part, opposite(port.Key))
		if double {
			a.add(other)
		}
		return double
	}
	return true
}

// shutCentre chooses a valve's centre where that shuts every port: no other
// state can close the set more narrowly.
func (s *Shutter) shutCentre(a *attempt, valve int) {
	if states := s.states[valve]; len(states) > 0 && states[0] == 0 && !s.g.leaks(valve) {
		a.spools[valve] = 0
	}
}

// feedFrom lets a shuttle valve be fed from an inlet in the set, which takes
// nothing further in.
func (s *Shutter) feedFrom(a *attempt, port Port) {
	if _, decided := a.shuttle[port.Part]; decided || port.Key == "to" {
		return
	}
	a.shuttle[port.Part] = PA
	if port.Key == "b" {
		a.shuttle[port.Part] = PB
	}
}

// leaks tells whether a part has leak passages.
func (g *Graph) leaks(part int) bool {
	first, last := g.Of(part)
	for i := first; i < last; i++ {
		if g.Passages[i].Way == Leak {
			return true
		}
	}
	return false
}

// stop chooses the placement at which the piston cannot give way to the set,
// where the cylinder may stand so: nothing closes the set more narrowly.
func (s *Shutter) stop(a *attempt, port Port) {
	if _, decided := a.places[port.Part]; decided {
		return
	}
	for _, place := range s.places[port.Part] {
		if stopped(place, port.Key) {
			a.places[port.Part] = place
		}
	}
}

// stopped tells whether the piston is at the stop towards which pressure at a
// port pushes it.
func stopped(place Placement, port string) bool {
	if port == "head" {
		return place == Extended
	}
	return place == Retracted
}

func opposite(chamber string) string {
	if chamber == "head" {
		return "rod"
	}
	return "head"
}

// joins tells whether fluid can leave the set by a passage, out of its From
// (forwards) or out of its To.
func (s *Shutter) joins(a *attempt, p *Passage, forwards bool) bool {
	switch p.Way {
	case Open, Turned:
		return true
	case Check, Regulated, Relief, Slip:
		return forwards
	case Reducing:
		return forwards && p.Edge == AT
	case Shuttle:
		inlet, decided := a.shuttle[p.Part]
		return forwards || decided && s.feeding(p, inlet)
	case Spool:
		spool, decided := a.spools[p.Part]
		return decided && opens(p.Edge, spool)
	case Leak:
		spool, decided := a.spools[p.Part]
		return p.Edge == PT || decided && spool > -1 && spool < 1
	}
	return false
}

// feeding tells whether a shuttle valve's passage is the one from the inlet.
func (s *Shutter) feeding(p *Passage, inlet Edge) bool {
	a, _ := s.g.At(p.Part, "a")
	return (p.From == a) == (inlet == PA)
}

// opens tells whether a spool position opens an edge.
func opens(e Edge, spool float64) bool {
	switch e {
	case PA, BT:
		return spool > 0
	case AT, PB:
		return spool < 0
	}
	return false
}

// undecided is the part at the set whose state is still to be chosen and has
// the fewest to choose from: what is bound to fail then fails soon.
func (s *Shutter) undecided(a *attempt) (part int, decided bool) {
	least := 0
	for _, n := range a.in {
		for _, port := range s.g.Nodes[n].Ports {
			choices, open := s.choices(a, port)
			if !open || part == port.Part && least > 0 {
				continue
			}
			if least == 0 || choices < least-1 || choices == least-1 && port.Part < part {
				part, least = port.Part, choices+1
			}
		}
	}
	return part, least == 0
}

// choices are how many states there are for the part at a port, where its
// state matters and is not chosen yet.
func (s *Shutter) choices(a *attempt, port Port) (count int, open bool) {
	chosen := true
	switch s.g.Circuit.Parts[port.Part].(type) {
	case *specs.DirectionalValve:
		_, chosen = a.spools[port.Part]
		count = len(s.states[port.Part])
	case *specs.ShuttleValve:
		_, chosen = a.shuttle[port.Part]
		chosen = chosen || port.Key != "to"
		count = 2
	case *specs.Cylinder:
		_, chosen = a.places[port.Part]
		count = len(s.places[port.Part])
	}
	return count, !chosen
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
				t.Closers = append(t.Closers, port.Part)
			}
		}
	}
	slices.Sort(t.Closers)
	t.Closers = slices.Compact(t.Closers)
	return t
}
