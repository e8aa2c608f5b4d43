package review

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A plot is quantities of one unit over time.
type plot struct {
	title  string
	unit   string
	time   span // s
	lines  []line
	limits []limit
	marks  []mark
	notes  []string // what the picture does not show, a sentence each
}

// A line is one quantity; a gap in it is a new piece.
type line struct {
	name   string
	pieces [][]point
}

// A limit is a level that holds for some time, and where it has one its deadline.
type limit struct {
	text     string
	value    float64
	time     span
	deadline bool // the level is to be reached by the end of its time
	upright  bool // it is a time alone: an upright line at its end
}

// A mark is the instant of findings.
type mark struct {
	time    float64
	finding *finding
}

// The picture's measures, in its own units. Printed two to the width of A4, 13.5 of them
// are 7 points.
const (
	plotWidth  = 480.0
	plotHeight = 276.0
	plotTop    = 40.0
	plotBottom = 40.0
	letter     = 7.9 // mean width of a letter, of a wide face
	textLine   = 14.0
	longName   = 17 // letters of a name beside a line
)

// patterns are the dashes of lines, so that they can be told apart without colour.
var patterns = []string{"", "8 4", "2 3", "10 3 2 3", "14 5", "6 2 1 2 1 2"}

// A frame is the plot's area, and how values come onto it.
type frame struct {
	left, right, top, bottom float64
	time, value              span
}

func (f *frame) x(t float64) float64 {
	return f.left + (f.right-f.left)*(t-f.time.low)/(f.time.high-f.time.low)
}

func (f *frame) y(v float64) float64 {
	return f.bottom - (f.bottom-f.top)*(v-f.value.low)/(f.value.high-f.value.low)
}

// level is where a limit begins and ends on the picture, and how high it lies.
func (f *frame) level(l limit) (from, to, y float64) {
	within := func(t float64) float64 { return f.x(min(max(t, f.time.low), f.time.high)) }
	return within(l.time.low), within(l.time.high), f.y(l.value)
}

// reach is how far out a limit may lie, in highest values of the lines, and still be
// drawn: the lines keep a third of the height.
const reach = 3

// values is the span of what is to be drawn, and the limits that fit into it.
func (p *plot) values() (all span, shown []limit) {
	all = nothing()
	for _, l := range p.lines {
		for _, piece := range l.pieces {
			for _, q := range piece {
				all.add(q.v)
			}
		}
	}
	top, low := all.high, all.low
	for _, l := range p.limits {
		if !l.upright && (l.value > reach*max(top, 0)+1e-9 || l.value < low-reach*max(math.Abs(low), top-low)) {
			p.notes = append(p.notes, fmt.Sprintf("Off the picture: %s.", l.text))
			continue
		}
		if !l.upright {
			all.add(l.value)
		}
		shown = append(shown, l)
	}
	return all, shown
}

// A pen writes SVG.
type pen struct{ strings.Builder }

func (w *pen) put(format string, arguments ...any) { fmt.Fprintf(w, format, arguments...) }

// coordinate is a place on the picture to a tenth.
func coordinate(v float64) string {
	return strconv.FormatFloat(math.Round(v*10)/10+0, 'f', -1, 64)
}

