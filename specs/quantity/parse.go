// Package quantity reads and prints physical values with their units, and knows
// which dimension a sum or product of two of them has. Inside, all is SI.
package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Value is a quantity in SI units.
type Value struct {
	SI float64
	// Gauge marks a Pressure written against the surrounding air: SI is then the
	// difference to that air. A Pressure written abs is absolute.
	Gauge bool
}

// Parse reads a quantity of the dimension want, such as "210 bar". The error is an *Error.
func Parse(text string, want Dimension) (Value, error) {
	n, u, at, err := split(text, want)
	if err != nil {
		return Value{}, err
	}
	if u.dimension != want {
		if err := admit(text, at, u, want); err != nil {
			return Value{}, err
		}
	}
	if u.dimension == TemperatureDifference && want == Temperature {
		u.dimension = Temperature
	}
	si, err := evaluate(text, n, u)
	return Value{SI: si, Gauge: want == Pressure && u.dimension == Pressure}, err
}

// ParseAny reads a quantity of any dimension: the one its unit has. A pressure is
// a gauge level unless abs or diff is written behind it, K is a temperature difference,
// N·m a torque, and a bare number a Number.
func ParseAny(text string) (Value, Dimension, error) {
	n, u, at, err := split(text, Number)
	if err != nil {
		return Value{}, Number, err
	}
	if u.dimension == nameless {
		return Value{}, Number, &Error{WrongDimension, at, len(text) - at,
			fmt.Sprintf("%s is a unit of no quantity known here", text[at:])}
	}
	si, err := evaluate(text, n, u)
	return Value{SI: si, Gauge: u.dimension == Pressure}, u.dimension, err
}

// maxText bounds the length of a quantity's text in bytes.
const maxText = 100

// split reads the number and the unit, which starts at the offset returned.
func split(text string, want Dimension) (n float64, u unit, at int, err error) {
	if len(text) > maxText {
		return 0, u, 0, &Error{Malformed, 0, len(text), fmt.Sprintf("a quantity of %d characters is too long", len(text))}
	}
	n, at, err = number(text)
	if err != nil {
		return 0, u, 0, err
	}
	rest := strings.TrimRight(text[at:], " ")
	if rest == "" {
		if want != Number {
			return 0, u, at, &Error{MissingUnit, 0, at, fmt.Sprintf("%s has no unit; %s", strings.TrimSpace(text), needed(want))}
		}
		return n, unit{num: 1, den: 1}, at, nil
	}
	u, usual := spelled[rest]
	if !usual {
		u, err = readUnit(text, at, want)
	}
	return n, u, at, err
}

// number reads the number at the start of text and returns where the unit starts.
func number(text string) (float64, int, error) {
	start := 0
	for start < len(text) && spaceAt(text, start) > 0 {
		start += spaceAt(text, start)
	}
	end := numberEnd(text, start)
	digits := strings.Replace(text[start:end], "−", "-", 1)
	n, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		return 0, 0, &Error{BadNumber, start, max(end, min(len(text), start+1)) - start, "a quantity starts with a number, as in 210 bar"}
	}
	for end < len(text) && spaceAt(text, end) > 0 {
		end += spaceAt(text, end)
	}
	return n, end, nil
}

// numberEnd is where the number that starts at `at` ends.
func numberEnd(text string, at int) int {
	digits := func() {
		for at < len(text) && (isDigit(text[at]) || text[at] == '.') {
			at++
		}
	}
	sign := func() {
		switch {
		case at < len(text) && (text[at] == '-' || text[at] == '+'):
			at++
		case strings.HasPrefix(text[at:], "−"):
			at += len("−")
		}
	}
	sign()
	digits()
	if at < len(text) && (text[at] == 'e' || text[at] == 'E') {
		mantissa := at
		at++
		sign()
		if at == len(text) || !isDigit(text[at]) {
			return mantissa
		}
		digits()
	}
	return at
}

// admit tells whether a unit of another dimension may stand for want.
func admit(text string, at int, u unit, want Dimension) error {
	have := u.dimension
	fail := func(kind Kind, format string, args ...any) error {
		return &Error{kind, at, len(text) - at, fmt.Sprintf(format, args...)}
	}
	name := text[at:]
	switch {
	case want == Pressure && have == AbsolutePressure,
		want == PressureDifference && have == Pressure,
		want == Temperature && have == TemperatureDifference:
		return nil
	case want == Pressure && have == PressureDifference:
		return fail(DiffNotAllowed, "a pressure is needed here, not a difference: leave out diff")
	case want == PressureDifference && have == AbsolutePressure:
		return fail(AbsNotAllowed, "a pressure difference takes no air pressure: leave out abs")
	case want == AbsolutePressure && (have == Pressure || have == PressureDifference):
		return fail(AbsRequired, "an absolute pressure must be written abs, as in 0.8 bar abs")
	case want == TemperatureDifference && have == Temperature:
		return fail(WrongDimension, "%s is a temperature; a temperature difference is written in K", name)
	}
	return fail(WrongDimension, "%s is %s; %s", name, have.WithArticle(), needed(want))
}

// evaluate is n of the unit in SI, if that is possible at all.
func evaluate(text string, n float64, u unit) (float64, error) {
	si := u.si(n)
	fail := func(message string) (float64, error) {
		return 0, &Error{OutOfRange, 0, len(text), message}
	}
	switch {
	case math.IsInf(si, 0) || math.IsNaN(si):
		return fail("the value is too large")
	case u.dimension == Temperature && si < 0:
		return fail("the temperature is below absolute zero")
	case u.dimension == AbsolutePressure && si < 0:
		return fail("an absolute pressure cannot be negative")
	}
	return si, nil
}
