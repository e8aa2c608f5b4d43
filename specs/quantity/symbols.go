package quantity

import (
	"maps"
	"math"
	"slices"
)

// symbol declares one unit symbol: 1 symbol = num/den of the SI unit of its
// dimension. Two numbers, because 1/60000 has no exact float64 while a division
// by 60000 rounds once.
type symbol struct {
	text      string
	dimension Dimension
	num, den  float64
	// shift is added to the number before scaling: degC and degF only.
	shift float64
	// prefixes the symbol takes, one character each.
	prefixes string
	also     []string // other spellings
	source   string
}

// Definitions that others follow from.
const (
	inch   = 0.0254                          // m, exact: NIST SP 811 (2008) B.8
	foot   = 12 * inch                       // m
	pound  = 0.45359237                      // kg, exact: NIST SP 811 (2008) B.8
	gn     = 9.80665                         // m/s2, standard gravity, exact: 3rd CGPM (1901), SI brochure
	lbf    = pound * gn                      // N
	gallon = 231 * 1e-9 * 25.4 * 25.4 * 25.4 // m3, US, 231 in3: NIST HB 44 App. C
)

const (
	brochure = "SI brochure, 9th ed."
	sp811    = "NIST SP 811 (2008), B.8"
)

// symbols are the unit symbols, each once. Products and quotients of them are
// read by rule (unit.go), so no compound stands here but those with a name of
// their own in the trade.
var symbols = []symbol{
	{text: "%", dimension: Number, num: 1, den: 100, source: "ISO 80000-1"},

	{text: "Pa", dimension: Pressure, num: 1, den: 1, prefixes: "mhkMG", source: brochure},
	{text: "bar", dimension: Pressure, num: 1e5, den: 1, prefixes: "m", source: sp811},
	{text: "psi", dimension: Pressure, num: lbf * 1e13, den: inch * inch * 1e13, source: "lbf/in2, " + sp811},
	{text: "ksi", dimension: Pressure, num: lbf * 1e13, den: inch * inch * 1e10, source: "1000 psi"},

	{text: "K", dimension: TemperatureDifference, num: 1, den: 1, source: brochure}, // no mK: W/mK is meant as W/m/K,
	{text: "degC", dimension: Temperature, num: 1, den: 1, shift: 273.15, also: []string{"°C"}, source: brochure},
	{text: "degF", dimension: Temperature, num: 5, den: 9, shift: 459.67, also: []string{"°F"}, source: sp811},

	{text: "m", dimension: Length, num: 1, den: 1, prefixes: "nµmcdk", source: brochure},
	{text: "in", dimension: Length, num: inch * 1e4, den: 1e4, source: sp811},
	{text: "ft", dimension: Length, num: foot * 1e4, den: 1e4, source: sp811},
	{text: "L", dimension: Volume, num: 1, den: 1e3, prefixes: "µmcd", also: []string{"l"}, source: brochure},
	{text: "cc", dimension: Volume, num: 1, den: 1e6, source: "cm3"},
	{text: "gal", dimension: Volume, num: gallon * 1e12, den: 1e12, also: []string{"gal (US)", "gal(US)"}, source: "231 in3, NIST HB 44, App. C"},
	{text: "gpm", dimension: Flow, num: gallon * 1e12, den: 60e12, source: "gal (US) per minute"},
	{text: "lpm", dimension: Flow, num: 1, den: 60e3, source: "L/min"},

	{text: "s", dimension: Time, num: 1, den: 1, prefixes: "nµm", source: brochure},
	{text: "min", dimension: Time, num: 60, den: 1, source: brochure},
	{text: "h", dimension: Time, num: 3600, den: 1, source: brochure},
	{text: "d", dimension: Time, num: 86400, den: 1, source: brochure},
	{text: "Hz", dimension: Frequency, num: 1, den: 1, prefixes: "k", source: brochure},

	{text: "rad", dimension: Angle, num: 1, den: 1, prefixes: "m", source: brochure},
	{text: "deg", dimension: Angle, num: math.Pi, den: 180, also: []string{"°"}, source: brochure},
	{text: "rev", dimension: Angle, num: 2 * math.Pi, den: 1, source: "ISO 80000-3"},
	{text: "rpm", dimension: RotationalSpeed, num: 2 * math.Pi, den: 60, source: "rev/min, " + sp811},

	{text: "g", dimension: Mass, num: 1, den: 1e3, prefixes: "µmk", source: brochure},
	{text: "t", dimension: Mass, num: 1e3, den: 1, source: brochure},
	{text: "lb", dimension: Mass, num: pound * 1e8, den: 1e8, source: sp811},
	{text: "N", dimension: Force, num: 1, den: 1, prefixes: "mkM", source: brochure},
	{text: "lbf", dimension: Force, num: lbf * 1e13, den: 1e13, source: sp811},
	{text: "kgf", dimension: Force, num: gn * 1e5, den: 1e5, source: sp811},
	{text: "g0", dimension: Acceleration, num: gn * 1e5, den: 1e5, source: "standard gravity, " + sp811},
	{text: "Nm", dimension: Torque, num: 1, den: 1, prefixes: "mkM", source: "N·m"},
	{text: "J", dimension: Energy, num: 1, den: 1, prefixes: "mkMG", source: brochure},
	{text: "W", dimension: Power, num: 1, den: 1, prefixes: "mkM", source: brochure},
	{text: "hp", dimension: Power, num: 550 * foot * lbf, den: 1, source: "550 ft·lbf/s, " + sp811},
	{text: "St", dimension: KinematicViscosity, num: 1, den: 1e4, prefixes: "c", source: sp811},
	{text: "P", dimension: DynamicViscosity, num: 1, den: 10, prefixes: "c", source: sp811},
}

