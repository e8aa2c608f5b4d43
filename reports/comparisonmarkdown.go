package reports

import (
	"bufio"
	"fmt"
	"io"
	"math"

	"headroom/rules/changes"
)

// markdownComparison tells what revisions changed, for a comment on a change.
type markdownComparison struct {
	w     *bufio.Writer
	count int
	most  int // rows of a table, and items of a list
}

func openMarkdownComparison(w io.Writer, _ Options) ComparisonForm {
	return &markdownComparison{w: bufio.NewWriter(w), most: math.MaxInt}
}

func (f *markdownComparison) Comparison(c *changes.Comparison) error {
	if f.count > 0 {
		fmt.Fprintln(f.w)
	}
	f.count++
	fmt.Fprintf(f.w, "### %s\n\n", plainMarkdown(comparisonHeading(c)))
	fmt.Fprintf(f.w, "**%s**: %s\n", plainMarkdown(verdictText(c)), countsText(c))
	f.findings(c)
	f.moved(c)
	if loss := lossText(c); loss != "" {
		fmt.Fprintf(f.w, "\nNo longer assessed, for want of %s\n", plainMarkdown(loss))
	}
	f.spec(c)
	return f.w.Flush()
}

func (f *markdownComparison) findings(c *changes.Comparison) {
	if len(c.Findings) == 0 {
		return
	}
	fmt.Fprint(f.w, "\n", row("change", "grade", "rule", "subject", "what", "line"), row("---", "---", "---", "---", "---", "---"))
	left := f.most
	for _, k := range changes.Kinds() {
		for _, x := range ofKind(c, k) {
			if left--; left < 0 {
				continue
			}
			a := x.The()
			what := wasText(&x)
			if toldInFull(k) {
				if what != "" {
					what += ". "
				}
				what += a.Message
			}
			if k := a.Conceded; k != nil && a == x.New {
				what += fmt.Sprintf(" (conceded by %s until %s)", k.By.Value, k.Until.Value)
			}
			fmt.Fprint(f.w, row(string(k), a.Grade.String(), code(a.Rule.ID), plainMarkdown(a.Subject.String()), plainMarkdown(what), lineText(a)))
		}
	}
	if left < 0 {
		fmt.Fprint(f.w, row(fmt.Sprintf("%d more", -left), "", "", "", "", ""))
	}
}

func (f *markdownComparison) moved(c *changes.Comparison) {
	if len(c.Moved) == 0 {
		return
	}
	fmt.Fprintf(f.w, "\n<details><summary>%s moved</summary>\n\n", plural(len(c.Moved), "margin"))
	fmt.Fprint(f.w, row("headroom", "rule", "subject", "measure", "limit"), row("---", "---", "---", "---", "---"))
	shown, more := first(c.Moved, f.most)
	for _, m := range shown {
		cells := movedRow(m)
		fmt.Fprint(f.w, row(plainMarkdown(cells[0]), code(cells[1]), plainMarkdown(cells[2]), plainMarkdown(cells[3]), plainMarkdown(cells[4])))
	}
	if more > 0 {
		fmt.Fprintf(f.w, "\n%d more\n", more)
	}
	fmt.Fprint(f.w, "\n</details>\n")
}

func (f *markdownComparison) spec(c *changes.Comparison) {
	if len(c.Renamed)+len(c.Edits) == 0 {
		return
	}
	fmt.Fprintf(f.w, "\n<details><summary>%s in the spec</summary>\n\n", plural(len(c.Renamed)+len(c.Edits), "edit"))
	for _, r := range c.Renamed {
		fmt.Fprintf(f.w, "- %s %s, was %s\n", r.Kind, code(r.New), code(r.Old))
	}
	shown, more := first(c.Edits, f.most)
	for _, e := range shown {
		fmt.Fprintf(f.w, "- %s: %s\n", code(e.Path), plainMarkdown(editText(e.Old, e.New)))
	}
	if more > 0 {
		fmt.Fprintf(f.w, "- %d more\n", more)
	}
	fmt.Fprint(f.w, "\n</details>\n")
}

func (f *markdownComparison) Close(run Run) error {
	for _, n := range run.Notices {
		fmt.Fprintf(f.w, "\n%s\n", plainMarkdown(n))
	}
	if run.Today != "" {
		fmt.Fprintf(f.w, "\nConcessions judged as of %s.\n", run.Today)
	}
	fmt.Fprintf(f.w, "\n%s\n", Caution)
	return f.w.Flush()
}
