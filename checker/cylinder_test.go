package checker

import (
	"testing"

	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// saysOf checks a fact that holds or does not, and what it says of it.
func saysOf(t *testing.T, what string, f facts.Flag, want bool, note string) {
	t.Helper()
	if !f.Known || f.Value != want {
		t.Errorf("%s: %+v, want %v", what, f, want)
		return
	}
	notes(t, what, facts.Fact{From: f.From}, note)
}

// A 40 mm rod, 1 m free: σ = π² 210 000/100² = 207.26 MPa on 1256.6 mm2, 260.45 kN.
// 105 bar on an 80 mm piston: 10.5 MPa · 5026.5 mm2 = 52.78 kN.
func TestBucklingFacts(t *testing.T) {
	ram := func(keys string) *facts.Part {
		return partOf(t, gather(t, pumpAndRelief+"  ram: {kind: cylinder, head: out, rod: far, bore: 80 mm, "+keys+"}\n"+running), "ram")
	}
	stated := ram("rod_diameter: 40 mm, stroke: 100 mm, buckling_length: 1 m")
	is(t, "buckling force", stated.BucklingForce, "260.452 kN", quantity.Force, 1e-4)
	is(t, "force on the rod", stated.RodForce, "52.779 kN", quantity.Force, 1e-4)
	saysOf(t, "a stated length", stated.Slender, true, "")
	unstated := ram("rod_diameter: 40 mm, stroke: 401 mm")
	saysOf(t, "a stroke of more than 10 rods", unstated.Slender, true, "10.0 diameters")
	lacks(t, "buckling force", unstated.BucklingForce, "parts.ram.buckling_length")
	saysOf(t, "a stroke of 10 rods", ram("rod_diameter: 40 mm, stroke: 400 mm").Slender, false, "10.0 diameters")
	alone := partOf(t, gather(t, "parts: {ram: {kind: cylinder, head: a, bore: 20 mm, stroke: 60 mm}}\n"), "ram")
	saysOf(t, "a rod of unstated diameter", alone.Slender, false, "3.0 diameters")
}

// Spring against friction, reservoir and load: 0.5 bar on 20 mm (314.16 mm2) is
// 15.71 N; of loads of 150 N and, in a case, from 40 N down to -30 N the least counts.
func TestSpringReturn(t *testing.T) {
	const sprung = `
parts:
  tank: {kind: reservoir, at: sump, pressure: 0.5 bar}
  flap: {kind: cylinder, head: a, bore: 20 mm, stroke: 60 mm, spring: {preload: 320 N, rate: 4 N/mm}, friction: {coulomb: 20 N}, load: 150 N}
  ram: {kind: cylinder, head: b, rod: c, bore: 20 mm, rod_diameter: 10 mm, stroke: 60 mm, spring: {preload: 320 N, rate: 4 N/mm}}
`
	f := gather(t, sprung)
	flap := partOf(t, f, "flap")
	is(t, "force home", flap.ReturnForce, "470 N", quantity.Force, 1e-9)
	is(t, "against it", flap.ReturnResistance, "35.708 N", quantity.Force, 1e-4)
	saysOf(t, "a double-acting cylinder", partOf(t, f, "ram").SpringReturned, false, "")

	flap = partOf(t, gather(t, sprung+"cases: {run: {lasts: 1 s, loads: {flap: [[0 s, 40 N], [1 s, -30 N]]}}}\n"), "flap")
	is(t, "force home where the load draws it out", flap.ReturnForce, "320 N", quantity.Force, 1e-9)
	is(t, "against it", flap.ReturnResistance, "65.708 N", quantity.Force, 1e-4)
}

// A load held by a lock valve at the cylinder, behind a hose, by a spool, and by
// one that leaks.
func TestHangingLoad(t *testing.T) {
	const lift = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  valve: {kind: directional-valve, p: rail, t: sump, a: line, b: top, rest: REST LEAK}
  lock: {kind: pilot-check-valve, from: line, to: LOCKED, pilot: top, ratio: 3}
  run: {kind: RUN, from: below, to: held, bore: 10 mm, length: 1 m}
  ram: {kind: cylinder, head: held, rod: top, bore: 40 mm, rod_diameter: 20 mm, stroke: 500 mm, LOAD}
`
	tests := []struct {
		name, lock, run, rest, leak, load string
		hose, holds                       bool
		says                              string
	}{
		{"a lock valve and a tube", "below", "tube", "0", "", "load: 5 kN, hangs: true", false, true, "head side shut"},
		{"a hose after the lock valve", "below", "hose", "0", "", "load: 5 kN, hangs: true", true, true, "head side shut"},
		{"the lock valve at the cylinder, a stray hose elsewhere", "held", "tube", "0", "", "load: 5 kN, hangs: true", false, true, "shut"},
		{"the pilot is pressed at rest", "below", "tube", "-1", "", "load: 5 kN, hangs: true", false, false, "head side"},
		{"the load draws the rod out: the rod side bears it, behind a spool alone", "below", "hose", "0", "", "load: -5 kN, hangs: true", false, true, "rod side shut"},
		{"and that spool leaks", "below", "tube", "0", ", leak: {flow: 0.1 L/min, pressure: 100 bar}", "load: -5 kN, hangs: true", false, false, "valve leaks"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			text := lift
			for _, r := range [][2]string{{"LOCKED", tt.lock}, {"RUN", tt.run}, {"REST", tt.rest}, {" LEAK", tt.leak}, {"LOAD", tt.load}} {
				text = replaced(text, r[0], r[1])
			}
			ram := partOf(t, gather(t, text), "ram")
			saysOf(t, "a hose under the load", ram.HangingHose, tt.hose, "side")
			saysOf(t, "held", ram.LoadHeld, tt.holds, tt.says)
		})
	}
	const metered = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  valve: {kind: directional-valve, p: rail, t: sump, a: line, b: top, rest: 0, leak: {flow: 10 mL/min, pressure: 100 bar}}
  meter: {kind: flow-regulator, from: held, to: top, flow: 3 L/min, needs: 8 bar}
  free: {kind: check-valve, from: top, to: held}
  ram: {kind: cylinder, head: line, rod: held, bore: 40 mm, rod_diameter: 20 mm, stroke: 500 mm, load: -5 kN, hangs: true}
`
	saysOf(t, "held by a spool that leaks, past a flow regulator", partOf(t, gather(t, metered), "ram").LoadHeld, false, "valve leaks")
	locked := replaced(replaced(metered, "from: held", "from: in"), "from: top, to: held}", "from: top, to: in}\n  lock: {kind: pilot-check-valve, from: in, to: held, pilot: line, ratio: 3}")
	saysOf(t, "and with a lock valve", partOf(t, gather(t, locked), "ram").LoadHeld, true, "rod side shut")
	free := replaced(replaced(replaced(replaced(lift, "LOCKED", "below"), "RUN", "tube"), "REST LEAK", "0"), "LOAD", "hangs: true")
	if ram := partOf(t, gather(t, free), "ram"); ram.LoadHeld.Known || ram.LoadHeld.Missing != "parts.ram.load" {
		t.Errorf("a load of nothing is held: %+v", ram.LoadHeld)
	}
}

// A 24 mm piston with 2.6 mm of stroke moves 1.176 cm3; 0.85 m of 6.3 mm hold
// 26.50 cm3. A 40 mm piston with 500 mm moves 628.3 cm3 for 78.54 cm3 of 10 mm in
// 1 m; its rod side, 20 mm, 471.2 cm3 for 2 m of 10 mm and 21.46 cm3 declared.
func TestDeadEnds(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  reducer: {kind: reducing-valve, p: rail, a: line, t: sump}
  hose: {kind: hose, from: line, to: port, bore: 6.3 mm, length: 850 mm}
  clutch: {kind: cylinder, head: port, bore: 24 mm, stroke: 2.6 mm, bleeds: true}
  valve: {kind: directional-valve, p: rail, t: sump, a: a, b: b}
  lock: {kind: pilot-check-valve, from: a, to: held, pilot: b, ratio: 3}
  tube-a: {kind: tube, from: held, to: head, bore: 10 mm, length: 1 m}
  tube-b: {kind: tube, from: b, to: rod, bore: 10 mm, length: 2 m}
  ram: {kind: cylinder, head: head, rod: rod, bore: 40 mm, rod_diameter: 20 mm, stroke: 500 mm}
  direct: {kind: cylinder, head: rail, bore: 40 mm, stroke: 500 mm}
  flushed: {kind: cylinder, head: loop, bore: 10 mm, stroke: 10 mm}
  in: {kind: directional-valve, p: rail, t: sump, a: loop}
  out: {kind: directional-valve, p: loop, t: sump, a: blind}
  unmeasured: {kind: cylinder, head: long, bore: 10 mm, stroke: 10 mm}
  endless: {kind: tube, from: more, to: long, bore: 10 mm}
  feeder: {kind: directional-valve, p: rail, t: sump, a: more}
nodes: {b: {volume: 21.46 cm3}}
`)
	clutch, ram := partOf(t, f, "clutch"), partOf(t, f, "ram")
	saysOf(t, "the clutch's line", clutch.DeadEnd, true, "reducer")
	near(t, "its exchange", clutch.LineExchange, 1.17622/26.4970, 1e-4)
	saysOf(t, "its bleed point", clutch.Bleeds, true, "")
	saysOf(t, "the ram's lines", ram.DeadEnd, true, "valve")
	near(t, "the worse of its sides", ram.LineExchange, 471.239/178.540, 1e-4)
	saysOf(t, "a cylinder on the rail", partOf(t, f, "direct").DeadEnd, false, "oil goes through it")
	saysOf(t, "a line between two valves", partOf(t, f, "flushed").DeadEnd, false, "")
	lacks(t, "a line of no length", partOf(t, f, "unmeasured").LineExchange, "parts.endless.length")
}
