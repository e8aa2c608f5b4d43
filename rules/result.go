package rules

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// A Result is one spec's outcome: what the run tells of one circuit.
type Result struct {
	Circuit   *specs.Circuit
	Facts     *facts.Circuit // what was judged; nil where there is no circuit
	Judgement *Judgement
	Coverage  *Coverage
	Cases     []facts.CaseRecord // those that were simulated, in the spec's order
	Digest    string             // SHA-256 of spec, packs and project file, in hex
	Readable  bool               // the file could be read as a spec at all
	Other     bool               // the file is no circuit: a pack, a project file, half a spec
	Book      *Rulebook          // the rules that it was judged by
	Project   *specs.Project     // nil for none
	Scope     Scope              // the part of the rules and cases that was looked at
	Conceding bool               // spec or project has concessions, so that the date matters
}

// A Scope is the part of the rules and cases that a run looked at: all for the zero
// value. A verdict says no more than that.
type Scope struct {
	Only []string // patterns of rules; none for all
	Case string   // "" for all
}

// Whole tells whether a run looked at everything.
func (s Scope) Whole() bool { return len(s.Only) == 0 && s.Case == "" }
