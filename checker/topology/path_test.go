package topology

import (
	"math"
	"testing"
)

func TestCheapest(t *testing.T) {
	g := lay(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  long: {kind: hose, from: out, to: far}
  short: {kind: hose, from: out, to: mid}
  check: {kind: check-valve, from: mid, to: far}
  shut: {kind: directional-valve, p: far, t: sump, a: beyond, rest: 1}
  relief: {kind: relief-valve, from: far, to: low}
  home: {kind: filter, from: low, to: sump}
`)
	costs := map[string]float64{"long": 10, "short": 2, "check": 3, "home": 4}
	cost := func(i int) float64 { return costs[g.Name(g.Passages[i].Part)] }
	inf := math.Inf(1)
	tests := []struct {
		start string
		d     Direction
		want  map[string]float64
	}{
		{"far", Upstream, map[string]float64{"far": 0, "mid": 3, "out": 5, "beyond": inf, "sump": inf}},
		{"far", Downstream, map[string]float64{"far": 0, "out": 10, "mid": 12}}, // back by the long hose, not by the check valve
		{"low", Downstream, map[string]float64{"low": 0, "sump": 4, "out": inf}},
	}
	for _, tt := range tests {
		start, _ := g.Node(tt.start)
		got := g.Cheapest(start, tt.d, cost)
		for name, want := range tt.want {
			if n, _ := g.Node(name); got[n] != want {
				t.Errorf("from %s: %s costs %v, want %v", tt.start, name, got[n], want)
			}
		}
	}
}
