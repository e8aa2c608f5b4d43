package reports

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"

	"headroom/rules"
)

// markdownForm writes a comment for a pull request: the verdict, what was found, the
// tightest margins, what changed since the base, and the rest folded. A comment has a
// size that forges take; what does not fit is counted, and the gravest is kept.
type markdownForm struct {
	w        io.Writer
	tally    tally
	circuits []*markdownCircuit
	changed  []string // what packs changed of rules, each once
}

func openMarkdown(w io.Writer, _ Options) Form { return &markdownForm{w: w} }

// TellsChanges tells whether a form says what changed since an older revision.
func TellsChanges(name string) bool { return name == "markdown" }

// mostMarkdown is how many bytes a comment has at most; forges take 65 536 characters.
const mostMarkdown = 60_000

// Marker begins every comment, so that a pipeline finds the one that it wrote before.
const Marker = "<!-- headroom -->"

// markdownCaps are how many rows each table may have, tried in turn until the comment
// is small enough.
var markdownCaps = []int{500, 200, 100, 50, 20, 10, 5, 2, 1, 0}

// mostCell is how many characters a cell has at most.
const mostCell = 400

// A markdownCircuit is a circuit, ready to be told: as rows, no more of them than would
// fit, so that a run's memory does not grow with what is found.
type markdownCircuit struct {
	file     string
	heading  string
	verdict  string
	order    int // of the verdict: the gravest first
	basis    string
	findings markdownRows
	notes    markdownRows // observations
	conceded markdownRows
	margins  markdownRows
	missing  markdownRows
	remedies markdownRows
}

// markdownRows are the first rows of a table or list, and how many there are in all.
type markdownRows struct {
	rows []string
	all  int
}

func (m *markdownRows) add(most int, make func() string) {
	m.all++
	if len(m.rows) < most {
		m.rows = append(m.rows, make())
	}
}

func (f *markdownForm) Circuit(r *rules.Result) error {
	f.tally.add(r)
	for _, c := range packChanges(r.Book) {
		if text := c.text(); !slices.Contains(f.changed, text) {
			f.changed = append(f.changed, text)
		}
	}
	most := max(10, markdownCaps[0]/(len(f.circuits)+1))
	c := &markdownCircuit{file: r.Circuit.File, heading: plainMarkdown(heading(r)), verdict: "**faulty**: " + foundText(CountsOf(r.Judgement))}
	if !r.Other {
		c.verdict = fmt.Sprintf("**%s**%s: %s", r.Judgement.Verdict, plainMarkdown(scopeText(r.Scope)), foundText(CountsOf(r.Judgement)))
		c.order = slices.Index(verdicts, r.Judgement.Verdict)
	}
	if r.Readable && !r.Other {
		c.basis = plainMarkdown(assessedText(r))
	}
	c.judged(r, most)
	f.circuits = append(f.circuits, c)
	return nil
}

// judged makes the rows of a circuit.
func (c *markdownCircuit) judged(r *rules.Result, most int) {
	var told []*rules.Rule
	for _, a := range r.Judgement.Findings {
		to := &c.findings
		switch {
		case a.Conceded != nil:
			to = &c.conceded
		case a.Grade == rules.Observation:
			to = &c.notes
		}
		to.add(most, func() string { return findingRow(c.file, a) })
		if !slices.Contains(told, a.Rule) && a.Rule.Remedy != "" {
			told = append(told, a.Rule)
			c.remedies.add(most, func() string {
				return fmt.Sprintf("- %s: %s Source: %s\n", code(a.Rule.ID), cell(a.Rule.Remedy), cell(a.Rule.Basis))
			})
		}
	}
	for _, a := range r.Judgement.Assessments {
		if a.Holds && a.Headroom != nil {
			c.margins.add(min(most, tightestTold), func() string { return tightRow(a) })
		}
	}
	keys, rulesOf := missingByKey(r.Judgement.NotAssessed)
	for _, key := range keys {
		c.missing.add(most, func() string {
			return fmt.Sprintf("- %s: %s\n", code(cut(key, mostCell)), cell(ruleList(rulesOf[key])))
		})
	}
}

// tightestTold is how many margins are told of a circuit, the tightest first.
const tightestTold = 10

// cell is text that stands in a cell.
func cell(text string) string { return plainMarkdown(cut(text, mostCell)) }

func findingRow(file string, a *rules.Assessment) string {
	what := cell(a.Message)
	if a.Conceded != nil {
		what += "; " + cell("conceded "+concededText(a.Conceded))
	}
	return row(a.Grade.String(), code(a.Rule.ID), cell(a.Subject.String()), what, cell(strings.TrimPrefix(place(file, a), "line ")))
}

func tightRow(a *rules.Assessment) string {
	cells := marginRow(a)
	return row(cells[0], code(cells[1]), cell(cells[2]), cell(cells[3]), cell(cells[4]), cells[6])
}

func (f *markdownForm) Close(run Run) error {
	slices.SortStableFunc(f.circuits, func(a, b *markdownCircuit) int { return a.order - b.order })
	var out []byte
	for _, most := range markdownCaps {
		if out = f.comment(run, most, len(f.circuits)); len(out) <= mostMarkdown {
			break
		}
	}
	for circuits := len(f.circuits) / 2; len(out) > mostMarkdown && circuits > 0; circuits /= 2 {
		out = f.comment(run, 0, circuits)
	}
	_, err := f.w.Write(out)
	return err
}

