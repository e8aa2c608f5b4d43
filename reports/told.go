package reports

import (
	"headroom/rules"
	"headroom/specs"
)

// This file lets the packages below this one say in the same words what the forms say.

// CoverageLine is a circuit's coverage in a line; "" where there is none.
func CoverageLine(v *rules.Coverage) string {
	if v == nil {
		return ""
	}
	return coverageLine(v)
}

// ScopeText says, in brackets, of what part of the rules and cases a verdict is; ""
// for all.
func ScopeText(s rules.Scope) string { return scopeText(s) }

// ChangesText tells what packs changed of other packs' rules, a line a rule.
func ChangesText(b *rules.Rulebook) (lines []string) {
	for _, c := range packChanges(b) {
		lines = append(lines, c.text())
	}
	return lines
}

// MissingByKey gathers what is not assessed by the key that would supply it, and names
// the rules that want it.
func MissingByKey(j *rules.Judgement) (keys []string, wanted map[string]string) {
	keys, rulesOf := missingByKey(j.NotAssessed)
	wanted = map[string]string{}
	for _, key := range keys {
		wanted[key] = ruleList(rulesOf[key])
	}
	return keys, wanted
}

// FoundText tells how many findings there are of each grade.
func FoundText(j *rules.Judgement) string { return foundText(CountsOf(j)) }

// AssessedText tells what a verdict rests on.
func AssessedText(r *rules.Result) string { return assessedText(r) }

// TextOf is the text of a file that a result points into; nil where the result does not
// carry it.
func TextOf(r *rules.Result, file string) []byte { return textOf(r, file) }

// ConcededText says who accepted a finding, until when and why.
func ConcededText(c *specs.Concession) string { return concededText(c) }

// PlaceText tells where a finding points to: the line, with the file's name where it is
// another one than the circuit's.
func PlaceText(file string, a *rules.Assessment) string { return place(file, a) }

// Plural counts things.
func Plural(n int, noun string) string { return plural(n, noun) }
