package checker

import (
	"fmt"

	"headroom/checker/gas"
	"headroom/checker/strength"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// store tells an accumulator's charge hot and cold, and what kind of vessel it is.
func (s *survey) store(i int, part specs.Part, f *facts.Part) {
	a, ok := part.(*specs.Accumulator)
	if !ok {
		return
	}
	f.Type = s.text(a.Type, s.path(i, "type"))
	f.Isolation = s.flag(a.Isolation, s.path(i, "isolation"))
	f.Discharge = s.flag(a.Discharge, s.path(i, "discharge"))
	f.PrechargeAbsolute = s.absolute(a.Precharge.Pressure, s.path(i, "precharge.pressure"))
	f.LowestWorking = s.absolute(a.LowestWorking, s.path(i, "lowest_working"))
	f.PrechargeWorking = s.prechargeAt(i, a, s.coldestAtWork())
	f.PrechargeHot = s.prechargeAt(i, a, s.hottestAmbient())
	f.PrechargeCold = s.prechargeAt(i, a, s.given(s.spec.Environment.ColdStart, "environment.cold_start"))
	f.HighestAbsolute = s.highestAbsolute(f.HighestPressure)
	s.vessel(i, a, f)
}

// coldestAtWork is the coldest surroundings of the cases that begin warmer than
// cold start: their gas begins at that.
func (s *survey) coldestAtWork() facts.Fact {
	if len(s.cases) == 0 {
		return missing("cases")
	}
	var least facts.Fact
	for c := range s.cases {
		v := &s.cases[c]
		at, key := v.spec.Begins.Ambient, v.root+".begins.ambient"
		if !at.Given() {
			at, key = s.spec.Environment.Ambient, "environment.ambient"
			if begins := v.spec.Begins.Fluid; begins.Given() && begins.SI < at.SI {
				at, key = begins, v.root+".begins.fluid"
			}
		}
		if f := s.given(at, key); !v.cold && f.Known && (!least.Known || f.Value < least.Value) {
			f.From.Case = v.spec.Name
			least = f
		}
	}
	return or(least, "a case that begins warmer than cold start")
}

// hottestAmbient is the hottest surroundings that the gas comes to: of the
// environment, or of a case that begins in hotter ones.
func (s *survey) hottestAmbient() facts.Fact {
	top := s.given(s.spec.Environment.Ambient, "environment.ambient")
	for c := range s.cases {
		v := &s.cases[c]
		if f := s.given(v.spec.Begins.Ambient, v.root+".begins.ambient"); top.Known && f.Known && f.Value > top.Value {
			f.From.Case = v.spec.Name
			top = f
		}
	}
	return top
}

// vesselBasis is the source of the categories of gas vessels.
const vesselBasis = "2014/68/EU, annex II table 2, from memory"

// absolute is a gauge pressure of the spec against vacuum.
func (s *survey) absolute(q specs.Quantity, path string) facts.Fact {
	f := s.given(q, path)
	if f.Known {
		f.Value = q.SI
	}
	return f
}

func (s *survey) highestAbsolute(gauge facts.Fact) facts.Fact {
	return reckoned(gauge, rising, func(gauge facts.Fact) facts.Fact {
		return facts.Fact{Value: gauge.Value + s.air, Known: true, From: gauge.From}
	})
}

// prechargeAt is the precharge at another temperature than that at which it was
// set: the same nitrogen in the same volume.
func (s *survey) prechargeAt(i int, a *specs.Accumulator, temperature facts.Fact) facts.Fact {
	if !temperature.Known {
		return temperature
	}
	at := under(s.path(i, "precharge"))
	if key := lacking(at(a.Precharge.Pressure, "pressure"), at(a.Precharge.Temperature, "temperature")); key != "" {
		return missing(key)
	}
	p, err := gas.PrechargeAt(a.Precharge.Pressure.SI, a.Precharge.Temperature.SI, temperature.Value)
	if err != nil {
		return missing(s.path(i, "precharge.pressure"))
	}
	return s.known(p, facts.Origin{
		At: a.Precharge.Pressure.At, Key: s.path(i, "precharge.pressure"),
		Note: fmt.Sprintf("set at %s, told at %s (%s)", print(a.Precharge.Temperature.SI, quantity.Temperature),
			print(temperature.Value, quantity.Temperature), temperature.From.Key),
		Basis: "nitrogen by Span and Wagner 2003",
	})
}

// vessel tells the product and category by which gas vessels are classed. Its
// total volume is that of the gas at precharge, when no fluid is in.
func (s *survey) vessel(i int, a *specs.Accumulator, f *facts.Part) {
	rated := a.Rated.Pressure
	if key := lacking(keyed{rated, s.path(i, "rated.pressure")}, keyed{a.Size, s.path(i, "size")}); key != "" {
		f.VesselProduct = missing(key)
		f.VesselCategory = facts.Text{Missing: key}
		return
	}
	pressure := rated.SI - s.air
	o := facts.Origin{
		At: rated.At, Key: s.path(i, "rated.pressure"),
		Note: fmt.Sprintf("%s times %s", print(pressure, quantity.Pressure), print(a.Size.SI, quantity.Volume)),
	}
	f.VesselProduct = s.known(pressure*a.Size.SI, o)
	o.Basis = vesselBasis
	f.VesselCategory = s.word(strength.VesselCategory(pressure, a.Size.SI).String(), o)
}
