package topology

import (
	"slices"
	"strings"
	"testing"

	"headroom/specs"
)

// lay reads the parts (and further top-level sections) of a small circuit. Its
// parts say no more than the graph needs, so the spec's problems do not count,
// but for those of its form.
func lay(t testing.TB, text string) *Graph {
	t.Helper()
	c := specs.Read("small.yaml", []byte("headroom: 1\ncircuit: small\nfluid: {like: hm-32}\n"+text))
	for _, p := range c.Problems {
		if p.Rule == "spec.syntax" || p.Rule == "spec.reference" || p.Rule == "spec.unknown-key" || p.Rule == "spec.unit" {
			t.Fatalf("%v", p)
		}
	}
	return New(c)
}

// part is a part's index by name.
func part(t testing.TB, g *Graph, name string) int {
	t.Helper()
	i, ok := g.Part(name)
	if !ok {
		t.Fatalf("no part %s", name)
	}
	return i
}

// nodes names the nodes of a set, in the order of the circuit.
func (g *Graph) named(s Set) string {
	var names []string
	for n, in := range s {
		if in {
			names = append(names, g.Nodes[n].Name)
		}
	}
	return strings.Join(names, " ")
}

func (g *Graph) partNames(parts []int) string {
	var names []string
	for _, p := range parts {
		names = append(names, g.Name(p))
	}
	return strings.Join(names, " ")
}

// hillside is the part of a vehicle's circuit that most tests look at: a pump
// with a check valve, an accumulator behind it, a valve, a cylinder, returns.
const hillside = `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: out}
  relief: {kind: relief-valve, from: out, to: back}
  check: {kind: check-valve, from: out, to: rail}
  store: {kind: accumulator, at: rail}
  valve: {kind: directional-valve, p: rail, t: back, a: head, b: rod, rest: 0}
  ram: {kind: cylinder, head: head, rod: far, bore: 20 mm, stroke: 50 mm}
  pipe: {kind: tube, from: rod, to: far}
  return: {kind: tube, from: back, to: dirty}
  filter: {kind: filter, from: dirty, to: sump}
`

func TestPortsAndPassages(t *testing.T) {
	g := lay(t, hillside)
	for name, want := range map[string]int{"sump": 3, "inlet": 2, "out": 3, "rail": 3, "back": 3, "head": 2, "rod": 2, "far": 2, "dirty": 2} {
		n, ok := g.Node(name)
		if !ok || len(g.Nodes[n].Ports) != want {
			t.Errorf("%s has %d ports, want %d", name, len(g.Nodes[n].Ports), want)
		}
	}
	// A four-way valve: p-a, a-t, p-b, b-t; no leak is stated.
	edges := 0
	for _, p := range g.Passages {
		if p.Part == part(t, g, "valve") {
			edges++
		}
	}
	if edges != 4 {
		t.Errorf("the valve has %d edges, want 4", edges)
	}
	if _, ok := g.Node("nowhere"); ok {
		t.Error("a node that nobody names is found")
	}
}

// With one reservoir a pump's slip goes to it; with two, where the spec says.
func TestSlipGoesToTheReservoir(t *testing.T) {
	slips := func(g *Graph) (to []string) {
		for _, p := range g.Passages {
			if p.Way == Slip {
				to = append(to, g.Nodes[p.To].Name)
			}
		}
		return to
	}
	one := lay(t, hillside)
	if got := slips(one); !slices.Equal(got, []string{"sump"}) {
		t.Errorf("one reservoir: slip goes to %v", got)
	}
	two := lay(t, hillside+"  spare: {kind: reservoir, at: upper}\n  second: {kind: pump, from: upper, to: out, drain: upper}\n")
	if got := slips(two); !slices.Equal(got, []string{"upper"}) {
		t.Errorf("two reservoirs, one drain stated: slip goes to %v", got)
	}
}

func TestLeakPassages(t *testing.T) {
	leaky := `
parts:
  tank: {kind: reservoir, at: sump}
  three: {kind: directional-valve, p: rail, t: sump, a: line, rest: -1, leak: {flow: 0.1 L/min, pressure: 100 bar}}
  tight: {kind: directional-valve, p: rail, t: sump, a: line, rest: -1, leak: {flow: 0 L/min, pressure: 100 bar}}
`
	g := lay(t, leaky)
	var edges []Edge
	for _, p := range g.Passages {
		if p.Way == Leak {
			if g.Name(p.Part) != "three" {
				t.Errorf("%s leaks", g.Name(p.Part))
			}
			edges = append(edges, p.Edge)
		}
	}
	if !slices.Equal(edges, []Edge{PT, PA, AT}) {
		t.Errorf("leaks past %v, want p-t, p-a and a-t", edges)
	}
}
