package reports

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/rules/changes"
)

// A ComparisonForm writes what revisions changed, one circuit after the other,
// then what holds for the run as a whole.
type ComparisonForm interface {
	Comparison(*changes.Comparison) error
	Close(Run) error
}

// comparisonForms lists every form of a comparison by its name on the command
// line, in alphabetical order.
var comparisonForms = []choice[func(io.Writer, Options) ComparisonForm]{
	{"json", openJSONComparison},
	{"markdown", openMarkdownComparison},
	{"text", openTextComparison},
}

// ComparisonNames lists the forms that OpenComparison knows.
func ComparisonNames() []string { return namesOf(comparisonForms) }

// OpenComparison starts a form of that name on w.
func OpenComparison(name string, w io.Writer, options Options) (ComparisonForm, error) {
	open, err := chosen(name, comparisonForms)
	if err != nil {
		return nil, err
	}
	return open(w, options), nil
}

// mostTold is how many edits and moved margins people are shown.
const mostTold = 20

// the is the revision that a comparison is told by: the newer, or the older where
// the circuit is gone.
func the(c *changes.Comparison) *rules.Result {
	if c.New != nil {
		return c.New
	}
	return c.Old
}

// revisionText names a circuit's revision: "C", or where it has none the file.
func revisionText(r *rules.Result) string {
	if r.Circuit.Revision.Value != "" {
		return "revision " + r.Circuit.Revision.Value
	}
	return r.Circuit.File
}

// verdictText tells the verdict, what it was, and of what part of the rules it is.
func verdictText(c *changes.Comparison) string { return verdictsText(c) + scopeText(the(c).Scope) }

func verdictsText(c *changes.Comparison) string {
	switch {
	case c.Old == nil:
		return string(c.New.Judgement.Verdict) + ", a new circuit"
	case c.New == nil:
		return "gone, was " + string(c.Old.Judgement.Verdict)
	case c.Old.Judgement.Verdict == c.New.Judgement.Verdict:
		return string(c.New.Judgement.Verdict) + ", as before"
	}
	return fmt.Sprintf("%s, was %s", c.New.Judgement.Verdict, c.Old.Judgement.Verdict)
}

// countsText tells how many findings changed, and how: "1 new, 2 mended, 5 unchanged".
func countsText(c *changes.Comparison) string {
	var parts []string
	for _, k := range changes.Kinds() {
		if n := c.Count(k); n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, k))
		}
	}
	return strings.Join(append(parts, fmt.Sprintf("%d unchanged", c.Unchanged)), ", ")
}

// lossText tells what was assessed before and is not now; "" for nothing.
func lossText(c *changes.Comparison) string {
	if len(c.Lost) == 0 {
		return ""
	}
	keys, rulesOf := missingByKey(c.Lost)
	var parts []string
	for _, key := range keys {
		parts = append(parts, key+": "+ruleList(rulesOf[key]))
	}
	return strings.Join(parts, "; ")
}

// wasText tells what a finding was: its measure, and its grade where that is another.
func wasText(f *changes.Finding) string {
	var parts []string
	if f.Why != "" {
		parts = append(parts, f.Why)
	}
	if old := f.Old; old != nil && f.New != nil {
		if old.Finding && old.Grade != f.New.Grade && f.Kind != changes.Mended {
			parts = append(parts, "was "+old.Grade.String())
		}
		if old.Measure != nil && f.New.Measure != nil {
			alike := old.Measure.Dimension.FormatAlike(old.Measure.SI, f.New.Measure.SI)
			was := "was " + alike[0]
			if !toldInFull(f.Kind) {
				was += ", is " + alike[1]
			}
			parts = append(parts, was)
		}
	}
	return strings.Join(parts, "; ")
}

// toldInFull tells whether a finding that changed in this way is told with its
// working: what is new or worse is for the reader to look at.
func toldInFull(k changes.Kind) bool { return k == changes.New || k == changes.Worse }

// movedRow is one moved margin: headroom, rule and subject, measure and limit.
func movedRow(m changes.Move) []string {
	return []string{headroomMove(m), m.New.Rule.ID, m.New.Subject.String(), measureMove(m), limitMove(m)}
}

// headroomMove is a headroom before and after, or a margin's where there is none.
func headroomMove(m changes.Move) string {
	if m.Headroom {
		return headroomText(*m.Old.Headroom) + " → " + headroomText(*m.New.Headroom)
	}
	if m.Old.Holds == m.New.Holds {
		return fmt.Sprintf("%+.0f %% of limit", 100*clamp(m.By))
	}
	if m.New.Holds {
		return "broken → holds"
	}
	return "holds → broken"
}

// clamp keeps a share to what can be printed in a column.
func clamp(share float64) float64 { return math.Max(-99.99, math.Min(99.99, share)) }

func measureMove(m changes.Move) string {
	alike := m.New.Measure.Dimension.FormatAlike(m.Old.Measure.SI, m.New.Measure.SI)
	if alike[0] == alike[1] {
		return alike[1]
	}
	return alike[0] + " → " + alike[1]
}

func limitMove(m changes.Move) string {
	old, new := m.Old.Limit.Value, m.New.Limit.Value
	alike := new.Dimension.FormatAlike(old.SI, new.SI)
	if alike[0] == alike[1] {
		return m.New.Limit.Sense + " " + alike[1]
	}
	return fmt.Sprintf("%s %s → %s", m.New.Limit.Sense, alike[0], alike[1])
}

// first is the first of a list that people are shown, no more than so many, and how many
// more there are.
func first[T any](all []T, most int) (shown []T, more int) {
	shown = all[:min(mostTold, most, len(all))]
	return shown, len(all) - len(shown)
}

// ofKind are the findings that changed in one way.
func ofKind(c *changes.Comparison, k changes.Kind) []changes.Finding {
	return slices.DeleteFunc(slices.Clone(c.Findings), func(f changes.Finding) bool { return f.Kind != k })
}
