package review

import (
	"bytes"
	"strings"

	"headroom/specs"
)

// An excerptLine is one line of a file: what stands before, in and after the span that
// a finding points to.
type excerptLine struct {
	Number                int
	Before, Marked, After string
	Hit                   bool
}

// How many lines are shown around a span, and at most of the span itself.
const (
	aroundSpan = 2
	mostOfSpan = 6
)

// excerpt is the lines around a span; none where the text or the place is not known.
func excerpt(text []byte, at specs.Span) (out []excerptLine) {
	if len(text) == 0 || at.Line == 0 {
		return nil
	}
	lines := strings.Split(string(bytes.TrimPrefix(text, []byte("\ufeff"))), "\n")
	end := min(max(at.EndLine, at.Line), at.Line+mostOfSpan-1)
	for n := max(1, at.Line-aroundSpan); n <= min(end+aroundSpan, len(lines)); n++ {
		line := []rune(clip(strings.TrimSuffix(lines[n-1], "\r")))
		from, to := len(line), len(line)
		if n >= at.Line && n <= end {
			from, to = 0, len(line)
			if n == at.Line {
				from = min(max(at.Column-1, 0), len(line))
			}
			if n == at.EndLine {
				to = min(max(at.EndColumn-1, from), len(line))
			}
			if n > at.Line {
				for from < to && line[from] == ' ' {
					from++
				}
			}
		}
		out = append(out, excerptLine{n, string(line[:from]), string(line[from:to]), string(line[to:]), n >= at.Line && n <= end})
	}
	for len(out) > 0 && !out[len(out)-1].Hit && out[len(out)-1].Before == "" {
		out = out[:len(out)-1]
	}
	return out
}

// longestLine is how much of a line is shown.
const longestLine = 400

func clip(line string) string {
	if len(line) <= longestLine {
		return line
	}
	return string([]rune(line)[:min(longestLine, len([]rune(line)))])
}
