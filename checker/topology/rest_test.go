package topology

import "testing"

func TestAtRest(t *testing.T) {
	const base = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: check-valve, from: out, to: rail}
  store: {kind: accumulator, at: rail}
`
	tests := []struct {
		name, parts string
		node        string
		pressed     bool
		drained     bool
		held        string
	}{
		{"extended at rest", base + "  v: {kind: directional-valve, p: rail, t: sump, a: a, b: b, rest: 1}\n", "a", true, false, ""},
		{"its other side", base + "  v: {kind: directional-valve, p: rail, t: sump, a: a, b: b, rest: 1}\n", "b", false, true, ""},
		{"a partly open spool counts as open", base + "  v: {kind: directional-valve, p: rail, t: sump, a: a, b: b, rest: -0.2}\n", "b", true, false, ""},
		{"three ports at rest to t", base + "  v: {kind: directional-valve, p: rail, t: sump, a: a, rest: -1}\n", "a", false, true, ""},
		{"closed centre", base + "  v: {kind: directional-valve, p: rail, t: sump, a: a, b: b, rest: 0, leak: {flow: 1 L/min, pressure: 10 bar}}\n", "a", false, false, ""},
		{"a reducing valve", base + "  v: {kind: reducing-valve, p: rail, a: a, t: sump, rest: 0 bar}\n  h: {kind: hose, from: a, to: far}\n", "far", false, false, "v"},
		{"a check valve lets pressure in and keeps it", base + "  c: {kind: check-valve, from: rail, to: a}\n", "a", true, false, ""},
		{"a check valve lets it out", base + "  c: {kind: check-valve, from: a, to: sump}\n", "a", false, true, ""},
		{"a pilot check valve that the rail opens", base + "  c: {kind: pilot-check-valve, from: sump, to: a, pilot: rail}\n", "a", false, true, ""},
		{"a pilot check valve that nothing opens", base + "  c: {kind: pilot-check-valve, from: sump, to: a, pilot: sump}\n", "a", false, false, ""},
		{"two valves in a row", base + `
  v: {kind: directional-valve, p: rail, t: sump, a: mid, rest: 1}
  w: {kind: directional-valve, p: mid, t: sump, a: a, rest: 1}
`, "a", true, false, ""},
		{"the second valve drains it", base + `
  v: {kind: directional-valve, p: rail, t: sump, a: mid, rest: 1}
  w: {kind: directional-valve, p: mid, t: sump, a: a, rest: -1}
`, "a", false, true, ""},
		{"a relief valve is no drain", base + "  r: {kind: relief-valve, from: a, to: sump}\n", "a", false, false, ""},
		{"an orifice drains what is pressed", base + `
  v: {kind: directional-valve, p: rail, t: sump, a: a, rest: 1}
  o: {kind: orifice, from: a, to: sump}
`, "a", true, true, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.parts)
			r := g.AtRest()
			n, ok := g.Node(tt.node)
			if !ok {
				t.Fatalf("no node %s", tt.node)
			}
			held := ""
			if r.Held[n] >= 0 {
				held = g.Name(r.Held[n])
			}
			if r.Pressed[n] != tt.pressed || r.Drained[n] != tt.drained || held != tt.held {
				t.Errorf("pressed %v, drained %v, held by %q; want %v, %v, %q", r.Pressed[n], r.Drained[n], held, tt.pressed, tt.drained, tt.held)
			}
		})
	}
}
