package checker

import (
	"math"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
)

// environmentFacts are what the surroundings are.
func (s *survey) environmentFacts(f *facts.Environment) {
	e := &s.spec.Environment
	f.Ambient = s.given(e.Ambient, "environment.ambient")
	f.ColdStart = s.given(e.ColdStart, "environment.cold_start")
	f.AirPressure = s.given(e.AirPressure, "environment.air_pressure")
	f.Slope = s.given(e.Slope, "environment.slope")
	f.ServiceInterval = s.given(e.ServiceInterval, "environment.service_interval")
}

// fluidFacts are what the fluid is, and what is asked of it.
func (s *survey) fluidFacts(f *facts.Fluid) {
	spec := &s.spec.Fluid
	f.At = spec.At
	f.Name = s.fluidName()
	f.Family = s.text(spec.Family, "fluid.family")
	f.AntiWear, f.Watery = s.familyClaims()
	f.MaxTemperature = s.given(spec.MaxTemperature, "fluid.max_temperature")
	f.PeakTemperature = s.given(spec.PeakTemperature, "fluid.peak_temperature")
	f.PourPoint = s.given(spec.PourPoint, "fluid.pour_point")
	f.FlashPoint = s.given(spec.FlashPoint, "fluid.flash_point")
	f.Autoignition = s.given(spec.Autoignition, "fluid.autoignition")
	f.AirRelease = s.given(spec.AirRelease, "fluid.air_release")
	f.ViscosityColdest = s.startViscosity
	f.LowestPoint, f.HighestPoint = s.ends(&spec.Viscosity, "fluid.viscosity")
	_, f.HighestVapour = s.ends(&spec.VapourPressure, "fluid.vapour_pressure")
	f.ColdestUsed = s.coldestUsed()
	f.HottestUsed = s.hottestUsed()
	f.HottestSurface = s.hottestSurface()
	f.LifeUsed = s.life()
}

// fluidName is the catalogue's name of the fluid, else its family.
func (s *survey) fluidName() facts.Text {
	if s.spec.Fluid.Like.Given() {
		return s.text(s.spec.Fluid.Like, "fluid.like")
	}
	return s.text(s.spec.Fluid.Family, "fluid.family")
}

// familyClaims are what the fluid's family stands for.
func (s *survey) familyClaims() (antiWear, watery facts.Flag) {
	symbol := s.spec.Fluid.Family
	family, known := catalogue.Family(symbol.Value)
	if !symbol.Given() || !known {
		unknown := facts.Flag{Missing: "fluid.family"}
		return unknown, unknown
	}
	claim := func(value bool, key string) facts.Flag {
		source, _ := family.Source(key)
		return s.holds(value, facts.Origin{At: symbol.At, Key: "fluid.family", Note: family.Symbol + ", " + family.Name, Basis: told(source)})
	}
	return claim(family.AntiWear, "anti_wear"), claim(family.Water > 0, "water")
}

// ends are the temperatures of the first and the last of points that the fluid gives.
func (s *survey) ends(v *specs.Table, key string) (lowest, highest facts.Fact) {
	if len(v.Points) == 0 {
		return missing(key), missing(key)
	}
	end := func(i int) facts.Fact {
		f := s.known(v.Points[i].X, *s.source(v.Source, v.At, key))
		if v.Source == specs.FromSpec && i < len(v.RowsAt) {
			f.From.At = v.RowsAt[i]
		}
		return f
	}
	return end(0), end(len(v.Points) - 1)
}

// coldestUsed is the coldest temperature that the fluid is asked to work at: of
// cold start and of what cases begin with.
func (s *survey) coldestUsed() facts.Fact {
	if s.coldest.Known {
		return s.coldest
	}
	var least facts.Fact
	for c := range s.cases {
		if v := &s.cases[c]; !math.IsNaN(v.fluid) && (!least.Known || v.fluid < least.Value) {
			least = s.beginsAt(v)
		}
	}
	if !least.Known {
		return missing("environment.cold_start")
	}
	return least
}

// hottestUsed is the hottest of all nodes.
func (s *survey) hottestUsed() facts.Fact {
	var top extreme
	for _, f := range s.sees.hottest {
		top.add(f)
	}
	return top.fact()
}

// hottestSurface is the hottest surface of the surroundings that leaking fluid
// can reach. The plates of friction packs have a fact of their own.
func (s *survey) hottestSurface() facts.Fact {
	surfaces := s.spec.Environment.HotSurfaces
	if len(surfaces) == 0 {
		return missing("environment.hot_surfaces")
	}
	ambient := s.spec.Environment.Ambient
	top := s.known(ambient.SI, facts.Origin{At: s.spec.Environment.At, Key: "environment.hot_surfaces", Note: "all hot surfaces are shielded"})
	for _, surface := range surfaces {
		path := "environment.hot_surfaces." + surface.Name
		f := s.given(surface.Value.Temperature, path+".temperature")
		switch {
		case surface.Value.Shielded.Value:
		case !f.Known:
			return f
		case f.Value > top.Value:
			f.From.Note = surface.Name
			top = f
		}
	}
	return top
}

// life says what keeps the fluid's life from being told.
func (s *survey) life() facts.Fact {
	life := s.spec.Fluid.Life
	if life == nil {
		return missing("fluid.life")
	}
	if key := lacking(keyed{life.Hours, "fluid.life.hours"}, keyed{life.Temperature, "fluid.life.at"}); key != "" {
		return missing(key)
	}
	return simulated()
}
