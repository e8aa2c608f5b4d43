// Package topology sees a circuit as a graph: nodes, and passages between them
// that stand open, that can be shut, or that let flow pass one way. It answers
// the questions of connection that no rule can ask for itself: what a relief
// valve protects, where fluid is shut in, what a loss of power does to a
// cylinder. It knows no pressures but those written in the spec.
package topology

import "headroom/specs"

// A Graph is a circuit's nodes and passages. Nodes and parts are spoken of by
// their index.
type Graph struct {
	Circuit  *specs.Circuit
	Nodes    []Node
	Passages []Passage
	Ports    [][]Port // of each part, in the order its kind declares them
	Sections []Section

	first []int          // of each part's passages
	index map[string]int // node by name
	parts map[string]int // part by name
	drain specs.Port     // where slip goes when no drain is stated
}

// A Node is a place where ports meet.
type Node struct {
	Name  string
	Ports []Port
	Role  Role
	Why   string // how the role was come to, where the spec does not state it

	Section   int   // the one it belongs to
	Charged   bool  // it begins a case at the case's charge
	Reservoir bool  // a reservoir stands here: it fixes the pressure
	Passages  []int // that touch it, in the order of the parts
}

// A Port is one connection of a part.
type Port struct {
	Part int
	Key  string
	Node int
}

// A Way is the manner in which a passage lets flow pass.
type Way uint8

// The ways of a passage.
const (
	Open      Way = iota // both ways, always: tube, hose, orifice, filter, cooler
	Check                // from → to whenever from is higher: check valves
	Piloted              // to → from once the pilot is pressed
	Spool                // both ways while the spool of a directional valve stands so
	Reducing             // both ways while a reducing valve corrects its held port
	Shuttle              // both ways while its inlet is the higher
	Regulated            // from → to, at most the flow the regulator holds
	Relief               // from → to above the cracking pressure
	Drawn                // from → to, at most what a consumer demands
	Pumped               // from → to while the pump turns
	Turned               // both ways through a motor that turns
	Slip                 // what leaks past a pump's or motor's displacement to its drain
	Leak                 // both ways past a directional valve's spool
)

// An Edge is one of the four metering edges of a valve, or its leak from p to t.
type Edge uint8

// The edges of directional and reducing valves.
const (
	NoEdge Edge = iota
	PA
	AT
	PB
	BT
	PT
)

// A Passage is a way for fluid from one node to another, within one part.
type Passage struct {
	Part     int
	Way      Way
	Edge     Edge
	From, To int
}

// New lays out a circuit's graph. Ports that are not connected have no
// passages; nodes that are only named by a port are added.
func New(c *specs.Circuit) *Graph {
	g := &Graph{
		Circuit: c,
		Nodes:   make([]Node, 0, len(c.Nodes)),
		Ports:   make([][]Port, len(c.Parts)),
		index:   make(map[string]int, len(c.Nodes)),
		parts:   make(map[string]int, len(c.Parts)),
		drain:   onlyReservoir(c),
	}
	for _, n := range c.Nodes {
		g.node(n.Name)
	}
	for i, p := range c.Parts {
		g.parts[p.Base().Name] = i
		for _, port := range specs.Ports(p) {
			g.connect(i, port)
		}
	}
	for i, p := range c.Parts {
		g.first = append(g.first, len(g.Passages))
		g.join(i, p)
	}
	g.first = append(g.first, len(g.Passages))
	g.settleRoles()
	g.divide()
	return g
}

// node finds or adds a node by name.
func (g *Graph) node(name string) int {
	if i, known := g.index[name]; known {
		return i
	}
	g.index[name] = len(g.Nodes)
	g.Nodes = append(g.Nodes, Node{Name: name})
	return len(g.Nodes) - 1
}

// connect notes a part's port. A drain that the spec leaves to its default is
// not a port that anyone laid.
func (g *Graph) connect(part int, port specs.Port) {
	if !port.Given() || port.Source == specs.FromDefault || port.Node == "" {
		return
	}
	at := Port{Part: part, Key: port.Key, Node: g.node(port.Node)}
	g.Ports[part] = append(g.Ports[part], at)
	g.Nodes[at.Node].Ports = append(g.Nodes[at.Node].Ports, at)
}

// Node finds a node by name; ok is false where the circuit has none such.
func (g *Graph) Node(name string) (node int, ok bool) {
	node, ok = g.index[name]
	return node, ok
}

// Part finds a part by name; ok is false where the circuit has none such.
func (g *Graph) Part(name string) (part int, ok bool) {
	part, ok = g.parts[name]
	return part, ok
}

// At is the node at a port of a part; ok is false where it is not connected.
func (g *Graph) At(part int, key string) (node int, ok bool) {
	for _, p := range g.Ports[part] {
		if p.Key == key {
			return p.Node, true
		}
	}
	return 0, false
}

// Of gives a part's passages: Passages[first:last].
func (g *Graph) Of(part int) (first, last int) { return g.first[part], g.first[part+1] }

// Name is a part's name.
func (g *Graph) Name(part int) string { return g.Circuit.Parts[part].Base().Name }
