package reports

import (
	"strings"
	"unicode/utf8"
)

// columns is the printed width of plain text.
func columns(text string) int { return utf8.RuneCountInString(text) }

// wrapBehind breaks text at spaces into lines of at most limit columns, where
// the first line has used up some and the others begin further in; a longer word
// stands alone.
func wrapBehind(text string, first, further, limit int) []string {
	var lines []string
	line, used := "", first
	for _, word := range strings.Fields(text) {
		w := columns(word)
		switch {
		case line == "":
			line, used = word, used+w
		case used+1+w <= limit:
			line, used = line+" "+word, used+1+w
		default:
			lines = append(lines, line)
			line, used = word, further+w
		}
	}
	return append(lines, line)
}

// cut shortens text to so many characters, and shows that it did.
func cut(text string, most int) string {
	if columns(text) <= most {
		return text
	}
	return string([]rune(text)[:most-1]) + "…"
}
