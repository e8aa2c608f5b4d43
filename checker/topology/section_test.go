package topology

import "testing"

func TestSections(t *testing.T) {
	g := lay(t, `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: out}
  delivery: {kind: hose, from: out, to: far}
  filter: {kind: filter, from: far, to: clean}
  bypass: {kind: orifice, from: clean, to: side}
  cooler: {kind: cooler, from: side, to: cold}
  check: {kind: check-valve, from: cold, to: rail}
  regulator: {kind: flow-regulator, from: rail, to: slow}
  home: {kind: tube, from: slow, to: sump}
`)
	tests := []struct{ node, section, openTo string }{
		{"out", "out far clean side cold", ""}, // lines, filter, orifice and cooler always join
		{"rail", "rail", ""},                   // a check valve and a flow regulator divide
		{"slow", "slow", "sump"},
		{"inlet", "inlet", "sump"}, // the reservoir joins suction and return, but not their pressures
		{"sump", "sump", ""},
	}
	for _, tt := range tests {
		n, _ := g.Node(tt.node)
		s := g.Sections[g.Nodes[n].Section]
		members, open := make(Set, len(g.Nodes)), make(Set, len(g.Nodes))
		for _, n := range s.Nodes {
			members[n] = true
		}
		for _, n := range s.OpenTo {
			open[n] = true
		}
		if got := g.named(members); got != tt.section {
			t.Errorf("section of %s is %q, want %q", tt.node, got, tt.section)
		}
		if got := g.named(open); got != tt.openTo {
			t.Errorf("section of %s opens to %q, want %q", tt.node, got, tt.openTo)
		}
	}
	n, _ := g.Node("out")
	if got, want := g.partNames(g.Sections[g.Nodes[n].Section].Parts), "pump delivery filter bypass cooler check"; got != want {
		t.Errorf("parts %q, want %q", got, want)
	}
}
