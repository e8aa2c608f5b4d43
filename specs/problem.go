package specs

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// The rules under which problems of a file are told.
const (
	ruleSyntax     = "spec.syntax"
	ruleShape      = "spec.shape"
	ruleUnknownKey = "spec.unknown-key"
	ruleMissing    = "spec.missing"
	ruleUnit       = "spec.unit"
	ruleRange      = "spec.range"
	ruleReference  = "spec.reference"
	ruleDuplicate  = "spec.duplicate"
	ruleEmpty      = "spec.empty"
)

// ProblemRules lists the rules of all problems that reading a file can find.
func ProblemRules() []string {
	return []string{ruleSyntax, ruleShape, ruleUnknownKey, ruleMissing, ruleUnit, ruleRange, ruleReference, ruleDuplicate, ruleEmpty}
}

// A Problem is something wrong with a file, found in reading it.
type Problem struct {
	Rule    string // one of ProblemRules
	At      Span
	Path    string // key path, "parts.clutch-hose.bore"; "" for the whole file
	Message string // what is wrong and what would be right, one or two sentences
}

// String is the problem in one line, as compilers write it.
func (p Problem) String() string {
	return fmt.Sprintf("%s:%d:%d: %s (%s)", p.At.File, p.At.Line, p.At.Column, p.Message, p.Rule)
}

// How many problems are told of a file, and how many are gathered to choose from.
const (
	maxProblems = 100
	maxGathered = 5000
)

// add notes a problem.
func (r *reader) add(p Problem) {
	switch {
	case r.muted:
		return
	case r.full():
		r.dropped++
	default:
		p.Path, p.Message = tidy(p.Path), tidy(p.Message)
		r.problems = append(r.problems, p)
	}
}

// maxTidy is the longest that a message or path gets, in characters.
const maxTidy = 500

// tidy makes text of a file fit for one line: what cannot be seen becomes a
// space, and what is too long is cut.
func tidy(text string) string {
	if !strings.ContainsFunc(text, unseen) && len(text) <= maxTidy {
		return text
	}
	letters := []rune(strings.Map(func(c rune) rune {
		if unseen(c) {
			return ' '
		}
		return c
	}, text))
	if len(letters) > maxTidy {
		letters = append(letters[:maxTidy-1:maxTidy-1], '…')
	}
	return string(letters)
}

func unseen(c rune) bool { return c != ' ' && !unicode.IsGraphic(c) }

// full tells that enough problems have been gathered.
func (r *reader) full() bool { return len(r.problems) >= maxGathered }

// sorted gives the problems in the order of the file, each once, the last of
// too many saying how many more there are.
func sorted(problems []Problem, dropped int) []Problem {
	slices.SortStableFunc(problems, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.At.File, b.At.File), cmp.Compare(a.At.Line, b.At.Line),
			cmp.Compare(a.At.Column, b.At.Column), cmp.Compare(a.Rule, b.Rule), cmp.Compare(a.Message, b.Message))
	})
	problems = slices.CompactFunc(problems, func(a, b Problem) bool {
		return a.At == b.At && a.Rule == b.Rule && a.Message == b.Message
	})
	if len(problems) <= maxProblems {
		return problems
	}
	next := problems[maxProblems]
	next.Message = fmt.Sprintf("and %d more problems from here on", len(problems)-maxProblems+dropped)
	return append(problems[:maxProblems:maxProblems], next)
}
