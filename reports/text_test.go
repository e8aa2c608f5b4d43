package reports

import (
	"strings"
	"testing"

	"headroom/rules"
)

// Exact output: none, some and unreadable, one circuit and several.
func TestTextExactly(t *testing.T) {
	expect(t, "none.txt", told(t, "text", Options{}, Run{}, clean()))
	expect(t, "some.txt", told(t, "text", Options{}, Run{Today: "2026-11-25", Skipped: 2, Notices: []string{"a remark"}}, broken(), clean(), unreadable()))
	expect(t, "empty.txt", told(t, "text", Options{}, Run{}))
	expect(t, "partial.txt", told(t, "text", Options{}, Run{}, partial(), partial(), pack()))
	expect(t, "pack.txt", told(t, "text", Options{}, Run{}, pack(), pack()))
	expect(t, "colour.txt", told(t, "text", Options{Color: true}, Run{}, broken()))
}

// Text keeps to its width, whatever colours are in it.
func TestTextWidth(t *testing.T) {
	for line := range strings.Lines(string(told(t, "text", Options{}, Run{}, broken(), clean(), partial(), pack(), wanting()))) {
		if n := columns(strings.TrimSuffix(line, "\n")); n > width {
			t.Errorf("%d columns: %s", n, line)
		}
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text           string
		first, further int
		want           []string
	}{
		{"", 0, 0, []string{""}},
		{"one two three", 0, 0, []string{"one two", "three"}},
		{"one two three", 4, 0, []string{"one", "two three"}},
		{"one two three", 0, 6, []string{"one two", "three"}},
		{"unbreakable-word x", 0, 0, []string{"unbreakable-word", "x"}},
		{"12 °C ÷ 3", 0, 0, []string{"12 °C ÷ 3"}},
	} {
		if got := wrapBehind(c.text, c.first, c.further, 9); strings.Join(got, "|") != strings.Join(c.want, "|") {
			t.Errorf("wrapBehind(%q, %d, %d) = %q, want %q", c.text, c.first, c.further, got, c.want)
		}
	}
}

// A conceded finding is counted as such alone, and does not fail a run.
func TestCounts(t *testing.T) {
	j := broken().Judgement
	want := Counts{Critical: 1, Minor: 1, Conceded: 1, Assessed: 3, NotAssessed: 3}
	if got := CountsOf(j); got != want {
		t.Errorf("CountsOf = %+v, want %+v", got, want)
	}
	if worst, any := Worst(j); worst != rules.Critical || !any {
		t.Errorf("Worst = %v, %v", worst, any)
	}
	if _, any := Worst(clean().Judgement); any {
		t.Error("a clean circuit has a worst finding")
	}
}
