package topology

import (
	"cmp"
	"math"
	"slices"

	"headroom/specs"
)

// spoolStates are the positions in which each directional valve can come to
// rest: without command, where a case begins or sticks it, and wherever a
// command sends it. The most closed comes first.
func (g *Graph) spoolStates() map[int][]float64 {
	states := map[int][]float64{}
	add := func(part int, q specs.Quantity) {
		if q.Given() && !slices.Contains(states[part], q.SI) {
			states[part] = append(states[part], q.SI)
		}
	}
	for i, p := range g.Circuit.Parts {
		if v, ok := p.(*specs.DirectionalValve); ok {
			add(i, v.Rest)
		}
	}
	for i := range g.Circuit.Cases {
		g.caseStates(&g.Circuit.Cases[i], add)
	}
	for part := range states {
		slices.SortFunc(states[part], func(a, b float64) int {
			return cmp.Or(cmp.Compare(math.Abs(a), math.Abs(b)), cmp.Compare(a, b))
		})
	}
	return states
}

// caseStates adds the positions of directional valves that a case names.
func (g *Graph) caseStates(c *specs.Case, add func(part int, q specs.Quantity)) {
	valve := func(name string) (int, bool) {
		part, known := g.parts[name]
		if !known {
			return 0, false
		}
		_, directional := g.Circuit.Parts[part].(*specs.DirectionalValve)
		return part, directional
	}
	for _, spool := range c.Begins.Spools {
		if part, ok := valve(spool.Name); ok {
			add(part, spool.Value)
		}
	}
	for _, command := range c.Commands {
		if part, ok := valve(command.Valve.Value); ok {
			add(part, command.To)
		}
	}
	for _, override := range c.With {
		if as, ok := override.As.(*specs.DirectionalValve); ok {
			if part, known := g.parts[override.Part]; known {
				add(part, as.Rest)
				add(part, as.Stuck)
			}
		}
	}
}

// atStop is how close to the end of its stroke a cylinder counts as at its stop.
const atStop = 0.01

// placements are where each cylinder stands when valves may close: retracted,
// where a case begins, where a case expects it to arrive.
func (g *Graph) placements() map[int][]Placement {
	places := map[int][]Placement{}
	add := func(name string, position specs.Quantity) {
		part, known := g.parts[name]
		if !known || !position.Given() {
			return
		}
		if c, ok := g.Circuit.Parts[part].(*specs.Cylinder); ok && c.Stroke.Given() {
			if at := placed(position.SI, c.Stroke.SI); !slices.Contains(places[part], at) {
				places[part] = append(places[part], at)
			}
		}
	}
	for i, p := range g.Circuit.Parts {
		if _, ok := p.(*specs.Cylinder); ok {
			places[i] = []Placement{Retracted}
		}
	}
	for i := range g.Circuit.Cases {
		c := &g.Circuit.Cases[i]
		for _, position := range c.Begins.Positions {
			add(position.Name, position.Value)
		}
		for _, e := range c.Expects {
			add(e.Part.Value, e.Reaches)
		}
	}
	for part := range places {
		slices.Sort(places[part])
	}
	return places
}

func placed(position, stroke float64) Placement {
	switch {
	case position <= atStop*stroke:
		return Retracted
	case position >= (1-atStop)*stroke:
		return Extended
	}
	return Between
}
