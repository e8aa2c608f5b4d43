package main

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// overlay lays a fragment over a base, both YAML in block style. A line of the
// fragment takes the place of the base's line of the same key below the same keys,
// with all that stands below it; a key alone only leads to what the fragment has
// below it. A key that the base has not comes last below its parent. A line of a list
// is known by its text up to the first comma. `KEY: # gone` takes a line out.
func overlay(base, edit string) (string, error) {
	lines := blockLines(base)
	var open []*blockLine
	for _, next := range blockLines(edit) {
		for len(open) > 0 && open[len(open)-1].indent >= next.indent {
			open = open[:len(open)-1]
		}
		from, to := 0, len(lines)
		if len(open) > 0 {
			from = slices.Index(lines, open[len(open)-1]) + 1
			to = endOf(lines, from, open[len(open)-1].indent)
		} else if next.indent > 0 {
			return "", fmt.Errorf("%q stands below nothing", next.text)
		}
		next.fresh = !next.leads
		at := to
		for i := from; i < to; i++ {
			if lines[i].key == next.key && lines[i].indent == next.indent && !lines[i].fresh {
				at = i
			}
		}
		switch {
		case next.gone && at == to:
			return "", fmt.Errorf("%q is not there to be taken out", next.text)
		case next.gone:
			lines = slices.Delete(lines, at, endOf(lines, at+1, next.indent))
		case at == to:
			lines = slices.Insert(lines, at, next)
		case next.leads:
			lines[at] = next
		default:
			lines = slices.Replace(lines, at, endOf(lines, at+1, next.indent), next)
		}
		open = append(open, next)
	}
	var text strings.Builder
	for _, l := range lines {
		text.WriteString(l.text + "\n")
	}
	return text.String(), nil
}

// A blockLine is a line of YAML in block style.
type blockLine struct {
	text, key string
	indent    int
	leads     bool // a key alone
	gone      bool // it is to be taken out
	fresh     bool // it came with the fragment
}

func blockLines(text string) []*blockLine {
	var lines []*blockLine
	for line := range strings.SplitSeq(strings.TrimRight(text, "\n"), "\n") {
		plain := marker.ReplaceAllString(line, "")
		for marker.MatchString(plain) {
			plain = marker.ReplaceAllString(plain, "")
		}
		l := &blockLine{text: line, indent: len(line) - len(strings.TrimLeft(line, " "))}
		plain = strings.TrimSpace(plain)
		plain, l.gone = strings.CutSuffix(plain, " # gone")
		if strings.HasPrefix(plain, "- ") {
			l.key, _, _ = strings.Cut(plain, ",")
		} else {
			key, value, _ := strings.Cut(plain, ":")
			l.key, l.leads = key, value == ""
		}
		lines = append(lines, l)
	}
	return lines
}

// endOf is where the lines from one on end that stand deeper than an indent.
func endOf(lines []*blockLine, from, indent int) int {
	for from < len(lines) && lines[from].indent > indent {
		from++
	}
	return from
}

func TestOverlay(t *testing.T) {
	const base = "a: 1\nb:\n  c: 2\n  d:\n    e: 3\n  f:\n    - {g: 4, h: 5}\n    - {g: 6, h: 7}\ni: 8\n"
	for edit, want := range map[string]string{
		"a: 9":                         "a: 9\n" + base[5:],
		"b:\n  d: 9":                   "a: 1\nb:\n  c: 2\n  d: 9\n" + base[strings.Index(base, "  f:"):],
		"b:\n  d:\n    k: 9":           strings.Replace(base, "e: 3\n", "e: 3\n    k: 9\n", 1),
		"b: # <- minor x y\n  c: 9":    strings.Replace(strings.Replace(base, "b:", "b: # <- minor x y", 1), "c: 2", "c: 9", 1),
		"b:\n  f:\n    - {g: 6, h: 9}": strings.Replace(base, "h: 7", "h: 9", 1),
		"b:\n  f:\n    - {g: 9}":       strings.Replace(base, "h: 7}\n", "h: 7}\n    - {g: 9}\n", 1),
		"b:\n  d: # gone":              strings.Replace(base, "  d:\n    e: 3\n", "", 1),
		"i: 8\ni: 9":                   base + "i: 9\n",
		"j:\n  k: 9":                   base + "j:\n  k: 9\n",
	} {
		if got, err := overlay(base, edit); err != nil || got != want {
			t.Errorf("%q gives\n%s%v", edit, got, err)
		}
	}
	for _, edit := range []string{"  c: 9", "z: # gone"} {
		if _, err := overlay(base, edit); err == nil {
			t.Errorf("%q was laid over", edit)
		}
	}
}
