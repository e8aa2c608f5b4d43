package catalogue

import (
	"fmt"

	"gopkg.in/yaml.v3"

	"headroom/specs/quantity"
)

// A SealMaterial is one by ISO 1629 or ISO 1043-1, as a standard compound.
type SealMaterial struct {
	Symbol, Name, Standard string
	MinTemperature         float64 // K
	MaxTemperature         float64 // K
	Hardness               float64 // Shore A, of stock seals
	ReciprocatingSpeed     float64 // m/s, highest of rod and piston seals; 0 where not known
	RotarySpeed            float64 // m/s, highest of shaft lip seals; 0 where not known
	Note                   string
	Sources                []Source

	fits map[string]Fit // by family symbol
}

// A Rating says how a seal material bears a fluid.
type Rating string

// The ratings, best first.
const (
	Suitable   Rating = "suitable"
	Limited    Rating = "limited"
	Unsuitable Rating = "unsuitable"
)

// A Fit is the rating of one seal material in one fluid family.
type Fit struct {
	Rating Rating
	Firm   bool // the source is firm enough for a critical finding
	Note   string
	Source string
	Mark   Mark
}

// Seal finds a seal material by symbol.
func Seal(symbol string) (SealMaterial, bool) { return seals().find(symbol) }

// Seals lists all seal materials.
func Seals() []SealMaterial { return seals().rows }

// In tells how the material bears a fluid family.
func (s SealMaterial) In(family string) (Fit, bool) {
	f, ok := Family(family)
	if !ok {
		return Fit{}, false
	}
	fit, ok := s.fits[f.Symbol]
	return fit, ok
}

// Source finds where the value at a key of seals.yaml comes from.
func (s SealMaterial) Source(key string) (Source, bool) { return sourceOf(s.Sources, key) }

// writtenSeal is a row of seals.yaml.
type writtenSeal struct {
	Name        string                `yaml:"name"`
	Standard    string                `yaml:"standard"`
	Also        []string              `yaml:"also"`
	Temperature window                `yaml:"temperature"`
	Hardness    float64               `yaml:"hardness"`
	Speed       speeds                `yaml:"speed"`
	Note        string                `yaml:"note"`
	Sources     []Source              `yaml:"sources"`
	Fluids      map[string]writtenFit `yaml:"fluids"`
}

type speeds struct {
	Reciprocating string `yaml:"reciprocating"`
	Rotary        string `yaml:"rotary"`
}

// writtenFit is a cell: a rating alone, or a mapping.
type writtenFit struct {
	Fit    Rating `yaml:"fit"`
	Firm   bool   `yaml:"firm"`
	Note   string `yaml:"note"`
	Source string `yaml:"source"`
	Mark   Mark   `yaml:"mark"`
}

// UnmarshalYAML reads a cell in either form.
func (w *writtenFit) UnmarshalYAML(node *yaml.Node) error {
	if node.Kind == yaml.ScalarNode {
		return node.Decode(&w.Fit)
	}
	type plain writtenFit
	return node.Decode((*plain)(w))
}

var seals = load("seals.yaml", "seals", resolveSeal)

// resolveSeal makes a row told of a row as written.
func resolveSeal(symbol string, w writtenSeal, shared []Source) (SealMaterial, []string) {
	where := "seals.yaml: " + symbol
	low, high := w.Temperature.si(where)
	s := SealMaterial{
		Symbol: symbol, Name: w.Name, Standard: w.Standard,
		MinTemperature: low, MaxTemperature: high,
		Hardness:           w.Hardness,
		ReciprocatingSpeed: si(where, w.Speed.Reciprocating, quantity.Velocity),
		RotarySpeed:        si(where, w.Speed.Rotary, quantity.Velocity),
		Note:               w.Note,
		Sources:            override(w.Sources, shared),
		fits:               make(map[string]Fit, len(w.Fluids)),
	}
	usual, ok := s.Source("fluids")
	if !ok {
		must(where, fmt.Errorf("fluids has no source"))
	}
	for family, cell := range w.Fluids {
		fit := Fit{Rating: cell.Fit, Firm: cell.Firm, Note: cell.Note, Source: cell.Source, Mark: cell.Mark}
		if cell.Source == "" {
			fit.Source, fit.Mark = usual.Source, usual.Mark
		}
		s.fits[family] = fit
	}
	return s, w.Also
}
