package checker

import (
	"testing"

	"headroom/specs/quantity"
)

const filtered = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, cleanliness: 18/16/13, displacement: 10 cm3/rev}
  relief: {kind: relief-valve, from: out, to: back, cracking: 100 bar, flow: 20 L/min, override: 10 bar}
  fine: {kind: filter, from: out, to: rail, reaches: 17/15/12, flow: 20 L/min, drop: 1 bar, viscosity: 32 mm2/s, collapse: 210 bar}
  valve: {kind: directional-valve, p: rail, t: back, a: line, rest: -1, cleanliness: 17/15/12}
  plain: {kind: directional-valve, p: rail, t: back, a: line, rest: -1}
  ram: {kind: cylinder, head: line}
  coarse: {kind: filter, from: back, to: sump, reaches: 19/14/13, flow: 20 L/min, drop: 1 bar, viscosity: 32 mm2/s, bypass: 2 bar}
  gauge: {kind: hose, from: apart, to: gauge-port}
`

func TestCleanliness(t *testing.T) {
	tests := []struct {
		spec, part, kept string
		enough           string
	}{
		{filtered, "pump", "19/14/13", "no"},   // the return filter alone: 19 is dirtier than 18
		{filtered, "valve", "17/14/12", "yes"}, // at each size the cleaner of the two
		{filtered, "plain", "17/14/12", "parts.plain.cleanliness"},
		{replaced(filtered, "reaches: 17/15/12, ", ""), "valve", "19/14/13", "no"},
		{replaced(replaced(filtered, "reaches: 17/15/12, ", ""), "reaches: 19/14/13, ", ""), "valve", "", "parts.fine.reaches, parts.coarse.reaches"},
		{replaced(filtered, "to: back, cracking", "to: sump, cracking"), "pump", "", "a filter that all oil to pump passes"},
		{replaced(filtered, "reaches: 19/14/13", "reaches: -/14/12"), "pump", "-/14/12", "parts.coarse.reaches"},
	}
	for _, tt := range tests {
		f := partOf(t, gather(t, tt.spec), tt.part)
		if f.CleanlinessKept.Value != tt.kept {
			t.Errorf("%s: kept %q, want %q", tt.part, f.CleanlinessKept.Value, tt.kept)
		}
		got := f.CleanEnough.Missing
		if f.CleanEnough.Known {
			got = map[bool]string{true: "yes", false: "no"}[f.CleanEnough.Value]
		}
		if got != tt.enough {
			t.Errorf("%s: clean enough: %q, want %q", tt.part, got, tt.enough)
		}
	}
}

func TestFiltered(t *testing.T) {
	f := gather(t, filtered)
	for name, want := range map[string]bool{"pump": true, "valve": true, "tank": true, "gauge": false} {
		if got := partOf(t, f, name).Filtered; !got.Known || got.Value != want {
			t.Errorf("%s: %+v, want %v", name, got, want)
		}
	}
	is(t, "filters", f.Whole.Filters, "2", quantity.Number, 0)
	notes(t, "filters", f.Whole.Filters, "fine, coarse")
}

// A clogged element without a bypass sees all of the pressure before it: that of
// the relief valve with 10 L/min, or with a compensated pump its cut-off. With a
// bypass of 2 bar and 1 bar at 20 L/min of 860 kg/m3, 30 L/min of 854.22 kg/m3 cost
// 2 + 1 · (30/20)² · 854.22/860 bar; of a phosphate ester of 1150 kg/m3 at 15 °C a sixth
// more, as in the simulation.
func TestCollapse(t *testing.T) {
	is(t, "without a bypass", partOf(t, gather(t, filtered+running), "fine").CollapseDrop, "105 bar", quantity.PressureDifference, 5e-3)
	compensated := replaced(filtered, "displacement: 10 cm3/rev", "displacement: 10 cm3/rev, compensator: {set: 80 bar, band: 8 bar, lag: 20 ms}")
	is(t, "behind a compensated pump", partOf(t, gather(t, compensated+running), "fine").CollapseDrop, "88 bar", quantity.PressureDifference, 1e-9)

	// A relief valve behind it is shut off by it: nothing then bounds the pressure before
	// it but a compensator.
	const clogs = "a relief valve before fine that it does not shut off once it is clogged"
	behind := replaced(filtered, "from: out, to: back, cracking", "from: rail, to: back, cracking")
	lacks(t, "before the only relief valve", partOf(t, gather(t, behind+running), "fine").CollapseDrop, clogs)
	behind = replaced(compensated, "from: out, to: back, cracking", "from: rail, to: back, cracking")
	is(t, "before it, with a compensator", partOf(t, gather(t, behind+running), "fine").CollapseDrop, "88 bar", quantity.PressureDifference, 1e-9)

	// In the return line it stands against what the relief valve and the spools let come:
	// what the pump comes to, though a clean element lets all of it pass.
	homewards := replaced(filtered, ", bypass: 2 bar", ", collapse: 10 bar") + running
	back := partOf(t, gather(t, homewards), "coarse").CollapseDrop
	is(t, "in the return line", back, "105 bar", quantity.PressureDifference, 5e-3)
	notes(t, "in the return line", back, "clogged, with no bypass: all of the pressure before it; at most relief open at 10.0 L/min")

	const round = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 30 cm3/rev}
  filter: {kind: filter, from: out, to: sump, flow: 20 L/min, drop: 1 bar, viscosity: 32 mm2/s, bypass: 2 bar}
`
	f := partOf(t, gather(t, round+running), "filter")
	is(t, "with a bypass", f.CollapseDrop, "4.2349 bar", quantity.PressureDifference, 3e-4)
	heavy := partOf(t, gatherOf(t, replaced(plain, "density: 870", "density: 1150")+round+running), "filter")
	is(t, "with a bypass, in a heavy fluid", heavy.CollapseDrop, "4.9542 bar", quantity.PressureDifference, 3e-4)
	light := partOf(t, gatherOf(t, replaced(plain, "  density: 870 kg/m3\n", "")+round+running), "filter")
	lacks(t, "without a density", light.CollapseDrop, "fluid.density")
	is(t, "bypass", f.Bypass, "2 bar", quantity.PressureDifference, 1e-9)
	lacks(t, "collapse not stated", f.Collapse, "parts.filter.collapse")
	lacks(t, "bypass flow that only the simulation knows", partOf(t, gather(t, filtered+running), "coarse").CollapseDrop, "simulation")

	// before a suction strainer stands the reservoir's air, behind it at worst nothing
	strainer := partOf(t, gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  strainer: {kind: filter, from: sump, to: inlet, flow: 20 L/min, drop: 1 bar, viscosity: 32 mm2/s}
  pump: {kind: pump, from: inlet, to: out, displacement: 10 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 100 bar, flow: 20 L/min, override: 10 bar}
`+running), "strainer")
	is(t, "on the suction side", strainer.CollapseDrop, "1.01325 bar", quantity.PressureDifference, 1e-9)
}
