package checker

import (
	"slices"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// nodeFacts are the facts of all nodes.
func (s *survey) nodeFacts() []*facts.Node {
	block := make([]facts.Node, len(s.graph.Nodes))
	nodes := make([]*facts.Node, len(block))
	stated := s.statedNodes()
	for n := range block {
		g, f := &s.graph.Nodes[n], &block[n]
		nodes[n] = f
		f.Spec = stated[n]
		written := facts.Origin{At: s.whereNode(n, stated[n]), Key: "nodes." + g.Name, Node: g.Name}
		f.At = written.At
		f.Name = s.word(g.Name, written)
		f.Ports = s.known(float64(len(g.Ports)), written)
		written.Note = g.Why
		f.Role = s.word(string(g.Role), written)
		f.HighestPressure = s.sees.pressure[n]
		f.LowestAbsolute = s.sees.lowest[n]
		f.Hottest = s.sees.hottest[n]
		f.VapourPressure = s.vapourAt(f.Hottest)
	}
	return nodes
}

// statedNodes are the spec's nodes by index; nil where it has none such.
func (s *survey) statedNodes() []*specs.Node {
	stated := make([]*specs.Node, len(s.graph.Nodes))
	for i := range s.spec.Nodes {
		n, _ := s.graph.Node(s.spec.Nodes[i].Name)
		stated[n] = &s.spec.Nodes[i]
	}
	return stated
}

// whereNode is where a node is declared, else the first part at it.
func (s *survey) whereNode(n int, stated *specs.Node) specs.Span {
	if stated != nil && stated.At.Line > 0 {
		return stated.At
	}
	for _, port := range s.graph.Nodes[n].Ports {
		return s.spec.Parts[port.Part].Base().At
	}
	return specs.Span{File: s.spec.File}
}

// vapourAt is the fluid's vapour pressure at a temperature. Outside the points given
// it goes on with the line of the last two, and says from where.
func (s *survey) vapourAt(hottest facts.Fact) facts.Fact {
	if s.vapour == nil {
		return missing("fluid.vapour_pressure")
	}
	if !hottest.Known {
		return unknown(hottest)
	}
	o := *hottest.From
	o.Note, o.Basis = "at "+print(hottest.Value, quantity.Temperature), "Clausius–Clapeyron between points"
	if !s.vapour.Covers(hottest.Value) {
		points := s.spec.Fluid.VapourPressure.Points
		nearest := points[0].X
		if hottest.Value > nearest {
			nearest = points[len(points)-1].X
		}
		o.Note += ", extrapolated from the point at " + print(nearest, quantity.Temperature)
	}
	return s.known(s.vapour.At(hottest.Value), o)
}

// sectionFacts are the facts of all sections but those of reservoirs, and of nodes
// that are declared while the part that names them could not be read.
func (s *survey) sectionFacts() []*facts.Section {
	var sections []*facts.Section
	for i := range s.graph.Sections {
		g := &s.graph.Sections[i]
		if first := g.Nodes[0]; !s.graph.Nodes[first].Reservoir && len(g.Parts) > 0 {
			sections = append(sections, s.section(i))
		}
	}
	return sections
}

func (s *survey) section(i int) *facts.Section {
	g := &s.graph.Sections[i]
	first := g.Nodes[0]
	name := slices.Min(s.nodeNames(g.Nodes)) // whatever the order of the spec
	f := &facts.Section{Nodes: s.nodeNames(g.Nodes)}
	for _, part := range g.Parts {
		f.Parts = append(f.Parts, s.graph.Name(part))
	}
	written := facts.Origin{At: s.spec.Parts[g.Parts[0]].Base().At, Key: "nodes." + name, Node: name}
	f.At = written.At
	f.Name = s.word(name, written)

	var feeding, storing, relieving []int
	for k, pump := range s.pumps {
		if s.fed[k][first] {
			feeding = append(feeding, pump)
		}
	}
	for _, part := range g.Parts {
		if _, ok := s.spec.Parts[part].(*specs.Accumulator); ok {
			storing = append(storing, part)
		}
	}
	for r := range s.reliefs {
		if s.reliefs[r].protects[first] {
			relieving = append(relieving, s.reliefs[r].part)
		}
	}
	f.Pumps = s.listed(feeding, written)
	f.Accumulators = s.listed(storing, written)
	f.Reliefs = s.listed(relieving, written)
	f.WeakestRated = s.weakest(g.Parts)
	f.HighestPressure = s.sectionPressure(g.Nodes)
	return f
}

// listed is a number of parts, told by name.
func (s *survey) listed(parts []int, o facts.Origin) facts.Fact {
	o.Note = s.names(parts)
	return s.known(float64(len(parts)), o)
}

// sectionPressure is the highest pressure of some nodes.
func (s *survey) sectionPressure(nodes []int) facts.Fact {
	var top extreme
	for _, n := range nodes {
		top.add(s.sees.pressure[n])
	}
	return top.fact()
}

func (s *survey) nodeNames(nodes []int) []string {
	names := make([]string, len(nodes))
	for i, n := range nodes {
		names[i] = s.graph.Nodes[n].Name
	}
	return names
}
