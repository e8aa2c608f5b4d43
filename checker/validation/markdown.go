package validation

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// Markdown is the chapter of rows: how many, the table by law, and apart from it
// what is held from memory.
func Markdown(rows []Row) string {
	rows = slices.Clone(rows)
	slices.SortStableFunc(rows, func(a, b Row) int { return strings.Compare(a.Laws[0], b.Laws[0]) })
	counted := map[Surety]int{}
	var proof, memory strings.Builder
	for _, r := range rows {
		counted[r.Sure]++
		if r.Sure == Memory {
			memory.WriteString(r.line())
		} else {
			proof.WriteString(r.line())
		}
	}
	const head = "| law | what | source | printed | ours | off | within | sure |\n|---|---|---|---:|---:|---:|---|---|\n"
	return fmt.Sprintf("%d values: %d seen in the source, %d computed independently, %d exact by definition. "+
		"*Within* is half of the last printed digit where nothing else is said.\n\n%s%s\n"+
		"From memory, and no proof of anything (%d):\n\n%s%s",
		counted[Seen]+counted[Computed]+counted[Defined], counted[Seen], counted[Computed], counted[Defined], head, proof.String(),
		counted[Memory], head, memory.String())
}

// exact is the reason of a tolerance for rounding in the last bits alone.
const exact = "exact"

// line is a row of the table.
func (r Row) line() string {
	ours, off, within := "the same", "none", exact
	if r.Ours != nil {
		value, _, _ := r.Value()
		ours, off, within = r.figures(r.Ours()), r.off(value), r.tolerance()
	}
	cells := []string{r.Laws[0], r.What, r.Source + ", " + r.Place, strings.TrimSpace(r.Printed + " " + unit(r.Unit)), ours, off, within, r.Sure.String()}
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", "\\|")
	}
	return "| " + strings.Join(cells, " | ") + " |\n"
}

func unit(u string) string {
	if u == "1" {
		return ""
	}
	return u
}

// figures is the program's value with one digit more than is printed.
func (r Row) figures(v float64) string {
	mantissa, _, exponential := strings.Cut(r.Printed, "e")
	if exponential {
		return strconv.FormatFloat(v, 'e', decimals(mantissa)+1, 64)
	}
	return strconv.FormatFloat(v, 'f', decimals(mantissa)+1, 64)
}

// off is how far the program is from the printed value, as a share of it where it
// has one. What is less than a millionth is rounding.
func (r Row) off(value float64) string {
	d := r.Ours() - value
	switch {
	case math.Abs(d) <= 1e-6*math.Abs(value):
		return "< 1e-6"
	case value == 0:
		return strconv.FormatFloat(d, 'g', 2, 64)
	}
	return strconv.FormatFloat(100*d/value, 'g', 2, 64) + " %"
}

func (r Row) tolerance() string {
	switch {
	case r.Within.Because == exact:
		return exact
	case r.Within.Share >= 1e-5:
		return strconv.FormatFloat(100*r.Within.Share, 'g', 3, 64) + " %: " + r.Within.Because
	case r.Within.Share > 0:
		return strconv.FormatFloat(r.Within.Share, 'g', 2, 64) + ": " + r.Within.Because
	case r.Within.Absolute > 0:
		return strconv.FormatFloat(r.Within.Absolute, 'g', 3, 64) + ": " + r.Within.Because
	}
	return "last digit"
}