// svg draws the plot. key is an id that nothing else of the page has.
func (p *plot) svg(key string) template.HTML {
	values, limits := p.values()
	f := frame{top: plotTop, bottom: plotHeight - plotBottom, time: p.time}
	var ticks []float64
	f.value, ticks = around(values, 5)
	step := ticks[1] - ticks[0]
	if highest := highestLevel(limits); f.value.high-highest < 0.6*step {
		f.value.high += step // room for a limit's label
		ticks = append(ticks, f.value.high)
	}
	widest := 0
	for _, v := range ticks {
		widest = max(widest, len(tickText(v, step)))
	}
	f.left = 12 + letter*float64(widest)
	longest := 0
	for _, l := range p.lines {
		longest = max(longest, utf8.RuneCountInString(shorten(l.name, longName)))
	}
	f.right = plotWidth - 38 - letter*float64(longest)
	w := &pen{}
	w.put(`<svg class="plot" viewBox="0 0 %s %s" role="group" aria-labelledby="%s-t %s-d" data-t="%g %g %s %s" data-v="%g %g %s %s" data-u="%s">`,
		coordinate(plotWidth), coordinate(plotHeight), key, key, f.time.low, f.time.high, coordinate(f.left), coordinate(f.right),
		f.value.low, f.value.high, coordinate(f.bottom), coordinate(f.top), html.EscapeString(p.unit))
	w.put(`<title id="%s-t">%s</title><desc id="%s-d">%s</desc>`, key, html.EscapeString(p.title), key, html.EscapeString(p.description(limits)))
	p.axes(w, &f, ticks, step)
	boxes := p.drawLimits(w, &f, limits)
	p.drawMarks(w, &f)
	p.drawLines(w, &f)
	for _, b := range boxes {
		w.put(`<text class="lt" x="%s" y="%s">%s</text>`, coordinate(b.x), coordinate(b.y), html.EscapeString(b.text))
	}
	w.WriteString(`<g class="cursor" aria-hidden="true"></g></svg>`)
	return template.HTML(w.String())
}

// highestLevel is the highest of some limits; far below all where there is none.
func highestLevel(limits []limit) float64 {
	highest := math.Inf(-1)
	for _, l := range limits {
		if !l.upright && !l.deadline {
			highest = max(highest, l.value)
		}
	}
	return highest
}

// description says in words what the plot shows.
func (p *plot) description(limits []limit) string {
	var parts []string
	for _, l := range p.lines {
		parts = append(parts, l.describe(p.unit))
	}
	for _, l := range limits {
		parts = append(parts, "limit: "+l.text)
	}
	for _, m := range p.marks {
		parts = append(parts, fmt.Sprintf("finding %d, %s, at %s s", m.finding.Number, m.finding.Rule, short(m.time)))
	}
	return strings.Join(parts, "; ")
}

// describe is a line's range in words.
func (l *line) describe(unit string) string {
	low, high := point{v: math.Inf(1)}, point{v: math.Inf(-1)}
	for _, piece := range l.pieces {
		for _, q := range piece {
			if q.v < low.v {
				low = q
			}
			if q.v > high.v {
				high = q
			}
		}
	}
	if low.v > high.v {
		return l.name + ": no values"
	}
	if low.v == high.v {
		return strings.TrimSpace(fmt.Sprintf("%s: %s %s throughout", l.name, short(low.v), unit))
	}
	return fmt.Sprintf("%s: lowest %s %s at %s s, highest %s %s at %s s", l.name, short(low.v), unit, short(low.t), short(high.v), unit, short(high.t))
}

func (p *plot) axes(w *pen, f *frame, ticks []float64, step float64) {
	w.put(`<g class="ax" aria-hidden="true"><text class="u" x="%s" y="13">%s</text>`, coordinate(2), html.EscapeString(p.unit))
	for _, v := range ticks {
		y := coordinate(f.y(v))
		w.put(`<path d="M%s %sH%s"/><text class="r" x="%s" y="%s">%s</text>`, coordinate(f.left), y, coordinate(f.right), coordinate(f.left-5), coordinate(f.y(v)+4.5), tickText(v, step))
	}
	_, times := around(span{f.time.low, f.time.high}, 6)
	tstep := times[1] - times[0]
	last := 0.0
	for _, t := range times {
		if t < f.time.low-1e-9 || t > f.time.high*(1+1e-9) {
			continue
		}
		last = f.x(t)
		w.put(`<path d="M%s %sv4"/><text class="m" x="%s" y="%s">%s</text>`, coordinate(last), coordinate(f.bottom), coordinate(last), coordinate(f.bottom+18), tickText(t, tstep))
	}
	w.put(`<text class="m" x="%s" y="%s">time in s</text></g>`, coordinate((f.left+f.right)/2), coordinate(f.bottom+34))
}

// A box is a label's place.
type box struct {
	text        string
	x, y, width float64
}

func (b box) overlaps(o box) bool {
	return b.x < o.x+o.width && o.x < b.x+b.width && math.Abs(b.y-o.y) < textLine-1
}

