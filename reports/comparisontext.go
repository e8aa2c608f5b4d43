package reports

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"headroom/rules/changes"
)

// textComparison tells what revisions changed, for people at a terminal.
type textComparison struct {
	*textForm
	changed map[changes.Kind]int
}

func openTextComparison(w io.Writer, options Options) ComparisonForm {
	return &textComparison{openText(w, options).(*textForm), map[changes.Kind]int{}}
}

func (f *textComparison) Comparison(c *changes.Comparison) error {
	if f.count > 0 {
		f.line("")
	}
	f.count++
	f.print(f.paint.bold(comparisonHeading(c)))
	f.line("")
	f.spec(c)
	for i := range c.Findings {
		f.change(c, &c.Findings[i])
	}
	f.moved(c)
	if loss := lossText(c); loss != "" {
		f.hang("no longer assessed, for want of ", 2, loss)
		f.line("")
	}
	f.noteChanges(the(c).Book)
	verdict := the(c).Judgement.Verdict
	text := verdictText(c) + ": " + countsText(c)
	if c.New != nil {
		f.print(f.paint.verdict(verdict) + plain(text[len(verdict):]))
	} else {
		f.line(text)
	}
	for _, k := range changes.Kinds() {
		f.changed[k] += c.Count(k)
	}
	return f.w.Flush()
}

// comparisonHeading names the circuit and both revisions.
func comparisonHeading(c *changes.Comparison) string {
	h := heading(the(c))
	if c.Old == nil || c.New == nil {
		return h
	}
	if before := revisionText(c.Old); before != revisionText(c.New) {
		return h + " · was " + before
	}
	return h
}

// spec tells what was renamed and edited.
func (f *textComparison) spec(c *changes.Comparison) {
	for _, r := range c.Renamed {
		f.line(fmt.Sprintf("%-*s%s %s, was %s", indent, "renamed", r.Kind, r.New, r.Old))
	}
	shown, more := first(c.Edits, mostTold)
	for _, e := range shown {
		text := e.Path + ": " + editText(e.Old, e.New)
		label := fmt.Sprintf("%-*s", indent, "edited")
		f.hang(label, indent+2, text+fmt.Sprintf(" (line %d)", e.Line))
	}
	if more > 0 {
		f.line(fmt.Sprintf("%-*s%d more", indent, "", more))
	}
	if len(c.Renamed)+len(c.Edits) > 0 {
		f.line("")
	}
}

// editText is a value before and after.
func editText(old, new string) string {
	switch {
	case old == "":
		return "now " + shorten(new)
	case new == "":
		return "gone, was " + shorten(old)
	}
	return shorten(old) + " → " + shorten(new)
}

// longest is how much of a value is shown: a whole part may have come or gone.
const longest = 120

func shorten(text string) string {
	if runes := []rune(text); len(runes) > longest {
		return string(runes[:longest]) + "…"
	}
	return text
}

// change writes one finding that changed. What is new or worse is told in full.
func (f *textComparison) change(c *changes.Comparison, change *changes.Finding) {
	a, r := change.The(), the(c)
	if a == change.Old && c.Old != nil {
		r = c.Old
	}
	kind := string(change.Kind)
	head := fmt.Sprintf("%-*s%-*s%s  %s", indent, kind, indent, a.Grade.String(), a.Rule.ID, a.Subject.String())
	where := place(r.Circuit.File, a)
	if a != change.New && where != "" {
		where = "was " + where
	}
	f.pointing(f.paint.bold(kind)+plain(head[len(kind):]), columns(Plain(head)), where)
	if was := wasText(change); was != "" {
		f.paragraph("", was)
	}
	if toldInFull(change.Kind) {
		f.paragraph("", a.Message)
		if a.Rule.Basis != "" {
			f.paragraph("source: ", a.Rule.Basis)
		}
		if a.Remedy != "" {
			f.paragraph("remedy: ", a.Remedy)
		}
	}
	if k := a.Conceded; k != nil && a == change.New {
		f.paragraph("conceded: ", concededText(k))
	}
	f.line("")
}

// moved lists the margins that moved, most first.
func (f *textComparison) moved(c *changes.Comparison) {
	if len(c.Moved) == 0 {
		return
	}
	f.print(f.paint.bold(plural(len(c.Moved), "margin") + " moved, most first"))
	table := tabwriter.NewWriter(f.w, 0, 0, 2, ' ', 0)
	tableRow(table, "  headroom", "rule", "subject", "measure", "limit")
	shown, more := first(c.Moved, mostTold)
	for _, m := range shown {
		cells := movedRow(m)
		cells[0] = "  " + cells[0]
		tableRow(table, cells...)
	}
	table.Flush()
	if more > 0 {
		f.line(fmt.Sprintf("  %d more", more))
	}
	f.line("")
}

func (f *textComparison) Close(run Run) error {
	if f.count > 1 {
		var parts []string
		for _, k := range changes.Kinds() {
			if n := f.changed[k]; n > 0 {
				parts = append(parts, fmt.Sprintf("%d %s", n, k))
			}
		}
		if len(parts) == 0 {
			parts = []string{"no finding changed"}
		}
		f.line("")
		f.line(plural(f.count, "circuit") + ": " + strings.Join(parts, ", "))
	}
	f.count = min(f.count, 1) // the verdicts are told with each circuit
	return f.textForm.Close(run)
}
