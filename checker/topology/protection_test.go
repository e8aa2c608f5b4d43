package topology

import "testing"

func TestProtected(t *testing.T) {
	tests := []struct{ name, parts, want string }{
		{"beside the pump, before the check valve", hillside, "out"},
		{"behind the check valve it protects both sides", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: check-valve, from: out, to: rail}
  relief: {kind: relief-valve, from: rail, to: sump}
`, "out rail"},
		{"behind a check valve that shuts against it", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: check-valve, from: far, to: out}
  relief: {kind: relief-valve, from: far, to: sump}
`, "far"},
		{"behind a valve that can be shut", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  shut: {kind: directional-valve, p: out, t: sump, a: far, rest: 1}
  relief: {kind: relief-valve, from: far, to: sump}
`, "far"},
		{"behind a flow regulator, which holds back the pump's flow", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  regulator: {kind: flow-regulator, from: out, to: far}
  relief: {kind: relief-valve, from: far, to: sump}
`, "far"},
		{"two ways round, one of them shut", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  shut: {kind: directional-valve, p: out, t: sump, a: far, rest: 0}
  beside: {kind: orifice, from: out, to: far}
  relief: {kind: relief-valve, from: far, to: sump}
`, "out far"},
		{"a ring of lines", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: a}
  ab: {kind: hose, from: a, to: b}
  bc: {kind: hose, from: c, to: b}
  ca: {kind: hose, from: c, to: a}
  relief: {kind: relief-valve, from: c, to: sump}
`, "a b c"},
		{"a reservoir ends it", `
parts:
  tank: {kind: reservoir, at: sump}
  up: {kind: hose, from: sump, to: out}
  down: {kind: hose, from: sump, to: far}
  relief: {kind: relief-valve, from: far, to: sump}
`, "sump far"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.parts)
			if got := g.named(g.Protected(part(t, g, "relief"))); got != tt.want {
				t.Errorf("protects %q, want %q", got, tt.want)
			}
		})
	}
}

func TestDischarge(t *testing.T) {
	tests := []struct {
		name, parts string
		want        bool
	}{
		{"through tube and filter", hillside, true},
		{"straight", "parts:\n  tank: {kind: reservoir, at: sump}\n  relief: {kind: relief-valve, from: p, to: sump}\n", true},
		{"past a check valve with the flow", `
parts:
  tank: {kind: reservoir, at: sump}
  relief: {kind: relief-valve, from: p, to: low}
  check: {kind: check-valve, from: low, to: sump}
`, true},
		{"past a check valve against it", `
parts:
  tank: {kind: reservoir, at: sump}
  relief: {kind: relief-valve, from: p, to: low}
  check: {kind: check-valve, from: sump, to: low}
`, false},
		{"past a valve", `
parts:
  tank: {kind: reservoir, at: sump}
  relief: {kind: relief-valve, from: p, to: low}
  valve: {kind: directional-valve, p: low, t: sump, a: sump, rest: 1}
`, false},
		{"into another relief valve", `
parts:
  tank: {kind: reservoir, at: sump}
  relief: {kind: relief-valve, from: p, to: low}
  second: {kind: relief-valve, from: low, to: sump}
`, false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.parts)
			n, got := g.Discharge(part(t, g, "relief"))
			if got != tt.want || got && g.Nodes[n].Name != "sump" {
				t.Errorf("reaches a reservoir: %v, want %v", got, tt.want)
			}
		})
	}
}

func TestVents(t *testing.T) {
	g := lay(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  hose: {kind: hose, from: out, to: warm}
  cooler: {kind: cooler, from: warm, to: sump}
  second: {kind: pump, from: sump, to: far}
  filter: {kind: filter, from: far, to: sump}
`)
	for name, want := range map[string]bool{"out": true, "far": false} { // a filter may clog
		if n, _ := g.Node(name); g.Vents(n) != want {
			t.Errorf("%s vents: %v, want %v", name, !want, want)
		}
	}
}

func TestFed(t *testing.T) {
	g := lay(t, hillside+"  second: {kind: pump, from: sump, to: rail}\n")
	if got, want := g.named(g.Fed(part(t, g, "pump"))), "out rail"; got != want {
		t.Errorf("the pump before the check valve feeds %q, want %q", got, want)
	}
	if got, want := g.named(g.Fed(part(t, g, "second"))), "rail"; got != want {
		t.Errorf("the pump behind it feeds %q, want %q", got, want)
	}
}

func TestDriver(t *testing.T) {
	const relieved = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: check-valve, from: out, to: rail}
  store: {kind: accumulator, at: rail}
  relief: {kind: relief-valve, from: rail, to: back}
  valve: {kind: directional-valve, p: out, t: back, a: far, rest: -1}
  throttle: {kind: orifice, from: far, to: back}
`
	tests := []struct{ name, parts, want string }{
		{"a check valve stops it", hillside, ""},
		{"nothing between", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  hose: {kind: hose, from: out, to: rail}
  store: {kind: accumulator, at: rail}
`, "store"},
		{"a check valve the wrong way round", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: check-valve, from: rail, to: out}
  store: {kind: accumulator, at: rail}
`, "store"},
		{"past a valve that may stand open", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  valve: {kind: directional-valve, p: out, t: sump, a: rail, rest: -1}
  store: {kind: accumulator, at: rail}
`, "store"},
		{"round the check valve", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: check-valve, from: out, to: rail}
  round: {kind: orifice, from: rail, to: out}
  store: {kind: accumulator, at: rail}
`, "store"},
		{"a piloted check valve can be opened backwards", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  check: {kind: pilot-check-valve, from: out, to: rail, pilot: x}
  store: {kind: accumulator, at: rail}
`, "store"},
		{"through the reservoir it drives nothing", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  hose: {kind: hose, from: out, to: sump}
  drain: {kind: orifice, from: rail, to: sump}
  store: {kind: accumulator, at: rail}
`, ""},
		{"what a store gives off into a return drives nothing", relieved + "  home: {kind: filter, from: back, to: sump}\n", ""},
		{"past a check valve that keeps the return full", relieved + "  home: {kind: check-valve, from: back, to: sump, cracking: 5 bar}\n", ""},
		{"past one whose spring holds pressure in it", relieved + "  home: {kind: check-valve, from: back, to: sump, cracking: 5.1 bar}\n", "store"},
		{"past one that keeps it shut", relieved + "  home: {kind: check-valve, from: sump, to: back, cracking: 2 bar}\n", "store"},
		{"into a return that an orifice dams", relieved + "  home: {kind: orifice, from: back, to: sump}\n", "store"},
		{"into a return that a valve shuts", relieved + "  home: {kind: directional-valve, p: back, t: sump, a: far, rest: 0}\n", "store"},
		{"round the return that drains", relieved + "  home: {kind: filter, from: back, to: sump}\n  round: {kind: orifice, from: rail, to: out}\n", "store"},
		{"a store at the return keeps nothing", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  valve: {kind: directional-valve, p: out, t: back, a: far, b: near, rest: -1}
  motor: {kind: motor, from: far, to: back}
  cooler: {kind: cooler, from: back, to: sump}
  damper: {kind: accumulator, at: back}
`, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.parts)
			got := ""
			if i, found := g.Driver(part(t, g, "pump")); found {
				got = g.Name(i)
			}
			if got != tt.want {
				t.Errorf("driven by %q, want %q", got, tt.want)
			}
		})
	}
}
