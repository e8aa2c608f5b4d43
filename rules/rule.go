package rules

import (
	"errors"
	"sync"

	"gopkg.in/yaml.v3"

	"headroom/specs"
	"headroom/specs/quantity"
)

// A Rule is one entry of a pack: what is measured on which subjects, against
// what, and how much reserve a careful designer keeps.
type Rule struct {
	ID    string // "strength.burst-factor"
	Title string
	Pack  string     // the pack it comes from
	At    specs.Span // of its id in the pack's file

	For     string     // kind of its subjects: "part", "node-in-case", ...
	Where   Expression // which of them; empty for all
	Measure Expression // with Sense and Limit; empty for a yes/no rule
	Sense   Sense
	Limit   Expression
	Require Expression // what must be so; empty for a rule with a measure
	Gathers string     // "not-assessed" for the rule that gathers those; else empty
	Covers  string     // "cases" for a rule that asks what the cases together cover; else empty
	Reserve Reserve
	Grade   Grade // of a finding where the limit is broken

	Says     Expression // what a finding says, with {facts} in braces; empty: its working
	Basis    string     // published source, or "common practice", or "from memory"
	Why      string
	Remedy   string
	Examples []Example

	Regraded string // why a later pack changed the grade; else empty

	core     bool
	kind     *subjectKind
	compiled *compiledRule
}

// An Expression is the text of an expression and where it stands.
type Expression struct {
	Text string
	At   specs.Span

	text *packText
	node *yaml.Node
}

// A packText finds pieces of expressions in a pack's file. The document keeps the
// place it found last, so that one search at a time is made.
type packText struct {
	mutex sync.Mutex
	doc   *specs.Document
}

// A Sense is the side of a limit on which a measure must stay.
type Sense string

// The senses.
const (
	AtLeast Sense = "at least"
	AtMost  Sense = "at most"
)

// A Reserve is what a careful designer keeps beyond the limit: a share of the
// limit's size, an amount, or nothing.
type Reserve struct {
	Share     float64 // 0 when it is an amount
	Amount    float64 // in SI; 0 when it is a share
	Dimension quantity.Dimension
	Text      string // as written
	At        specs.Span
}

// None tells whether there is no reserve.
func (r Reserve) None() bool { return r.Share == 0 && r.Amount == 0 }

// size is the reserve beyond a limit.
func (r Reserve) size(limit float64) float64 {
	if r.Share == 0 {
		return r.Amount
	}
	return r.Share * max(limit, -limit)
}

var errNotPositive = errors.New("a reserve is more than nothing")

// An Example is a test that a rule carries: facts and what comes of them.
type Example struct {
	At       specs.Span
	Verdict  string   // passes, finding, not-assessed, skipped
	Grade    string   // of the finding; "" where it is not told
	Headroom *float64 // nil where it is not told
	Missing  []string // what would supply what is missing; nil where it is not told

	facts  []exampleFact
	limits *specs.Setting
}
