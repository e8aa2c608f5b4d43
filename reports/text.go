package reports

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/fatih/color"

	"headroom/rules"
)

// width is the number of columns that text output keeps to.
const width = 100

// indent is where a rule's name begins, behind the column of grades.
const indent = 13

// textForm writes for people at a terminal, a design review's print-out or a log.
type textForm struct {
	w     *bufio.Writer
	paint painter
	quiet bool // findings alone
	tally
	changed []string // what packs changed of rules, each once
}

func openText(w io.Writer, options Options) Form {
	return &textForm{w: bufio.NewWriter(w), paint: newPainter(options.Color), quiet: options.Quiet}
}

// painter colours by grade, or not at all.
type painter struct{ on bool }

func newPainter(on bool) painter { return painter{on} }

func (p painter) paint(text string, attributes ...color.Attribute) printed {
	if !p.on {
		return plain(text)
	}
	c := color.New(attributes...)
	c.EnableColor()
	return printed(c.Sprint(plain(text)))
}

func (p painter) bold(text string) printed  { return p.paint(text, color.Bold) }
func (p painter) faint(text string) printed { return p.paint(text, color.Faint) }

func (p painter) grade(g rules.Grade, text string) printed {
	switch g {
	case rules.Critical:
		return p.paint(text, color.FgRed, color.Bold)
	case rules.Major:
		return p.paint(text, color.FgMagenta)
	case rules.Minor:
		return p.paint(text, color.FgYellow)
	}
	return p.paint(text, color.FgCyan)
}

func (p painter) verdict(v rules.Verdict) printed {
	switch v {
	case rules.Broken:
		return p.paint(string(v), color.FgRed, color.Bold)
	case rules.Incomplete:
		return p.paint(string(v), color.FgYellow, color.Bold)
	}
	return p.paint(string(v), color.FgGreen, color.Bold)
}

func (f *textForm) Circuit(r *rules.Result) error {
	if f.count > 0 && !f.quiet {
		f.line("")
	}
	f.note(r)
	if f.quiet && len(r.Judgement.Findings) == 0 {
		return nil
	}
	f.print(f.paint.bold(heading(r)))
	f.line("")
	for _, a := range r.Judgement.Findings {
		f.finding(r.Circuit.File, a)
	}
	if !f.quiet {
		f.notAssessed(r.Judgement)
		f.summary(r)
	}
	return f.w.Flush()
}

// note counts a result, and notes what is told of all of them at the end.
func (f *textForm) note(r *rules.Result) {
	f.tally.add(r)
	if !r.Other {
		f.noteChanges(r.Book)
	}
}

// noteChanges notes what packs changed, to be told once.
func (f *textForm) noteChanges(b *rules.Rulebook) {
	for _, c := range packChanges(b) {
		if text := c.text(); !slices.Contains(f.changed, text) {
			f.changed = append(f.changed, text)
		}
	}
}

// heading is one line that names the circuit.
func heading(r *rules.Result) string {
	c := r.Circuit
	parts := []string{c.File}
	if c.Title.Value != "" {
		parts = append(parts, c.Title.Value)
	} else if c.Name.Value != "" {
		parts = append(parts, c.Name.Value)
	}
	if c.Revision.Value != "" {
		parts = append(parts, "revision "+c.Revision.Value)
	}
	if r.Readable && !r.Other {
		parts = append(parts, plural(len(c.Cases), "case"))
	}
	return strings.Join(parts, " · ")
}

// finding writes one finding: grade, rule, subject and line; the working;
// source and remedy.
func (f *textForm) finding(file string, a *rules.Assessment) {
	where := place(file, a)
	name := a.Grade.String()
	rest := strings.Repeat(" ", max(0, indent-len(name))) + fmt.Sprintf("%s  %s", a.Rule.ID, a.Subject)
	f.pointing(f.paint.grade(a.Grade, name)+plain(rest), columns(name+Plain(rest)), where)
	f.paragraph("", a.Message)
	if a.Rule.Basis != "" {
		f.paragraph("source: ", a.Rule.Basis)
	}
	if a.Rule.Remedy != "" {
		f.paragraph("remedy: ", a.Rule.Remedy)
	}
	if c := a.Conceded; c != nil {
		f.paragraph("conceded: ", concededText(c))
	}
	f.line("")
}

// pointing prints a line of so many columns, with the place that it points to at the
// right.
func (f *textForm) pointing(head printed, used int, where string) {
	pad := max(2, width-used-columns(Plain(where)))
	f.print(head + plain(strings.Repeat(" ", pad)) + f.paint.faint(where))
}

