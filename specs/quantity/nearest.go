package quantity

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// slips are names that people write for a unit and that no count of letters leads to it.
var slips = map[string]string{
	"atm": "bar", "bara": "bar abs", "barg": "bar", "psia": "psi abs", "psid": "psi diff", "psig": "psi",
	"C": "degC", "F": "degF", "℃": "degC", "℉": "degF", "celsius": "degC", "fahrenheit": "degF", "kelvin": "K",
	"sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "mins": "min", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d",
	"liter": "L", "litre": "L", "liters": "L", "litres": "L", "ltr": "L", "ccm": "cm3",
	"metre": "m", "meter": "m", "inch": "in", "inches": "in", "micron": "µm", "microns": "µm", "feet": "ft",
	"percent": "%", "kp": "kgf", "lbs": "lb", "kph": "km/h", "mph": "ft/s", "rps": "rev/s", "turn": "rev", "turns": "rev", "degree": "deg", "degrees": "deg",
	"Wh": "W·h", "kWh": "kW·h", "Ws": "J", "Pas": "Pa·s", "mPas": "mPa·s", "Nmm": "N·mm", "Ncm": "N·cm", "PS": "kW",
}

// unknown is the error about the symbol from start to where the reader stands.
func (r *reader) unknown(start int) error {
	name := r.text[start:r.at]
	if name == "" {
		return r.strange(start)
	}
	if near := nearestUnit(name, r.want); near != "" {
		return fail(UnknownUnit, start, r.at, "unknown unit %s; did you mean %s?", name, near)
	}
	return fail(UnknownUnit, start, r.at, "unknown unit %s%s", name, then(r.want))
}

// strange is the error where a symbol should start and something else does.
func (r *reader) strange(start int) error {
	if start == len(r.text) {
		return fail(Malformed, start, start, "the unit breaks off; a symbol is missing at its end")
	}
	c, size := utf8.DecodeRuneInString(r.text[start:])
	switch c {
	case '(', ')':
		return fail(Malformed, start, start+size, "parentheses stand behind a quotient only, as in kJ/(kg·K)")
	}
	return fail(Malformed, start, start+size, "%c has no meaning here; units are joined by · and /", c)
}

// nearestUnit is the known unit nearest to name, empty if none is near. Among equally
// near ones those usual for want come first.
func nearestUnit(name string, want Dimension) string {
	if slip, ok := slips[name]; ok {
		return slip
	}
	if slip, ok := slips[strings.ToLower(name)]; ok {
		return slip
	}
	candidates := slices.Concat(want.row().usual, symbolTexts(want), allTexts)
	best, least := "", tolerated(name)+1
	for _, c := range candidates {
		if d := distance(name, c); d < least {
			best, least = c, d
		}
	}
	return best
}

// tolerated is the distance at which a unit is still near a name of that length.
func tolerated(name string) int { return min(utf8.RuneCountInString(name), 4) }

// symbolTexts lists the plain symbols of a dimension.
func symbolTexts(d Dimension) (texts []string) {
	for _, s := range symbols {
		if s.dimension == d {
			texts = append(texts, s.text)
		}
	}
	return texts
}

// distance counts the slips of the pen between two names: 1 for a wrong case, 2 for a
// letter inserted, dropped or exchanged with its neighbour, 3 for a wrong one. Names
// that differ in nothing but case are at most 2 apart.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	above, row := make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range row {
		row[j] = 2 * j
	}
	for i := range s {
		before := above
		above, row = row, make([]int, len(t)+1)
		row[0] = 2 * (i + 1)
		for j := range t {
			row[j+1] = min(above[j]+exchange(s[i], t[j]), above[j+1]+2, row[j]+2)
			if i > 0 && j > 0 && s[i] == t[j-1] && s[i-1] == t[j] {
				row[j+1] = min(row[j+1], before[j-1]+2)
			}
		}
	}
	if strings.EqualFold(a, b) {
		return min(row[len(t)], 2)
	}
	return row[len(t)]
}

// exchange is the cost of writing a for b.
func exchange(a, b rune) int {
	switch {
	case a == b:
		return 0
	case strings.EqualFold(string(a), string(b)):
		return 1
	}
	return 3
}
