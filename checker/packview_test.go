package checker

import (
	"math"
	"strings"
	"testing"

	"headroom/specs/quantity"
)

// A case that changes a pack, its cylinder or the load on it is held against the same
// formulas as TestTorqueCapacity and TestTorquePerBand, μ z R (F_0 + load − p A): the
// least of all cases counts, with the key that sets it.
func TestTorqueCapacityOfCases(t *testing.T) {
	in := func(key string) string {
		return clutch + "cases: {fresh: {lasts: 1 s, begins: {fluid: 40 degC}}, worn: {lasts: 1 s, begins: {fluid: 40 degC}, " + key + "}}\n"
	}
	tests := []struct{ name, key, want, from string }{
		{"glazed", "with: {clutch: {friction: 0.05}}", "58.9049 N·m", "cases.worn.with.clutch.friction"},
		{"better", "with: {clutch: {friction: 0.4}}", "235.619 N·m", "parts.clutch.friction"},
		{"tired spring", "with: {slave: {spring: {preload: 7853.9815 N}}}", "117.8097 N·m", "parts.clutch.friction"},
		{"a load that draws it out", "loads: {slave: [[0 s, 1 kN], [1 s, -5 kN]]}", "160.6194 N·m", "parts.clutch.friction"},
		{"a load that presses it home", "loads: {slave: 5 kN}", "235.619 N·m", "parts.clutch.friction"},
		{"1 bar left", "with: {valve: {rest: 1 bar}}", "232.674 N·m", "parts.clutch.friction"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := partOf(t, gather(t, in(tt.key)), "clutch").TorqueCapacity
			is(t, "torque capacity", f, tt.want, quantity.Torque, 1e-5)
			if f.From.Key != tt.from {
				t.Errorf("it is set by %s, want %s", f.From.Key, tt.from)
			}
			if lower := tt.want != "235.619 N·m"; lower != (f.From.Case == "worn") {
				t.Errorf("it is told of case %q", f.From.Case)
			}
		})
	}
	// 1 kN against it on 1963.495 mm2 are 5.09296 bar more than in TestReleasePressure.
	s := newSurvey(gather(t, in("loads: {slave: [[0 s, 1 kN], [1 s, -5 kN]]}")).Spec)
	i, _ := s.graph.Part("clutch")
	is(t, "pressure for full release under the load", s.packIn(&s.cases[1], i).releaseNew(), "87.6395 bar", quantity.Pressure, 1e-5)
	band := partOf(t, gather(t, in("with: {valve: {band: 4 bar}}")), "clutch").TorquePerBand
	is(t, "torque per band", band, "11.780972 N·m", quantity.Torque, 1e-6)
	if band.From.Key != "cases.worn.with.valve.band" {
		t.Errorf("the band is set by %s", band.From.Key)
	}
}

// The same in time: what a case changes of the pack counts in it. The lever is μ z R =
// 60 mm; 500 N less preload are 30 N·m less.
func TestPackOfACase(t *testing.T) {
	second := func(with string) string {
		at := strings.Index(launch, "  launch:")
		return launch + strings.Replace(strings.Replace(launch[at:], "  launch:", "  second:", 1), "    drives:", "    with: "+with+"\n    drives:", 1)
	}
	plain := partOf(t, simulateText(t, launch, Asked{}), "clutch")
	tired := partOf(t, simulateText(t, second("{release: {spring: {preload: 1.5 kN}}}"), Asked{}), "clutch")
	near(t, "capacity with a tired spring", tired.TorqueCapacity, plain.TorqueCapacity.Value-30, 0.01)
	near(t, "pressure for full release", tired.ReleaseNew, plain.ReleaseNew.Value, 0)
	glazed := partOf(t, simulateText(t, second("{clutch: {friction: 0.1}}"), Asked{}), "clutch")
	near(t, "capacity with half the friction", glazed.TorqueCapacity, plain.TorqueCapacity.Value/2, 0.01)
	if from := glazed.TorqueCapacity.From; from.Case != "second" || from.Key != "cases.second.with.clutch.friction" {
		t.Errorf("the capacity comes from %+v", from)
	}
	near(t, "worn, 100 N/mm times 6 faces of 0.05 mm less", partOf(t, simulateText(t, replaced(launch, "clearance:", "wear: 0.05 mm, clearance:"), Asked{}), "clutch").TorqueWorn, plain.TorqueCapacity.Value-1.8, 0.01)
	fewer := partOf(t, simulateText(t, second("{clutch: {faces: 3}}"), Asked{}), "clutch")
	near(t, "energy over half the faces", fewer.EnergyPerArea, 2*plain.EnergyPerArea.Value, 0.02*plain.EnergyPerArea.Value)
	// Power over area is the same per face, but for the speed that is left when the clamp
	// has come up in full.
	near(t, "power over half the faces", fewer.PowerPerArea, plain.PowerPerArea.Value, 0.15*plain.PowerPerArea.Value)
	// 2500 N and 100 N/mm over 0.02 + 6 · 0.1 mm on 706.858 mm2.
	stiff := partOf(t, simulateText(t, second("{release: {spring: {preload: 2.5 kN}}}"), Asked{}), "clutch")
	near(t, "pressure for full release with a stiffer spring", stiff.ReleaseNew, (2500+100e3*0.62e-3)/(math.Pi/4*0.03*0.03), 1)
	if stiff.ReleaseNew.From.Case != "second" || stiff.ReleaseAvailable.From.Case != "second" {
		t.Errorf("release is told of %q and %q", stiff.ReleaseNew.From.Case, stiff.ReleaseAvailable.From.Case)
	}
	near(t, "pressure that it comes to", stiff.ReleaseAvailable, plain.ReleaseAvailable.Value, 1e5)
}
