package network

import (
	"context"
	"math"
	"slices"
	"testing"
)

// The demos begin with lines and chambers at pressures that their valves have yet to
// even out: what flows, drops or slips meanwhile, and stops flowing, is not told.
func TestStartDoesNotCount(t *testing.T) {
	late := []string{"flow", "power", "velocity", "pressure-difference", "torque"}
	for _, name := range []string{"stonechat", "ptarmigan"} {
		c := load(t, "../../specs/demo/"+name+".yaml")
		outcomes, _ := SimulateAll(context.Background(), c, Options{})
		for _, out := range outcomes {
			for _, p := range out.Parts {
				for _, r := range p.Readings {
					given := r.Name == "demand" // by the case, no answer to it
					if slices.Contains(late, r.Dimension) && !given && r.Known && min(r.Highest.Time, r.Lowest.Time) < startTransient {
						t.Errorf("%s, %s: %s of %s goes from %g at %g s to %g at %g s", name, out.Case, r.Name, p.Part, r.Lowest.Value, r.Lowest.Time, r.Highest.Value, r.Highest.Time)
					}
				}
				for _, s := range p.Surges {
					if s.Time < startTransient {
						t.Errorf("%s, %s: %s surges at %g s", name, out.Case, p.Part, s.Time)
					}
				}
				for _, e := range p.Engagements {
					if e.Locked && e.Locks < startTransient || e.Power.Time < startTransient {
						t.Errorf("%s, %s: %s engages %+v", name, out.Case, p.Part, e)
					}
				}
			}
		}
	}
}

// A closure counts as a surge where it ends after the start alone.
func TestEarlyClosure(t *testing.T) {
	for _, k := range []struct {
		at     string
		surges int
	}{{"10 ms", 0}, {"200 ms", 1}} {
		out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 4 L, precharge: {pressure: 50 bar, temperature: 20 degC}, gas: nitrogen, time_constant: 30 s, inlet: 20 mm}
  line: {kind: tube, from: rail, to: port, bore: 8 mm, wall: 1 mm, length: 20 m}
  valve: {kind: directional-valve, p: port, t: sump, a: sump, flow: 20 L/min, drop: 5 bar, lag: 1 ms, rest: 0}
nodes: {rail: {role: pressure, volume: 10 cm3}}
cases:
  shuts: {lasts: 1 s, begins: {fluid: 20 degC, charge: 100 bar, spools: {valve: 1}}, commands: [{at: `+k.at+`, valve: valve, to: 0}]}
`, 1)
		if got := len(out.Parts[2].Surges); got != k.surges {
			t.Errorf("shut at %s: %d surges, want %d: %+v", k.at, got, k.surges, out.Parts[2].Surges)
		}
	}
}

// A pack has locked within 1 % of its input's speed, however fast its output began;
// one whose input stands still, a brake, within 1 % of the speed its output began with.
func TestLockedWithin(t *testing.T) {
	for _, k := range []struct {
		input       string
		slip        float64 // rad/s
		phase       phase
		description string
	}{
		{"500 rpm", 0.5, packLocked, "1 % of the input"},
		{"500 rpm", 0.6, packSlips, "1.1 % of the input"},
		{"0 rpm", 9, packLocked, "0.9 % of the start"},
		{"0 rpm", 11, packSlips, "1.05 % of the start"},
	} {
		c := read(t, "lock.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 4 L, fill: 2 L}
  valve: {kind: directional-valve, p: sump, t: sump, a: port, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  release: {kind: cylinder, head: port, bore: 40 mm, stroke: 3 mm, moving_mass: 0.5 kg, spring: {preload: 4 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
  clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 40 mm, outer_radius: 60 mm, friction: 0.1, plates: {mass: 1 kg, specific_heat: 500 J/kg/K, max_temperature: 300 degC}, driven: {inertia: 0.5 kg·m2, load: 0 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
cases:
  slow: {lasts: 2 s, begins: {fluid: 20 degC, output: 10000 rpm}, drives: {clutch: `+k.input+`}}
`)
		m, y := startOf(t, c, &c.Cases[0])
		for _, e := range m.elements {
			if f, is := e.(*frictionPack); is {
				if got := f.phase(m, 0, m.air, y[f.cylinder.position], f.input.at(0)+k.slip); got != k.phase {
					t.Errorf("%s: phase %d, want %d", k.description, got, k.phase)
				}
			}
		}
	}
}

// Every accumulator begins at the charge, whatever the role of its node.
func TestEveryAccumulatorIsCharged(t *testing.T) {
	for _, role := range []string{"pressure", "control", "return"} {
		c := read(t, "charge.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: pilot, size: 1 L, precharge: {pressure: 50 bar, temperature: 20 degC}, gas: nitrogen, time_constant: 30 s, inlet: 10 mm}
  hole: {kind: orifice, from: pilot, to: sump, diameter: 0.5 mm}
nodes: {pilot: {role: `+role+`}}
cases:
  holds: {lasts: 1 s, begins: {fluid: 20 degC, charge: 100 bar}}
`)
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(role, err, out.Failure)
		}
		pressure, oil := out.Nodes[1].Pressure.Begin, out.Parts[1].Reading("oil").Begin
		if math.Abs(pressure-100e5-101325) > 1 || !(oil > 0.4e-3 && oil < 0.6e-3) {
			t.Errorf("at a node whose role is %s it begins with %.3g L at %.4g bar", role, oil*1e3, pressure/1e5)
		}
	}
}

// What is lost along a line is told without what lifts the oil: nothing in one
// where oil stands, ρ g h apart.
func TestDropWithoutStaticHead(t *testing.T) {
	out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  riser: {kind: tube, from: sump, to: top, bore: 10 mm, wall: 1 mm, length: 5 m, elevation: 5 m}
cases:
  stands: {lasts: 5 s, begins: {fluid: 15 degC}}
`, 1)
	closeTo(t, "pressure at the top", out.Nodes[1].Pressure.End, 101325-870*9.80665*5, 1e-3)
	if drop := out.Parts[1].Reading("drop").End; math.Abs(drop) > 10 {
		t.Errorf("%g Pa are lost along a line in which oil stands", drop)
	}
}
