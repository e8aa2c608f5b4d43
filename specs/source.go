package specs

import (
	"bytes"
	"slices"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// A source is the text of a file, with what is needed to tell where a YAML node
// in it begins and ends: yaml.v3 tells the beginning alone. A source without
// text, as of a catalogue entry, takes every value to be written plainly.
type source struct {
	file  string
	text  []byte
	lines []int // byte offset at which each line starts

	// The place found last, and marks on the way to it: places are mostly asked
	// for in the order of the text, and a line may be as long as the file.
	line, column, offset int
	marks                []int // byte offsets of each stride-th column of the line
}

// stride is how many columns lie between two marks.
const stride = 256

func newSource(file string, text []byte) *source {
	s := &source{file: file, text: text, lines: make([]int, 1, 1+bytes.Count(text, []byte("\n")))}
	for at := 0; ; {
		next := bytes.IndexByte(text[at:], '\n')
		if next < 0 {
			break
		}
		at += next + 1
		s.lines = append(s.lines, at)
	}
	return s
}

// bom is the byte order mark, which editors count as no column.
const bom = "\ufeff"

// find is the byte offset of a line and column, both from 1.
func (s *source) find(line, column int) int {
	if line < 1 || line > len(s.lines) {
		return len(s.text)
	}
	s.turnTo(line)
	if column < s.column {
		s.back((column - 1) / stride)
	}
	for s.column < column && s.offset < len(s.text) && s.text[s.offset] != '\n' {
		s.step()
	}
	return s.offset
}

// place is the line and column of a byte offset on or after the beginning of a line.
func (s *source) place(line, offset int) (int, int) {
	for line < len(s.lines) && s.lines[line] <= offset {
		line++
	}
	s.turnTo(line)
	if offset < s.offset {
		after, _ := slices.BinarySearch(s.marks, offset+1)
		s.back(max(after-1, 0))
	}
	for s.offset < offset {
		s.step()
	}
	return s.line, s.column
}

// turnTo goes to the beginning of a line, if it is another one.
func (s *source) turnTo(line int) {
	if line == s.line {
		return
	}
	s.line, s.column, s.offset = line, 1, s.lines[line-1]
	if line == 1 && bytes.HasPrefix(s.text, []byte(bom)) {
		s.offset = len(bom)
	}
	s.marks = append(s.marks[:0], s.offset)
}

// back goes back to a mark.
func (s *source) back(mark int) {
	mark = min(mark, len(s.marks)-1)
	s.column, s.offset = 1+mark*stride, s.marks[mark]
}

// step goes on by a character.
func (s *source) step() {
	s.offset += runeLength(s.text[s.offset:])
	s.column++
	if s.column == 1+len(s.marks)*stride {
		s.marks = append(s.marks, s.offset)
	}
}

func runeLength(text []byte) int {
	if text[0] < utf8.RuneSelf {
		return 1
	}
	_, length := utf8.DecodeRune(text)
	return length
}

// span is where a node stands.
func (s *source) span(n *yaml.Node) Span {
	at := Span{File: s.file, Line: n.Line, Column: n.Column, EndLine: n.Line}
	if s.text == nil {
		at.EndColumn = at.Column + utf8.RuneCountInString(n.Value)
		return at
	}
	start := s.start(n)
	if n.Anchor != "" || n.Style&yaml.TaggedStyle != 0 {
		at.Line, at.Column = s.place(n.Line, start)
	}
	if plain(n) && bytes.HasPrefix(s.text[start:], []byte(n.Value)) {
		at.EndLine, at.EndColumn = at.Line, at.Column+utf8.RuneCountInString(n.Value)
		return at
	}
	at.EndLine, at.EndColumn = s.place(at.Line, s.end(n, start))
	return at
}

func plain(n *yaml.Node) bool {
	const other = yaml.DoubleQuotedStyle | yaml.SingleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle
	return n.Kind == yaml.ScalarNode && n.Style&other == 0
}

// start is the byte offset of a node, past its anchor and tag.
func (s *source) start(n *yaml.Node) int {
	at := s.find(n.Line, n.Column)
	if n.Anchor == "" && n.Style&yaml.TaggedStyle == 0 {
		return at
	}
	for at < len(s.text) && (s.text[at] == '&' || s.text[at] == '!') {
		for at < len(s.text) && !isSpace(s.text[at]) {
			at++
		}
		at = s.skip(at)
	}
	return at
}

// skip passes spaces and breaks.
func (s *source) skip(at int) int {
	for at < len(s.text) && isSpace(s.text[at]) {
		at++
	}
	return at
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// end is the byte offset just past a node that starts at an offset.
func (s *source) end(n *yaml.Node, start int) int {
	switch {
	case n.Kind == yaml.AliasNode:
		return start + len("*") + len(n.Value)
	case n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode:
		return s.endOfCollection(n, start)
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return s.endOfQuoted(start, '"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		return s.endOfQuoted(start, '\'')
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return s.endOfLine(start) // the header of the block stands for it
	}
	return s.endOfPlain(n.Value, start)
}

func (s *source) endOfLine(at int) int {
	if i := bytes.IndexAny(s.text[at:], "\r\n"); i >= 0 {
		return at + i
	}
	return len(s.text)
}

// endOfQuoted finds the closing quote of a scalar that opens at start.
func (s *source) endOfQuoted(start int, quote byte) int {
	for at := start + 1; at < len(s.text); at++ {
		switch {
		case quote == '"' && s.text[at] == '\\':
			at++
		case s.text[at] == quote && quote == '\'' && at+1 < len(s.text) && s.text[at+1] == quote:
			at++
		case s.text[at] == quote:
			return at + 1
		}
	}
	return len(s.text)
}

// endOfPlain follows the words of a plain scalar that runs over several lines.
func (s *source) endOfPlain(value string, start int) int {
	at := start
	for i, word := range strings.Fields(value) {
		if i > 0 {
			at = s.skip(at)
		}
		if !bytes.HasPrefix(s.text[at:], []byte(word)) {
			return at
		}
		at += len(word)
	}
	return at
}

// endOfCollection is the end of a collection's last value, and of its bracket
// where that follows.
func (s *source) endOfCollection(n *yaml.Node, start int) int {
	at := start
	if len(n.Content) > 0 {
		last := n.Content[len(n.Content)-1]
		at = s.start(last)
		if !plain(last) || last.Value != "" {
			at = s.end(last, at)
		}
	} else {
		at++
	}
	if n.Style&yaml.FlowStyle == 0 {
		return at
	}
	for at < len(s.text) && (isSpace(s.text[at]) || s.text[at] == ',') {
		at++
	}
	if at < len(s.text) && (s.text[at] == ']' || s.text[at] == '}') {
		at++
	}
	return at
}
