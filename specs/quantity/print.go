package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Display is the value in the dimension's one unit of machine-readable output.
func (d Dimension) Display(si float64) (value float64, unit string) {
	return printed[d].display.of(si), d.row().display
}

// Format prints a value for people: in a fitting unit, three digits or all those before the point.
func (d Dimension) Format(si float64) string {
	r := d.fitting(si)
	return r.text(si, 3, d.row().decimals)
}

// FormatAlike prints several values in one unit, with enough digits that values
// which differ read differently.
func (d Dimension) FormatAlike(si ...float64) []string {
	largest := 0.0
	for _, v := range si {
		if math.Abs(v) > math.Abs(largest) {
			largest = v
		}
	}
	r := d.fitting(largest)
	texts := make([]string, len(si))
	for digits := 3; ; digits++ {
		decimals := d.row().decimals
		if digits > 3 {
			decimals = 0
		}
		seen := make(map[string]float64)
		clash := false
		for i, v := range si {
			texts[i] = r.text(v, digits, decimals)
			if other, met := seen[texts[i]]; met && other != v {
				clash = true
			}
			seen[texts[i]] = v
		}
		if !clash || digits == 17 {
			return texts
		}
	}
}

// step is a rung with its unit read.
type step struct {
	rung
	as unit
}

// printing is what printing a dimension needs.
type printing struct {
	display unit
	ladder  []step
}

var printed = printings()

func printings() (all [dimensions]printing) {
	for d := range dimensions {
		row := declared[d]
		all[d].display = mustRead(row.display)
		ladder := row.ladder
		if ladder == nil {
			ladder = []rung{{row.display, 0}}
		}
		for _, r := range ladder {
			all[d].ladder = append(all[d].ladder, step{r, mustRead(r.unit)})
		}
	}
	return all
}

// mustRead reads a unit of our own table.
func mustRead(text string) unit {
	if text == "" {
		return unit{num: 1, den: 1}
	}
	u, err := readUnit(text, 0, Number)
	if err != nil {
		panic(text + ": " + err.Error())
	}
	return u
}

// fitting is the largest step of which there is enough.
func (d Dimension) fitting(si float64) step {
	ladder := printed[d].ladder
	if si == 0 {
		display := d.row().display
		for _, s := range ladder {
			if s.unit == display {
				return s
			}
		}
	}
	for i := len(ladder) - 1; i > 0; i-- {
		if math.Abs(rounded(ladder[i].as.of(si), 3)) >= ladder[i].from {
			return ladder[i]
		}
	}
	return ladder[0]
}

// text prints si in the step's unit.
func (s step) text(si float64, digits, decimals int) string {
	v := s.as.of(si)
	switch {
	case math.IsNaN(v):
		return "not a number"
	case math.IsInf(v, 1):
		return "infinite"
	case math.IsInf(v, -1):
		return "minus infinite"
	}
	n := figures(v, digits, decimals)
	if s.unit == "" {
		return n
	}
	return n + " " + s.unit
}

// rounded is v to that many significant digits.
func rounded(v float64, digits int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	return r
}

// figures prints v to that many significant digits, and whole where it has more before the point.
func figures(v float64, digits, decimals int) string {
	r := rounded(v, digits)
	if r == 0 {
		return "0"
	}
	magnitude := int(math.Floor(math.Log10(math.Abs(r))))
	if magnitude >= 9 || magnitude < -4 {
		text := strconv.FormatFloat(v, 'e', digits-1, 64)
		text = strings.Replace(text, "e+0", "e", 1)
		text = strings.Replace(text, "e+", "e", 1)
		return strings.Replace(text, "e-0", "e-", 1)
	}
	places := max(0, digits-1-magnitude)
	if decimals > 0 {
		places = min(places, decimals)
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Trim(text, "-0.") == "" {
		return "0"
	}
	return text
}
