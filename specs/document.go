package specs

import (
	"strconv"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// A Document is the YAML of a file that is no spec, such as a rule pack, read
// with the same bounds and complaints.
type Document struct {
	Root *yaml.Node // nil where the text cannot be read
	src  source
}

// ReadDocument reads the YAML of a file; name is what its places are told with.
func ReadDocument(name string, data []byte) (*Document, []Problem) {
	r := newReader(name, data)
	root := r.parse()
	return &Document{Root: root, src: r.src}, sorted(r.problems, r.dropped)
}

// Span is where a node stands.
func (d *Document) Span(n *yaml.Node) Span { return d.src.span(n) }

// Start is the place of the file as a whole.
func (d *Document) Start() Span {
	return Span{File: d.src.file, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
}

// Within is the place of length bytes at an offset of a scalar's value, in
// whatever style and over however many lines it is written; the whole scalar
// where the value cannot be followed in the text.
func (d *Document) Within(n *yaml.Node, offset, length int) Span {
	at := d.src.span(n)
	start := d.src.start(n)
	places := follow(n, d.src.text[start:])
	if places == nil || offset < 0 || offset+length > len(n.Value) {
		return at
	}
	at.Line, at.Column = d.src.place(n.Line, start+places[offset])
	last := start + places[max(offset, offset+length-1)]
	at.EndLine, at.EndColumn = d.src.place(at.Line, last)
	if length > 0 {
		at.EndColumn++
	}
	return at
}

// Follows tells what stands in the text behind a scalar, up to the end of its line.
func (d *Document) Follows(n *yaml.Node) string {
	end := d.src.end(n, d.src.start(n))
	return string(d.src.text[end:d.src.endOfLine(end)])
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

// Nearest is the known word nearest to one, "" where none is near.
func Nearest(word string, known []string) string { return nearest(word, known) }

// SortProblems puts problems in the order of their files, each once.
func SortProblems(problems []Problem) []Problem { return sorted(problems, 0) }
