package review

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// A caseView is one case as the page tells it.
type caseView struct {
	Anchor, Name, About string
	Facts               []string
	Unfinished          string
	Expectations        []expected
	Instants            []instant
	Figures             []figure
	Open, Crowded       bool
}

// An expected row is what came of one expectation.
type expected struct{ Glyph, Name, Limit, Came, At, State string }

// An instant is when a finding showed.
type instant struct {
	Number             int
	Link, Rule, Detail string
}

// A figure is one plot.
type figure struct {
	Title string
	SVG   template.HTML
	Notes []string
}

// mostOpen is how many cases are unfolded; of more, those with grave findings are.
const mostOpen = 6

// mostInstants is how many findings of a case are listed unfolded.
const mostInstants = 6

// A teller tells the cases of one circuit.
type teller struct {
	r     *rules.Result
	found []*finding
	key   string
}

func (t *teller) cases() (views []caseView) {
	for i := range t.r.Circuit.Cases {
		k := &t.r.Circuit.Cases[i]
		v := caseView{Anchor: fmt.Sprintf("%sk%d", t.key, i+1), Name: k.Name, About: k.About.Value, Open: len(t.r.Circuit.Cases) <= mostOpen}
		if record := t.record(k.Name); record != nil {
			t.tell(&v, k, record)
		} else {
			v.Unfinished = "It was not simulated: what it lacks stands under the findings and under what is not assessed."
		}
		views = append(views, v)
	}
	return views
}

func (t *teller) record(name string) *facts.CaseRecord {
	for i := range t.r.Cases {
		if t.r.Cases[i].Case == name {
			return &t.r.Cases[i]
		}
	}
	return nil
}

func (t *teller) tell(v *caseView, k *specs.Case, record *facts.CaseRecord) {
	v.Facts = append(v.Facts, "lasts "+quantity.Time.Format(k.Lasts.SI))
	switch {
	case k.Repeats.Settle:
		v.Facts = append(v.Facts, "repeated until temperatures settle; the last repeat is shown")
	case k.Repeats.Count > 1:
		v.Facts = append(v.Facts, fmt.Sprintf("repeated %d times; the last is shown", k.Repeats.Count))
	}
	if k.Weight.Given() {
		v.Facts = append(v.Facts, "happens "+k.Weight.Dimension.Format(k.Weight.SI))
	}
	v.Facts = append(v.Facts, fmt.Sprintf("%d steps", record.Steps), fmt.Sprintf("books of mass within %s, of energy within %s", share(record.MassError), share(record.EnergyError)))
	if record.Unfinished != "" {
		v.Unfinished = "It did not come to its end: " + record.Unfinished
	}
	for i := range record.Expectations {
		v.Expectations = append(v.Expectations, expectedOf(&record.Expectations[i]))
	}
	v.Instants = t.instants(k.Name)
	v.Crowded = len(v.Instants) > mostInstants
	for _, n := range v.Instants {
		v.Open = v.Open || t.found[n.Number-1].of.Grade >= rules.Major
	}
	if record.History != nil && len(record.History.Rows) > 1 {
		d := &drawer{teller: t, spec: k, record: record, history: record.History}
		d.columns()
		for i, p := range d.plots() {
			key := fmt.Sprintf("%sp%d", v.Anchor, i+1)
			drawn := p.svg(key) // which adds to the notes
			v.Figures = append(v.Figures, figure{p.title, drawn, p.notes})
		}
	}
}

// share is a small number as a share.
func share(v float64) string {
	switch {
	case v == 0:
		return "0 %"
	case v < 1e-5:
		return "0.001 %"
	}
	return short(100*v) + " %"
}

func expectedOf(e *facts.ExpectationRecord) expected {
	sense := "at least "
	if e.AtMost {
		sense = "at most "
	}
	out := expected{Name: e.Name, Limit: sense + e.Dimension.Format(e.Limit), Glyph: "✖", State: "broken", Came: "did not come about", At: ""}
	if !e.Came {
		return out
	}
	alike := e.Dimension.FormatAlike(e.Measure, e.Limit)
	out.Came, out.Limit, out.At = alike[0], sense+alike[1], quantity.Time.Format(e.Time)
	if e.AtMost && e.Measure <= e.Limit || !e.AtMost && e.Measure >= e.Limit {
		out.Glyph, out.State = "✓", "comfortable"
	}
	return out
}

// instants are the findings that show in a case, by number.
func (t *teller) instants(name string) (all []instant) {
	for _, f := range t.found {
		var at []string
		for i := range f.of.Working {
			o := f.of.Working[i].Origin
			if o == nil || o.Case != name || !o.Timed {
				continue
			}
			if text := quantity.Time.Format(o.Time); !slices.Contains(at, text) {
				at = append(at, text)
			}
		}
		if len(at) > 0 {
			all = append(all, instant{f.Number, f.Anchor, f.Rule, f.Subject + ", " + strings.Join(at, ", ")})
		}
	}
	return all
}

