package topology

import (
	"maps"
	"slices"

	"headroom/specs"
)

// An attempt is one set of nodes being closed, and the states chosen so far.
type attempt struct {
	in      []int
	has     map[int]bool
	spools  map[int]float64
	shuttle map[int]Edge // the inlet that feeds: PA stands for a, PB for b
	places  map[int]Placement
	next    int // of in, the first node not yet expanded
}

func (a *attempt) add(n int) {
	if !a.has[n] {
		a.has[n] = true
		a.in = append(a.in, n)
	}
}

// fork copies an attempt, to be expanded anew under one more decision.
func (a *attempt) fork() *attempt {
	return &attempt{
		in:      slices.Clone(a.in),
		has:     maps.Clone(a.has),
		spools:  maps.Clone(a.spools),
		shuttle: maps.Clone(a.shuttle),
		places:  maps.Clone(a.places),
	}
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
