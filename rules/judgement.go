package rules

import (
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// A Verdict is what a circuit comes to.
type Verdict string

// The verdicts: a circuit is broken when a finding of grade major or critical
// stands, but for what gathers the unassessed; incomplete when a critical rule could
// not be assessed, when it has no parts or no cases, and when no rule of weight was
// assessed; and holds otherwise.
const (
	Holds      Verdict = "holds"
	Incomplete Verdict = "incomplete"
	Broken     Verdict = "broken"
)

// A Subject is what a rule was applied to.
type Subject struct {
	Kind string // "part", "seal", "node", ...
	Name string
	Case string // for the kinds that are judged per case
}

// String names the subject, and the case that it is judged in.
func (s Subject) String() string {
	if s.Case != "" {
		return s.Name + " in " + s.Case
	}
	return s.Name
}

// A Value is a number with its dimension, in SI; pressures are gauge unless
// the dimension is absolute.
type Value struct {
	SI        float64
	Dimension quantity.Dimension
}

// A Limit is what a measure was held against.
type Limit struct {
	Sense string // "at least" or "at most"
	Value Value
}

// A Step is one fact that an expression read.
type Step struct {
	Fact   string // as written in the rule: "part.burst_pressure"
	Label  string // in words: "burst pressure"
	Value  *Value // a number, or
	Text   string // a word, a yes or no
	Origin *facts.Origin
}

// An Assessment is one rule applied to one subject: a margin, and a finding
// too where Grade says that something is to be told.
type Assessment struct {
	ID       string // fingerprint of rule, circuit, subject, case and key path
	Rule     *Rule
	Subject  Subject
	Measure  *Value // nil for a yes/no rule
	Limit    *Limit
	Margin   *Value
	Headroom *float64 // nil where the reserve is none or there is no margin
	Holds    bool     // the limit holds
	Finding  bool     // it is to be told: the limit is broken, or the reserve eaten
	Grade    Grade    // of the finding
	Message  string
	Working  []Step // of a finding; of every margin where Settings ask for it
	At       specs.Span
	Path     string // key path of At
	Remedy   string
	Without  []string          // what would supply what it was judged without, a breach that this cannot mend; nil for nothing
	Conceded *specs.Concession // the acceptance that covers the finding; nil when none
	Gathered []*Unassessed     // what a finding that gathers the unassessed stands for; nil for others
}

// An Unassessed is a rule that could not be applied to a subject, and what
// would supply what it needs.
type Unassessed struct {
	Rule    *Rule
	Subject Subject
	Missing []string
	Must    bool // be assessed: the rule is critical, or asked for
	At      specs.Span
	Excused string // the project's reason where `not_applicable` lists it
}

// A Judgement is all that was found of one circuit.
type Judgement struct {
	Verdict     Verdict
	Assessments []*Assessment // every assessed rule and subject, tightest first
	Findings    []*Assessment // those to be told, gravest first
	NotAssessed []*Unassessed
	Used        []*Suppression // concessions and exceptions that something matched
}

// A Suppression is a concession, or an exception under not_applicable, of a spec or
// a project file.
type Suppression struct {
	Concession    *specs.Concession // or
	NotApplicable *specs.NotApplicable
}
