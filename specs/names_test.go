package specs

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestNearest(t *testing.T) {
	known := []string{"from", "to", "displacement", "pressure", "temperature", "rail", "Filter"}
	for word, want := range map[string]string{
		"form": "from", "displacment": "displacement", "presure": "pressure", "temprature": "temperature", "filter": "Filter", "TO": "to",
		"x": "", "ot": "", "bore": "", "": "", "rial": "rail", "displacement2": "displacement", strings.Repeat("a", 1000): "",
	} {
		if got := nearest(word, known); got != want {
			t.Errorf("nearest to %q is %q, want %q", word, got, want)
		}
	}
	if got := nearest("abd", []string{"abc", "abe"}); got != "abc" {
		t.Errorf("of two as near the first is meant, not %s", got)
	}
}

// edits against the definition of the optimal string alignment distance, by
// plain recursion.
func TestEdits(t *testing.T) {
	var slow func(a, b string) int
	slow = func(a, b string) int {
		i, j := len(a), len(b)
		switch {
		case i == 0:
			return j
		case j == 0:
			return i
		}
		cost := 1
		if a[i-1] == b[j-1] {
			cost = 0
		}
		least := min(slow(a[:i-1], b)+1, slow(a, b[:j-1])+1, slow(a[:i-1], b[:j-1])+cost)
		if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
			least = min(least, slow(a[:i-2], b[:j-2])+1)
		}
		return least
	}
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[abc]{0,6}`)
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if got, want := edits(a, b), slow(a, b); got != want {
			t.Fatalf("%q to %q takes %d, want %d", a, b, got, want)
		}
	})
}

// TestLike holds which names are offered for one that is not known.
func TestNamesAlike(t *testing.T) {
	known := []string{"strength.burst-factor", "strength.surge", "hose-1sn", "hose-2sn", "hose-4sp", "hose-r12", "main-pump", "shift-cylinder at head, NBR", "hm-32"}
	for word, want := range map[string]string{
		"strength.burst":   "strength.burst-factor",
		"burst-factor":     "strength.burst-factor",
		"strength.surgee":  "strength.surge",
		"hose":             "hose-1sn, hose-2sn, hose-4sp",
		"HOSE-R":           "hose-r12",
		"pmp":              "main-pump",
		"hm-33":            "hm-32",
		"shift-cylindr":    "shift-cylinder at head, NBR",
		"shift-cylinder":   "shift-cylinder at head, NBR",
		"cylindr":          "shift-cylinder at head, NBR",
		"nothing-like-any": "",
		"":                 "",
	} {
		if got := strings.Join(Like(word, known), ", "); got != want {
			t.Errorf("%q is like %q, not %q", word, got, want)
		}
	}
}
