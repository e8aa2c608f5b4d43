// Package quantity reads and prints physical values with their units, and knows
// which dimension a sum or product of two of them has. Inside, all is SI.
package quantity

import "math"

// Value is a quantity in SI units.
type Value struct {
	SI float64
	// Gauge marks a Pressure written against the surrounding air: SI is then the
	// difference to that air. A pressure written abs is absolute.
	Gauge bool
}

// Parse reads a quantity of the dimension want, such as "210 bar". An error is an *Error.
func Parse(text string, want Dimension) (Value, error) {
	n, u, at, err := split(text, want)
	if err != nil {
		return Value{}, err
	}
	if u.dimension != want || want == nameless {
		if !serves(u.dimension, want) {
			return Value{}, unfit(trimmed(text), at, u.dimension, want)
		}
		if want == Temperature {
			u.dimension = Temperature // K: a level here
		}
	}
	return evaluate(trimmed(text), n, u, want == Pressure && u.dimension == Pressure)
}

// ParseAny reads a quantity of any dimension: the one its unit has. A pressure is
// a gauge level unless abs or diff is written behind it, K is a temperature
// difference, N·m a torque, and a bare number a Number. An error is an *Error.
func ParseAny(text string) (Value, Dimension, error) {
	n, u, at, err := split(text, nameless)
	if err != nil {
		return Value{}, nameless, err
	}
	if u.dimension == nameless {
		return Value{}, nameless, unfit(trimmed(text), at, nameless, nameless)
	}
	v, err := evaluate(trimmed(text), n, u, u.dimension == Pressure)
	return v, u.dimension, err
}

// maxText bounds the length of a quantity's text in bytes.
const maxText = 100

// split reads the number and the unit of text; the unit starts at the offset returned.
func split(text string, want Dimension) (n float64, u unit, at int, err error) {
	if len(text) > maxText {
		return 0, u, 0, fail(Malformed, 0, len(text), "a quantity of %d characters is too long", len(text))
	}
	text = trimmed(text)
	n, at, err = number(text)
	if err != nil {
		return 0, u, 0, err
	}
	if at < len(text) {
		if u, ok := known[text[at:]]; ok {
			return n, u, at, nil
		}
		u, err = readUnit(text, at, want)
		return n, u, at, err
	}
	if want != Number && want != nameless {
		start := skipSpaces(text, 0)
		return 0, u, 0, fail(MissingUnit, start, at, "%s has no unit; %s", text[start:], needed(want))
	}
	return n, one, at, nil
}

// serves tells whether a unit that names the dimension have may be written where
// another, want, is needed.
func serves(have, want Dimension) bool {
	switch have {
	case Pressure:
		return want == PressureDifference
	case AbsolutePressure:
		return want == Pressure
	case TemperatureDifference:
		return want == Temperature
	}
	return false
}

// Bounds of what is computed with, in SI units: the engine multiplies and divides by up to
// the fourth power of a value, and by several at once, so that a number which a double holds
// alone gives none in the end. No quantity of a machine is within ten thousandfold of them:
// an elastic modulus has 2e11 Pa, a leakage 1e-17 m³/(s Pa).
const (
	mostSI  = 1e20
	leastSI = 1e-25

	tooLarge = "%s is too large to compute with: the most is 1e20 in SI units"
	tooSmall = "%s is too small to compute with: the least is 1e-25 in SI units"
)

// evaluate is n of the unit in SI, if there can be such a value.
func evaluate(text string, n float64, u unit, gauge bool) (Value, error) {
	si := u.si(n)
	start, end := skipSpaces(text, 0), len(text)
	switch {
	case !(math.Abs(si) <= mostSI): // or no number
		return Value{}, fail(OutOfRange, start, end, tooLarge, text[start:end])
	case math.Abs(si) < leastSI && n != 0 && u.shift == 0:
		return Value{}, fail(OutOfRange, start, end, tooSmall, text[start:end])
	case si < 0 && u.dimension == Temperature:
		return Value{}, fail(OutOfRange, start, end, "%s is below absolute zero, -273.15 degC", text[start:end])
	case si < 0 && u.dimension == AbsolutePressure:
		return Value{}, fail(OutOfRange, start, end, "%s is below vacuum: an absolute pressure is never negative", text[start:end])
	}
	return Value{SI: si, Gauge: gauge}, nil
}
