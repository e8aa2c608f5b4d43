package rules

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// A Result is one spec's outcome: what the run tells of one circuit.
type Result struct {
	Circuit   *specs.Circuit
	Judgement *Judgement
	Cases     []facts.CaseRecord // those that were simulated, in the spec's order
	Digest    string             // SHA-256 of spec, packs and project file, in hex
	Readable  bool               // the file could be read as a spec at all
	Conceding bool               // spec or project has concessions, so that the date matters
}
