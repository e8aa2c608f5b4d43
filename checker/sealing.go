package checker

import (
	"fmt"
	"strconv"

	"headroom/checker/strength"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// sealFacts are the facts of all seals of all parts.
func (s *survey) sealFacts(parts []*facts.Part) []*facts.Seal {
	var seals []*facts.Seal
	for i, part := range s.spec.Parts {
		for k := range part.Base().Seals {
			seals = append(seals, s.seal(i, parts[i], &part.Base().Seals[k]))
		}
	}
	return seals
}

// seal tells what a seal is of, and what it sees where it sits.
func (s *survey) seal(i int, part *facts.Part, spec *specs.Seal) *facts.Seal {
	path := s.path(i, "seals["+strconv.Itoa(spec.Index)+"]")
	f := &facts.Seal{Part: part, At: spec.At, Index: spec.Index}
	f.Material = s.text(spec.Material, path+".material")
	f.Backup, f.Moving = s.reads(spec.Backup, path+".backup"), s.reads(spec.Moving, path+".moving")
	f.Gap = s.given(spec.Gap, path+".gap")
	ports := s.sealed(i, spec)
	where := s.graph.Name(i)
	if len(ports) > 0 {
		where += " at " + ports[0].Key
	}
	f.Name = s.word(fmt.Sprintf("%s, %s", where, spec.Material.Value), facts.Origin{At: spec.At, Key: path})
	s.sealMaterial(f, spec, path)
	f.Pressure = s.sees.pressureAt(ports)
	f.Hottest = s.above(s.sees.hottestAt(ports), spec.AboveFluid)
	f.Coldest = s.coldest
	f.GapAllowed = s.gapAllowed(f, spec, path)
	return f
}

// reads is a yes or no of a seal; left out it reads as no.
func (s *survey) reads(f specs.Flag, path string) facts.Flag {
	if !f.Given() {
		f.Source = specs.FromDefault
	}
	return s.flag(f, path)
}

// sealed is the port that a seal closes: the one named, or the node named, or
// the part's first.
func (s *survey) sealed(i int, spec *specs.Seal) []topology.Port {
	ports := s.graph.Ports[i]
	for k, port := range ports {
		if port.Key == spec.Port.Value || s.graph.Nodes[port.Node].Name == spec.Port.Value {
			return ports[k : k+1]
		}
	}
	if spec.Port.Given() || len(ports) == 0 {
		return nil
	}
	return ports[:1]
}

// sealMaterial tells what the catalogue says of the material.
func (s *survey) sealMaterial(f *facts.Seal, spec *specs.Seal, path string) {
	material, known := catalogue.Seal(spec.Material.Value)
	f.Rating, f.Firm = s.rating(material, known, spec, path)
	f.Min = s.sealLimit(spec.Temperature.Min, material.MinTemperature, material, known, spec, path+".temperature.min")
	f.Max = s.sealLimit(spec.Temperature.Max, material.MaxTemperature, material, known, spec, path+".temperature.max")
	switch {
	case !spec.Material.Given():
		f.SpeedAllowed = missing(path + ".material")
	case !known || material.ReciprocatingSpeed <= 0:
		f.SpeedAllowed = missing("a sliding speed of " + spec.Material.Value + " in the catalogue")
	default:
		source, _ := material.Source("speed")
		f.SpeedAllowed = s.known(material.ReciprocatingSpeed, facts.Origin{At: spec.Material.At, Key: path + ".material", Basis: told(source)})
	}
}

// sealLimit is a temperature limit of a seal: its own, else its material's.
func (s *survey) sealLimit(own specs.Quantity, usual float64, material catalogue.SealMaterial, known bool, spec *specs.Seal, path string) facts.Fact {
	if own.Given() || !known || usual == 0 {
		return s.given(own, path)
	}
	source, _ := material.Source("temperature")
	return s.known(usual, facts.Origin{At: spec.Material.At, Key: path, Note: "usual for " + material.Symbol, Basis: told(source)})
}

// rating tells how a material bears the fluid's family, and how sure that is.
func (s *survey) rating(material catalogue.SealMaterial, known bool, spec *specs.Seal, path string) (facts.Text, facts.Flag) {
	family := s.spec.Fluid.Family
	key := "fluid.family"
	if family.Given() {
		key = path + ".material"
	}
	fit, rated := material.In(family.Value)
	if !known || !family.Given() || !rated {
		return facts.Text{Missing: key}, facts.Flag{Missing: key}
	}
	o := facts.Origin{
		At: spec.Material.At, Key: path + ".material",
		Note:  material.Symbol + " in " + family.Value,
		Basis: told(catalogue.Source{Source: fit.Source, Mark: fit.Mark}),
	}
	if fit.Note != "" {
		o.Note += ": " + fit.Note
	}
	return s.word(string(fit.Rating), o), s.holds(fit.Firm, o)
}

// above is a temperature raised by as much as a seal runs hotter than its node.
func (s *survey) above(f facts.Fact, by specs.Quantity) facts.Fact {
	if by.SI == 0 {
		return f
	}
	return reckoned(f, rising, func(f facts.Fact) facts.Fact {
		o := *f.From
		o.Note = print(f.Value, quantity.Temperature) + " there, above_fluid " + print(by.SI, quantity.TemperatureDifference)
		return s.known(f.Value+by.SI, o)
	})
}

// gapAllowed is the largest clearance that a seal bridges at its pressure, with a
// backup ring or without: none where the table ends.
func (s *survey) gapAllowed(f *facts.Seal, spec *specs.Seal, path string) facts.Fact {
	switch {
	case !f.Pressure.Known:
		return unknown(f.Pressure)
	case !spec.Backup.Value && !spec.Hardness.Given():
		return missing(path + ".hardness")
	}
	o := *f.Pressure.From
	o.Note = print(f.Pressure.Value, quantity.Pressure) + " at it, "
	var gap float64
	var tabled bool
	if spec.Backup.Value {
		gap, tabled = strength.BackedGap(f.Pressure.Value)
		o.Note += "with a backup ring"
		o.Basis = "clearance table of O-ring catalogues at 90 Shore A, to 400 bar; from memory"
		if !tabled {
			o.Note += ", which holds to 400 bar"
		}
		return s.known(gap, o)
	}
	gap, tabled = strength.ExtrusionGap(f.Pressure.Value, spec.Hardness.SI)
	o.Note += fmt.Sprintf("%g Shore A, no backup ring", spec.Hardness.SI)
	o.Basis = "clearance table of O-ring catalogues, common practice"
	if !tabled {
		o.Note += "; the table ends at 3000 psi and 70 Shore A, beyond which a backup ring is the rule"
	}
	return s.known(gap, o)
}
