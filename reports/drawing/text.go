package drawing

import (
	"encoding/xml"
	"strings"
	"unicode/utf8"
)

// Sizes of letters and the distance of lines, in pixels.
const (
	nameSize   = 11.0
	markSize   = 10.0
	nodeSize   = 9.0
	titleSize  = 17.0
	lineHeight = 13.0
	nameWidth  = 15 // characters of a name before it is broken
)

// widthOf estimates how wide a text is, on the safe side: by the widths of a broad
// sans-serif face (DejaVu Sans, measured), so that a narrower one fits too.
func widthOf(text string, size float64) float64 {
	sum := 0.0
	for _, r := range text {
		switch {
		case strings.ContainsRune("iljI|.,:;'!()[] ", r):
			sum += 0.40
		case strings.ContainsRune("mwMW%@", r):
			sum += 1.0
		case r >= 'A' && r <= 'Z':
			sum += 0.78
		case r > 0x2e80: // ideographs
			sum += 1.05
		case strings.ContainsRune("frt-", r):
			sum += 0.43
		case r == '−' || r == '<' || r == '>' || r == '=' || r == '+':
			sum += 0.84
		default:
			sum += 0.64
		}
	}
	return sum * size
}

// broken breaks a name into lines at its hyphens, or anywhere in a word that is too long.
func broken(name string) []string {
	var lines []string
	line := ""
	flush := func() {
		if line != "" {
			lines = append(lines, line)
		}
		line = ""
	}
	for _, word := range strings.SplitAfter(name, "-") {
		for utf8.RuneCountInString(word) > nameWidth {
			flush()
			runes := []rune(word)
			lines = append(lines, string(runes[:nameWidth]))
			word = string(runes[nameWidth:])
		}
		if utf8.RuneCountInString(line)+utf8.RuneCountInString(word) > nameWidth {
			flush()
		}
		line += word
	}
	flush()
	return lines
}

// escape makes a text fit for XML: what XML cannot hold becomes U+FFFD.
func escape(text string) string {
	var out strings.Builder
	_ = xml.EscapeText(&out, []byte(text)) // a Builder takes all
	return out.String()
}
