package reports

import (
	"encoding/csv"
	"io"
	"math"
	"strconv"

	"headroom/rules/facts"
)

// History writes quantities over time as comma-separated values: a header with
// names and units, a time a row. What a quantity has no value for stays empty.
func History(w io.Writer, h *facts.History) error {
	out := csv.NewWriter(w)
	header := []string{"time [s]"}
	for _, c := range h.Columns {
		name := c.Name()
		if _, unit := c.Dimension.Display(0); unit != "" {
			name += " [" + unit + "]"
		}
		header = append(header, name)
	}
	if err := out.Write(header); err != nil {
		return err
	}
	row := make([]string, len(header))
	for _, values := range h.Rows {
		row[0] = figure(values[0], 10)
		for i, c := range h.Columns {
			row[i+1] = ""
			if v := values[i+1]; !math.IsNaN(v) {
				shown, _ := c.Dimension.Display(v)
				row[i+1] = figure(shown, 7)
			}
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// figure is a number with some significant digits, the same on every machine.
func figure(v float64, digits int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	return strconv.FormatFloat(rounded+0, 'g', -1, 64)
}
