package specs

import (
	"strconv"
	"strings"

	"headroom/specs/quantity"
)

// A limit is one comparison of a tag `range`.
type limit struct {
	op    string // ">", ">=", "<", "<="
	si    float64
	gauge bool
	text  string // the bound as written
}

// parseLimits reads a tag such as "> 0 mm, <= 2 m".
func parseLimits(tag string, d quantity.Dimension) []limit {
	if tag == "" {
		return nil
	}
	var limits []limit
	for _, one := range strings.Split(tag, ", ") {
		op, text, _ := strings.Cut(one, " ")
		v := mustParse(text, d)
		limits = append(limits, limit{op, v.SI, v.Gauge, text})
	}
	return limits
}

// outside says what a value must be where it breaks a limit, else nothing.
func (r *reader) outside(si float64, limits []limit) string {
	for _, l := range limits {
		bound := l.si
		if l.gauge {
			bound += r.air
		}
		if !l.holds(si, bound) {
			return inWords(limits)
		}
	}
	return ""
}

func (l limit) holds(si, bound float64) bool {
	switch l.op {
	case ">":
		return si > bound
	case ">=":
		return si >= bound
	case "<":
		return si < bound
	}
	return si <= bound
}

// inWords tells limits: "more than 0 mm and at most 2 m".
func inWords(limits []limit) string {
	words := map[string]string{">": "more than ", ">=": "at least ", "<": "less than ", "<=": "at most "}
	var all []string
	for _, l := range limits {
		all = append(all, words[l.op]+l.text)
	}
	if len(limits) == 2 && limits[0].text == limits[1].text {
		return limits[0].text
	}
	return strings.Join(all, " and ")
}

// samples is a value of each dimension for messages and documentation, where a
// key has none of its own.
var samples = map[quantity.Dimension]string{
	quantity.Number:                "0.5",
	quantity.Pressure:              "160 bar",
	quantity.AbsolutePressure:      "0.8 bar abs",
	quantity.PressureDifference:    "3 bar",
	quantity.Temperature:           "80 degC",
	quantity.TemperatureDifference: "10 K",
	quantity.Length:                "12 mm",
	quantity.Volume:                "0.5 L",
	quantity.Time:                  "20 ms",
	quantity.Frequency:             "40 /h",
	quantity.Acceleration:          "12 m/s2",
	quantity.RotationalSpeed:       "3000 rpm",
	quantity.Mass:                  "0.4 kg",
	quantity.Density:               "870 kg/m3",
	quantity.Force:                 "250 N",
	quantity.Torque:                "20 N·m",
	quantity.Power:                 "1.5 kW",
	quantity.Flow:                  "12 L/min",
	quantity.Displacement:          "1.1 cm3/rev",
	quantity.KinematicViscosity:    "32 mm2/s",
	quantity.SpecificHeat:          "1.95 kJ/kg/K",
	quantity.HeatCapacity:          "900 J/K",
	quantity.Conductance:           "12 W/K",
	quantity.Expansion:             "7e-4 1/K",
	quantity.PressureViscosity:     "2e-8 1/Pa",
	quantity.ModulusPerKelvin:      "-7 MPa/K",
	quantity.Stretch:               "0.02 cm3/m/bar",
	quantity.EnergyPerArea:         "1.2 MJ/m2",
	quantity.PowerPerArea:          "2 MW/m2",
	quantity.SpringRate:            "60 N/mm",
	quantity.ViscousFriction:       "200 N·s/m",
	quantity.Inertia:               "0.02 kg·m2",
}

// sample is an example of the field's value, as one writes it.
func (f *field) sample() string {
	switch {
	case f.example != "":
		return f.example
	case f.oneof != nil:
		return f.oneof[0]
	}
	switch f.shape {
	case quantityShape:
		return samples[f.dim]
	case flagShape:
		return "true"
	case countShape:
		return strconv.Itoa(4)
	case tableShape:
		return f.sampleTable()
	case portShape:
		return "rail"
	case sectionShape:
		return f.sampleSection()
	case ownShape:
		return f.sampleTable()
	}
	return "..."
}

func (f *field) sampleTable() string {
	switch {
	case f.xdim == quantity.Time:
		return "[[0 s, " + samples[f.dim] + "], [2 s, " + samples[f.dim] + "]]"
	case f.single:
		return samples[f.dim]
	}
	return "[[40 degC, " + samples[f.dim] + "], [100 degC, " + samples[f.dim] + "]]"
}

// sampleSection is a section with its required keys.
func (f *field) sampleSection() string {
	var keys []string
	for _, g := range f.section.fields {
		if !g.opt && g.standard == nil {
			keys = append(keys, g.name+": "+g.sample())
		}
	}
	return "{" + strings.Join(keys, ", ") + "}"
}
