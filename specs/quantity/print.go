package quantity

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Display is a value in the one unit that machine-readable output has for its dimension,
// to twelve significant digits and a billionth of a degree. A Pressure is the gauge value.
func (d Dimension) Display(si float64) (value float64, unit string) {
	u := printed(d).display
	value = u.as.of(si)
	if u.as.shift != 0 && math.Abs(value) < 1e6 {
		value = math.Round(value*1e9) / 1e9 // what subtracting 273.15 leaves behind
	}
	return rounded(value, 12) + 0, u.text
}

// Format prints a value for people in a unit that suits its size: three significant
// digits, all digits before the decimal point, a power of ten for extraordinary sizes
// alone. A Pressure is the gauge value. Parse reads the text back as that dimension.
func (d Dimension) Format(si float64) string {
	p := printed(d)
	u := p.fitting(si)
	// 119.6 s reads 120 s, and that is 2.00 min: the unit is chosen for what is read.
	read := u.as.si(rounded(u.as.of(si), usualDigits))
	if next := p.fitting(read); next != u {
		u, si = next, read
	}
	return u.print(si, usualDigits, p.decimals)
}

// FormatAlike prints values that stand beside each other, such as a measure and its
// limit: in one unit, that of the largest, with as many digits as it takes for values
// that differ to read differently. Values that agree to nine digits read alike.
func (d Dimension) FormatAlike(si ...float64) []string {
	p := printed(d)
	u := p.fitting(largest(si))
	print := func(digits int) []string {
		texts := make([]string, len(si))
		for i, v := range si {
			texts[i] = u.print(v, digits, p.decimals+digits-usualDigits)
		}
		return texts
	}
	most := print(mostDigits)
	for digits := usualDigits; digits < mostDigits; digits++ {
		if texts := print(digits); distinct(texts, most) {
			return texts
		}
	}
	return most
}

const (
	usualDigits = 3
	mostDigits  = 9   // in which values that stand beside each other may differ
	unlimited   = 400 // decimals: more than any float64 has places
)

// largest is the value largest in size, 0 if there is none.
func largest(values []float64) (most float64) {
	for _, v := range values {
		if math.Abs(v) > math.Abs(most) {
			most = v
		}
	}
	return most
}

// distinct tells whether values that differ in their longest texts differ in others.
func distinct(texts, longest []string) bool {
	for i := range texts {
		for j := range i {
			if texts[i] == texts[j] && longest[i] != longest[j] {
				return false
			}
		}
	}
	return true
}

// namedUnit is a unit with its spelling; from is how much of it a ladder wants to see.
type namedUnit struct {
	text string
	as   unit
	from float64
}

// printing is how the values of a dimension are printed.
type printing struct {
	display  namedUnit
	ladder   []namedUnit // small to large
	decimals int
}

// printings are those of all dimensions, and of the nameless one.
var printings = readPrintings()

func printed(d Dimension) *printing { return &printings[min(d, nameless)] }

func readPrintings() (all [dimensions + 1]printing) {
	for d := range all {
		row := Dimension(d).row()
		p := printing{display: namedUnit{text: row.display, as: own(row.display)}, decimals: unlimited}
		if row.decimals > 0 {
			p.decimals = row.decimals
		}
		for _, r := range row.ladder {
			p.ladder = append(p.ladder, namedUnit{r.unit, own(r.unit), r.from})
		}
		if len(p.ladder) == 0 {
			p.ladder = []namedUnit{p.display}
		}
		all[d] = p
	}
	return all
}

// own is a unit of our own tables; only that of a bare number is not among the known ones.
func own(text string) unit {
	if text == "" {
		return one
	}
	return known[text]
}

// fitting is the largest unit of the ladder of which there is enough; for nothing at all
// it is the one that Display takes.
func (p *printing) fitting(si float64) namedUnit {
	for _, u := range slices.Backward(p.ladder) {
		switch {
		case si == 0 && u.as.num*p.display.as.den == u.as.den*p.display.as.num,
			si != 0 && math.Abs(rounded(u.as.of(si), usualDigits)) >= u.from:
			return u
		}
	}
	return p.ladder[0]
}

// print writes si in the unit.
func (u namedUnit) print(si float64, digits, decimals int) string {
	v := u.as.of(si)
	switch {
	case math.IsNaN(v):
		return "not a number"
	case math.IsInf(v, 1):
		return "infinite"
	case math.IsInf(v, -1):
		return "minus infinite"
	}
	text := figures(v, digits, decimals)
	if u.text == "" {
		return text
	}
	return text + " " + u.text
}

// figures prints v to so many significant digits, whole where there are more before the
// decimal point, with at most so many decimals.
func figures(v float64, digits, decimals int) string {
	power := strconv.FormatFloat(v, 'e', digits-1, 64)
	mantissa, after, _ := strings.Cut(power, "e")
	size, _ := strconv.Atoi(after)
	if v != 0 && (size < -4 || size >= 9) {
		return mantissa + "e" + strconv.Itoa(size)
	}
	text := strconv.FormatFloat(v, 'f', min(max(0, digits-1-size), decimals), 64)
	if strings.Trim(text, "-0.") == "" {
		return "0"
	}
	return text
}

// rounded is v to so many significant digits.
func rounded(v float64, digits int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	return r
}
