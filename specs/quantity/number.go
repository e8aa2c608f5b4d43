package quantity

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// number reads the number at the start of text and returns where the unit starts.
//
// A number is written as in most programming languages: an optional sign, digits with
// at most one decimal point, and at most one power of ten (2.0e-8). Digits are not
// grouped, neither by 1_000 nor 1,000 nor 1 000: in some country each of them means
// something else.
func number(text string) (n float64, unitAt int, err error) {
	start := skipSpaces(text, 0)
	body, negative := start, false
	if rest, minus := strings.CutPrefix(text[start:], "\u2212"); minus { // a typographic minus sign
		body, negative = len(text)-len(rest), true
	}
	end := numberEnd(text, body, !negative)
	n, parseErr := strconv.ParseFloat(text[body:end], 64)
	if parseErr != nil {
		return 0, 0, badNumber(text, start, end, n)
	}
	if negative {
		n = -n
	}
	unitAt = skipSpaces(text, end)
	if n == 0 && strings.ContainsAny(mantissa(text[body:end]), "123456789") {
		return 0, 0, fail(OutOfRange, start, end, tooSmall, text[start:end])
	}
	return n, unitAt, misplaced(text, start, end, unitAt)
}

// numberEnd is where the number that starts at the offset ends.
func numberEnd(text string, at int, signed bool) int {
	if signed {
		at = skipSign(text, at)
	}
	at = skipDigits(text, at)
	if at < len(text) && text[at] == '.' {
		at = skipDigits(text, at+1)
	}
	if at < len(text) && (text[at] == 'e' || text[at] == 'E') {
		digits := skipSign(text, at+1)
		if end := skipDigits(text, digits); end > digits {
			return end
		}
	}
	return at
}

func skipSign(text string, at int) int {
	if at < len(text) && (text[at] == '-' || text[at] == '+') {
		at++
	}
	return at
}

func skipDigits(text string, at int) int {
	for at < len(text) && isDigit(text[at]) {
		at++
	}
	return at
}

// mantissa is the number without its power of ten.
func mantissa(number string) string {
	if e := strings.IndexAny(number, "eE"); e >= 0 {
		return number[:e]
	}
	return number
}

// badNumber says why there is no number from start to end.
func badNumber(text string, start, end int, n float64) error {
	if n != 0 { // infinite: the digits were fine
		return fail(OutOfRange, start, end, tooLarge, text[start:end])
	}
	if e := unprintable(text); e != nil {
		return e
	}
	if start == len(text) {
		return fail(BadNumber, 0, 0, "there is nothing here; a quantity is a number and a unit, as in 210 bar")
	}
	for end < len(text) && spaceAt(text, end) == 0 {
		end++
	}
	return fail(BadNumber, start, end, "%s is not a number; a quantity starts with one, as in 210 bar", text[start:end])
}

// misplaced says what is wrong with what follows a number, if it is a piece of one.
func misplaced(text string, start, end, unitAt int) error {
	rest := text[unitAt:]
	if rest == "" {
		return nil
	}
	adjacent := unitAt == end
	whole := skipNumberLike(text, start)
	switch c := rest[0]; {
	case c == ',' && adjacent:
		return fail(BadNumber, start, whole, "%s has a comma; write a decimal point, as in 2.5, and no signs between thousands", text[start:whole])
	case c == '_' && adjacent, c == '\'' && adjacent:
		return fail(BadNumber, start, whole, "%s groups its digits; write them without a sign between", text[start:whole])
	case c == '.' && adjacent:
		return fail(BadNumber, start, whole, "%s is not a number; it has two decimal points", text[start:whole])
	case isDigit(c) && !overOne(text, unitAt):
		whole = skipDigits(text, unitAt)
		return fail(BadNumber, start, whole, "%s is two numbers; digits are written without spaces between", text[start:whole])
	case c == '-' || c == '+' || c == '~' || strings.HasPrefix(rest, "±") || strings.HasPrefix(rest, "\u2013"):
		return fail(BadNumber, start, len(text), "%s is not one value; write a single number and its unit", text[start:])
	}
	return nil
}

// skipNumberLike is where what looks like a number with grouped digits ends.
func skipNumberLike(text string, at int) int {
	for at < len(text) && (isDigit(text[at]) || strings.ContainsRune("+-.,_'", rune(text[at]))) {
		at++
	}
	return at
}

// overOne tells whether a 1 at the offset is that of 1/K.
func overOne(text string, at int) bool {
	if text[at] != '1' {
		return false
	}
	at = skipSpaces(text, at+1)
	return at < len(text) && text[at] == '/'
}

// unprintable is the error about the first character that nobody can see, nil if there is none.
func unprintable(text string) error {
	for at := 0; at < len(text); {
		c, size := utf8.DecodeRuneInString(text[at:])
		if c == utf8.RuneError && size == 1 {
			return fail(Malformed, at, at+1, "byte %#02x is not text in UTF-8", text[at])
		}
		if !unicode.IsPrint(c) && spaceAt(text, at) == 0 {
			return fail(Malformed, at, at+size, "character %U cannot be printed and has no place in a quantity", c)
		}
		at += size
	}
	return nil
}
