package quantity

import (
	"strings"
	"unicode/utf8"
)

// spaceAt is the width in bytes of the space at that offset, 0 if there is none. No-break
// and thin spaces count: they come along with text copied from documents.
func spaceAt(text string, at int) int {
	switch c := text[at]; {
	case c == ' ':
		return 1
	case c < utf8.RuneSelf:
		return 0
	}
	for _, space := range [...]string{"\u00a0", "\u2009", "\u202f"} {
		if strings.HasPrefix(text[at:], space) {
			return len(space)
		}
	}
	return 0
}

// skipSpaces is the offset of the first character from at on that is no space.
func skipSpaces(text string, at int) int {
	for at < len(text) {
		width := spaceAt(text, at)
		if width == 0 {
			break
		}
		at += width
	}
	return at
}

// trimmed is text without the spaces at its end.
func trimmed(text string) string { return strings.TrimRight(text, " \u00a0\u2009\u202f") }

// symbolEnd is where the unit symbol that starts at the offset ends. The gallon may
// carry a word in parentheses and g0 ends in a digit; all others end before one.
func symbolEnd(text string, at int) int {
	for _, whole := range [...]string{"gal (US)", "gal(US)", "g0"} {
		if strings.HasPrefix(text[at:], whole) {
			return at + len(whole)
		}
	}
	for at < len(text) && spaceAt(text, at) == 0 {
		c, size := utf8.DecodeRuneInString(text[at:])
		if endsSymbol(c) {
			break
		}
		at += size
	}
	return at
}

// endsSymbol tells whether c belongs to what follows a symbol.
func endsSymbol(c rune) bool {
	switch c {
	case '/', '*', '·', '⋅', '^', '(', ')', '-', '+', ',', '⁻', '⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹':
		return true
	}
	return '0' <= c && c <= '9'
}

// superscripts are the digits of exponents, in order.
var superscripts = [...]string{"⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"}

// maxExponent is the largest exponent a unit may have: mm4 is a second moment of area.
const maxExponent = 4

// exponentAt reads the exponent at the offset: 2, ^2, ², -1, ^-1 or ⁻¹; where there is
// none it is 1. Not ok is one that is cut off, zero or above maxExponent.
func exponentAt(text string, at int) (exponent, end int, ok bool) {
	rest := text[at:]
	if tail, minus := strings.CutPrefix(rest, "⁻"); minus {
		digit, width := superscript(tail)
		return -digit, at + len("⁻") + width, 0 < digit && digit <= maxExponent
	}
	if digit, width := superscript(rest); width > 0 {
		_, more := superscript(rest[width:])
		return digit, at + width + more, 0 < digit && digit <= maxExponent && more == 0
	}
	body, caret := strings.CutPrefix(rest, "^")
	digits := strings.TrimPrefix(body, "-")
	width := skipDigits(digits, 0)
	if width == 0 {
		return 1, at + len(rest) - len(body), !caret
	}
	exponent = int(digits[0] - '0')
	ok = width == 1 && 0 < exponent && exponent <= maxExponent
	if len(digits) < len(body) {
		exponent = -exponent
	}
	return exponent, at + len(rest) - len(digits) + width, ok
}

// superscript reads one superscript digit; its width is 0 where there is none.
func superscript(text string) (digit, width int) {
	for digit, s := range superscripts {
		if strings.HasPrefix(text, s) {
			return digit, len(s)
		}
	}
	return 0, 0
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }
