package quantity

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// unit is a unit as read: (number + shift) · num/den is the SI value.
type unit struct {
	num, den  float64
	shift     float64
	dimension Dimension // what the unit says by itself: bar a Pressure, K a TemperatureDifference
}

// si is the value of n of the unit in SI.
func (u unit) si(n float64) float64 { return (n+u.shift)*u.num/u.den + 0 }

// of is the number of units that si is.
func (u unit) of(si float64) float64 { return si*u.den/u.num - u.shift }

// reader reads one unit expression:
//
//	unit    = ["/" | "1/"] product {"/" factor} [" abs" | " diff"]
//	product = factor {("·" | "*" | " ") factor}
//	factor  = symbol [exponent] | "(" product-of-several ")"
//
// A product after a quotient needs parentheses, J/(kg·K), or a second quotient,
// J/kg/K: that is the rule of the SI brochure, 9th ed., section 5.2, against
// ambiguous units.
type reader struct {
	text string // the whole quantity
	at   int    // byte offset of what is next
	want Dimension

	vector   vector
	num, den float64
	parents  []Dimension
	last     factor // the factor just read in the running product
	factors  int
}

// factor is a symbol to a power.
type factor struct {
	unit     unit
	exponent int
}

// readUnit reads text from the byte offset at to its end.
func readUnit(text string, at int, want Dimension) (unit, error) {
	var room [4]Dimension
	r := reader{text: text, at: at, want: want, num: 1, den: 1, parents: room[:0]}
	u, err := r.expression()
	if err != nil {
		return unit{}, err
	}
	return r.suffix(u)
}

// expression reads everything but abs and diff.
func (r *reader) expression() (unit, error) {
	if r.next() == '1' && r.oneOver() {
		r.skip(1)
	}
	side := 1
	if r.next() == '/' {
		r.skip(1)
		side = -1
	}
	divided := false
	for {
		if err := r.operand(side, divided || side < 0); err != nil {
			return unit{}, err
		}
		switch c := r.next(); {
		case c == 0 || r.atSuffix():
			return r.result(), nil
		case c == '/':
			r.skip(1)
			side, divided, r.last = -1, true, factor{}
		case side < 0:
			return unit{}, r.fail(Malformed, r.at, len(r.text),
				"a product after a quotient is ambiguous; divide again, as in kJ/kg/K, or use parentheses, as in kJ/(kg·K)")
		default:
			r.times()
		}
	}
}

// operand reads a factor, or after a "/" a product in parentheses.
func (r *reader) operand(side int, divided bool) error {
	if r.next() != '(' || !divided {
		return r.factor(side)
	}
	open := r.at
	r.skip(1)
	for {
		if err := r.factor(side); err != nil {
			return err
		}
		switch r.next() {
		case ')':
			r.skip(1)
			return nil
		case 0, '/', '(':
			return r.fail(Malformed, open, len(r.text), "parentheses hold a product, as in kJ/(kg·K)")
		}
		r.times()
	}
}

// times skips the sign of a product, if there is one: a space does too.
func (r *reader) times() {
	for _, dot := range []string{"·", "⋅", "*"} {
		if strings.HasPrefix(r.text[r.at:], dot) {
			r.skip(len(dot))
			return
		}
	}
}

// factor reads a symbol and its exponent and takes them in.
func (r *reader) factor(side int) error {
	r.next()
	start := r.at
	end := symbolEnd(r.text, start)
	name := r.text[start:end]
	u, known := spelled[name]
	if !known {
		return r.unknown(start, end)
	}
	r.at = end
	exponent, err := r.exponent()
	if err != nil {
		return err
	}
	if u.shift != 0 && (r.factors > 0 || exponent != 1 || side < 0 || !r.ended()) {
		return r.fail(Malformed, start, end, fmt.Sprintf("%s names a temperature; a unit made of several takes K", name))
	}
	r.take(factor{u, side * exponent})
	return nil
}

// take multiplies the expression by f.
func (r *reader) take(f factor) {
	r.factors++
	r.parents = append(r.parents, f.unit.dimension)
	v := f.unit.dimension.row().vector
	for range max(f.exponent, -f.exponent) {
		if f.exponent > 0 {
			r.num, r.den, r.vector = r.num*f.unit.num, r.den*f.unit.den, r.vector.times(v)
		} else {
			r.num, r.den, r.vector = r.num*f.unit.den, r.den*f.unit.num, r.vector.over(v)
		}
	}
	r.radians(f)
	r.last = f
}

// radians puts back the radians that N·m and kg·m2 leave unwritten (see vector).
func (r *reader) radians(f factor) {
	are := func(d Dimension, exponent int, e Dimension, other int) bool {
		is := func(f factor, d Dimension, exponent int) bool {
			return f.unit.dimension == d && f.exponent == exponent
		}
		return is(f, d, exponent) && is(r.last, e, other) || is(f, e, other) && is(r.last, d, exponent)
	}
	switch {
	case are(Force, 1, Length, 1):
		r.vector[angle]--
		r.parents = append(r.parents, Torque)
	case are(Force, -1, Length, -1):
		r.vector[angle]++
	case are(Mass, 1, Length, 2):
		r.vector[angle] -= 2
	case are(Mass, -1, Length, -2):
		r.vector[angle] += 2
	}
}

