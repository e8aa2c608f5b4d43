package checker

import (
	"math"

	"headroom/rules/facts"
	"headroom/specs"
)

// This file tells which temperatures stand for cold, warm and hot while no case
// is simulated.

// coldestFluid is the coldest fluid anywhere: cold start, or a case that begins
// colder. Without a cold start it is not told.
func (s *survey) coldestFluid() facts.Fact {
	start := s.given(s.spec.Environment.ColdStart, "environment.cold_start")
	if !start.Known {
		return start
	}
	for c := range s.cases {
		if v := &s.cases[c]; v.fluid < start.Value {
			start = s.beginsAt(v)
		}
	}
	return start
}

// beginsAt is the temperature that a case begins with.
func (s *survey) beginsAt(v *caseView) facts.Fact {
	q := s.beginning(v.spec)
	f := s.given(q, v.root+".begins.fluid")
	if f.Known {
		f.From.Case = v.spec.Name
		if q.At.Line == 0 {
			f.From.At = v.spec.At
		}
	}
	return f
}

// warm is the temperature at which a running circuit is thickest: the lowest
// that a case begins with which is no cold start, else the ambient.
func (s *survey) warm() facts.Fact {
	var warm facts.Fact
	for c := range s.cases {
		v := &s.cases[c]
		if !v.cold && !math.IsNaN(v.fluid) && (!warm.Known || v.fluid < warm.Value) {
			warm = s.beginsAt(v)
		}
	}
	if warm.Known {
		return warm
	}
	return s.given(s.spec.Environment.Ambient, "environment.ambient")
}

// hotLimit is the highest temperature (K) to be reckoned with, and what it is:
// the fluid's limit for short excursions if that is what counts and is given,
// else its limit in the bulk, both judged apart; or a case that begins hotter.
// NaN, and the key that would supply it, where none is known.
func (s *survey) hotLimit(excursions specs.Quantity) (T float64, what string) {
	limit := s.spec.Fluid.MaxTemperature
	if excursions.Given() {
		limit = excursions
	}
	if !limit.Given() {
		return math.NaN(), "fluid.max_temperature"
	}
	T, what = limit.SI, "the fluid's limit"
	for c := range s.cases {
		if v := &s.cases[c]; v.fluid > T {
			T, what = v.fluid, v.spec.Name+" begins so"
		}
	}
	return T, what
}
