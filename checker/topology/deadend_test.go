package topology

import "testing"

// Where the oil of a chamber only moves to and fro, and by which valve.
func TestDeadEnd(t *testing.T) {
	const base = `parts:
  tank: {kind: reservoir, at: sump}
  valve: {kind: directional-valve, p: rail, t: sump, a: line}
  ram: {kind: cylinder, head: head, bore: 40 mm, stroke: 500 mm}
`
	tests := []struct {
		name, more string
		dead       bool
	}{
		{"a hose", "  hose: {kind: hose, from: line, to: head, bore: 10 mm, length: 1 m}\n", true},
		{"a lock valve", "  lock: {kind: pilot-check-valve, from: line, to: head, pilot: rail, ratio: 3}\n", true},
		{"a regulator with a check valve round it", "  regulator: {kind: flow-regulator, from: head, to: line}\n  check: {kind: check-valve, from: line, to: head}\n", true},
		{"a regulator alone", "  regulator: {kind: flow-regulator, from: head, to: line}\n", true},
		{"a valve that does not reach it", "", false},
		{"a pump of its own besides", "  hose: {kind: hose, from: line, to: head, bore: 10 mm, length: 1 m}\n  pump: {kind: pump, from: sump, to: head}\n", false},
		{"an accumulator besides", "  hose: {kind: hose, from: line, to: head, bore: 10 mm, length: 1 m}\n  store: {kind: accumulator, at: line}\n", false},
		{"a second valve", "  hose: {kind: hose, from: line, to: head, bore: 10 mm, length: 1 m}\n  second: {kind: directional-valve, p: head, t: sump, a: aside}\n", false},
		{"a motor on the same line", "  hose: {kind: hose, from: line, to: head, bore: 10 mm, length: 1 m}\n  motor: {kind: motor, from: line, to: sump}\n", false},
		{"an orifice to the reservoir", "  hose: {kind: hose, from: line, to: head, bore: 10 mm, length: 1 m}\n  bleed: {kind: orifice, from: head, to: sump, diameter: 1 mm}\n", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, base+tt.more)
			head, _ := g.Node("head")
			valve, _ := g.Part("valve")
			nodes, by, dead := g.DeadEnd(head)
			if dead != tt.dead || dead && by != valve {
				t.Errorf("a dead end: %v, by part %d; want %v, by %d", dead, by, tt.dead, valve)
			}
			if line, _ := g.Node("line"); dead && !nodes[line] {
				t.Error("the line is not part of it")
			}
		})
	}
}