// result is the unit of all factors.
func (r *reader) result() unit {
	u := unit{num: r.num, den: r.den}
	if r.factors == 1 && r.last.exponent == 1 {
		return r.last.unit
	}
	u.dimension, _ = resolve(r.vector, r.parents...)
	if u.dimension == PressureDifference {
		u.dimension = Pressure // a level, until diff is written behind it
	}
	return u
}

// exponent reads 2, ^2, ², -1, ^-1 or ⁻¹; 1 where there is none.
func (r *reader) exponent() (int, error) {
	start, rest := r.at, r.text[r.at:]
	rest, caret := strings.CutPrefix(rest, "^")
	sign, digit, size := 1, 0, 0
	switch {
	case strings.HasPrefix(rest, "-") && len(rest) > 1 && isDigit(rest[1]):
		sign, digit, size = -1, int(rest[1]-'0'), 2
	case rest != "" && isDigit(rest[0]):
		digit, size = int(rest[0]-'0'), 1
	case !caret:
		if tail, minus := strings.CutPrefix(rest, "⁻"); minus {
			sign, size, rest = -1, len("⁻"), tail
		}
		super, width := utf8.DecodeRuneInString(rest)
		digit = strings.IndexRune("⁰¹²³⁴⁵⁶⁷⁸⁹", super)
		if rest == "" || digit < 0 {
			digit = 0
			if size == 0 {
				return 1, nil
			}
		} else {
			digit = len([]rune("⁰¹²³⁴⁵⁶⁷⁸⁹"[:digit]))
			size += width
		}
	}
	if caret {
		size++
	}
	r.skip(size)
	if digit < 1 || digit > 4 || !r.exponentEnded() {
		return 0, r.fail(Malformed, start, max(r.at, start+1), "an exponent is a digit from 1 to 4, as in m2, m^2 or m²")
	}
	return sign * digit, nil
}

// exponentEnded tells whether no further digit follows.
func (r *reader) exponentEnded() bool {
	return r.at >= len(r.text) || !isDigit(r.text[r.at])
}

// suffix reads abs or diff behind the unit.
func (r *reader) suffix(u unit) (unit, error) {
	if r.next() == 0 {
		return u, nil
	}
	start, word := r.at, strings.TrimRight(r.text[r.at:], " ")
	switch {
	case word == "abs" && u.dimension == Pressure:
		u.dimension = AbsolutePressure
	case word == "diff" && u.dimension == Pressure:
		u.dimension = PressureDifference
	case word == "abs":
		return unit{}, r.fail(AbsNotAllowed, start, start+len(word), "abs belongs to a pressure only")
	default:
		return unit{}, r.fail(DiffNotAllowed, start, start+len(word), "diff belongs to a pressure only")
	}
	return u, nil
}

// atSuffix tells whether abs or diff is all that is left.
func (r *reader) atSuffix() bool {
	rest := strings.TrimRight(r.text[r.at:], " ")
	return rest == "abs" || rest == "diff"
}

// oneOver tells whether what is next is the 1 of 1/K.
func (r *reader) oneOver() bool {
	return strings.HasPrefix(strings.TrimLeft(r.text[r.at+1:], " "), "/")
}

// ended tells whether the expression ends here.
func (r *reader) ended() bool { return r.next() == 0 || r.atSuffix() }

// next skips spaces and returns the byte that follows, 0 at the end.
func (r *reader) next() byte {
	for r.at < len(r.text) {
		size := spaceAt(r.text, r.at)
		if size == 0 {
			return r.text[r.at]
		}
		r.at += size
	}
	return 0
}

func (r *reader) skip(bytes int) { r.at += bytes }

// symbolEnd is where the symbol that starts at `at` ends. "gal (US)" is one symbol,
// g0 ends in a digit, all others end before one.
func symbolEnd(text string, at int) int {
	for _, whole := range []string{"gal (US)", "gal(US)", "g0"} {
		if strings.HasPrefix(text[at:], whole) {
			return at + len(whole)
		}
	}
	end := at
	for end < len(text) {
		c, size := utf8.DecodeRuneInString(text[end:])
		if strings.ContainsRune("/*·⋅^()-⁻⁰¹²³⁴⁵⁶⁷⁸⁹0123456789", c) || spaceAt(text, end) > 0 {
			break
		}
		end += size
	}
	return end
}

// spaceAt is the width of the space at that offset, 0 if there is none. No-break and
// thin spaces count: they come along with text copied from documents.
func spaceAt(text string, at int) int {
	if text[at] == ' ' {
		return 1
	}
	for _, s := range []string{"\u00a0", "\u2009", "\u202f"} {
		if strings.HasPrefix(text[at:], s) {
			return len(s)
		}
	}
	return 0
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
