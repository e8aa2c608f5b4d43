package topology

// Cuts tells of each passage whether it alone joins two parts of the circuit,
// and which nodes lie on either side. Reservoirs are no junction here: every
// passage to one ends there by itself. What sets its own flow, or lets it pass
// one way only, does not join its two sides: pumps, consumers, flow regulators,
// check and relief valves.
type Cuts struct {
	// Order lists the places of the circuit so that each side of a cut is a
	// run of it: a node by its index, an end at a reservoir as AtReservoir.
	Order []int

	sides  []Side // by passage
	joined []Side // by place: the whole that it belongs to
}

// AtReservoir stands in Cuts.Order for the end of a passage at a reservoir.
const AtReservoir = -1

// A Side is what lies beyond a passage that alone joins two parts of the
// circuit: Order[Low:High], within all that is joined, Order[First:Last]. The
// other side is the rest of it.
type Side struct {
	Low, High, First, Last int
}

// Side tells what a passage parts; ok is false where there is another way round.
func (c *Cuts) Side(passage int) (s Side, ok bool) {
	s = c.sides[passage]
	return s, s.High > s.Low
}

// Whole is all that is joined with a place of Order: Order[First:Last].
func (c *Cuts) Whole(place int) Side { return c.joined[place] }

// Cuts finds all passages without another way round: the bridges of the graph,
// by depth-first search (Tarjan 1974).
func (g *Graph) Cuts() *Cuts {
	w := walker{
		g:    g,
		c:    &Cuts{sides: make([]Side, len(g.Passages))},
		seen: make([]int, len(g.Nodes)),
	}
	for n := range g.Nodes {
		if w.seen[n] == 0 && !g.Nodes[n].Reservoir {
			first := len(w.c.Order)
			open := len(w.bridges)
			w.walk(n, -1)
			last := len(w.c.Order)
			for _, b := range w.bridges[open:] {
				w.c.sides[b].First, w.c.sides[b].Last = first, last
			}
			for range last - first {
				w.c.joined = append(w.c.joined, Side{first, last, first, last})
			}
		}
	}
	return w.c
}

// A walker goes through the graph once.
type walker struct {
	g       *Graph
	c       *Cuts
	seen    []int // place in Order, counted from 1; 0 before it is met
	bridges []int
}

// walk visits a node that was reached by a passage and gives the lowest place
// that is reached from it and beyond by other passages.
func (w *walker) walk(n, by int) (lowest int) {
	w.c.Order = append(w.c.Order, n)
	w.seen[n] = len(w.c.Order)
	lowest = w.seen[n]
	for _, i := range w.g.Nodes[n].Passages {
		p := &w.g.Passages[i]
		if i == by || !joinsFlows(p) || p.From == p.To {
			continue
		}
		next := p.From + p.To - n
		switch {
		case w.g.Nodes[next].Reservoir:
			w.end(i)
		case w.seen[next] > 0:
			lowest = min(lowest, w.seen[next])
		default:
			low := len(w.c.Order)
			beyond := w.walk(next, i)
			if beyond > low {
				w.bridge(i, low)
			}
			lowest = min(lowest, beyond)
		}
	}
	return lowest
}

// end notes a passage that ends at a reservoir.
func (w *walker) end(passage int) {
	w.c.Order = append(w.c.Order, AtReservoir)
	w.bridge(passage, len(w.c.Order)-1)
}

// bridge notes a passage beyond which lies all of Order from low on.
func (w *walker) bridge(passage, low int) {
	w.c.sides[passage].Low, w.c.sides[passage].High = low, len(w.c.Order)
	w.bridges = append(w.bridges, passage)
}

// joinsFlows tells whether flow passes freely both ways in some state.
func joinsFlows(p *Passage) bool {
	switch p.Way {
	case Pumped, Slip, Drawn, Regulated, Leak, Check, Piloted, Relief:
		return false
	}
	return true
}
