package topology

import (
	"strings"
	"testing"
)

func TestBlocks(t *testing.T) {
	const ram = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  relief: {kind: relief-valve, from: rail, to: sump}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 10 mm, stroke: 50 mm}
`
	const worked = "cases: {c: {lasts: 1 s, commands: [{at: 0 s, valve: valve, to: 1}, {at: 0.5 s, valve: valve, to: -1}]}}\n"
	const held = `
  valve: {kind: directional-valve, p: rail, t: sump, a: line, b: rod, rest: 0}
  hold: {kind: pilot-check-valve, from: line, to: head, pilot: rod}
`
	const drained = `
  bleed: {kind: orifice, from: line, to: back}
  second: {kind: relief-valve, from: rail, to: back}
`
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
		{"a held load is not pressed while its valve shuts both sides",
			ram + held + worked, ""},
		{"a valve of its own on the rod side of a held load",
			ram + strings.ReplaceAll(held, "b: rod", "b: low") + "  other: {kind: directional-valve, p: rail, t: sump, a: rod, rest: 0}\n" + worked, "other"},
		{"an accumulator presses on the held load",
			ram + held + "  store: {kind: accumulator, at: head}\n" + worked, "valve"},
		{"another cylinder presses on it",
			ram + held + "  mate: {kind: cylinder, head: head, bore: 20 mm, stroke: 50 mm}\n" + worked, "valve"},
		{"a pump of its own presses on it",
			ram + held + "  second: {kind: pump, from: sump, to: line}\n" + worked, "valve"},
		{"a bleed out of the held side's line into a return that drains presses on nothing",
			ram + strings.ReplaceAll(held, "t: sump", "t: back") + drained + "  home: {kind: filter, from: back, to: sump}\n" + worked, ""},
		{"out of a return that is dammed it presses",
			ram + strings.ReplaceAll(held, "t: sump", "t: back") + drained + "  home: {kind: orifice, from: back, to: sump}\n" + worked, "valve"},
		{"one out of a rail presses on it",
			ram + held + "  bleed: {kind: orifice, from: rail, to: line}\n" + worked, "valve"},
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

func TestJoins(t *testing.T) {
	const ram = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 10 mm, stroke: 50 mm}
`
	const worked = "cases: {c: {lasts: 1 s, commands: [{at: 0 s, valve: valve, to: 1}, {at: 0.5 s, valve: valve, to: -1}]}}\n"
	const spare = "  valve: {kind: directional-valve, p: rail, t: sump, a: away, rest: 0}\n"
	tests := []struct {
		name, circuit string
		want          bool
	}{
		{"one valve opens each side to the rail in turn", "  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, rest: 0}\n", false},
		{"a line that lies open beside the valve", "  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}\n  round: {kind: orifice, from: rail, to: rod}\n", true},
		{"a valve for each side", `
  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}
  other: {kind: directional-valve, p: rail, t: sump, a: rod, rest: 1}
`, true},
		{"a check valve towards the rod side", spare + "  round: {kind: check-valve, from: head, to: rod}\n", true},
		{"a check valve from the rod side", spare + "  round: {kind: check-valve, from: rod, to: head}\n", false},
		{"past a reservoir", spare + "  vent: {kind: hose, from: head, to: sump}\n  round: {kind: hose, from: rod, to: sump}\n", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, ram+tt.circuit+worked)
			if got := g.Shutter().Joins(part(t, g, "ram")); got != tt.want {
				t.Errorf("joined: %v, want %v", got, tt.want)
			}
		})
	}
}
