package quantity

import (
	"fmt"
	"slices"
	"strings"
)

// unknown is the error about the symbol between start and end.
func (r *reader) unknown(start, end int) error {
	if end == start {
		return r.fail(Malformed, start, min(start+1, len(r.text)), "a unit symbol is missing here")
	}
	name := r.text[start:end]
	if near := nearestSymbol(name, r.want); near != "" {
		return r.fail(UnknownUnit, start, end, fmt.Sprintf("unknown unit %s; did you mean %s?", name, near))
	}
	return r.fail(UnknownUnit, start, end, fmt.Sprintf("unknown unit %s; %s", name, needed(r.want)))
}

// nearestSymbol is the known symbol nearest to name, "" if none is near.
func nearestSymbol(name string, want Dimension) string {
	candidates := append([]string(nil), want.row().usual...)
	var rest []string
	for text := range spelled {
		rest = append(rest, text)
	}
	slices.Sort(rest)
	best, least := "", 1+2*max(1, len(name)/2)
	for _, c := range append(candidates, rest...) {
		if d := distance(name, c); d < least {
			best, least = c, d
		}
	}
	return best
}

// distance counts edits: 2 for a letter inserted, dropped or replaced, 1 for the wrong case.
func distance(a, b string) int {
	s, t := []rune(a), []rune(b)
	row := make([]int, len(t)+1)
	for j := range row {
		row[j] = 2 * j
	}
	for i := range s {
		corner := row[0]
		row[0] += 2
		for j := range t {
			swap := corner + 2
			if s[i] == t[j] {
				swap = corner
			} else if strings.EqualFold(string(s[i]), string(t[j])) {
				swap = corner + 1
			}
			corner = row[j+1]
			row[j+1] = min(swap, row[j]+2, row[j+1]+2)
		}
	}
	return row[len(t)]
}