// comment is the whole comment with so many rows a table, and so many circuits.
func (f *markdownForm) comment(run Run, most, circuits int) []byte {
	m := &markdownWriter{most: most}
	fmt.Fprintf(m, "%s\n## headroom: %s\n", Marker, f.title())
	for _, c := range f.circuits[:circuits] {
		m.circuit(c)
	}
	if more := len(f.circuits) - circuits; more > 0 {
		fmt.Fprintf(m, "\n%s more: see the whole report\n", plural(more, "circuit"))
	}
	if run.Since != nil {
		m.since(run.Since)
	}
	for _, c := range f.circuits[:circuits] {
		m.details(c, len(f.circuits) > 1)
	}
	m.closing(run, f.changed)
	return m.Bytes()
}

// title is the verdict of the run.
func (f *markdownForm) title() string {
	if f.tally.count == 1 && f.tally.others == 0 {
		for _, v := range verdicts {
			if f.tally.of[v] > 0 {
				return string(v) + plainMarkdown(scopeText(f.tally.scope))
			}
		}
	}
	return plainMarkdown(f.tally.text())
}

// A markdownWriter writes tables and lists of at most so many rows.
type markdownWriter struct {
	bytes.Buffer
	most int
}

// rows writes the rows that there is room for, and how many more there are, as a row of
// so many cells or, for none, as an item of a list.
func (m *markdownWriter) rows(rows markdownRows, cells int) {
	shown := rows.rows[:min(m.most, len(rows.rows))]
	for _, r := range shown {
		m.WriteString(r)
	}
	more := rows.all - len(shown)
	switch {
	case more == 0:
	case cells == 0:
		fmt.Fprintf(m, "- %d more\n", more)
	default:
		m.WriteString(row(append([]string{fmt.Sprintf("%d more", more)}, make([]string, cells-1)...)...))
	}
}

func (m *markdownWriter) table(rows markdownRows, head ...string) {
	if rows.all == 0 {
		return
	}
	rule := make([]string, len(head))
	for i := range rule {
		rule[i] = "---"
	}
	m.WriteString(row(head...) + row(rule...))
	m.rows(rows, len(head))
}

// folded writes what opens when somebody asks for it.
func (m *markdownWriter) folded(summary string, write func()) {
	fmt.Fprintf(m, "\n<details><summary>%s</summary>\n\n", summary)
	write()
	m.WriteString("\n</details>\n")
}

var findingHead = []string{"grade", "rule", "subject", "what", "line"}

// circuit tells what a circuit came to: the verdict, its findings, its tightest margins.
func (m *markdownWriter) circuit(c *markdownCircuit) {
	fmt.Fprintf(m, "\n### %s\n\n%s", c.heading, c.verdict)
	if c.basis != "" {
		m.WriteString(" · " + c.basis)
	}
	m.WriteString("\n\n")
	m.table(c.findings, findingHead...)
	if m.most > 0 && c.margins.all > 0 {
		m.folded(fmt.Sprintf("tightest margins of those that hold and have a reserve: %d", c.margins.all), func() {
			m.table(c.margins, "headroom", "rule", "subject", "measure", "limit", "line")
		})
	}
}

// details tells the rest of a circuit, folded.
func (m *markdownWriter) details(c *markdownCircuit, named bool) {
	if m.most == 0 {
		return
	}
	of := ""
	if named {
		of = " of " + plainMarkdown(c.file)
	}
	if c.notes.all > 0 {
		m.folded(plural(c.notes.all, "observation")+of, func() { m.table(c.notes, findingHead...) })
	}
	if c.conceded.all > 0 {
		m.folded(fmt.Sprintf("%d conceded%s", c.conceded.all, of), func() { m.table(c.conceded, findingHead...) })
	}
	if c.missing.all > 0 {
		m.folded("not assessed"+of+", by the key that would supply what is missing", func() { m.rows(c.missing, 0) })
	}
	if c.remedies.all > 0 {
		m.folded("remedies and sources"+of, func() { m.rows(c.remedies, 0) })
	}
}

// since tells what an older revision's circuits were.
func (m *markdownWriter) since(s *Since) {
	fmt.Fprintf(m, "\n## Since %s\n", code(s.Revision))
	same := 0
	for _, c := range s.Comparisons {
		if c.Old != nil && c.New != nil && len(c.Findings)+len(c.Moved)+len(c.Edits)+len(c.Renamed)+len(c.Lost) == 0 {
			same++
			continue
		}
		m.WriteString("\n")
		told := openMarkdownComparison(m, Options{}).(*markdownComparison)
		told.most = m.most
		told.Comparison(c)
	}
	if same > 0 {
		fmt.Fprintf(m, "\n%s unchanged\n", plural(same, "circuit"))
	}
}

// closing ends the comment.
func (m *markdownWriter) closing(run Run, changed []string) {
	for _, n := range slices.Concat(run.Notices, changed) {
		fmt.Fprintf(m, "\n%s\n", cell(n))
	}
	if run.Today != "" {
		fmt.Fprintf(m, "\nConcessions judged as of %s.\n", run.Today)
	}
	fmt.Fprintf(m, "\n%s\n", Caution)
}
