// Package facts names what a rule may speak of: one struct a kind of subject,
// one field a fact, each with its dimension and meaning. The checker fills
// them, rules read them; nothing is computed here.
//
// A field's tags: `fact` its name in expressions, `dim` its dimension (key of
// package quantity), `needs` the spec's key or the word `simulation` that
// supplies it when it is missing, `doc` its meaning, `label` what it is called where
// it is told, if that is not its name. A field without `fact` is
// not visible to rules.
package facts

import "headroom/specs"

// A Fact is one number, in SI; pressures are gauge (differences to the
// circuit's air pressure) unless the fact's dimension is absolute-pressure.
type Fact struct {
	Value   float64
	Known   bool
	From    *Origin // where it comes from; never nil when Known
	Missing string  // when not Known: what would supply it, where the field's `needs` tag does not say it precisely
	SoFar   *SoFar  // when not Known: what is known of it all the same; nil for nothing
}

// A SoFar is what the known ones come to of what a fact is the highest or the lowest
// of, such as the cases, while others are not known: those can only take it further.
type SoFar struct {
	Value  float64
	AtMost bool    // it is the lowest, and this or less; else the highest, and this or more
	From   *Origin // never nil
}

// A Text is a fact that is a word: a kind, a family, a state.
type Text struct {
	Value   string
	Known   bool
	From    *Origin
	Missing string
}

// A Flag is a fact that holds or does not hold.
type Flag struct {
	Value   bool
	Known   bool
	From    *Origin
	Missing string
}

// An Origin is where a fact comes from.
type Origin struct {
	At    specs.Span // of the spec's value that set it, or of the subject
	Key   string     // key path of that value: "parts.clutch-hose.burst_pressure"
	Case  string     // the case in which it occurred; "" for none
	Time  float64    // s, when in that case
	Timed bool       // whether Time says anything
	Node  string     // the node where it occurred; "" for none
	Note  string     // how it came about, a clause that can follow the value: "main-relief at 25 L/min"
	Basis string     // published source of a law or catalogue value
}

// Simulation is the Missing of a fact that only a simulated case supplies.
const Simulation = "simulation"

// Computed is the Missing of what a case would tell that cannot be computed, Ended
// that of what it would have told in the end, Settled that of where it would have
// settled.
func Computed(of string) string { return "a case " + of + " that can be computed" }
func Ended(of string) string    { return "an end of case " + of }
func Settled(of string) string  { return "settled temperatures of case " + of }

// A Circuit is all that the rules judge of one circuit.
type Circuit struct {
	Spec         *specs.Circuit
	Whole        Whole
	Environment  Environment
	Fluid        Fluid
	Parts        []*Part
	Seals        []*Seal
	Nodes        []*Node
	Lines        []*Line
	Sections     []*Section
	Trapped      []*Trapped
	Cases        []*Case
	PartsInCase  []*PartInCase
	NodesInCase  []*NodeInCase
	Expectations []*Expectation
	Concessions  []*Concession
	Problems     []*Problem
	Records      []CaseRecord // of the cases that were simulated
}
