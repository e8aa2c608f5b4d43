package topology

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"headroom/specs"
)

// anyCircuit draws a net of tubes, check valves, relief valves and consumers over
// a few nodes, one of them a reservoir's; loops, parallel ways and both ends at
// one node among them.
func anyCircuit(t *rapid.T) *Graph {
	nodes := rapid.IntRange(2, 9).Draw(t, "nodes")
	port := func(key string) specs.Port {
		n := rapid.IntRange(0, nodes-1).Draw(t, key)
		return specs.Port{Key: key, Node: fmt.Sprint("n", n), Source: specs.FromSpec}
	}
	c := &specs.Circuit{}
	add := func(p specs.Part) {
		p.Base().Name = fmt.Sprint("p", len(c.Parts))
		c.Parts = append(c.Parts, p)
	}
	add(&specs.Reservoir{AtPort: specs.Port{Key: "at", Node: "n0", Source: specs.FromSpec}})
	for range rapid.IntRange(0, 14).Draw(t, "parts") {
		from, to := port("from"), port("to")
		switch rapid.IntRange(0, 5).Draw(t, "kind") {
		case 0, 1, 2:
			add(&specs.Tube{Line: specs.Line{From: from, To: to}})
		case 3:
			add(&specs.CheckValve{From: from, To: to})
		case 4:
			add(&specs.ReliefValve{From: from, To: to})
		case 5:
			add(&specs.Consumer{From: from, To: to})
		}
	}
	return New(c)
}

// closure is what a relation reaches from each node, by trying every node
// between every two (Warshall 1962).
func closure(g *Graph, next func(a, b int) bool) [][]bool {
	n := len(g.Nodes)
	reach := make([][]bool, n)
	for a := range n {
		reach[a] = make([]bool, n)
		for b := range n {
			reach[a][b] = a == b || next(a, b)
		}
	}
	for k := range n {
		for a := range n {
			for b := range n {
				if reach[a][k] && reach[k][b] {
					reach[a][b] = true
				}
			}
		}
	}
	return reach
}

// joinedBy tells whether a passage of some kind leads straight from a to b.
func joinedBy(g *Graph, a, b int, may pass) bool {
	return slices.ContainsFunc(g.Passages, func(p Passage) bool {
		return p.From == a && p.To == b && may(&p, true) || p.To == a && p.From == b && may(&p, false)
	})
}

// Two nodes are in one section just where tubes join them, not through a
// reservoir.
func TestSectionsAreTheJoinedNodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyCircuit(t)
		joined := closure(g, func(a, b int) bool {
			return !g.Nodes[a].Reservoir && !g.Nodes[b].Reservoir &&
				joinedBy(g, a, b, func(p *Passage, _ bool) bool { return p.Way == Open })
		})
		for a := range g.Nodes {
			for b := range g.Nodes {
				if same := g.Nodes[a].Section == g.Nodes[b].Section; same != joined[a][b] {
					t.Fatalf("%s and %s in one section: %v, joined: %v", g.Nodes[a].Name, g.Nodes[b].Name, same, joined[a][b])
				}
			}
		}
	})
}

// A relief valve protects just the nodes from which its inlet is reached.
func TestProtectedIsWhatReachesTheInlet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyCircuit(t)
		reach := closure(g, func(a, b int) bool {
			return !g.Nodes[b].Reservoir && joinedBy(g, a, b, nothingShuts)
		})
		for i, p := range g.Circuit.Parts {
			if _, ok := p.(*specs.ReliefValve); !ok {
				continue
			}
			inlet, _ := g.At(i, "from")
			for n, protected := range g.Protected(i) {
				want := reach[n][inlet]
				if g.Nodes[inlet].Reservoir {
					want = n == inlet
				}
				if protected != want {
					t.Fatalf("%s protects %s: %v, want %v", p.Base().Name, g.Nodes[n].Name, protected, want)
				}
			}
		}
	})
}

// A tube alone joins two sides just where its ends part when it is taken away,
// and then its sides are what is joined with either end.
func TestCutsPartTheCircuit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyCircuit(t)
		c := g.Cuts()
		for i, p := range g.Passages {
			if p.Way != Open || p.From == p.To || g.Nodes[p.From].Reservoir && g.Nodes[p.To].Reservoir {
				continue
			}
			without := closure(g, func(a, b int) bool {
				if g.Nodes[a].Reservoir || g.Nodes[b].Reservoir {
					return false // every passage ends at a reservoir by itself
				}
				for k, other := range g.Passages {
					if k != i && other.Way == Open && (other.From == a && other.To == b || other.From == b && other.To == a) {
						return true
					}
				}
				return false
			})
			side, cuts := c.Side(i)
			if cuts == without[p.From][p.To] {
				t.Fatalf("%s alone joins its ends: %v", g.Name(p.Part), cuts)
			}
			if !cuts {
				continue
			}
			if g.Nodes[p.From].Reservoir || g.Nodes[p.To].Reservoir {
				if run := c.Order[side.Low:side.High]; len(run) != 1 || run[0] != AtReservoir {
					t.Fatalf("beyond %s, at a reservoir, lies %v", g.Name(p.Part), run)
				}
				continue
			}
			beyond := p.To
			if !slices.Contains(c.Order[side.Low:side.High], beyond) {
				beyond = p.From
			}
			for n := range g.Nodes {
				if g.Nodes[n].Reservoir {
					continue
				}
				if in := slices.Contains(c.Order[side.Low:side.High], n); in != without[beyond][n] {
					t.Fatalf("beyond %s lies %s: %v", g.Name(p.Part), g.Nodes[n].Name, in)
				}
			}
		}
	})
}
