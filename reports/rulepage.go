package reports

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"headroom/rules"
)

// RuleTable writes the rules of a book, a line each.
func RuleTable(w io.Writer, book *rules.Rulebook) error {
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	tableRow(table, "rule", "grade", "for", "reserve", "title")
	for _, r := range book.Rules {
		tableRow(table, r.ID, r.Grade.String(), r.For, reserveText(r), r.Title)
	}
	for _, off := range book.SwitchedOff {
		tableRow(table, off.Rule.ID, "off", off.Rule.For, "", "switched off by "+off.Pack+": "+off.Because)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(w, "\n%d rules\n", len(book.Rules))
	return err
}

func reserveText(r *rules.Rule) string {
	if r.Reserve.None() {
		return "none"
	}
	return r.Reserve.Text
}

// RulePage writes what a rule checks and why, as a handbook would.
func RulePage(w io.Writer, r *rules.Rule) error {
	p := &page{w: w}
	p.line(r.ID + " · " + r.Title)
	p.line("")
	p.paragraph("", r.Why)
	p.line("")
	p.field("judges", "each "+r.For)
	p.field("where", r.Where.Text)
	p.field("measure", r.Measure.Text)
	p.field(string(r.Sense), r.Limit.Text)
	p.field("requires", r.Require.Text)
	if r.Measure.Text != "" {
		p.field("reserve", reserveText(r)+reserveMeaning(r))
	}
	p.field("grade", r.Grade.String()+regraded(r))
	p.field("source", r.Basis)
	p.field("remedy", r.Remedy)
	p.field("pack", fmt.Sprintf("%s (%s, line %d)", r.Pack, r.At.File, r.At.Line))
	return p.err
}

func reserveMeaning(r *rules.Rule) string {
	if r.Reserve.None() {
		return ": a limit that holds simply holds"
	}
	return " beyond the limit; a finding where less is left"
}

func regraded(r *rules.Rule) string {
	if r.Regraded == "" {
		return ""
	}
	return ", regraded because " + r.Regraded
}

// RuleWorking writes what a rule comes to on some subjects of a circuit, with
// every fact that it read and where that comes from.
func RuleWorking(w io.Writer, file string, r *rules.Rule, shown []*rules.Explanation) error {
	p := &page{w: w}
	p.line(fmt.Sprintf("%s · %s · %s", file, r.ID, r.Title))
	for _, e := range shown {
		p.line("")
		switch {
		case e.Assessment != nil:
			p.assessed(e.Assessment)
		case e.NotAssessed != nil:
			p.paragraph(e.Subject.String()+": ", "not assessed, for want of "+strings.Join(e.NotAssessed.Missing, ", "))
			if e.NotAssessed.Excused != "" {
				p.paragraph("  excused: ", e.NotAssessed.Excused)
			}
		default:
			p.paragraph(e.Subject.String()+": ", "not for this rule, as this does not hold: "+e.Skipped)
		}
	}
	p.line("")
	if len(shown) == 0 {
		p.line(nothingShown(r))
	} else if r.Remedy != "" {
		p.paragraph("what helps: ", r.Remedy)
	}
	return p.err
}

// nothingShown says why there is nothing to show of a rule.
func nothingShown(r *rules.Rule) string {
	if r.Gathers != "" {
		return "every critical rule is assessed here, or excused"
	}
	return "no subject here that this rule is for"
}

// A page writes text and keeps the first error.
type page struct {
	w   io.Writer
	err error
}

func (p *page) line(text string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, plain(strings.TrimRight(text, " ")))
	}
}

// paragraph writes wrapped text behind a label, further lines in its column.
func (p *page) paragraph(label, text string) {
	label = Plain(label)
	indent := strings.Repeat(" ", columns(label))
	for i, l := range wrapBehind(Plain(text), columns(label), columns(label), width) {
		if i > 0 {
			label = indent
		}
		p.line(label + l)
	}
}

// field writes a named value, or nothing for an empty one.
func (p *page) field(name, text string) {
	if text != "" {
		p.paragraph(fmt.Sprintf("  %-10s", name), text)
	}
}

// assessed writes an assessment: the outcome, then each fact with its origin.
func (p *page) assessed(a *rules.Assessment) {
	outcome := "holds"
	if !a.Holds {
		outcome = a.Grade.String()
	}
	if a.Headroom != nil {
		outcome += ", headroom " + headroomText(*a.Headroom)
	}
	p.line(a.Subject.String() + ": " + outcome)
	p.paragraph("  ", a.Message)
	for _, s := range a.Working {
		p.paragraph("    ", stepText(s))
	}
}

// stepText is one fact in words: what it is, how much, and where it comes from.
func stepText(s rules.Step) string {
	value := s.Text
	if s.Value != nil {
		value = s.Value.Dimension.Format(s.Value.SI)
	}
	text := s.Label + " = " + value
	o := s.Origin
	if o == nil {
		return text
	}
	var from []string
	if o.Note != "" {
		from = append(from, o.Note)
	}
	if o.Case != "" {
		where := "case " + o.Case
		if o.Timed {
			where += fmt.Sprintf(" at %.3g s", o.Time)
		}
		from = append(from, where)
	}
	if o.At.Line > 0 {
		from = append(from, fmt.Sprintf("%s line %d", o.At.File, o.At.Line))
	}
	if o.Basis != "" {
		from = append(from, o.Basis)
	}
	if len(from) > 0 {
		text += " (" + strings.Join(from, "; ") + ")"
	}
	return text
}
