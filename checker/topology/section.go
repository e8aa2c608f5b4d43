package topology

// A Section is a set of nodes that nothing closable divides: what passes both
// ways and always joins them. A reservoir's node is a section of its own, for
// it fixes the pressure there.
type Section struct {
	Nodes []int // in the order of first mention
	Parts []int // with a port in it, in the spec's order

	// OpenTo are the reservoir nodes to which it stands open.
	OpenTo []int
}

// divide sorts the nodes into sections, in the order of their first nodes.
func (g *Graph) divide() {
	group := newGroups(len(g.Nodes))
	for i := range g.Passages {
		p := &g.Passages[i]
		if p.Way == Open && !g.Nodes[p.From].Reservoir && !g.Nodes[p.To].Reservoir {
			group.join(p.From, p.To)
		}
	}
	section := make(map[int]int)
	for n := range g.Nodes {
		root := group.of(n)
		s, known := section[root]
		if !known {
			s = len(g.Sections)
			section[root] = s
			g.Sections = append(g.Sections, Section{})
		}
		g.Nodes[n].Section = s
		g.Sections[s].Nodes = append(g.Sections[s].Nodes, n)
	}
	g.listParts()
	g.listOpenings()
}

func (g *Graph) listParts() {
	for part, ports := range g.Ports {
		for _, port := range ports {
			s := &g.Sections[g.Nodes[port.Node].Section]
			if k := len(s.Parts); k == 0 || s.Parts[k-1] != part {
				s.Parts = append(s.Parts, part)
			}
		}
	}
}

func (g *Graph) listOpenings() {
	for i := range g.Passages {
		p := &g.Passages[i]
		if p.Way != Open {
			continue
		}
		if g.Nodes[p.From].Reservoir {
			g.opens(p.To, p.From)
		}
		if g.Nodes[p.To].Reservoir {
			g.opens(p.From, p.To)
		}
	}
}

// opens notes that a node's section stands open to a reservoir.
func (g *Graph) opens(node, reservoir int) {
	s := &g.Sections[g.Nodes[node].Section]
	for _, known := range s.OpenTo {
		if known == reservoir {
			return
		}
	}
	s.OpenTo = append(s.OpenTo, reservoir)
}

// A Joint is a passage from one section into another that can be shut, or that
// sets its own flow: how pressure comes from one to the other.
type Joint struct {
	Passage  int
	Forwards bool // from the passage's From
	From, To int  // sections
}

// Joints lists, for each section, those that lead out of it.
func (g *Graph) Joints() [][]Joint {
	joints := make([][]Joint, len(g.Sections))
	add := func(i int, forwards bool, from, to int) {
		j := Joint{Passage: i, Forwards: forwards, From: g.Nodes[from].Section, To: g.Nodes[to].Section}
		if j.From != j.To {
			joints[j.From] = append(joints[j.From], j)
		}
	}
	for i := range g.Passages {
		p := &g.Passages[i]
		if mayFlow(p, true) {
			add(i, true, p.From, p.To)
		}
		if mayFlow(p, false) {
			add(i, false, p.To, p.From)
		}
	}
	return joints
}

// groups is a union-find structure over 0..n-1.
type groups []int

func newGroups(n int) groups {
	g := make(groups, n)
	for i := range g {
		g[i] = i
	}
	return g
}

func (g groups) of(i int) int {
	for g[i] != i {
		g[i] = g[g[i]]
		i = g[i]
	}
	return i
}

func (g groups) join(i, j int) {
	i, j = g.of(i), g.of(j)
	g[max(i, j)] = min(i, j)
}
