package checker

import (
	"fmt"
	"math"

	"headroom/checker/fluid"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
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
// happen, by the law of the fluid's (see lifeOver): T is the mean temperature of
// the hottest of its nodes.
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
	time, aged, worst, hot := 0.0, 0.0, 0.0, 0.0
	var chief *run
	for _, r := range weighted {
		if r.hot != "" {
			f.HeatLife = missing(r.hot)
			return
		}
		T := math.Inf(-1)
		for _, port := range s.graph.Ports[i] {
			if n := r.nodes[port.Node]; n != nil {
				T = max(T, n.Temperature.Mean)
			}
		}
		if math.IsInf(T, -1) {
			return
		}
		share := r.view.spec.Weight.SI * r.view.spec.Lasts.SI
		ages := share / (life.Hours.SI * fluid.LifeFactor(T, life.Temperature.SI))
		time, aged = time+share, aged+ages
		if chief == nil || ages > worst {
			worst, chief, hot = ages, r, T
		}
	}
	f.HeatLife = s.known(time/aged, facts.Origin{
		At: life.At, Key: s.path(i, "rated.life"), Case: chief.view.spec.Name,
		Note:  fmt.Sprintf("it ages most in this case, at %s", print(hot, quantity.Temperature)),
		Basis: "halved per 10 K, common practice",
	})
}
