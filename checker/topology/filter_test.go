package topology

import "testing"

func TestFiltersOnTheWay(t *testing.T) {
	const rail = `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: out}
  relief: {kind: relief-valve, from: out, to: back}
  fine: {kind: filter, from: out, to: clean}
  check: {kind: check-valve, from: clean, to: rail}
  valve: {kind: directional-valve, p: rail, t: back, a: line, rest: -1}
  ram: {kind: cylinder, head: line}
  coarse: {kind: filter, from: back, to: sump}
`
	tests := []struct {
		name, parts string
		stand       string
		ways        map[string]string
	}{
		{"a pressure and a return filter", rail, "fine coarse", map[string]string{
			"valve": "fine coarse", "ram": "fine coarse", "check": "fine coarse",
			"pump": "coarse", "relief": "coarse", "intake": "coarse", "tank": "coarse",
		}},
		{"a way round the pressure filter", rail + "  round: {kind: hose, from: out, to: clean}\n", "fine coarse",
			map[string]string{"valve": "coarse"}},
		{"a return past the filter, for the valve alone", rail + "  short: {kind: directional-valve, p: rail, t: sump, a: line, rest: 0}\n", "fine coarse",
			map[string]string{"valve": "fine", "pump": "", "relief": "coarse"}},
		{"a filter in a dead end stands in no circulation", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  relief: {kind: relief-valve, from: out, to: sump}
  filter: {kind: filter, from: out, to: gauge}
  ram: {kind: cylinder, head: gauge}
`, "", map[string]string{"pump": ""}},
		{"a pump and filter of their own keep the reservoir, but stand on no way", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  relief: {kind: relief-valve, from: out, to: sump}
  second: {kind: pump, from: sump, to: side}
  filter: {kind: filter, from: side, to: sump}
`, "filter", map[string]string{"pump": "", "relief": ""}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := lay(t, tt.parts)
			c := g.Circulates()
			if got := g.partNames(c.Filters); got != tt.stand {
				t.Errorf("in the circulation stand %q, want %q", got, tt.stand)
			}
			for name, want := range tt.ways {
				if got := g.partNames(c.OnTheWay(part(t, g, name))); got != want {
					t.Errorf("on the way of %s stand %q, want %q", name, got, want)
				}
			}
		})
	}
}

func TestCirculationLeavesOutDeadEnds(t *testing.T) {
	g := lay(t, hillside+"  gauge: {kind: hose, from: apart, to: gauge-port}\n")
	c := g.Circulates()
	for name, want := range map[string]bool{"pump": true, "valve": true, "ram": true, "store": true, "tank": true, "gauge": false} {
		if got := c.Parts[part(t, g, name)]; got != want {
			t.Errorf("%s takes part: %v, want %v", name, got, want)
		}
	}
}
