package topology

import "testing"

func TestRoles(t *testing.T) {
	tests := []struct {
		name, parts string
		want        map[string]Role
	}{
		{"vehicle", hillside, map[string]Role{
			"sump": Return, "inlet": Suction, "out": Pressure, "rail": Pressure, "back": Return, "dirty": Return,
			"head": Control, "rod": Control, "far": Control,
		}},
		{"an orifice parts pressure from return", `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: press}
  relief: {kind: relief-valve, from: press, to: ret}
  run: {kind: tube, from: press, to: far}
  throttle: {kind: orifice, from: far, to: ret}
  strainer: {kind: filter, from: ret, to: clean}
  chiller: {kind: cooler, from: clean, to: cool}
  drain: {kind: tube, from: cool, to: sump}
`, map[string]Role{"inlet": Suction, "press": Pressure, "far": Pressure, "ret": Return, "clean": Return, "cool": Return}},
		{"a case drain of its own, joined by nothing else", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: press, drain: case}
  drain: {kind: hose, from: case, to: sump}
  motor: {kind: motor, from: press, to: low, drain: low}
  return: {kind: hose, from: low, to: sump}
`, map[string]Role{"case": Drain, "low": Return, "press": Pressure}},
		{"a boosted inlet is fed by a pump", `
parts:
  tank: {kind: reservoir, at: sump}
  boost: {kind: pump, from: sump, to: mid}
  main: {kind: pump, from: mid, to: press}
`, map[string]Role{"mid": Pressure, "press": Pressure}},
		{"a check valve that makes up from the return line", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: press}
  valve: {kind: directional-valve, p: press, t: back, a: line, b: top}
  throttle: {kind: orifice, from: line, to: fed}
  makeup: {kind: check-valve, from: back, to: fed}
  pipe: {kind: tube, from: fed, to: head}
  ram: {kind: cylinder, head: head, rod: top}
  preload: {kind: check-valve, from: back, to: held}
  damper: {kind: orifice, from: held, to: sump}
`, map[string]Role{"back": Return, "held": Return, "fed": Control, "head": Control, "line": Control, "top": Control}},
		{"a check valve is not passed against its flow", `
parts:
  tank: {kind: reservoir, at: sump}
  refill: {kind: check-valve, from: sump, to: line}
  store: {kind: accumulator, at: rail}
  shut: {kind: check-valve, from: line, to: rail}
`, map[string]Role{"line": Control, "rail": Pressure}},
		{"what the spec states wins", hillside + "nodes: {head: {role: pressure}, rail: {role: control}}\n",
			map[string]Role{"head": Pressure, "rail": Control}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.parts)
			for name, want := range tt.want {
				if n, ok := g.Node(name); !ok || g.Nodes[n].Role != want {
					t.Errorf("%s is %s (%s), want %s", name, g.Nodes[n].Role, g.Nodes[n].Why, want)
				}
			}
		})
	}
}

func TestLineRoles(t *testing.T) {
	g := lay(t, hillside+`
  delivery: {kind: hose, from: out, to: gauge}
  crossing: {kind: hose, from: sump, to: sump}
  lower: {kind: pump, from: sump, to: out, drain: case}
  drain: {kind: hose, from: case, to: sump}
`)
	for name, want := range map[string]Role{
		"intake": Suction, "return": Return, "pipe": Control, "delivery": Pressure, "crossing": Return, "drain": Drain,
	} {
		if got := g.LineRole(part(t, g, name)); got != want {
			t.Errorf("%s is a %s line, want %s", name, got, want)
		}
	}
}
