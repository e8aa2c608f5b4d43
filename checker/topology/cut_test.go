package topology

import (
	"slices"
	"strings"
	"testing"
)

// sides names what lies beyond a part's passage and on this side of it.
func sides(g *Graph, c *Cuts, part int) string {
	first, _ := g.Of(part)
	s, ok := c.Side(first)
	if !ok {
		return "another way round"
	}
	name := func(places []int) string {
		var names []string
		for _, n := range places {
			if n == AtReservoir {
				names = append(names, "*")
			} else {
				names = append(names, g.Nodes[n].Name)
			}
		}
		slices.Sort(names)
		return strings.Join(names, " ")
	}
	beyond := name(c.Order[s.Low:s.High])
	rest := name(append(slices.Clone(c.Order[s.First:s.Low]), c.Order[s.High:s.Last]...))
	return min(beyond, rest) + " | " + max(beyond, rest)
}

func TestCuts(t *testing.T) {
	g := lay(t, `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: out}
  delivery: {kind: hose, from: out, to: rail}
  left: {kind: hose, from: rail, to: far}
  right: {kind: hose, from: far, to: rail}
  valve: {kind: directional-valve, p: far, t: back, a: line, rest: 0}
  branch: {kind: hose, from: rail, to: use}
  user: {kind: consumer, from: use, to: back}
  lock: {kind: pilot-check-valve, from: line, to: port, pilot: far}
  ram: {kind: cylinder, head: port}
  home: {kind: tube, from: back, to: sump}
`)
	c := g.Cuts()
	for name, want := range map[string]string{
		"intake":   "* | inlet",
		"delivery": "* back far line rail use | out",
		"left":     "another way round",
		"right":    "another way round",
		"branch":   "* back far line out rail | use",
		"lock":     "another way round", // a check valve sets its own way
		"home":     "* | back far line out rail use",
	} {
		if got := sides(g, c, part(t, g, name)); got != want {
			t.Errorf("%s parts %q, want %q", name, got, want)
		}
	}
}
