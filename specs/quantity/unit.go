package quantity

import "strings"

// unit is a unit as read: (number + shift) · num/den is the SI value.
type unit struct {
	num, den  float64
	shift     float64
	dimension Dimension // what the unit says by itself: bar a Pressure, K a TemperatureDifference
}

// one is the unit of a bare number.
var one = unit{num: 1, den: 1}

// si is the value of n of the unit in SI; adding 0 makes -0 a plain 0.
func (u unit) si(n float64) float64 { return (n+u.shift)*u.num/u.den + 0 }

// of is the number of units that si is.
func (u unit) of(si float64) float64 { return si*u.den/u.num - u.shift + 0 }

// reader reads one unit:
//
//	unit    = ["1"] ["/"] product {"/" divisor} ["abs" | "diff"]
//	product = factor {("·" | "*" | " ") factor}
//	divisor = factor | "(" product ")"
//	factor  = symbol [exponent]
//
// A second quotient divides again: kJ/kg/K. A product behind a quotient is refused
// unless in parentheses, for people read J/kg·K both ways (SI brochure, 9th ed., 5.2).
type reader struct {
	text   string // the whole quantity, without spaces at its end
	unitAt int    // the offset at which its unit starts
	at     int    // the offset of what is next
	want   Dimension
	mended bool // a trial of how a mistake might be mended: no further suggestions

	num, den float64
	vector   vector
	factors  int
	last     factor // the factor before, within the running product
	parents  parents
}

// factor is a symbol's unit to a power.
type factor struct {
	unit     unit
	exponent int
}

// readUnit reads text from the offset to its end.
func readUnit(text string, at int, want Dimension) (unit, error) {
	if err := unprintable(text); err != nil {
		return unit{}, err
	}
	r := reader{text: text, unitAt: at, at: at, want: want}
	return r.read()
}

func (r *reader) read() (unit, error) {
	r.num, r.den = 1, 1
	if err := r.expression(); err != nil {
		return unit{}, err
	}
	return r.suffixed(r.result())
}

// expression reads everything but abs and diff.
func (r *reader) expression() error {
	side := 1
	if overOne(r.text, r.at) {
		r.at = skipSpaces(r.text, r.at+1)
	}
	if r.next() == '/' {
		side = -1
		r.at++
	}
	for {
		if err := r.operand(side); err != nil {
			return err
		}
		switch c := r.next(); {
		case c == 0 || r.suffix() != "":
			return nil
		case c == '/':
			side, r.last = -1, factor{}
			r.at++
		case side > 0:
			r.skipDot()
		default:
			return fail(Malformed, r.at, len(r.text),
				"a product behind a quotient is ambiguous; divide again, as in kJ/kg/K, or write parentheses, as in kJ/(kg·K)")
		}
	}
}

// operand reads a factor, or behind a quotient a product in parentheses.
func (r *reader) operand(side int) error {
	if r.next() != '(' || side > 0 {
		return r.factor(side)
	}
	open := r.at
	r.at++
	for {
		if err := r.factor(side); err != nil {
			return err
		}
		switch r.next() {
		case ')':
			r.at++
			return nil
		case 0:
			return fail(Malformed, open, len(r.text), "the parenthesis is not closed")
		case '/':
			return fail(Malformed, r.at, r.at+1, "parentheses hold a product, as in kJ/(kg·K)")
		}
		r.skipDot()
	}
}

// skipDot passes the sign of a product, if it is written: a space does too.
func (r *reader) skipDot() {
	for _, dot := range [...]string{"·", "⋅", "*"} {
		if strings.HasPrefix(r.text[r.at:], dot) {
			r.at += len(dot)
			return
		}
	}
}

// factor reads a symbol with its exponent and takes it in.
func (r *reader) factor(side int) error {
	r.next()
	start := r.at
	r.at = symbolEnd(r.text, start)
	u, ok := spelled[r.text[start:r.at]]
	if !ok {
		return r.unknown(start)
	}
	exponent, end, ok := exponentAt(r.text, r.at)
	if !ok {
		return fail(Malformed, r.at, end, "an exponent is one digit from 1 to %d, as in m2, m^2 or m²", maxExponent)
	}
	r.at = end
	alone := r.factors == 0 && side > 0 && exponent == 1 && (r.next() == 0 || r.suffix() != "")
	if u.dimension == Temperature && !alone {
		return fail(Malformed, start, end, "%s names a temperature; a unit made of several takes K", r.text[start:end])
	}
	r.take(factor{u, side * exponent})
	return nil
}

// take multiplies the unit by f.
func (r *reader) take(f factor) {
	v := f.unit.dimension.row().vector
	for range max(f.exponent, -f.exponent) {
		if f.exponent > 0 {
			r.num, r.den, r.vector = r.num*f.unit.num, r.den*f.unit.den, r.vector.times(v)
		} else {
			r.num, r.den, r.vector = r.num*f.unit.den, r.den*f.unit.num, r.vector.over(v)
		}
	}
	r.parents.add(f.unit.dimension)
	r.restoreRadians(f)
	r.last = f
	r.factors++
}

// restoreRadians puts in the radians that N·m and kg·m2 leave unwritten (see vector),
// where f and the factor before it are such a pair.
func (r *reader) restoreRadians(f factor) {
	pair := func(d Dimension, i int, e Dimension, j int) bool {
		a, b := r.last, f
		if a.unit.dimension != d {
			a, b = b, a
		}
		return a.unit.dimension == d && a.exponent == i && b.unit.dimension == e && b.exponent == j
	}
	switch {
	case pair(Force, 1, Length, 1):
		r.vector[angle]--
		r.parents.add(Torque)
	case pair(Force, -1, Length, -1):
		r.vector[angle]++
	case pair(Mass, 1, Length, 2):
		r.vector[angle] -= 2
	case pair(Mass, -1, Length, -2):
		r.vector[angle] += 2
	}
}

// result is the unit of all factors.
func (r *reader) result() unit {
	if r.factors == 1 && r.last.exponent == 1 {
		return r.last.unit
	}
	d := resolve(r.vector, r.parents)
	if d == PressureDifference {
		d = Pressure // a level, unless diff is written behind it
	}
	return unit{num: r.num, den: r.den, dimension: d}
}

// suffixed is the unit with the abs or diff behind it taken into account.
func (r *reader) suffixed(u unit) (unit, error) {
	switch word := r.suffix(); {
	case word == "":
	case u.dimension == Pressure && word == "abs":
		u.dimension = AbsolutePressure
	case u.dimension == Pressure:
		u.dimension = PressureDifference
	case word == "abs":
		return unit{}, fail(AbsNotAllowed, r.at, len(r.text), "abs belongs behind a pressure only")
	default:
		return unit{}, fail(DiffNotAllowed, r.at, len(r.text), "diff belongs behind a pressure only")
	}
	return u, nil
}

// suffix is abs or diff if that is all that is left, else empty.
func (r *reader) suffix() string {
	if rest := r.text[r.at:]; rest == "abs" || rest == "diff" {
		return rest
	}
	return ""
}

// next skips spaces and returns the byte that follows, 0 at the end.
func (r *reader) next() byte {
	r.at = skipSpaces(r.text, r.at)
	if r.at == len(r.text) {
		return 0
	}
	return r.text[r.at]
}
