package network

import (
	"strings"
	"testing"
)

const launch = `headroom: 1
circuit: launch
title: A standing launch on carbon plates
fluid: {like: hepr-32}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 2 L, fill: 1.5 L, to_ambient: 6 W/K}
  valve: {kind: directional-valve, p: rail, t: sump, a: line, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  store: {kind: accumulator, at: rail, size: 0.5 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 5 s, inlet: 8 mm}
  hose: {kind: hose, from: line, to: port, bore: 5 mm, length: 0.6 m}
  release: {kind: cylinder, head: port, bore: 40 mm, stroke: 3 mm, moving_mass: 0.4 kg, spring: {preload: 6 kN, rate: 300 N/mm}, friction: {viscous: 300 N·s/m}, dead_volume: {head: 3 cm3}, heat_capacity: 150 J/K, to_ambient: 1 W/K}
  clutch:
    kind: friction-pack
    released_by: release
    faces: 8
    inner_radius: 36 mm
    outer_radius: 50 mm
    friction: 0.14
    plates: {mass: 0.55 kg, specific_heat: [[20 degC, 750 J/kg/K], [400 degC, 1250 J/kg/K], [1000 degC, 1700 J/kg/K]], max_temperature: 1000 degC}
    driven: {inertia: 0.62 kg·m2, load: 15 N·m}
    to_cylinder: 0.8 W/K
    to_air: 8 W/K
nodes: {rail: {role: pressure, volume: 10 cm3}}
cases:
  launch: {lasts: 120 s, repeats: 2, begins: {fluid: 80 degC, charge: 120 bar, plates: 100 degC}, drives: {clutch: 8900 rpm}}
`

// Facts of the trade as a check on the whole (common practice, from memory): a standing
// launch of some two seconds puts a few hundred kilojoules into the plates and takes
// carbon plates to some hundreds of degrees; the oil that stands in a release cylinder
// beside them can come near 200 °C when launch follows launch. The pack is that of a
// light single-seater: 700 kg at some 100 km/h are 270 kJ, or 0.62 kg·m² at 8900 rpm.
func TestLaunchIsAsTheTradeKnowsIt(t *testing.T) {
	c := read(t, "launch.yaml", launch)
	outcome := func(repeats int) (*Outcome, PartOutcome) {
		c.Cases[0].Repeats.Count = repeats
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(err, out.Failure)
		}
		return out, *out.part("clutch")
	}
	_, first := outcome(1)
	if len(first.Engagements) != 1 || !first.Engagements[0].Locked {
		t.Fatalf("engagements: %+v", first.Engagements)
	}
	e := first.Engagements[0]
	if slip := e.Locks - e.Starts; slip < 1 || slip > 3 {
		t.Errorf("the clutch slips for %.2f s", slip)
	}
	if e.Energy < 200e3 || e.Energy > 500e3 {
		t.Errorf("the plates take %.0f kJ", e.Energy/1e3)
	}
	if hottest := first.Reading("plate_temperature").Highest.Value - 273.15; hottest < 300 || hottest > 900 {
		t.Errorf("the plates come to %.0f °C", hottest)
	}
	out, _ := outcome(2)
	for i := range out.Nodes {
		if n := &out.Nodes[i]; n.Node == "port" {
			if oil := n.Temperature.Highest.Value - 273.15; oil < 150 || oil > 260 {
				t.Errorf("the oil beside the plates comes to %.0f °C", oil)
			}
		}
	}
}

// The metal of a friction pack's housing is as warm as the cylinder that releases it:
// heat that one or the other stores and sheds comes to the same.
func TestHousingOfAPack(t *testing.T) {
	const metal = ", heat_capacity: 150 J/K, to_ambient: 1 W/K"
	at := func(text string) Range {
		c := read(t, "launch.yaml", text)
		c.Cases[0].Repeats.Count = 1
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(err, out.Failure)
		}
		for i := range out.Nodes {
			if out.Nodes[i].Node == "port" {
				return out.Nodes[i].Temperature
			}
		}
		t.Fatal("no node port")
		return Range{}
	}
	bare := strings.Replace(launch, metal, "", 1)
	moved := strings.Replace(bare, "    to_air: 8 W/K\n", "    to_air: 8 W/K\n    heat_capacity: 150 J/K\n    to_ambient: 1 W/K\n", 1)
	cylinder, pack, none := at(launch), at(moved), at(bare)
	if pack != cylinder {
		t.Errorf("metal of the pack: %+v, of the cylinder %+v", pack, cylinder)
	}
	if none.Highest.Value < cylinder.Highest.Value+5 {
		t.Errorf("without metal %.1f K, with it %.1f K", none.Highest.Value, cylinder.Highest.Value)
	}
}
