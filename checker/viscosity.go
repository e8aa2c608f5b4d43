package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// viscosity tells what viscosity a part wants, and what it gets when it starts.
func (s *survey) viscosity(i int, part specs.Part, f *facts.Part) {
	wants := &part.Base().Viscosity
	f.ViscosityMin = s.given(wants.Min, s.path(i, "viscosity.min"))
	f.ViscosityMax = s.given(wants.Max, s.path(i, "viscosity.max"))
	f.ViscosityStartMax = s.given(wants.StartMax, s.path(i, "viscosity.start_max"))
	f.NeedsAntiWear = s.flag(part.Base().AntiWear, s.path(i, "anti_wear"))
	if len(s.graph.Ports[i]) == 0 {
		return
	}
	f.StartViscosity = s.startViscosity
	f.ThinnestViscosity = s.thinnest(i)
}

// viscosityAtStart is the fluid's viscosity at cold start.
func (s *survey) viscosityAtStart() facts.Fact {
	start := s.given(s.spec.Environment.ColdStart, "environment.cold_start")
	if !start.Known {
		return start
	}
	if s.curve == nil {
		return missing("fluid.viscosity")
	}
	note := "at " + print(start.Value, quantity.Temperature)
	if !s.curve.Covers(start.Value) {
		note += ", outside the points given"
	}
	return s.known(s.curve.At(start.Value), facts.Origin{At: start.From.At, Key: start.From.Key, Note: note, Basis: "ASTM D341"})
}

// thinnest is the viscosity where a part is hottest, after shear loss.
func (s *survey) thinnest(i int) facts.Fact {
	return reckoned(s.sees.hottestAt(s.graph.Ports[i]), falling, func(hottest facts.Fact) facts.Fact {
		if s.curve == nil {
			return missing("fluid.viscosity")
		}
		left := 1 - s.spec.Fluid.ShearLoss.SI
		o := *hottest.From
		o.Note, o.Basis = "at "+print(hottest.Value, quantity.Temperature), "ASTM D341"
		if left < 1 {
			o.Note += " after shear loss"
		}
		return s.known(left*s.curve.At(hottest.Value), o)
	})
}
