package catalogue

import "headroom/specs/quantity"

// A FluidFamily is a category of ISO 6743-4, or silicone oil.
type FluidFamily struct {
	Symbol, Name, Standard string
	Water                  float64 // least share by mass; 0 for fluids without water
	Mineral                bool    // refined mineral oil is its base
	AntiWear               bool    // the category carries an anti-wear claim
	MinTemperature         float64 // K, usual limit in the bulk; 0 where not known
	MaxTemperature         float64 // K, usual limit in the bulk; 0 where not known
	Note                   string
	Sources                []Source
}

// Family finds a fluid family by symbol.
func Family(symbol string) (FluidFamily, bool) { return families().find(symbol) }

// Families lists all fluid families.
func Families() []FluidFamily { return families().rows }

// Source finds where the value at a key of families.yaml comes from.
func (f FluidFamily) Source(key string) (Source, bool) { return sourceOf(f.Sources, key) }

// writtenFamily is a row of families.yaml.
type writtenFamily struct {
	Name        string   `yaml:"name"`
	Standard    string   `yaml:"standard"`
	Also        []string `yaml:"also"`
	Water       string   `yaml:"water"`
	Mineral     bool     `yaml:"mineral"`
	AntiWear    bool     `yaml:"anti_wear"`
	Temperature window   `yaml:"temperature"`
	Note        string   `yaml:"note"`
	Sources     []Source `yaml:"sources"`
}

var families = load("families.yaml", "families", resolveFamily)

// resolveFamily makes a row told of a row as written.
func resolveFamily(symbol string, w writtenFamily, shared []Source) (FluidFamily, []string) {
	where := "families.yaml: " + symbol
	low, high := w.Temperature.si(where)
	return FluidFamily{
		Symbol: symbol, Name: w.Name, Standard: w.Standard,
		Water:   si(where, w.Water, quantity.Number),
		Mineral: w.Mineral, AntiWear: w.AntiWear,
		MinTemperature: low, MaxTemperature: high,
		Note:    w.Note,
		Sources: override(w.Sources, shared),
	}, w.Also
}
