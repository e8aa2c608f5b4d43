package drawing

import (
	"headroom/specs"
)

// A side is what a node is for, as far as the layout cares.
type side uint8

const (
	work    side = iota // what pumps feed, and users hang on
	suction             // what pumps draw from
	back                // what leads to a reservoir
	tank                // a reservoir stands there
)

// far is the depth of a node that a search did not reach.
const far = 1 << 30

// sides is what each node is for, and how deep it lies.
type sides struct {
	side  map[string]side
	depth map[string]int // from the pumps for work, from the reservoirs for back
}

// sidesOf looks at a circuit: suction is upstream of pumps, work is downstream, back
// is what leads to a reservoir or what users empty into.
func sidesOf(c *specs.Circuit) *sides {
	s := &sides{side: map[string]side{}, depth: map[string]int{}}
	open := map[string][]string{} // neighbours past lines, filters, coolers and check valves
	var inlets, pumped, outlets, tanks, emptied []string
	for _, p := range c.Parts {
		switch p := p.(type) {
		case *specs.Reservoir:
			tanks = append(tanks, p.AtPort.Node)
		case *specs.Pump:
			inlets, pumped = append(inlets, p.From.Node), append(pumped, p.To.Node)
			outlets = append(outlets, p.To.Node)
			emptied = append(emptied, p.Drain.Node)
		case *specs.Accumulator:
			outlets = append(outlets, p.AtPort.Node)
		case *specs.DirectionalValve:
			emptied = append(emptied, p.T.Node)
		case *specs.ReducingValve:
			emptied = append(emptied, p.T.Node)
		case *specs.ReliefValve:
			emptied = append(emptied, p.To.Node)
		case *specs.Consumer:
			emptied = append(emptied, p.To.Node)
		case *specs.Motor:
			emptied = append(emptied, p.To.Node, p.Drain.Node)
		case *specs.Tube, *specs.Hose, *specs.Filter, *specs.Cooler, *specs.CheckValve:
			if a, b := ends(p); a != "" && b != "" {
				open[a], open[b] = append(open[a], b), append(open[b], a)
			}
		}
	}
	for _, n := range tanks {
		s.side[n] = tank
	}
	s.spread(outlets, open, work)
	s.spread(inlets, open, suction)
	s.spread(tanks, open, back)
	s.spread(emptied, open, back)
	for _, n := range c.Nodes {
		if n.Role.Value == "return" && s.side[n.Name] == work {
			s.side[n.Name] = back
		}
	}
	s.depths(c, open, pumped, outlets, tanks)
	return s
}

// spread gives a side to some nodes and to what stands open with them, but for nodes
// that have one.
func (s *sides) spread(from []string, open map[string][]string, as side) {
	var queue []string
	take := func(n string) {
		if _, taken := s.side[n]; !taken && n != "" {
			s.side[n] = as
			queue = append(queue, n)
		}
	}
	for _, n := range from {
		if s.side[n] == tank {
			for _, next := range open[n] {
				if as == back {
					take(next)
				}
			}
		}
		take(n)
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, next := range open[n] {
			take(next)
		}
	}
}

// depths counts parts from the pumps upwards, and from the reservoirs back.
func (s *sides) depths(c *specs.Circuit, open map[string][]string, pumped, outlets, tanks []string) {
	beyond := map[string][]string{}
	join := func(a, b string) {
		if a != "" && b != "" {
			beyond[a], beyond[b] = append(beyond[a], b), append(beyond[b], a)
		}
	}
	for _, p := range c.Parts {
		switch p := p.(type) {
		case *specs.DirectionalValve:
			join(p.P.Node, p.A.Node)
			join(p.P.Node, p.B.Node)
		case *specs.ReducingValve:
			join(p.P.Node, p.A.Node)
		case *specs.ShuttleValve:
			join(p.A.Node, p.To.Node)
			join(p.B.Node, p.To.Node)
		case *specs.Pump:
		default:
			join(ends(p))
		}
	}
	s.count(pumped, beyond, work)
	s.count(outlets, beyond, work) // what no pump reaches, from its accumulator
	s.count(tanks, open, back)
}

// count is a breadth-first search over the nodes of one side.
func (s *sides) count(from []string, beyond map[string][]string, over side) {
	queue := []string{}
	for _, n := range from {
		if _, counted := s.depth[n]; !counted && n != "" {
			s.depth[n] = 0
			queue = append(queue, n)
		}
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, next := range beyond[n] {
			if _, counted := s.depth[next]; !counted && s.side[next] == over {
				s.depth[next] = s.depth[n] + 1
				queue = append(queue, next)
			}
		}
	}
}

func (s *sides) deep(node string) int {
	if d, counted := s.depth[node]; counted {
		return d
	}
	return far
}

// ends are the nodes at from and to of a part with such ports; "" where it has none.
func ends(p specs.Part) (from, to string) {
	for _, port := range specs.Ports(p) {
		switch port.Key {
		case "from":
			from = port.Node
		case "to":
			to = port.Node
		}
	}
	return from, to
}

// A stance is how a part may stand in the picture.
type stance uint8

const (
	upright stance = iota // its flow runs upwards
	turned                // its flow runs downwards
	either                // whatever suits the layers
	seated                // both working ports look down
)

// stanceOf is how a part stands by the sides of its nodes.
func (s *sides) stanceOf(p specs.Part) stance {
	from, to := ends(p)
	if from == "" || to == "" {
		return upright
	}
	a, b := s.side[from], s.side[to]
	switch p.(type) {
	case *specs.Pump, *specs.ShuttleValve:
		return upright
	case *specs.Motor, *specs.Consumer:
		if b == back || b == tank {
			return seated
		}
	}
	home := func(x side) bool { return x == back || x == tank }
	switch {
	case a == suction && (b == suction || b == work), a == tank && b == suction:
		return upright
	case b == suction:
		return turned // a line written from the pump down to the reservoir
	case home(a) && home(b):
		if s.deep(to) > s.deep(from) {
			return upright
		}
		return turned
	case b == tank:
		return turned
	case a == tank:
		return upright
	case home(b), home(a):
		return either
	case s.deep(from) > s.deep(to):
		return turned
	}
	return upright
}
