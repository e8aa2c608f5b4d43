package topology

import "testing"

func TestBlocks(t *testing.T) {
	const ram = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  relief: {kind: relief-valve, from: rail, to: sump}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 10 mm, stroke: 50 mm}
`
	const worked = "cases: {c: {lasts: 1 s, commands: [{at: 0 s, valve: valve, to: 1}, {at: 0.5 s, valve: valve, to: -1}]}}\n"
	tests := []struct{ name, circuit, want string }{
		{"one valve for both sides opens one as it feeds the other",
			ram + "  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, rest: 0}\n" + worked, ""},
		{"a valve of its own on the rod side",
			ram + `
  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}
  other: {kind: directional-valve, p: rail, t: sump, a: rod, rest: 0}
` + worked, "other"},
		{"that valve leaks",
			ram + `
  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}
  other: {kind: directional-valve, p: rail, t: sump, a: rod, rest: 0, leak: {flow: 0.1 L/min, pressure: 100 bar}}
` + worked, ""},
		{"a check valve that holds the rod side up",
			ram + `
  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: low, rest: 0}
  hold: {kind: check-valve, from: low, to: rod}
` + worked, "hold"},
		{"with a relief valve beside it",
			ram + `
  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: low, rest: 0}
  hold: {kind: check-valve, from: low, to: rod}
  lower: {kind: relief-valve, from: rod, to: low}
` + worked, ""},
		{"a valve that is never told to press the head side",
			ram + "  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, rest: 0}\n", ""},
		{"a rod side that stands open",
			ram + "  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}\n  vent: {kind: hose, from: rod, to: sump}\n" + worked, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.circuit)
			got := ""
			if closer, can, _ := g.Shutter().Blocks(part(t, g, "ram")); can {
				got = g.Name(closer)
			}
			if got != tt.want {
				t.Errorf("blocked by %q, want %q", got, tt.want)
			}
		})
	}
}