// drawLimits draws levels, and finds places for their labels that are free of each
// other and as free as can be of lines.
func (p *plot) drawLimits(w *pen, f *frame, limits []limit) (boxes []box) {
	crossed := p.crossings(f, limits)
	for _, l := range limits {
		from, to, y := f.level(l)
		switch {
		case l.upright:
			w.put(`<path class="lim" d="M%s %sV%s"/>`, coordinate(to), coordinate(f.top), coordinate(f.bottom))
		case l.deadline:
			w.put(`<path class="lim" d="M%s %sH%sV%s"/>`, coordinate(from), coordinate(y), coordinate(to), coordinate(f.bottom))
		default:
			w.put(`<path class="lim" d="M%s %sH%s"/>`, coordinate(from), coordinate(y), coordinate(to))
		}
		boxes = append(boxes, label(l, f, boxes, crossed))
	}
	return boxes
}

// crossings are the places that labels had better leave free: those of lines and limits.
func (p *plot) crossings(f *frame, limits []limit) (all []box) {
	const (
		every = 4
		most  = 1000 // of a stroke: one that leads far off the sheet is none that labels meet
	)
	along := func(x0, y0, x1, y1 float64) {
		n := min(math.Ceil(math.Hypot(x1-x0, y1-y0)/every)+1, most)
		for i := range int(n) {
			at := float64(i) / n
			all = append(all, box{x: x0 + at*(x1-x0), y: y0 + at*(y1-y0), width: 1})
		}
	}
	for _, l := range p.lines {
		for _, piece := range l.pieces {
			for i := 1; i < len(piece); i++ {
				a, b := piece[i-1], piece[i]
				along(f.x(a.t), f.y(a.v), f.x(b.t), f.y(b.v))
			}
		}
	}
	for _, l := range limits {
		from, to, y := f.level(l)
		if !l.upright {
			along(from, y, to, y)
		}
		if l.upright || l.deadline {
			along(to, f.top, to, f.bottom)
		}
	}
	return all
}

// label chooses for a limit's text, among places near it, the one that is least in the
// way.
func label(l limit, f *frame, taken, crossed []box) box {
	width := 0.96 * letter * float64(utf8.RuneCountInString(l.text))
	from, to, y := f.level(l)
	ys := []float64{y - 4, y + 13, y - 4 - textLine, y + 13 + textLine}
	xs := []float64{from + 3, to - width - 3, (from + to - width) / 2}
	if l.upright || l.deadline {
		xs = []float64{to + 4, from - width - 4, to - width - 4}
		for at := f.top + 11; at < f.bottom-4; at += 9 {
			ys = append(ys, at)
		}
	}
	best, least := box{}, math.Inf(1)
	for _, y0 := range ys {
		for _, x := range xs {
			b := box{l.text, min(max(x, f.left+2), max(f.right-width-2, f.left+2)), min(max(y0, f.top+11), f.bottom-4), width}
			cost := 0.05*math.Abs(b.x-x) + 1000*float64(overlapping(b, taken)) + 2.5*float64(over(b, crossed))
			if !l.upright {
				cost += 0.2 * math.Abs(b.y-4-y)
			}
			if cost < least {
				best, least = b, cost
			}
		}
	}
	return best
}

func overlapping(b box, others []box) (n int) {
	for _, o := range others {
		if b.overlaps(o) {
			n++
		}
	}
	return n
}

// over counts the places that lie within a label: its letters rise 10 above its line and
// hang 3 below it.
func over(b box, places []box) (n int) {
	for _, o := range places {
		if b.x-2 < o.x && o.x < b.x+b.width+2 && b.y-10 < o.y && o.y < b.y+3 {
			n++
		}
	}
	return n
}

// crowd is how near marks may stand before they are told together.
const crowd = 30

