package changes

import (
	"fmt"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/specs"
)

// A Kind is how a finding changed.
type Kind string

// The kinds of change, in the order in which they are told. A finding is new where
// there was none, where the limit held before and is broken now, and where what was
// conceded is no longer; worse also where a finding that gathers what could not be
// assessed stands for more than before; mended where the rule is assessed and nothing is found. One
// that is no longer assessed, or whose subject is gone, is not mended: it is told as
// what it is.
const (
	New        Kind = "new"
	Worse      Kind = "worse"
	Unassessed Kind = "not assessed"
	Better     Kind = "better"
	Conceded   Kind = "conceded"
	Gone       Kind = "gone"
	Mended     Kind = "mended"
)

// kinds are all in their order.
var kinds = []Kind{New, Worse, Unassessed, Better, Conceded, Gone, Mended}

// Kinds lists the kinds of change in the order in which they are told.
func Kinds() []Kind { return slices.Clone(kinds) }

// A Finding is one that changed.
type Finding struct {
	Kind     Kind
	Why      string            // what else is to be said: the keys that are missing, that it was conceded
	Old, New *rules.Assessment // nil where the revision has no such assessment
}

// The is the finding as it stands, or as it was.
func (f *Finding) The() *rules.Assessment {
	if f.New != nil && f.Kind != Mended {
		return f.New
	}
	return f.Old
}

// A Move is a margin that is not what it was.
type Move struct {
	Old, New *rules.Assessment
	By       float64 // change in headroom, or of the margin as a share of the limit where there is none
	Headroom bool    // By is in headroom
}

// A Comparison is what one circuit's revision changed.
type Comparison struct {
	Old, New  *rules.Result // nil where the revision has no such circuit
	Renamed   []Rename
	Edits     []specs.Edit
	Findings  []Finding           // those that changed: by kind, the gravest first
	Unchanged int                 // findings that did not
	Moved     []Move              // margins that moved, most first
	Lost      []*rules.Unassessed // assessed before, and not now

	names *names
}

// Between compares two revisions of a circuit; one of them may be nil.
func Between(old, new *rules.Result) *Comparison {
	c := &Comparison{Old: old, New: new}
	if old == nil || new == nil {
		c.oneSided()
		return c
	}
	n := renames(old.Circuit, new.Circuit)
	c.Renamed = n.list
	c.Edits = old.Circuit.Written().Edits(new.Circuit.Written(), n.in)
	c.names = n
	before, after := indexOf(old.Judgement, n), indexOf(new.Judgement, nil)
	for _, key := range after.keys {
		c.pair(before.take(key), after.at[key])
	}
	for _, key := range before.keys {
		if was := before.take(key); was != nil {
			c.pair(was, nil)
		}
	}
	c.order()
	return c
}

// oneSided is the comparison with nothing: all findings are new, or gone.
func (c *Comparison) oneSided() {
	if c.New != nil {
		for _, a := range c.New.Judgement.Findings {
			c.Findings = append(c.Findings, Finding{Kind: New, New: a})
		}
	}
	if c.Old != nil {
		for _, a := range c.Old.Judgement.Findings {
			c.Findings = append(c.Findings, Finding{Kind: Gone, Old: a, Why: "the circuit is gone"})
		}
	}
	c.order()
}

// pair takes up what one rule said of one subject, before and now.
func (c *Comparison) pair(was, is *outcome) {
	old, new := was.assessment(), is.assessment()
	kind, why := classify(was, is)
	if more := c.gathersMore(old, new); kind == "" && more != "" {
		kind, why = Worse, "it stands for more now: "+more
	}
	switch {
	case kind != "":
		c.Findings = append(c.Findings, Finding{Kind: kind, Why: why, Old: old, New: new})
	case new != nil && new.Finding:
		c.Unchanged++
	}
	if old != nil && is != nil && is.unassessed != nil {
		c.Lost = append(c.Lost, is.unassessed)
	}
	if m, moved := moveOf(old, new); moved {
		c.Moved = append(c.Moved, m)
	}
}

// classify tells how a finding changed, if it did.
func classify(was, is *outcome) (Kind, string) {
	old, new := was.assessment(), is.assessment()
	found, finds := old != nil && old.Finding, new != nil && new.Finding
	switch {
	case finds && !found && was != nil && was.unassessed != nil:
		return New, "it was not assessed before"
	case finds && !found:
		return New, ""
	case finds && new.Conceded != nil && old.Conceded == nil:
		return Conceded, ""
	case finds && new.Conceded == nil && old.Conceded != nil:
		return New, fmt.Sprintf("it was conceded by %s until %s", old.Conceded.By.Value, old.Conceded.Until.Value)
	case finds && old.Holds && !new.Holds:
		return New, "its limit held before"
	case finds:
		return drift(old, new), ""
	case !found:
		return "", ""
	case new != nil:
		return Mended, ""
	case is != nil && is.unassessed != nil:
		return Unassessed, "for want of " + strings.Join(is.unassessed.Missing, ", ")
	}
	return Gone, "the rule no longer has this subject"
}

// gathersMore lists what a finding that gathers the unassessed stands for and did not
// before; "" for nothing, and for other findings.
func (c *Comparison) gathersMore(old, new *rules.Assessment) string {
	if old == nil || new == nil {
		return ""
	}
	before := map[key]bool{}
	for _, u := range old.Gathered {
		before[keyOf(u.Rule, u.Subject, "", c.names)] = true
	}
	var more []string
	for _, u := range new.Gathered {
		if !before[keyOf(u.Rule, u.Subject, "", nil)] {
			more = append(more, fmt.Sprintf("%s (%s)", u.Rule.ID, u.Subject))
		}
	}
	return strings.Join(more, ", ")
}

// drift tells whether a finding that stays got worse or better.
func drift(old, new *rules.Assessment) Kind {
	m, moved := moveOf(old, new)
	switch {
	case new.Grade > old.Grade || new.Grade == old.Grade && moved && m.By < 0:
		return Worse
	case new.Grade < old.Grade || moved && m.By > 0:
		return Better
	}
	return ""
}

// Count is how many findings changed in one way.
func (c *Comparison) Count(k Kind) (count int) {
	for _, f := range c.Findings {
		if f.Kind == k {
			count++
		}
	}
	return count
}

// Worst is the gravest grade among what fails a run, and whether there is any: findings
// that are new, and those that gather more of the unassessed than before, where they are
// not conceded; and rules that must be assessed, were, and are not, where no finding
// gathers them. Silence is not a pass.
func (c *Comparison) Worst() (rules.Grade, bool) {
	worst, any := rules.Observation, false
	for _, f := range c.Findings {
		if (f.Kind == New || f.Kind == Worse && len(f.New.Gathered) > 0) && f.New.Conceded == nil {
			worst, any = max(worst, f.New.Grade), true
		}
	}
	for _, u := range c.Lost {
		if u.Must && u.Excused == "" && !c.gathered(u) {
			worst, any = max(worst, u.Rule.Grade), true
		}
	}
	return worst, any
}

// gathered tells whether a finding of the newer revision stands for what is not assessed.
func (c *Comparison) gathered(u *rules.Unassessed) bool {
	return slices.ContainsFunc(c.New.Judgement.Findings, func(a *rules.Assessment) bool { return slices.Contains(a.Gathered, u) })
}
