package topology

import (
	"fmt"
	"strings"
	"testing"
)

func TestTrapped(t *testing.T) {
	const tank = "parts:\n  tank: {kind: reservoir, at: sump}\n"
	const between = tank + "  first: {kind: check-valve, from: sump, to: a}\n  pipe: {kind: tube, from: a, to: b}\n"
	const ram = tank + `
  pump: {kind: pump, from: sump, to: rail}
  relief: {kind: relief-valve, from: rail, to: sump}
  pipe: {kind: tube, from: head, to: far}
`
	const single = "  ram: {kind: cylinder, head: far, bore: 20 mm, stroke: 50 mm}\n"
	const double = "  ram: {kind: cylinder, head: far, rod: rod, bore: 20 mm, rod_diameter: 10 mm, stroke: 50 mm}\n"
	const centred = "  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, rest: 0}\n"
	const leaky = "  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, rest: 0, leak: {flow: 0.1 L/min, pressure: 100 bar}}\n"
	const three = "  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}\n"
	extended := "cases: {c: {lasts: 1 s, expects: [{part: ram, reaches: 50 mm, within: 1 s}]}}\n"

	tests := []struct{ name, circuit, want string }{
		{"between two check valves outwards in", between + "  second: {kind: check-valve, from: sump, to: b}\n", "a b"},
		{"a check valve outwards", between + "  second: {kind: check-valve, from: b, to: sump}\n", ""},
		{"a check valve outwards into what is shut too", between + "  out: {kind: check-valve, from: b, to: c}\n  on: {kind: tube, from: c, to: d}\n", "a b c d | c d"},
		{"a relief valve outwards", between + "  out: {kind: relief-valve, from: b, to: sump}\n", ""},
		{"a relief valve that opens into it", between + "  in: {kind: relief-valve, from: sump, to: b}\n", "a b"},
		{"an accumulator", between + "  store: {kind: accumulator, at: b}\n", ""},
		{"a flow regulator outwards", between + "  out: {kind: flow-regulator, from: b, to: sump}\n", ""},
		{"a flow regulator that opens into it", between + "  in: {kind: flow-regulator, from: sump, to: b}\n", "a b"},
		{"a consumer draws only when it is used", between + "  use: {kind: consumer, from: b, to: sump}\n", "a b"},
		{"an orifice always leads on", between + "  bleed: {kind: orifice, from: b, to: sump}\n", ""},
		{"a pump slips", tank + "  pump: {kind: pump, from: sump, to: a}\n  pipe: {kind: tube, from: a, to: b}\n  stop: {kind: check-valve, from: sump, to: b}\n", ""},
		{"a motor turns", between + "  motor: {kind: motor, from: b, to: sump}\n", ""},
		{"a reducing valve opens its held port to t", between + "  valve: {kind: reducing-valve, p: sump, a: b, t: sump}\n", ""},
		{"a reducing valve shuts its supply", between + "  valve: {kind: reducing-valve, p: b, a: sump, t: sump}\n", "a b"},
		{"a reducing valve shuts its return from behind", between + "  valve: {kind: reducing-valve, p: sump, a: sump, t: b}\n", "a b"},
		{"a pilot check valve shuts", between + "  lock: {kind: pilot-check-valve, from: sump, to: b, pilot: sump}\n", "a b"},
		{"a loose end is told elsewhere", tank + "  first: {kind: check-valve, from: sump, to: a}\n", ""},

		{"a closed centre and a piston free to move out", ram + three + single, ""},
		{"a piston at its stop is not free", ram + three + single + extended, "head far"},
		{"a closed centre shuts both chambers; the rod side cannot move a retracted piston, the head side presses on the rod side",
			ram + centred + double, "head far rod | rod"},
		{"a leak is a way out", ram + leaky + double, ""},
		{"a two-position valve always joins the cylinder to one side",
			ram + "  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: -1}\n" + single + "cases: {c: {lasts: 1 s, commands: [{at: 0 s, valve: valve, to: 1}]}}\n", ""},
		{"a two-position valve that a fault holds in its middle",
			ram + "  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: -1}\n" + single +
				"cases: {c: {lasts: 1 s, with: {valve: {stuck: 0}}, expects: [{part: ram, reaches: 50 mm, within: 1 s}]}}\n", "head far"},
		{"its supply is shut at rest", tank + `
  first: {kind: check-valve, from: sump, to: a}
  pipe: {kind: tube, from: a, to: b}
  valve: {kind: directional-valve, p: b, t: sump, a: line, rest: -1}
  ram: {kind: cylinder, head: line, bore: 20 mm, stroke: 50 mm}
`, "a b"},
		{"a four-way valve without a centre joins the supply to a chamber", tank + `
  first: {kind: check-valve, from: sump, to: a}
  pipe: {kind: tube, from: a, to: b}
  valve: {kind: directional-valve, p: b, t: sump, a: head, b: rod, rest: -1}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 10 mm, stroke: 50 mm}
`, "a b rod"}, // p→b: the rod side, which cannot move a retracted piston
		{"a shuttle valve joins its outlet to the one inlet or the other", tank + `
  first: {kind: check-valve, from: sump, to: a}
  second: {kind: check-valve, from: sump, to: b}
  shuttle: {kind: shuttle-valve, a: a, b: b, to: c}
  use: {kind: consumer, from: c, to: sump}
`, "a c | b c"},
		{"a shuttle valve whose inlets are both open", tank + `
  one: {kind: orifice, from: a, to: sump}
  other: {kind: orifice, from: b, to: sump}
  shuttle: {kind: shuttle-valve, a: a, b: b, to: c}
  use: {kind: consumer, from: c, to: sump}
`, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.circuit)
			var sets []string
			for _, tr := range g.Shutter().Trapped() {
				in := make(Set, len(g.Nodes))
				for _, n := range tr.Nodes {
					in[n] = true
				}
				sets = append(sets, g.named(in))
			}
			if got := strings.Join(sets, " | "); got != tt.want {
				t.Errorf("trapped %q, want %q", got, tt.want)
			}
		})
	}
}

