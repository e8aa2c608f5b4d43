package network

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the comparison with the independent solution into the README")

// TestCompareReadme holds the comparison that checker/README.md shows.
func TestCompareReadme(t *testing.T) {
	const file, command = "../README.md", "go test ./checker/network -run Compare -update"
	const begin, end = "<!-- comparison: made by " + command + " -->\n", "<!-- end of comparison -->\n"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(data), begin)
	old, after, foundEnd := strings.Cut(rest, end)
	if !found || !foundEnd {
		t.Fatalf("%s has no section of the comparison", file)
	}
	want := "\n" + comparisonTable(t) + "\n"
	switch {
	case *update:
		if err := os.WriteFile(file, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
	case old != want:
		t.Errorf("the comparison in %s is out of date: %s", file, command)
	}
}

// comparisonTable is, of each case, how many quantities are compared and the one
// that is farthest off, as a share of the accuracy asked.
func comparisonTable(t *testing.T) string {
	t.Helper()
	var lines strings.Builder
	cases, quantities, worst := 0, 0, 0.0
	for _, c := range independentCircuits(t) {
		ref := referenceOf(t, c)
		for i := range c.Cases {
			k := &c.Cases[i]
			cmp, _ := compareCase(t, c, k, ref)
			top := cmp.rows[0]
			fmt.Fprintf(&lines, "| %s | %s | %d | %.2f | %s |\n", c.Name.Value, k.Name, len(cmp.rows), top.share, top.what)
			cases, quantities, worst = cases+1, quantities+len(cmp.rows), max(worst, top.share)
		}
	}
	return fmt.Sprintf("%d quantities of %d cases; the farthest off takes %.2f of the accuracy asked.\n\n"+
		"| circuit | case | quantities | worst, share of the accuracy asked | which |\n|---|---|---:|---:|---|\n%s", quantities, cases, worst, lines.String())
}