// prefix is an SI prefix: num/den, both whole.
type prefix struct {
	num, den float64
	also     string // an ASCII or second spelling
}

// prefixes: SI brochure, 9th ed., table 7.
var prefixes = map[rune]prefix{
	'n': {1, 1e9, ""},
	'µ': {1, 1e6, "uμ"}, // U+00B5; also u and the Greek letter U+03BC
	'm': {1, 1e3, ""},
	'c': {1, 1e2, ""},
	'd': {1, 1e1, ""},
	'h': {1e2, 1, ""},
	'k': {1e3, 1, ""},
	'M': {1e6, 1, ""},
	'G': {1e9, 1, ""},
}

// spelled maps every spelling of every symbol, prefixed or not, to its unit.
var spelled = spellings()

func spellings() map[string]unit {
	all := make(map[string]unit)
	for _, s := range symbols {
		plain := unit{num: s.num, den: s.den, shift: s.shift, dimension: s.dimension}
		for _, text := range append([]string{s.text}, s.also...) {
			all[text] = plain
			for _, letter := range s.prefixes {
				p := prefixes[letter]
				scaled := unit{num: plain.num * p.num, den: plain.den * p.den, dimension: plain.dimension}
				for _, l := range string(letter) + p.also {
					all[string(l)+text] = scaled
				}
			}
		}
	}
	return all
}

// allTexts are the spellings in order, for suggestions.
var allTexts = slices.Sorted(maps.Keys(spelled))

// known maps the units that specs are full of, compounds too, to what reading them
// gives: a short cut, nothing else.
var known = shortCuts()

func shortCuts() map[string]unit {
	all := maps.Clone(spelled)
	for d := range dimensions {
		row := &declared[d]
		texts := append([]string{row.display}, row.usual...)
		for _, r := range row.ladder {
			texts = append(texts, r.unit)
		}
		for _, text := range texts {
			if _, done := all[text]; !done && text != "" {
				all[text] = read(text)
			}
		}
	}
	return all
}

// read reads a unit of our own tables. They are part of the program: a mistake in them
// is caught by the first test that is run.
func read(text string) unit {
	u, err := readUnit(text, 0, nameless)
	if err != nil {
		panic("unit table: " + text + ": " + err.Error())
	}
	return u
}
