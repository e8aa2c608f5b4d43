package checker

import (
	"fmt"
	"math"
	"strings"

	"headroom/checker/strength"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// wholeFacts are those of the circuit as one.
func (s *survey) wholeFacts(f *facts.Whole) {
	c := s.spec
	f.At = s.top()
	written := facts.Origin{At: f.At, Key: "circuit"}
	f.Name = s.text(c.Name, "circuit")
	f.Parts = s.known(float64(len(c.Parts)), written)
	f.Cases = s.known(float64(len(c.Cases)), written)
	f.ColdStartCases = s.coldStartCases(written)
	f.FaultCases = s.faultCases(written)
	f.Filters = s.listed(s.round.Filters, written)
	f.VesselCategory = s.vesselCategory()
	s.massFacts(f, written)
}

// coldStartCases counts the cases that begin at cold start.
func (s *survey) coldStartCases(o facts.Origin) facts.Fact {
	if !s.spec.Environment.ColdStart.Given() {
		return missing("environment.cold_start")
	}
	return s.counted(func(v *caseView) bool { return v.cold }, o)
}

// faultCases counts the cases with a pump at rest or a valve stuck.
func (s *survey) faultCases(o facts.Origin) facts.Fact { return s.counted(s.faulty, o) }

// counted counts the cases that are of a kind, and names them.
func (s *survey) counted(is func(*caseView) bool, o facts.Origin) facts.Fact {
	var names []string
	for c := range s.cases {
		if is(&s.cases[c]) {
			names = append(names, s.cases[c].spec.Name)
		}
	}
	o.Note = strings.Join(names, ", ")
	return s.known(float64(len(names)), o)
}

// faulty tells whether a pump stands still in a case, or comes to rest in it, or
// a valve is stuck.
func (s *survey) faulty(v *caseView) bool {
	for _, p := range s.pumps {
		if !v.turns(p) || v.stops(s.graph.Name(p)) {
			return true
		}
	}
	for _, part := range v.parts {
		switch valve := part.(type) {
		case *specs.DirectionalValve:
			if valve.Stuck.Given() {
				return true
			}
		case *specs.ReducingValve:
			if valve.Stuck.Given() {
				return true
			}
		}
	}
	return false
}

// vesselCategory is the highest category of the circuit's accumulators.
func (s *survey) vesselCategory() facts.Text {
	top, found := strength.NotCovered, false
	var o facts.Origin
	for i, p := range s.spec.Parts {
		a, ok := p.(*specs.Accumulator)
		if !ok {
			continue
		}
		if key := lacking(keyed{a.Rated.Pressure, s.path(i, "rated.pressure")}, keyed{a.Size, s.path(i, "size")}); key != "" {
			return facts.Text{Missing: key}
		}
		if c := strength.VesselCategory(a.Rated.Pressure.SI-s.air, a.Size.SI); !found || c > top {
			top, found = c, true
			o = facts.Origin{At: a.At, Key: s.roots[i], Note: a.Name, Basis: vesselBasis}
		}
	}
	if !found {
		return facts.Text{}
	}
	return s.word(top.String(), o)
}

// massFacts add up what the circuit weighs. A mass that leaves parts out is
// none: then it is missing, and the keys that are, are named.
func (s *survey) massFacts(f *facts.Whole, o facts.Origin) {
	stated := 0.0
	var unstated []int
	for i, p := range s.spec.Parts {
		if m := p.Base().Mass; m.Given() {
			stated += m.SI
		} else {
			unstated = append(unstated, i)
		}
	}
	f.StatedMass = s.known(stated, o)
	f.PartsWithoutMass = s.listed(unstated, o)
	f.FluidMass = s.fluidMass(o)
	if len(unstated) > 0 {
		keys := make([]string, len(unstated))
		for k, i := range unstated {
			keys[k] = s.path(i, "mass")
		}
		f.Mass = missing(keys...)
		return
	}
	if !f.FluidMass.Known {
		f.Mass = f.FluidMass
		return
	}
	o.Note = fmt.Sprintf("parts %s, fluid %s", print(stated, quantity.Mass), print(f.FluidMass.Value, quantity.Mass))
	f.Mass = s.known(stated+f.FluidMass.Value, o)
}

// fluidMass is the mass of all fluid: reservoirs as filled, the rest full,
// accumulators as charged.
func (s *survey) fluidMass(o facts.Origin) facts.Fact {
	volume := s.lineVolume()
	for i, p := range s.spec.Parts {
		if key := s.unmeasured(i, p); key != "" {
			return missing(key)
		}
		switch part := p.(type) {
		case *specs.Reservoir:
			if !part.Fill.Given() {
				return missing(s.path(i, "fill"))
			}
			volume += part.Fill.SI
		case *specs.Accumulator:
			charge, ok := s.highestCharge()
			if !ok {
				continue
			}
			ambient := s.spec.Environment.Ambient
			if !ambient.Given() {
				return missing("environment.ambient")
			}
			oil := s.stored(part, charge.SI, ambient.SI)
			if math.IsNaN(oil) {
				return missing(s.path(i, "precharge.pressure"))
			}
			volume += oil
		}
	}
	density := s.given(s.spec.Fluid.Density, "fluid.density")
	if !density.Known {
		return density
	}
	o.At, o.Key = density.From.At, density.From.Key
	o.Note = fmt.Sprintf("%s at 15 °C", print(volume, quantity.Volume))
	return s.known(volume*density.Value, o)
}
