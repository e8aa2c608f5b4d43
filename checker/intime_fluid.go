package checker

import (
	"fmt"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// fluidInTime tells how hot the fluid gets, how long it stays in a reservoir and
// how long it lasts.
func (s *survey) fluidInTime(f *facts.Fluid) {
	lacks := "a reservoir"
	if len(s.reservoirNodes()) > 0 {
		lacks = "cases"
	}
	f.ReservoirHottest = or(s.warmest(s.reservoirNodes()), lacks)
	f.Dwell = s.dwell()
	f.Curve = s.viscosityCurve(f)
	if f.LifeUsed.Missing == facts.Simulation {
		f.LifeUsed = s.lifeOver()
	}
}

// viscosityCurve is the fluid's viscosity, as it is new, where reports tell it.
func (s *survey) viscosityCurve(f *facts.Fluid) (points []facts.ViscosityPoint) {
	if s.curve == nil {
		return nil
	}
	add := func(what string, at facts.Fact) {
		if at.Known {
			points = append(points, facts.ViscosityPoint{At: at.Value, Viscosity: s.curve.At(at.Value), What: what, Given: s.curve.Covers(at.Value)})
		}
	}
	add("at cold start", s.given(s.spec.Environment.ColdStart, "environment.cold_start"))
	add("at 40 °C", facts.Fact{Value: 313.15, Known: true})
	add("at 100 °C", facts.Fact{Value: 373.15, Known: true})
	add("at its hottest", f.HottestUsed)
	return points
}

// reservoirNodes are the nodes at which reservoirs stand.
func (s *survey) reservoirNodes() []int {
	var nodes []int
	for n := range s.graph.Nodes {
		if s.graph.Nodes[n].Reservoir {
			nodes = append(nodes, n)
		}
	}
	return nodes
}

// dwell is the shortest mean stay in a reservoir of any case: its mean content
// over what pumps draw from it on the average, for as much returns.
func (s *survey) dwell() facts.Fact {
	shortest := extreme{lowest: true}
	for i, p := range s.spec.Parts {
		if _, ok := p.(*specs.Reservoir); !ok {
			continue
		}
		pumps := s.drawing(i)
		f := s.worst(search{from: s.partOrigin(i), lowest: true}, func(r *run) (moment, bool) {
			level := r.reading(i, "level")
			flow := 0.0
			for _, pump := range pumps {
				if net, slip := r.reading(pump, "flow"), r.reading(pump, "slip"); net != nil && slip != nil {
					flow += net.Mean + slip.Mean
				}
			}
			if level == nil || flow <= reachedFlow {
				return moment{}, false
			}
			return moment{value: level.Mean / flow, note: fmt.Sprintf("%s, %s through it", print(level.Mean, quantity.Volume), print(flow, quantity.Flow))}, true
		})
		if f.Known || f.Missing != "" {
			shortest.add(f)
		}
	}
	return or(shortest.fact(), "a case that drives a pump")
}

// drawing are the pumps that draw from a reservoir.
func (s *survey) drawing(reservoir int) []int {
	at, ok := s.graph.At(reservoir, "at")
	if !ok {
		return nil
	}
	var pumps []int
	for _, pump := range s.pumps {
		from, connected := s.graph.At(pump, "from")
		if connected && (from == at || s.graph.Above(from, func(*topology.Passage) bool { return false })[at]) {
			pumps = append(pumps, pump)
		}
	}
	return pumps
}

// lifeOver is the fluid's life over the cases that say how often they happen, at
// the mean temperature of the hottest reservoir.
func (s *survey) lifeOver() facts.Fact {
	weighted, lacks := s.weighted()
	if lacks != "" {
		return missing(lacks)
	}
	life := s.spec.Fluid.Life
	l := lifetime{hours: life.Hours, at: life.Temperature, nodes: s.reservoirNodes()}
	if len(l.nodes) == 0 {
		return missing("a reservoir")
	}
	lasts, chief, hot, lacks := l.over(weighted)
	if lacks != "" {
		return missing(lacks)
	}
	return s.known(lasts, facts.Origin{
		At: life.At, Key: "fluid.life", Case: chief.view.spec.Name,
		Note: s.agesMost(hot, " in the reservoir"), Basis: "halved per 10 K, common practice",
	})
}