// place tells where a finding points to: the line, with the file's name where
// it is another one than the circuit's.
func place(file string, a *rules.Assessment) string {
	if a.At.Line == 0 {
		return ""
	}
	where := fmt.Sprintf("line %d", a.At.Line)
	if a.Subject.Kind == "problem" {
		where += fmt.Sprintf(", column %d", a.At.Column)
	}
	if a.At.File != file && a.At.File != "" {
		where = a.At.File + " " + where
	}
	return where
}

// notAssessed lists what could not be judged by the key that would supply it:
// silence is not a pass.
func (f *textForm) notAssessed(j *rules.Judgement) {
	if len(j.NotAssessed) == 0 {
		return
	}
	keys, rulesOf := missingByKey(j.NotAssessed)
	f.print(f.paint.bold(fmt.Sprintf("not assessed: %d, for want of", len(j.NotAssessed))))
	for _, key := range keys {
		f.hang("  ", 6, key+": "+ruleList(rulesOf[key]))
	}
	f.line("")
}

// ruleList names rules with the number of subjects that each lacks.
func ruleList(unassessed []*rules.Unassessed) string {
	var order []string
	subjects := map[string][]string{}
	for _, u := range unassessed {
		if subjects[u.Rule.ID] == nil {
			order = append(order, u.Rule.ID)
		}
		subjects[u.Rule.ID] = append(subjects[u.Rule.ID], u.Subject.String())
	}
	var out []string
	for _, id := range order {
		switch names := subjects[id]; {
		case len(names) == 1 && names[0] != "":
			out = append(out, id+" ("+names[0]+")")
		case len(names) == 1:
			out = append(out, id)
		default:
			out = append(out, fmt.Sprintf("%s (%d)", id, len(names)))
		}
	}
	return strings.Join(out, ", ")
}

// summary ends a circuit: the verdict, and what it rests on.
func (f *textForm) summary(r *rules.Result) {
	j := r.Judgement
	found := foundText(CountsOf(j))
	if r.Other {
		f.line("faulty: " + found)
		return
	}
	for i, l := range wrapBehind(Plain(string(j.Verdict)+scopeText(r.Scope)+": "+found), 0, 0, width) {
		if i == 0 {
			f.print(f.paint.verdict(j.Verdict) + plain(l[len(j.Verdict):]))
			continue
		}
		f.line(l)
	}
	if !r.Readable {
		return
	}
	f.hang("", 0, assessedText(r))
	if r.Coverage != nil {
		f.hang("", 0, coverageLine(r.Coverage))
	}
}

func headroomText(h float64) string { return fmt.Sprintf("%.2f", h) }

func (f *textForm) Close(run Run) error {
	for _, n := range run.Notices {
		f.hang("note: ", 6, n)
	}
	for _, c := range f.changed {
		f.hang("note: ", 6, c)
	}
	if f.quiet {
		return f.w.Flush()
	}
	if f.count > 1 {
		f.line("")
		f.hang("", 0, f.tally.text())
	}
	if run.Today != "" {
		f.line("concessions judged as of " + run.Today)
	}
	if run.Skipped > 0 {
		f.line(plural(run.Skipped, "other YAML file") + " met, not specs")
	}
	if f.count > 0 {
		f.line("")
		f.hang("", 0, Caution)
	}
	return f.w.Flush()
}

// Caution goes with every report that people read.
const Caution = "Advice only. Stored energy, injection of fluid through the skin, hot surfaces, fire and bursting " +
	"vessels injure and kill: release pressure before work, and follow local codes and licensed practice."

// scopeText says, in brackets, of what part of the rules and cases a verdict is;
// "" for all.
func scopeText(s rules.Scope) string {
	var parts []string
	if len(s.Only) > 0 {
		parts = append(parts, strings.Join(s.Only, ", ")+" only")
	}
	if s.Case != "" {
		parts = append(parts, "case "+s.Case+" alone")
	}
	if len(parts) == 0 {
		return ""
	}
	return " (" + strings.Join(parts, "; ") + ")"
}

func (f *textForm) line(text string) { f.print(plain(text)) }

// print is the only way by which text leaves the form, but for tables.
func (f *textForm) print(line printed) { fmt.Fprintln(f.w, line) }

// paragraph writes text wrapped behind the column of grades.
func (f *textForm) paragraph(label, text string) {
	f.hang(strings.Repeat(" ", indent)+label, indent+columns(label), text)
}

// hang writes text behind a label, further lines indented.
func (f *textForm) hang(label string, indentation int, text string) {
	first, label := true, Plain(label)
	for _, l := range wrapBehind(Plain(text), columns(label), indentation, width) {
		if first {
			f.line(label + l)
			first = false
			continue
		}
		f.line(strings.Repeat(" ", indentation) + l)
	}
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}
