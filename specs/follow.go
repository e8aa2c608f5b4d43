package specs

import (
	"strconv"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// within is the place of length bytes at an offset of a scalar's value; the
// whole scalar where the value cannot be followed in the text.
func (s *source) within(n *yaml.Node, offset, length int) Span {
	at := s.span(n)
	if s.text == nil {
		return at
	}
	start := s.start(n)
	places := follow(n, s.text[start:])
	if places == nil || offset < 0 || offset+length > len(n.Value) {
		return at
	}
	at.Line, at.Column = s.place(n.Line, start+places[offset])
	last := start + places[max(offset, offset+length-1)]
	at.EndLine, at.EndColumn = s.place(at.Line, last)
	if length > 0 {
		at.EndColumn++
	}
	return at
}

// follow maps each byte of a scalar's value, and its end, to its offset in raw,
// where the scalar stands. Folding changes spaces and breaks alone, so that all
// other characters are met in the same order; nil where they are not.
func follow(n *yaml.Node, raw []byte) []int {
	places := make([]int, 0, len(n.Value)+1)
	at := 0
	switch {
	case n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0:
		at = 1
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		for at < len(raw) && raw[at] != '\n' {
			at++
		}
	}
	for i := 0; i < len(n.Value); {
		c, size := utf8.DecodeRuneInString(n.Value[i:])
		if !isSpace(n.Value[i]) {
			for at < len(raw) && isSpace(raw[at]) {
				at++
			}
		}
		written, length := character(n, raw, at)
		switch {
		case isSpace(n.Value[i]) && (at >= len(raw) || !isSpace(raw[at])) && written != c:
			length = 0 // a space made of a break that has been passed
		case written != c && !isSpace(n.Value[i]):
			return nil
		}
		for range size {
			places = append(places, at)
		}
		at += length
		i += size
	}
	return append(places, at)
}

// character is what is written at an offset, and how many bytes it takes.
func character(n *yaml.Node, raw []byte, at int) (rune, int) {
	if at >= len(raw) {
		return utf8.RuneError, 0
	}
	c, size := utf8.DecodeRune(raw[at:])
	switch {
	case n.Style&yaml.SingleQuotedStyle != 0 && c == '\'':
		return c, 2
	case n.Style&yaml.DoubleQuotedStyle != 0 && c == '\\':
		return escaped(raw[at:])
	}
	return c, size
}

// escaped is what an escape sequence of a double-quoted scalar stands for.
func escaped(raw []byte) (rune, int) {
	if len(raw) < 2 {
		return utf8.RuneError, 1
	}
	length, _ := escape(raw)
	switch raw[1] {
	case 'n':
		return '\n', 2
	case 't', '\t':
		return '\t', 2
	case 'x', 'u', 'U':
		code, err := strconv.ParseUint(string(raw[2:min(length, len(raw))]), 16, 32)
		if err != nil {
			return utf8.RuneError, length
		}
		return rune(code), length
	}
	return rune(raw[1]), 2
}

// escape is the length of an escape sequence, and of what it stands for in UTF-8.
func escape(text []byte) (raw, produced int) {
	if len(text) < 2 {
		return 1, 1
	}
	digits := 0
	switch text[1] {
	case 'x':
		digits = 2
	case 'u':
		digits = 4
	case 'U':
		digits = 8
	case 'N', '_':
		return 2, 2
	case 'L', 'P':
		return 2, 3
	default:
		return 2, 1
	}
	code, err := strconv.ParseUint(string(text[2:min(2+digits, len(text))]), 16, 32)
	if err != nil {
		return 2, 1
	}
	return 2 + digits, max(1, utf8.RuneLen(rune(code)))
}
