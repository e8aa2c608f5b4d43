package catalogue

import "headroom/specs/quantity"

// A TubeMaterial is what a tube may be made of.
type TubeMaterial struct {
	Name, About, Standard string
	Yield, Tensile        []Strength // rising in temperature; the least of the standard
	Modulus               float64    // Pa, Young's
	Poisson               float64
	Expansion             float64 // 1/K, of length
	Density               float64 // kg/m3
	MinTemperature        float64 // K
	MaxTemperature        float64 // K, the last of Yield and Tensile
	Note                  string
	Sources               []Source
}

// A Strength is a strength at a temperature.
type Strength struct {
	Temperature float64 // K
	Stress      float64 // Pa
}

// Tube finds a tube material by name or by another of its standard names.
func Tube(name string) (TubeMaterial, bool) { return tubes().find(name) }

// Tubes lists all tube materials.
func Tubes() []TubeMaterial { return tubes().rows }

// Source finds where the value at a key of tubes.yaml comes from.
func (t TubeMaterial) Source(key string) (Source, bool) { return sourceOf(t.Sources, key) }

// writtenTube is a row of tubes.yaml.
type writtenTube struct {
	Name        string      `yaml:"name"`
	Standard    string      `yaml:"standard"`
	Also        []string    `yaml:"also"`
	Yield       [][2]string `yaml:"yield"`
	Tensile     [][2]string `yaml:"tensile"`
	Modulus     string      `yaml:"modulus"`
	Poisson     float64     `yaml:"poisson"`
	Expansion   string      `yaml:"expansion"`
	Density     string      `yaml:"density"`
	Temperature window      `yaml:"temperature"`
	Note        string      `yaml:"note"`
	Sources     []Source    `yaml:"sources"`
}

var tubes = load("tubes.yaml", "tubes", resolveTube)

// resolveTube makes a row told of a row as written.
func resolveTube(name string, w writtenTube, shared []Source) (TubeMaterial, []string) {
	where := "tubes.yaml: " + name
	low, high := w.Temperature.si(where)
	return TubeMaterial{
		Name: name, About: w.Name, Standard: w.Standard,
		Yield: strengths(where, w.Yield), Tensile: strengths(where, w.Tensile),
		Modulus:        si(where, w.Modulus, quantity.PressureDifference),
		Poisson:        w.Poisson,
		Expansion:      si(where, w.Expansion, quantity.Expansion),
		Density:        si(where, w.Density, quantity.Density),
		MinTemperature: low, MaxTemperature: high,
		Note:    w.Note,
		Sources: override(w.Sources, shared),
	}, w.Also
}

// strengths reads [temperature, stress] points.
func strengths(where string, points [][2]string) []Strength {
	all := make([]Strength, len(points))
	for i, p := range points {
		all[i] = Strength{si(where, p[0], quantity.Temperature), si(where, p[1], quantity.PressureDifference)}
	}
	return all
}

// A window is a temperature range; an end left out is not known.
type window struct {
	Min string `yaml:"min"`
	Max string `yaml:"max"`
}

// si is the range in kelvin, 0 for an end that is not known.
func (w window) si(where string) (low, high float64) {
	return si(where, w.Min, quantity.Temperature), si(where, w.Max, quantity.Temperature)
}
