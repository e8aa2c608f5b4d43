package checker

import "testing"

func TestPackAtRest(t *testing.T) {
	const directional = "{kind: directional-valve, p: rail, a: line, t: sump, rest: REST}"
	valve := func(rest string) string {
		return replaced(clutch, "{kind: reducing-valve, p: rail, a: line, t: sump, band: 2 bar, rest: 0 bar}", replaced(directional, "REST", rest))
	}
	tests := []struct{ name, spec, want string }{
		{"a reducing valve at no pressure", clutch, "clamped"},
		{"at less than takes the clamp away, 80 bar", replaced(clutch, "rest: 0 bar", "rest: 79 bar"), "clamped"},
		{"at more, but not enough for full release, 82.5 bar", replaced(clutch, "rest: 0 bar", "rest: 82 bar"), "slipping"},
		{"at enough", replaced(clutch, "rest: 0 bar", "rest: 83 bar"), "released"},
		{"a directional valve to the reservoir", valve("-1"), "clamped"},
		{"a directional valve to the rail", valve("1"), "released"},
		{"a closed centre", valve("0"), "held"},
		{"between rail and reservoir only the flow decides", valve("1") + "  bleed: {kind: orifice, from: port, to: sump}\n", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := partOf(t, gather(t, tt.spec), "clutch").RestState
			if got.Value != tt.want {
				t.Errorf("is %q (missing %q), want %q", got.Value, got.Missing, tt.want)
			}
		})
	}
}

func TestCylinderAtRest(t *testing.T) {
	const base = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail}
  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, rest: REST}
  ram: {kind: cylinder, head: head, ROD bore: 20 mm, stroke: 50 mm, EXTRA}
`
	at := func(rest, rod, extra string) string {
		return replaced(replaced(replaced(base, "REST", rest), "ROD", rod), "EXTRA", extra)
	}
	const double = "rod: rod, rod_diameter: 10 mm,"
	const spring = "spring: {preload: 100 N, rate: 1 N/mm}"
	tests := []struct{ name, spec, want string }{
		{"pressed out", at("1", double, "dead_volume: {}"), "extends"},
		{"pressed in", at("-1", double, "dead_volume: {}"), "retracts"},
		{"closed centre", at("0", double, "dead_volume: {}"), "held"},
		{"single acting, drained, its spring pushes", at("-1", "", spring), "retracts"},
		{"single acting, drained, a load pulls it out", at("-1", "", "load: -50 N"), "extends"},
		{"single acting, drained, nothing pushes", at("-1", "", "load: 0 N"), "floating"},
		{"single acting, pressed", at("1", "", spring), "extends"},
		{"both sides under pressure", replaced(at("1", double, "dead_volume: {}"), "rail, t: sump", "rail, t: rail"), ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := partOf(t, gather(t, tt.spec), "ram").RestState.Value; got != tt.want {
				t.Errorf("%q, want %q", got, tt.want)
			}
		})
	}
}
