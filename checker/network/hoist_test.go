package network

import (
	"testing"

	"headroom/specs"
)

// hoist is a brake that a load hangs on.
func hoist(t *testing.T, load, commands string) *specs.Circuit {
	t.Helper()
	return read(t, "hoist.yaml", `headroom: 1
circuit: hoist
title: A brake that a load hangs on
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 6 L}
  high: {kind: reservoir, at: high, volume: 100 L, fill: 60 L, pressure: 80 bar}
  valve: {kind: reducing-valve, p: high, a: head, t: sump, flow: 12 L/min, drop: 8 bar, band: 4 bar, lag: 15 ms, rest: 0 bar}
  release: {kind: cylinder, head: head, bore: 60 mm, stroke: 2 mm, moving_mass: 0.8 kg, spring: {preload: 7 kN, rate: 600 N/mm}, dead_volume: {head: 8 cm3}}
  brake: {kind: friction-pack, released_by: release, faces: 8, inner_radius: 45 mm, outer_radius: 62 mm, take_up: 0.05 mm, clearance: 0.15 mm, friction: 0.1, plates: {mass: 1.1 kg, specific_heat: 500 J/kg/K, max_temperature: 350 degC}, driven: {inertia: 0.9 kg·m2, load: `+load+`}, to_cylinder: 2 W/K, to_air: 3 W/K}
cases:
  hang: {lasts: 3 s, begins: {fluid: 40 degC}, commands: [`+commands+`]}
`)
}

// A load below zero drives the output of a pack, from rest: a brake that can hold what
// hangs on it holds, one that cannot or that is let go does not.
func TestBrakeOfAHangingLoad(t *testing.T) {
	hang := func(load, commands string) *Outcome {
		c := hoist(t, load, commands)
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(err, out.Failure)
		}
		return out
	}
	const holds, inertia, lasts = 0.1 * 8 * 0.0535 * 7000, 0.9, 3.0 // N·m, μ z R F
	speed := func(o *Outcome) float64 { return o.part("brake").Reading("output_speed").End }

	if out := hang("-280 N·m", ""); speed(out) <= 0 || speed(out) > holdingCreep || len(out.part("brake").Engagements) > 0 {
		t.Errorf("a brake of %.0f N·m lets 280 N·m turn by %.3g rad/s, engaged %v", holds, speed(out), out.part("brake").Engagements)
	}
	closeTo(t, "overloaded", speed(hang("-400 N·m", "")), (400-holds)/inertia*lasts, 0.02)
	closeTo(t, "let go", speed(hang("-200 N·m", "{at: 0 s, valve: valve, to: 42 bar}")), 200/inertia*lasts, 0.05)
}

// What a load below zero leaves out of the slopes.
func TestJacobianOfAHangingLoad(t *testing.T) {
	c := hoist(t, "-280 N·m", "")
	checkJacobian(t, c, &c.Cases[0])
}
