package network

import (
	"math"
	"testing"
)

// A motor that its inertia drives on while its pump has stopped empties its inlet:
// its torque fades with what it draws, and the energies still balance.
func TestMotorWithEmptyInlet(t *testing.T) {
	c := read(t, "overrun.yaml", `headroom: 1
circuit: overrun
title: A motor that turns on when its pump has stopped
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: press, displacement: 10 cm3/rev, delivers: {flow: 14 L/min, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  relief: {kind: relief-valve, from: press, to: sump, cracking: 100 bar, flow: 20 L/min, override: 10 bar}
  motor: {kind: motor, from: press, to: sump, displacement: 20 cm3/rev, turns_at: {flow: 6.4 L/min, at: {pressure: 100 bar, speed: 300 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 85 %, inertia: 0.5 kg·m2, load: 2 N·m}
cases:
  overrun: {lasts: 12 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 1500 rpm], [5 s, 1500 rpm], [5.2 s, 0 rpm]]}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	lowest := math.Inf(1)
	for _, n := range out.Nodes {
		lowest = min(lowest, n.Pressure.Lowest.Value)
	}
	if lowest > fadeBelow {
		t.Fatalf("no inlet empties: %g Pa at least", lowest)
	}
	if math.Abs(out.Balance.Energy) > 1e-2 {
		t.Errorf("energy is off by %.2g, with %.0f Pa at the lowest", out.Balance.Energy, lowest)
	}
}