// A chain of fifteen two-position valves, each of which leads on to the next either
// way, and the last to the reservoir: the search must give up on it soon, not after
// 2^15 states, and say so. With a few valves it finds that nothing closes it.
func TestTrappedIsBounded(t *testing.T) {
	chain := func(valves int) map[string]bool {
		var b strings.Builder
		b.WriteString("parts:\n  tank: {kind: reservoir, at: sump}\n  first: {kind: check-valve, from: sump, to: n0}\n  pipe: {kind: tube, from: n0, to: m}\n")
		for i := range valves {
			fmt.Fprintf(&b, "  v%d: {kind: directional-valve, p: n%d, t: t%d, a: a%d, b: b%d, rest: 1}\n", i, i, i, i, i)
			for _, side := range []string{"a", "b"} {
				fmt.Fprintf(&b, "  %s%d-on: {kind: orifice, from: %s%d, to: n%d}\n", side, i, side, i, i+1)
			}
		}
		fmt.Fprintf(&b, "  last: {kind: orifice, from: n%d, to: sump}\ncases:\n  c:\n    lasts: 1 s\n    commands:\n", valves)
		for i := range valves {
			fmt.Fprintf(&b, "      - {at: 0 s, valve: v%d, to: -1}\n", i)
		}
		g := lay(t, b.String())
		untold := map[string]bool{}
		for _, set := range g.Shutter().Trapped() {
			if !set.Untold {
				t.Errorf("%s is told as trapped", g.nodeNames(set.Nodes))
			}
			untold[g.Nodes[set.Nodes[0]].Name] = true
		}
		return untold
	}
	if untold := chain(6); len(untold) > 0 {
		t.Errorf("with 6 valves not known of %v", untold)
	}
	if untold := chain(15); !untold["n0"] || untold["n10"] {
		t.Errorf("with 15 valves not known of %v, want n0 among them and not n10", untold)
	}
}
