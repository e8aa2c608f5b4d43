package quantity

import (
	"fmt"
	"strings"
)

// Kind says what sort of mistake an Error is about.
type Kind uint8

// The kinds of mistakes.
const (
	BadNumber      Kind = iota // the number cannot be read
	MissingUnit                // a bare number where a quantity is needed
	UnknownUnit                // no such unit
	WrongDimension             // a unit of something else
	AbsNotAllowed              // abs where a difference is needed
	AbsRequired                // abs left out where it must be written
	DiffNotAllowed             // diff where a level is needed
	Malformed                  // not a number and a unit
	OutOfRange                 // below absolute zero, too large, too small
)

// Error is a quantity that cannot be read.
type Error struct {
	Kind    Kind
	Offset  int    // where in the text the offending piece starts, in bytes
	Length  int    // how long it is, in bytes
	Message string // one sentence: what is wrong and what would be right
}

func (e *Error) Error() string { return e.Message }

// fail builds an Error about the text from start to end.
func (r *reader) fail(kind Kind, start, end int, message string) error {
	return &Error{Kind: kind, Offset: start, Length: end - start, Message: message}
}

// needed is the end of a message: what is needed, and units of it.
func needed(want Dimension) string {
	if want == Number {
		return "a plain number is needed here, such as 0.5 or 50 %"
	}
	return fmt.Sprintf("%s is needed here, such as %s", want.WithArticle(), list(want.row().usual))
}

// list joins words as in a sentence: "bar, MPa or psi".
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
