package review

import (
	"fmt"
	"strings"

	"headroom/reports"
	"headroom/rules"
	"headroom/specs/quantity"
)

// A finding is one of the judgement's, as the page tells it.
type finding struct {
	Number                        int // from 1, gravest first
	Anchor                        string
	Grade, Glyph                  string
	Rule, Title, Subject, Message string
	Place                         string
	Measure, Limit, Margin        string
	Headroom, Reserve             string
	Why, Source, Remedy, Conceded string
	Working                       []step
	Excerpt                       []excerptLine
	Elsewhere                     string // file that the excerpt is of, where it is another one
	Open                          bool

	of *rules.Assessment
}

// A step is one fact that the rule read.
type step struct{ Label, Fact, Value, Unit, Case, Time, Line, Note string }

// glyphs tell grades apart without colour.
var glyphs = map[rules.Grade]string{rules.Critical: "✖", rules.Major: "◆", rules.Minor: "▲", rules.Observation: "○"}

// grave is from which grade a finding is unfolded.
const grave = rules.Minor

func findingsOf(r *rules.Result, key string) []*finding {
	all := make([]*finding, len(r.Judgement.Findings))
	for i, a := range r.Judgement.Findings {
		f := &finding{
			Number: i + 1, Anchor: fmt.Sprintf("%sf%d", key, i+1), Grade: a.Grade.String(), Glyph: glyphs[a.Grade],
			Rule: a.Rule.ID, Title: a.Rule.Title, Subject: a.Subject.String(), Message: a.Message, Place: reports.PlaceText(r.Circuit.File, a),
			Why: a.Rule.Why, Source: a.Rule.Basis, Remedy: a.Remedy, Open: a.Grade >= grave && a.Conceded == nil, of: a,
		}
		f.measured(a)
		if c := a.Conceded; c != nil {
			f.Conceded = reports.ConcededText(a.Conceded)
		}
		for k := range a.Working {
			f.Working = append(f.Working, stepOf(r, &a.Working[k]))
		}
		f.Excerpt = excerpt(reports.TextOf(r, a.At.File), a.At)
		if a.At.File != r.Circuit.File {
			f.Elsewhere = a.At.File
		}
		all[i] = f
	}
	return all
}

// measured puts measure, limit and what lies between into words.
func (f *finding) measured(a *rules.Assessment) {
	if a.Measure == nil || a.Limit == nil {
		return
	}
	alike := a.Measure.Dimension.FormatAlike(a.Measure.SI, a.Limit.Value.SI)
	f.Measure, f.Limit = alike[0], a.Limit.Sense+" "+alike[1]
	if a.Margin != nil {
		f.Margin = a.Margin.Dimension.Format(a.Margin.SI)
	}
	f.Headroom, f.Reserve = headroomText(a.Headroom), a.Rule.Reserve.Text
}

func headroomText(h *float64) string {
	if h == nil {
		return ""
	}
	return strings.Replace(fmt.Sprintf("%.2f", *h), "-", "−", 1)
}

func stepOf(r *rules.Result, s *rules.Step) step {
	out := step{Label: s.Label, Fact: s.Fact, Value: s.Text}
	if s.Value != nil {
		out.Value, out.Unit, _ = strings.Cut(s.Value.Dimension.Format(s.Value.SI), " ")
	}
	o := s.Origin
	if o == nil {
		return out
	}
	out.Case = o.Case
	if o.Timed {
		out.Time = quantity.Time.Format(o.Time)
	}
	if o.At.Line > 0 {
		out.Line = fmt.Sprint(o.At.Line)
		if o.At.File != r.Circuit.File && o.At.File != "" {
			out.Line = o.At.File + ":" + out.Line
		}
	}
	var notes []string
	if o.Node != "" {
		notes = append(notes, "at "+o.Node)
	}
	for _, n := range []string{o.Note, o.Basis} {
		if n != "" {
			notes = append(notes, n)
		}
	}
	out.Note = strings.Join(notes, "; ")
	return out
}
