package quantity

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// slips are names that people write for a unit and that no count of letters leads to it.
var slips = map[string]string{
	"atm": "bar", "bara": "bar abs", "barg": "bar", "psia": "psi abs", "psid": "psi diff", "psig": "psi",
	"absolute": "abs", "ABS": "abs", "Abs": "abs", "DIFF": "diff", "Diff": "diff", "differential": "diff",
	"C": "degC", "F": "degF", "ºC": "°C", "ºF": "°F", "˚C": "°C", "˚F": "°F", "℃": "degC", "℉": "degF", "celsius": "degC", "fahrenheit": "degF", "kelvin": "K",
	"sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min", "mins": "min", "hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d",
	"liter": "L", "litre": "L", "liters": "L", "litres": "L", "ltr": "L", "ccm": "cm3",
	"metre": "m", "meter": "m", "inch": "in", "inches": "in", "micron": "µm", "microns": "µm", "feet": "ft",
	"percent": "%", "kp": "kgf", "lbs": "lb", "kph": "km/h", "mph": "ft/s", "rps": "rev/s", "r": "rev", "u": "rev", "turn": "rev", "turns": "rev", "degree": "deg", "degrees": "deg",
	"Wh": "W·h", "kWh": "kW·h", "Ws": "J", "Pas": "Pa·s", "mPas": "mPa·s", "Nmm": "N·mm", "Ncm": "N·cm", "kgK": "kg/K", "mK": "m/K", "PS": "kW",
}

// unknown is the error about the symbol from start to where the reader stands.
func (r *reader) unknown(start int) error {
	name := r.text[start:r.at]
	if name == "" {
		return r.strange(start)
	}
	if near := r.nearest(name, start); near != "" {
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
	if c == '(' || c == ')' {
		return fail(Malformed, start, start+size, "parentheses stand behind a quotient only, as in kJ/(kg·K); abs and diff take none")
	}
	return fail(Malformed, start, start+size, "%c has no meaning here; units are joined by · and /", c)
}

// nearest is the known unit nearest to the name at that offset, empty if none is near.
// One that makes the whole unit fit what is wanted comes before a nearer one that does
// not, and among equals one usual for what is wanted comes first.
func (r *reader) nearest(name string, start int) string {
	if r.mended {
		return ""
	}
	if slip, ok := slips[name]; ok {
		return slip
	}
	if slip, ok := slips[strings.ToLower(name)]; ok {
		return slip
	}
	best, least := "", farAway
	usual := r.want.row().usual
	for i, candidate := range slices.Concat(usual, symbolTexts(r.want), allTexts) {
		d := distance(name, candidate)
		if d > tolerated(name) {
			continue
		}
		if i < len(usual) {
			d-- // mpa is MPa rather than mPa
		}
		if !r.fits(candidate, start) {
			d += farAway / 2
		}
		if d < least {
			best, least = candidate, d
		}
	}
	return best
}

// farAway is more than any distance that is tolerated.
const farAway = 100

// fits tells whether the unit is one of what is wanted with the candidate put in the
// place of the symbol that starts at that offset.
func (r *reader) fits(candidate string, start int) bool {
	mended := reader{text: r.text[:start] + candidate + r.text[r.at:], at: r.unitAt, want: r.want, unitAt: r.unitAt, mended: true}
	u, err := mended.read()
	return err == nil && (u.dimension == r.want || serves(u.dimension, r.want))
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
