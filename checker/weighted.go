package checker

import (
	"fmt"
	"strings"

	"headroom/checker/fluid"
	"headroom/specs"
	"headroom/specs/quantity"
)

// This file adds up what cases do to a life, each as often as its weight says.

// weighted are the runs of the cases that say how often they happen; or what
// keeps them from being added up.
func (s *survey) weighted() (runs []*run, lacks string) {
	for c := range s.runs {
		r := &s.runs[c]
		if r.view.spec.Weight.SI <= 0 {
			continue
		}
		if r.lacks != "" {
			return nil, r.lacks
		}
		if r.out.Failure != nil {
			return nil, r.hot
		}
		runs = append(runs, r)
	}
	if len(runs) == 0 {
		return nil, "cases.*.weight"
	}
	return runs, ""
}

// unweighted says, where something is added up over the cases that have a weight,
// which are left out because they have none.
func (s *survey) unweighted() string {
	var names []string
	for c := range s.cases {
		if k := s.cases[c].spec; !k.Weight.Given() {
			names = append(names, k.Name)
		}
	}
	if names == nil {
		return ""
	}
	return "; left out without a weight: " + strings.Join(names, ", ")
}

// A lifetime is a life (s) at a temperature (K), halved per 10 K above it, and the
// nodes of which the hottest counts.
type lifetime struct {
	hours, at specs.Quantity
	nodes     []int
}

// over is how long (s) it is over the cases that say how often they happen:
//
//	L = Σ w t / Σ (w t/L(T)),  L(T) = hours · 2^((T_at − T)/10 K)
//
// w the weight of a case, t how long each of its repeats lasts, T the mean temperature
// of its hottest node in that repeat. The time that no case describes counts as like
// the rest. Chief is the case in which it ages most, and its hottest T.
func (l *lifetime) over(weighted []*run) (life float64, chief *run, hottest float64, lacks string) {
	time, aged, worst := 0.0, 0.0, 0.0
	for _, r := range weighted {
		if r.hot != "" {
			return 0, nil, 0, r.hot
		}
		ages, hot := 0.0, 0.0
		share := r.view.spec.Weight.SI * r.view.spec.Lasts.SI
		passes := l.passes(r)
		for _, T := range passes {
			ages += share / (l.hours.SI * fluid.LifeFactor(T, l.at.SI))
			hot = max(hot, T)
		}
		time, aged = time+share*float64(len(passes)), aged+ages
		if ages > worst {
			worst, chief, hottest = ages, r, hot
		}
	}
	if chief == nil {
		return 0, nil, 0, "cases.*.weight"
	}
	return time / aged, chief, hottest, ""
}

// passes are the mean temperatures (K) of the hottest node, repeat by repeat.
func (l *lifetime) passes(r *run) (hot []float64) {
	for _, n := range l.nodes {
		if r.nodes[n] == nil {
			continue
		}
		for i, T := range r.nodes[n].Means {
			if i == len(hot) {
				hot = append(hot, T)
			}
			hot[i] = max(hot[i], T)
		}
	}
	return hot
}

// agesMost says in which case something ages most, and at which temperature.
func (s *survey) agesMost(hot float64, where string) string {
	return fmt.Sprintf("it ages most in this case, at %s%s%s", print(hot, quantity.Temperature), where, s.unweighted())
}
