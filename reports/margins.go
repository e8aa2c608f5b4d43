package reports

import (
	"fmt"
	"io"
	"text/tabwriter"

	"headroom/rules"
)

// Margins writes every assessed margin of a circuit as a table, tightest first.
func Margins(w io.Writer, r *rules.Result) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, plain(heading(r)))
	fmt.Fprintln(w)
	tableRow(table, "headroom", "rule", "subject", "measure", "limit", "margin", "line")
	for _, a := range r.Judgement.Assessments {
		tableRow(table, marginRow(a)...)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%s assessed · %d not assessed%s\n", plural(len(r.Judgement.Assessments), "margin"), len(r.Judgement.NotAssessed), plain(scopeText(r.Scope)))
	return err
}

func marginRow(a *rules.Assessment) []string {
	head, measure, limit, margin := "holds", "", "", ""
	if !a.Holds {
		head = "broken"
	}
	if a.Headroom != nil {
		head = headroomText(*a.Headroom)
	}
	if a.Measure != nil && a.Limit != nil {
		alike := a.Measure.Dimension.FormatAlike(a.Measure.SI, a.Limit.Value.SI)
		measure, limit = alike[0], a.Limit.Sense+" "+alike[1]
	}
	if a.Margin != nil {
		margin = a.Margin.Dimension.Format(a.Margin.SI)
		if len(a.Without) > 0 { // other cases are not known
			margin += " or worse"
		}
	}
	return []string{head, a.Rule.ID, a.Subject.String(), measure, limit, margin, lineText(a)}
}

// lineText is the line that an assessment points to; "" for none.
func lineText(a *rules.Assessment) string {
	if a.At.Line == 0 {
		return ""
	}
	return fmt.Sprint(a.At.Line)
}
