package network

import (
	"flag"
	"fmt"
	"strings"
	"testing"

	"headroom/specs/readme"
)

var update = flag.Bool("update", false, "write the comparison with the independent solution into the README")

// TestCompareReadme holds the comparison that checker/README.md shows.
func TestCompareReadme(t *testing.T) {
	readme.Hold(t, "../README.md", "comparison", "go test ./checker/network -run Compare -update", comparisonTable(t), *update)
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
