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

// A load below zero drives a motor forwards, from rest and against what an orifice in
// its outlet holds back: T = D Δp (2 − η) in balance, for friction helps to hold, and
// the flow of the orifice gives the speed.
func TestMotorDrivenByItsLoad(t *testing.T) {
	c := read(t, "lowering.yaml", `headroom: 1
circuit: lowering
title: A winch that a load turns
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  feed: {kind: tube, from: sump, to: in, bore: 40 mm, wall: 2 mm, length: 0.2 m}
  winch: {kind: motor, from: in, to: out, drain: sump, displacement: 20 cm3/rev, turns_at: {flow: 6.01 L/min, at: {pressure: 100 bar, speed: 300 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 85 %, inertia: 0.05 kg·m2, load: -20 N·m}
  brake: {kind: orifice, from: out, to: sump, diameter: 1.5 mm}
cases:
  lower: {lasts: 5 s, begins: {fluid: 40 degC}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	pressed := out.Nodes[2].Pressure.End - 101325
	if out.Nodes[2].Node != "out" {
		t.Fatal(out.Nodes[2].Node)
	}
	const perRadian = 20e-6 / (2 * math.Pi)
	closeTo(t, "pressure", pressed, 20/perRadian/(2-0.85), 0.01)
	rho := 875.0 * (1 - 25*6.5e-4) // hm-46, 15 to 40 °C
	flow := 0.61 * math.Pi / 4 * 1.5e-3 * 1.5e-3 * math.Sqrt(2*pressed/rho)
	closeTo(t, "speed", out.part("winch").Reading("speed").End, flow/perRadian, 0.04)
	if math.Abs(out.Balance.Energy) > 1e-2 {
		t.Errorf("energy is off by %.2g", out.Balance.Energy)
	}
}

// turned is a motor that is fed at one port or the other, or hangs on a shut node.
func turned(t *testing.T, ports, takes, load string) *Outcome {
	t.Helper()
	c := read(t, "reversed.yaml", `headroom: 1
circuit: reversed
title: A motor that is fed at one port or the other
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 100 L, fill: 80 L}
  pump: {kind: pump, from: sump, to: press, displacement: 40 cm3/rev, delivers: {flow: 56 L/min, at: {pressure: 200 bar, speed: 1500 rpm, viscosity: 30 mm2/s}}, mechanical_efficiency: 90 %}
  relief: {kind: relief-valve, from: press, to: sump, cracking: 250 bar, flow: 60 L/min, override: 10 bar}
  home: {kind: orifice, from: back, to: sump, diameter: 8 mm}
  shut: {kind: relief-valve, from: held, to: sump, cracking: 250 bar, flow: 60 L/min, override: 10 bar}
  feed: {kind: check-valve, from: sump, to: fed, cracking: 0 bar, flow: 60 L/min, drop: 1 bar}
  motor: {kind: motor, `+ports+`, drain: sump, displacement: 50 cm3/rev, turns_at: {flow: `+takes+`, at: {pressure: 200 bar, speed: 1000 rpm, viscosity: 30 mm2/s}}, mechanical_efficiency: 90 %, inertia: 0.05 kg·m2, load: `+load+`}
nodes: {back: {volume: 200 cm3}, held: {volume: 200 cm3}, press: {volume: 200 cm3}, fed: {volume: 200 cm3}}
cases:
  turn: {lasts: 2 s, begins: {fluid: 40 degC}, drives: {pump: 1500 rpm}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	if math.Abs(out.Balance.Energy) > 1e-2 || out.Balance.Node > 1e-3 {
		t.Errorf("%s: energy is off by %.2g, a node by %.2g", ports, out.Balance.Energy, out.Balance.Node)
	}
	return out
}

// endOf is a node's outcome by name.
func endOf(o *Outcome, node string) *NodeOutcome {
	for i := range o.Nodes {
		if o.Nodes[i].Node == node {
			return &o.Nodes[i]
		}
	}
	return nil
}

// The friction of a motor heats what leaves it, whichever way it turns: its inlet is as
// warm as the pump makes it.
func TestMotorHeatsItsOutlet(t *testing.T) {
	forwards := turned(t, "from: press, to: back", "50 L/min", "100 N·m")
	backwards := turned(t, "from: back, to: press", "50 L/min", "100 N·m")
	for _, node := range [...]string{"press", "back"} {
		f, b := endOf(forwards, node).Temperature.End, endOf(backwards, node).Temperature.End
		if math.Abs(f-b) > 0.01 {
			t.Errorf("%s is %.3f K warm with a motor forwards, %.3f K backwards", node, f, b)
		}
	}
}

// A motor is alike both ways: fed at `to` it turns backwards, and slips what it slips
// forwards. What a load hangs on slips too, with nothing else to let it down.
func TestMotorSlipsAtBothPorts(t *testing.T) {
	end := func(o *Outcome, name string) float64 { return o.part("motor").Reading(name).End }
	forwards := turned(t, "from: press, to: back", "55 L/min", "100 N·m")
	backwards := turned(t, "from: back, to: press", "55 L/min", "100 N·m")
	for _, k := range [...]struct {
		name string
		sign float64
	}{{"speed", -1}, {"flow", -1}, {"slip", 1}, {"drop", -1}} {
		closeTo(t, k.name, end(backwards, k.name), k.sign*end(forwards, k.name), 1e-3)
	}

	const perRadian = 50e-6 / (2 * math.Pi)
	hanging := turned(t, "from: fed, to: held", "55 L/min", "-100 N·m")
	pressed := endOf(hanging, "held").Pressure.End
	if pressed < 100e5 {
		t.Fatalf("the load hangs at %.0f bar", pressed/1e5)
	}
	closeTo(t, "what it turns by", end(hanging, "speed")*perRadian, end(hanging, "slip"), 0.02)
}
