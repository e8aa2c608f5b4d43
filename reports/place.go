package reports

import (
	"bytes"
	"unicode/utf16"
	"unicode/utf8"

	"headroom/rules"
	"headroom/specs"
)

// textOf is the text of a file that a result points into: the spec, the project file
// or a pack of one's own; nil where the result does not carry it.
func textOf(r *rules.Result, file string) []byte {
	if file == r.Circuit.File && len(r.Circuit.Source) > 0 {
		return r.Circuit.Source
	}
	if r.Project != nil && file == r.Project.File {
		return r.Project.Source
	}
	if r.Book != nil {
		for _, p := range r.Book.Packs {
			if file == p.File {
				return p.Source
			}
		}
	}
	return nil
}

// lineOf is a line of a text, counted from 1, without its break and without the byte
// order mark of the text, which counts as no column.
func lineOf(text []byte, number int) []byte {
	text = bytes.TrimPrefix(text, []byte("\ufeff"))
	for ; number > 1; number-- {
		_, after, found := bytes.Cut(text, []byte("\n"))
		if !found {
			return nil
		}
		text = after
	}
	line, _, _ := bytes.Cut(text, []byte("\n"))
	return bytes.TrimSuffix(line, []byte("\r"))
}

// utf16Column turns a column that counts characters into one that counts UTF-16 code
// units: a character beyond U+FFFF is two of them. Both count from 1, and a tab is one.
func utf16Column(line []byte, column int) int {
	units := 1
	for range column - 1 {
		if len(line) == 0 {
			units++ // beyond the text that is known
			continue
		}
		c, size := utf8.DecodeRune(line)
		units += utf16.RuneLen(c)
		line = line[size:]
	}
	return units
}

// pieceOf is what stands in a span within a line; "" for one over several lines.
func pieceOf(text []byte, at specs.Span) string {
	if at.EndLine != at.Line || at.EndColumn <= at.Column {
		return ""
	}
	line := []rune(string(lineOf(text, at.Line)))
	if at.EndColumn-1 > len(line) {
		return ""
	}
	return string(line[at.Column-1 : at.EndColumn-1])
}