// drawMarks draws the instants of findings, with their numbers above.
func (p *plot) drawMarks(w *pen, f *frame) {
	marks := slices.Clone(p.marks)
	slices.SortStableFunc(marks, func(a, b mark) int {
		switch {
		case a.time < b.time:
			return -1
		case a.time > b.time:
			return 1
		}
		return a.finding.Number - b.finding.Number
	})
	for i := 0; i < len(marks); {
		x := f.x(marks[i].time)
		end := i
		for end < len(marks) && f.x(marks[end].time)-x < crowd {
			if end == i || f.x(marks[end].time)-f.x(marks[end-1].time) > 0.5 {
				w.put(`<path class="mk" d="M%s %sV%s"/>`, coordinate(f.x(marks[end].time)), coordinate(f.top-10), coordinate(f.bottom))
			}
			end++
		}
		p.flag(w, marks[i:end], min(x, f.right-6))
		i = end
	}
}

// flag writes the number of the gravest of some findings, and how many more there are.
func (p *plot) flag(w *pen, marks []mark, x float64) {
	worst := marks[0]
	var told []string
	seen := map[int]bool{}
	for _, m := range marks {
		if seen[m.finding.Number] {
			continue
		}
		seen[m.finding.Number] = true
		if m.finding.Number < worst.finding.Number {
			worst = m
		}
		told = append(told, fmt.Sprintf("finding %d, %s, at %s s", m.finding.Number, m.finding.Rule, short(m.time)))
	}
	text := fmt.Sprintf("▼%d", worst.finding.Number)
	if more := len(told) - 1; more > 0 {
		text += fmt.Sprintf("+%d", more)
	}
	w.put(`<a href="#%s"><title>%s</title><text class="m mt" x="%s" y="%s">%s</text></a>`, worst.finding.Anchor, html.EscapeString(strings.Join(told, "; ")), coordinate(x), coordinate(plotTop-13), text)
}

// drawLines draws the lines with their names at their ends.
func (p *plot) drawLines(w *pen, f *frame) {
	ends := make([]float64, len(p.lines))
	order := make([]int, len(p.lines))
	for i := range p.lines {
		ends[i], order[i] = f.bottom, i
		if pieces := p.lines[i].pieces; len(pieces) > 0 {
			last := pieces[len(pieces)-1]
			ends[i] = f.y(last[len(last)-1].v)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case ends[a] < ends[b]:
			return -1
		case ends[a] > ends[b]:
			return 1
		}
		return 0
	})
	sorted := make([]float64, len(order))
	for i, k := range order {
		sorted[i] = ends[k]
	}
	placed := spread(sorted, textLine, f.top+4, f.bottom)
	labels := make([]float64, len(order))
	for i, k := range order {
		labels[k] = placed[i]
	}
	for i := range p.lines {
		l := &p.lines[i]
		dash := ""
		if pattern := patterns[i%len(patterns)]; pattern != "" {
			dash = fmt.Sprintf(` stroke-dasharray="%s"`, pattern)
		}
		w.put(`<g class="l l%d" tabindex="0" role="img"><title>%s</title>`, i%len(patterns)+1, html.EscapeString(l.describe(p.unit)))
		for _, piece := range l.pieces {
			w.put(`<polyline points="%s"%s/>`, f.points(piece), dash)
		}
		w.put(`<path class="ld" d="M%s %sL%s %s"/><path d="M%s %sh17"%s/><text x="%s" y="%s">%s</text></g>`,
			coordinate(f.right+1), coordinate(ends[i]), coordinate(f.right+8), coordinate(labels[i]),
			coordinate(f.right+8), coordinate(labels[i]), dash, coordinate(f.right+28), coordinate(labels[i]+4.5), html.EscapeString(shorten(l.name, longName)))
	}
}

// points are a piece of a line as SVG has it.
func (f *frame) points(piece []point) string {
	onPaper := make([]point, len(piece))
	for i, q := range piece {
		onPaper[i] = point{f.x(q.t), f.y(q.v)}
	}
	out := make([]byte, 0, 11*len(piece))
	for i, q := range straighten(onPaper, 0.15) {
		if i > 0 {
			out = append(out, ' ')
		}
		out = append(out, coordinate(q.t)...)
		out = append(out, ',')
		out = append(out, coordinate(q.v)...)
	}
	return string(out)
}

// shorten keeps the beginning and the end of a long name.
func shorten(name string, most int) string {
	letters := []rune(name)
	if len(letters) <= most {
		return name
	}
	tail := most / 3
	return string(letters[:most-tail-1]) + "…" + string(letters[len(letters)-tail:])
}
