package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// ageing tells how long a part lasts by its maker, and what keeps its life at
// the temperatures of its cases from being told.
func (s *survey) ageing(i int, part specs.Part, f *facts.Part) {
	life := part.Base().Rated.Life
	path := s.path(i, "rated.life")
	f.Ages = s.holds(life != nil, facts.Origin{At: part.Base().At, Key: s.roots[i]})
	if life == nil {
		f.RatedLife, f.HeatLife = missing(path), missing(path)
		return
	}
	at := under(path)
	f.RatedLife = s.given(life.Hours, path+".hours")
	f.HeatLife = simulated()
	if key := lacking(at(life.Hours, "hours"), at(life.Temperature, "at")); key != "" {
		f.HeatLife = missing(key)
	}
}

// ageingInTime is the life of a part over the cases that say how often they
// happen, at the mean temperature of the hottest of its nodes.
func (s *survey) ageingInTime(i int, part specs.Part, f *facts.Part) {
	if f.HeatLife.Missing != facts.Simulation {
		return
	}
	weighted, lacks := s.weighted()
	if lacks != "" {
		f.HeatLife = missing(lacks)
		return
	}
	life := part.Base().Rated.Life
	l := lifetime{hours: life.Hours, at: life.Temperature}
	for _, port := range s.graph.Ports[i] {
		l.nodes = append(l.nodes, port.Node)
	}
	if len(l.nodes) == 0 {
		f.HeatLife = missing("a port of " + part.Base().Name)
		return
	}
	lasts, chief, hot, lacks := l.over(weighted)
	if lacks != "" {
		f.HeatLife = missing(lacks)
		return
	}
	f.HeatLife = s.known(lasts, facts.Origin{
		At: life.At, Key: s.path(i, "rated.life"), Case: chief.view.spec.Name,
		Note: s.agesMost(hot, ""), Basis: "halved per 10 K, common practice",
	})
}
