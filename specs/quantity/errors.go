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
	AbsNotAllowed              // abs where it has no meaning
	AbsRequired                // abs left out where it must be written
	DiffNotAllowed             // diff where it has no meaning
	Malformed                  // the unit, or the text, is put together wrongly
	OutOfRange                 // below absolute zero or vacuum, too large, too small
)

// Error is about a quantity that cannot be read.
type Error struct {
	Kind    Kind
	Offset  int    // where in the text the offending piece starts, in bytes
	Length  int    // how long it is, in bytes
	Message string // one sentence: what is wrong and what would be right
}

func (e *Error) Error() string { return e.Message }

// fail is the error about the text from start to end.
func fail(kind Kind, start, end int, format string, args ...any) error {
	return &Error{Kind: kind, Offset: start, Length: end - start, Message: fmt.Sprintf(format, args...)}
}

// unfit says that the unit at the offset, of the dimension have, cannot stand for want.
func unfit(text string, at int, have, want Dimension) error {
	unit, end := text[at:], len(text)
	if unit == "" {
		unit = text // a bare number
	}
	switch {
	case have == nameless:
		return fail(WrongDimension, at, end, "%s fits no quantity known here%s", unit, then(want))
	case want == Pressure && have == PressureDifference:
		return fail(DiffNotAllowed, at, end, "a pressure is needed here, not a difference; leave out diff")
	case want == PressureDifference && have == AbsolutePressure:
		return fail(AbsNotAllowed, at, end, "a pressure difference takes no air pressure; leave out abs")
	case want == AbsolutePressure && have == Pressure:
		return fail(AbsRequired, at, end, "an absolute pressure must say so; write %s abs", unit)
	case want == AbsolutePressure && have == PressureDifference:
		return fail(AbsRequired, at, end, "an absolute pressure must say so; write abs instead of diff")
	case want == TemperatureDifference && have == Temperature:
		return fail(WrongDimension, at, end, "%s is a unit of temperature; a temperature difference is written in K", unit)
	}
	return fail(WrongDimension, at, end, "%s is %s%s%s", unit, have.WithArticle(), then(want), angleHint(have, want))
}

// angleHint tells where the revolution is all that is missing, for it is easily overlooked.
func angleHint(have, want Dimension) string {
	if want == RotationalSpeed && have == Frequency || want == Displacement && have == Volume {
		return ": the revolution must be written"
	}
	return ""
}

// then continues a message with what is needed, if anything particular is.
func then(want Dimension) string {
	if want >= dimensions {
		return ""
	}
	return "; " + needed(want)
}

// needed says what is needed, and units of it.
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