// A drawer draws the plots of one case.
type drawer struct {
	*teller
	spec    *specs.Case
	record  *facts.CaseRecord
	history *facts.History
	place   map[[2]string]int // of a quantity in each row
}

func (d *drawer) columns() {
	d.place = make(map[[2]string]int, len(d.history.Columns))
	for i, c := range d.history.Columns {
		d.place[[2]string{c.Of, c.What}] = i + 1
	}
}

// mostLines is how many lines one plot has at most.
const mostLines = 6

// plots are those of the case that have something to show, in a fixed order.
func (d *drawer) plots() (all []*plot) {
	for _, p := range slices.Concat(d.pressures(), d.stores(), d.strokes(), d.temperatures(), d.packs(), d.pumps()) {
		if p != nil && len(p.lines) > 0 {
			all = append(all, p)
		}
	}
	return all
}

// plot begins a plot of one quantity of some nodes or parts: those that have it, and as
// many of them as a plot holds.
func (d *drawer) plot(title, what string, of []string, named func(string) string) *plot {
	p := &plot{title: title + ", " + d.spec.Name, time: d.span()}
	var still, more []string
	for _, name := range of {
		at := d.place[[2]string{name, what}]
		if at == 0 {
			continue
		}
		column := d.history.Columns[at-1]
		u := unitOf(column.Dimension)
		p.unit = u.name
		l := line{name: named(name), pieces: d.pieces(at, u)}
		switch {
		case len(l.pieces) == 0:
		case idle(&l) && what != "pressure" && what != "position":
			still = append(still, name)
		case len(p.lines) == mostLines:
			more = append(more, name)
		default:
			p.lines = append(p.lines, l)
		}
	}
	if len(still) > 0 {
		p.notes = append(p.notes, "Nothing all the time: "+strings.Join(still, ", ")+".")
	}
	if len(more) > 0 {
		p.notes = append(p.notes, "Not drawn: "+listed(more)+".")
	}
	return p
}

// listed names some things, and how many more there are.
func listed(names []string) string {
	if more := len(names) - mostLines; more > 1 {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:mostLines], ", "), more)
	}
	return strings.Join(names, ", ")
}

func plainly(name string) string { return name }

func (d *drawer) span() span {
	rows := d.history.Rows
	return span{rows[0][0], rows[len(rows)-1][0]}
}

// pieces are a column's values, thinned, in pieces between which it has none.
func (d *drawer) pieces(at int, u unit) (pieces [][]point) {
	var piece []point
	s := d.span()
	end := func() {
		if len(piece) > 0 {
			kept := thin(piece, s.low, s.high)
			for i := range kept {
				kept[i].v = u.of(kept[i].v)
			}
			pieces = append(pieces, kept)
		}
		piece = nil
	}
	for _, row := range d.history.Rows {
		if v := row[at]; math.IsNaN(v) || math.IsInf(v, 0) {
			end()
		} else {
			if piece == nil {
				piece = make([]point, 0, len(d.history.Rows))
			}
			piece = append(piece, point{row[0], v})
		}
	}
	end()
	return pieces
}

// idle tells whether a line is at zero throughout.
func idle(l *line) bool {
	for _, piece := range l.pieces {
		for _, q := range piece {
			if q.v != 0 {
				return false
			}
		}
	}
	return true
}

// throughout is a level that holds all the time.
func (d *drawer) throughout(text string, dim quantity.Dimension, si float64) limit {
	return limit{text: text + " " + dim.Format(si), value: unitOf(dim).of(si), time: d.span()}
}

// mark adds the instants of the findings whose working, in this case, has a value of a
// dimension that the plot is of.
func (d *drawer) mark(p *plot, of ...quantity.Dimension) {
	d.markWhere(p, func(_ *finding, s *rules.Step) bool { return s.Value != nil && slices.Contains(of, s.Value.Dimension) })
}

// markWhere adds the instants, in this case, of what the working of findings names.
func (d *drawer) markWhere(p *plot, wanted func(*finding, *rules.Step) bool) {
	for _, f := range d.found {
		for i := range f.of.Working {
			s := &f.of.Working[i]
			if o := s.Origin; o == nil || o.Case != d.spec.Name || !o.Timed || o.Time < p.time.low || o.Time > p.time.high || !wanted(f, s) {
				continue
			}
			if m := (mark{s.Origin.Time, f}); !slices.Contains(p.marks, m) {
				p.marks = append(p.marks, m)
			}
		}
	}
}
