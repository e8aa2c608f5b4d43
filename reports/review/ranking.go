package review

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"

	"headroom/rules"
)

// A ranked row is one rule by its tightest subject.
type ranked struct {
	State, Glyph    string // broken, unmet, eaten, comfortable, holds
	Rule, Subject   string
	Measure, Limit  string
	Headroom, Grade string
	More            int // further subjects that the rule was assessed on
	Link            string
	Bar             template.HTML
	Conceded        bool

	of *rules.Assessment
}

// rankingOf ranks rules by their tightest subjects: the broken first, gravest first, then
// by headroom, then those that ask for no reserve and hold.
func rankingOf(j *rules.Judgement, found []*finding) (scaled, plain []*ranked) {
	numbers := map[*rules.Assessment]*finding{}
	for _, f := range found {
		numbers[f.of] = f
	}
	byRule := map[string]*ranked{}
	var all []*ranked
	for _, a := range j.Assessments {
		row := byRule[a.Rule.ID]
		if row == nil {
			row = &ranked{of: a, More: -1}
			byRule[a.Rule.ID] = row
			all = append(all, row)
		}
		row.More++
		if tighter(a, row.of) {
			row.of = a
		}
	}
	slices.SortStableFunc(all, func(x, y *ranked) int {
		return cmp.Or(cmp.Compare(gravity(y.of), gravity(x.of)), cmp.Compare(tightness(x.of), tightness(y.of)), cmp.Compare(x.of.Rule.ID, y.of.Rule.ID))
	})
	for _, row := range all {
		row.fill(numbers[row.of])
		if row.State == "holds" {
			plain = append(plain, row)
		} else {
			scaled = append(scaled, row)
		}
	}
	return scaled, plain
}

// tightness orders assessments on the one scale: what is broken and has no headroom is
// before all, what holds and has none is behind all.
func tightness(a *rules.Assessment) float64 {
	switch {
	case a.Headroom != nil:
		return *a.Headroom
	case !a.Holds:
		return math.Inf(-1)
	}
	return math.Inf(1)
}

// gravity puts what is broken before what holds, the gravest first.
func gravity(a *rules.Assessment) int {
	if a.Holds {
		return 0
	}
	return 1 + int(a.Grade)
}

func tighter(a, than *rules.Assessment) bool { return tightness(a) < tightness(than) }

func (row *ranked) fill(f *finding) {
	a := row.of
	row.Rule, row.Subject, row.Grade = a.Rule.ID, a.Subject.String(), a.Rule.Grade.String()
	if a.Finding {
		row.Grade = a.Grade.String()
	}
	row.Headroom = headroomText(a.Headroom)
	if a.Measure != nil && a.Limit != nil {
		alike := a.Measure.Dimension.FormatAlike(a.Measure.SI, a.Limit.Value.SI)
		row.Measure, row.Limit = alike[0], a.Limit.Sense+" "+alike[1]
	}
	row.Conceded = a.Conceded != nil
	if f != nil {
		row.Link = f.Anchor
	}
	switch {
	case !a.Holds && a.Grade == rules.Observation:
		row.State, row.Glyph = "unmet", "○" // to be known, and no reason against release
	case !a.Holds:
		row.State, row.Glyph = "broken", "✖"
	case a.Headroom == nil:
		row.State, row.Glyph = "holds", "✓"
		return
	case *a.Headroom < 1:
		row.State, row.Glyph = "eaten", "◐"
	default:
		row.State, row.Glyph = "comfortable", "✓"
	}
	row.Bar = bar(a.Headroom, row.State)
}

// The scale of the bars: from this headroom to that, and its width.
const (
	leastShown = -1.0
	mostShown  = 3.0
	barWidth   = 240.0
)

func onBar(h float64) float64 {
	return barWidth * (min(max(h, leastShown), mostShown) - leastShown) / (mostShown - leastShown)
}

// bar is one headroom on the one scale: it begins at 0, where the limit is, and an arrow
// ends it where it goes on. What is broken and has no headroom is a hollow bar over the
// broken zone.
func bar(headroom *float64, state string) template.HTML {
	h := leastShown
	if headroom != nil {
		h = *headroom
	}
	zero, one, end := onBar(0), onBar(1), onBar(h)
	w := &pen{}
	w.put(`<svg class="bar" viewBox="0 0 240 16" aria-hidden="true"><rect class="z0" width="%s" height="16"/><rect class="z1" x="%s" width="%s" height="16"/>`,
		coordinate(zero), coordinate(zero), coordinate(one-zero))
	if headroom == nil {
		state += " hollow"
	}
	w.put(`<rect class="b %s" x="%s" y="3" width="%s" height="10"/>`, state, coordinate(min(zero, end)+0.5), coordinate(max(math.Abs(end-zero)-0.5, 1.5)))
	switch {
	case h > mostShown:
		w.put(`<path class="more" d="M231 4l5 4-5 4"/>`)
	case h < leastShown:
		w.put(`<path class="more" d="M9 4l-5 4 5 4"/>`)
	}
	w.put(`<path class="at" d="M%s 0v16M%s 0v16"/></svg>`, coordinate(zero), coordinate(one))
	return template.HTML(w.String())
}

// scaleHead is the head of the column of bars.
func scaleHead() template.HTML {
	w := &pen{}
	zero, one := onBar(0), onBar(1)
	w.put(`<svg class="bar" viewBox="0 0 240 30" role="img"><title>Scale: headroom from −1 to 3. Below 0 the limit is broken, from 0 to 1 the reserve is eaten, from 1 on there is room.</title>`)
	for _, t := range []struct {
		x    float64
		text string
	}{{zero / 2, "broken"}, {(zero + one) / 2, "eaten"}, {(one + barWidth) / 2, "comfortable"}} {
		w.put(`<text x="%s" y="11">%s</text>`, coordinate(t.x), t.text)
	}
	for v := 0.0; v <= 2; v++ {
		w.put(`<text x="%s" y="27">%s</text>`, coordinate(onBar(v)), fmt.Sprint(v))
	}
	w.WriteString(`</svg>`)
	return template.HTML(w.String())
}
