package network

import (
	"fmt"

	"headroom/specs"
)

// A strokePlan is how a case commands a cylinder.
type strokePlan struct {
	m         *model
	cylinder  *cylinder
	valve     string
	out, back float64 // commanded
	pace      float64
	over      float64
	full      float64 // position that makes a full stroke
	most      int     // strokes that are counted
}

// strokePlan finds the valve that moves a cylinder, and what the case tells it.
func (m *model) strokePlan(name string) (*strokePlan, error) {
	c, is := m.byPart[name].(*cylinder)
	if !is {
		return nil, fmt.Errorf("%s is no cylinder of the circuit", name)
	}
	p := &strokePlan{m: m, cylinder: c, full: m.fullStroke(name, c), pace: usualPace}
	sign, err := p.findValve(name)
	if err != nil {
		return nil, err
	}
	low, high, times := p.back, p.back, []float64(nil)
	for i := range m.circuit.Cases { // another case may show the command that this one lacks
		k := &m.circuit.Cases[i]
		for j := range k.Commands {
			if cmd := &k.Commands[j]; cmd.Valve.Value == p.valve {
				low, high = min(low, cmd.To.SI), max(high, cmd.To.SI)
				if k.Name == m.spec.Name && cmd.Time.Given() {
					p.over = cmd.Over.SI
					times = append(times, cmd.Time.SI)
				}
			}
		}
	}
	p.out, p.back = high, low
	if sign < 0 {
		p.out, p.back = low, high
	}
	if p.out == p.back {
		return nil, fmt.Errorf("no case commands %s, which moves %s", p.valve, name)
	}
	for i := 1; i < len(times); i++ {
		if gap := times[i] - times[i-1]; gap > 0 && (i == 1 || gap < p.pace) {
			p.pace = gap
		}
	}
	return p, nil
}

// fullStroke is the position that counts: what the case expects, what releases
// a pack in full, or nearly all of the stroke.
func (m *model) fullStroke(name string, c *cylinder) float64 {
	full := 0.0
	for i := range m.spec.Expects {
		if e := &m.spec.Expects[i]; e.Part.Value == name {
			full = max(full, e.Reaches.SI)
		}
	}
	for _, e := range m.elements {
		if f, is := e.(*frictionPack); is && f.cylinder == c && full == 0 {
			full = min(f.released, c.stroke)
		}
	}
	if full == 0 {
		full = nearlyAll * c.stroke
	}
	return full
}

// findValve looks from the cylinder's ports through lines, orifices and check
// valves for the valve that moves it, and tells which way extends it.
func (p *strokePlan) findValve(name string) (sign float64, err error) {
	m := p.m
	seen := map[int]bool{}
	next := []int{p.cylinder.head}
	sign = 1
	for len(next) > 0 {
		n := next[0]
		next = next[1:]
		if seen[n] || m.nodes[n].reservoir {
			continue
		}
		seen[n] = true
		for i, e := range m.elements {
			part := m.parts[i].Base().Name
			switch e := e.(type) {
			case *reducingValve:
				if e.feed.b == n {
					p.valve, p.back = part, e.start
					return 1, nil
				}
			case *directionalValve:
				for _, edge := range e.edges {
					if edge.name[1] == 'a' && edge.way.b == n || edge.name[1] == 'b' && edge.name[0] == 'p' && edge.way.b == n {
						p.valve, p.back = part, e.start
						return edge.side, nil
					}
				}
			default:
				next = append(next, m.beyond(m.parts[i], n)...)
			}
		}
	}
	return 0, fmt.Errorf("no valve moves %s", name)
}

// beyond is the node at the other end of what oil only passes.
func (m *model) beyond(p specs.Part, n int) []int {
	var from, to specs.Port
	switch p := p.(type) {
	case *specs.Tube:
		from, to = p.From, p.To
	case *specs.Hose:
		from, to = p.From, p.To
	case *specs.Orifice:
		from, to = p.From, p.To
	case *specs.CheckValve:
		from, to = p.From, p.To
	case *specs.PilotCheckValve:
		from, to = p.From, p.To
	case *specs.FlowRegulator:
		from, to = p.From, p.To
	case *specs.Filter:
		from, to = p.From, p.To
	default:
		return nil
	}
	a, b := m.byNode[from.Node], m.byNode[to.Node]
	switch n {
	case a:
		return []int{b}
	case b:
		return []int{a}
	}
	return nil
}
