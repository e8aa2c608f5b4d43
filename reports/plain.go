package reports

import (
	"fmt"
	"io"
	"strings"
	"unicode"
)

// This file is the one place where texts of specs, packs and file names become text for a
// terminal or a log, which both obey what they are sent: all text output is made of
// printed.

// printed is text that is fit to be printed: a line at most, without anything that a
// terminal or the runner of a job would take for a command. Colours are added to it.
type printed string

// plain makes text fit to be printed. Breaks of lines and tabs become spaces; other
// control characters, marks that turn the direction of writing, and bytes that are no
// UTF-8 become U+FFFD. The signs by which runners know commands, two colons at the
// beginning of a line and two number signs before a bracket, are put apart wherever they
// stand, since lines are wrapped later.
func plain(text string) printed {
	var out strings.Builder
	last := rune(0)
	for i, c := range text {
		switch {
		case c == '\n' || c == '\r' || c == '\t' || c == '\u0085' || c == '\u2028' || c == '\u2029':
			c = ' '
		case unicode.IsControl(c) || turns(c):
			c = unicode.ReplacementChar
		case c == ':' && last == ':', c == '#' && last == '#' && strings.HasPrefix(text[i:], "#["):
			out.WriteByte(' ')
		}
		out.WriteRune(c)
		last = c
	}
	return printed(out.String())
}

// turns tells whether a character turns the direction in which text is written, so that
// it reads as something else than it is: the explicit marks of the Unicode bidirectional
// algorithm (UAX #9, section 2).
func turns(c rune) bool {
	return c >= '\u202a' && c <= '\u202e' || c >= '\u2066' && c <= '\u2069' || c == '\u200e' || c == '\u200f' || c == '\u061c'
}

// Plain makes text fit to be printed, as a line at most.
func Plain(text string) string { return string(plain(text)) }

// tableRow writes a row of a table of tabwriter's.
func tableRow(table io.Writer, cells ...string) {
	shown := make([]string, len(cells))
	for i, c := range cells {
		shown[i] = string(plain(c))
	}
	fmt.Fprintln(table, strings.Join(shown, "\t"))
}
