package checker

import (
	"testing"

	"headroom/specs/quantity"
)

// A pump of 10 cm3/rev at 1000 rpm gives 10 L/min; a relief valve that cracks at
// 100 bar and rises by 10 bar at 20 L/min comes to 105 bar with it.
const pumpAndRelief = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 100 bar, flow: 20 L/min, override: 10 bar}
`
const running = "cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}}\n"

// A store that a valve may empty into a return line.
const dumped = `
  check: {kind: check-valve, from: aside, to: rail, cracking: 0 bar, flow: 10 L/min, drop: 1 bar}
  store: {kind: accumulator, at: rail}
  dump: {kind: directional-valve, p: rail, t: back, a: use, rest: 0}
  home: {kind: hose, from: back, to: sump, bore: 20 mm, length: 1 m}
`
const charged = "cases: {run: {lasts: 1 s, begins: {fluid: 40 degC, charge: 90 bar}}}\n"

func TestBoundedPressure(t *testing.T) {
	tests := []struct {
		name, spec string
		want       map[string]string // node to pressure, "" for the simulation
	}{
		{"the relief valve with the whole flow in it", pumpAndRelief + "  hose: {kind: hose, from: out, to: far, bore: 10 mm, length: 1 m}\n" + running,
			map[string]string{"out": "105 bar", "far": "105 bar", "sump": "0 bar"}},
		{"the higher of two speeds counts", pumpAndRelief + "cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: [[0 s, 3000 rpm], [1 s, 0 rpm]]}}}\n",
			map[string]string{"out": "115 bar"}},
		{"no relief valve", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: aside, to: sump, cracking") + running,
			map[string]string{"out": ""}},
		{"a relief valve that blows into what can be shut", replaced(pumpAndRelief, "to: sump, cracking", "to: low, cracking") +
			"  shut: {kind: directional-valve, p: low, t: sump, a: aside, rest: 1}\n" + running,
			map[string]string{"out": ""}},
		{"behind a check valve, less its cracking pressure", pumpAndRelief + "  check: {kind: check-valve, from: out, to: rail, cracking: 2 bar, flow: 10 L/min, drop: 1 bar}\n" + running,
			map[string]string{"out": "105 bar", "rail": "103 bar"}},
		{"the relief valve behind the check valve: its drop is lost on the way", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: rail, to: sump, cracking") +
			"  check: {kind: check-valve, from: out, to: rail, cracking: 2 bar, flow: 10 L/min, drop: 1 bar}\n" + running,
			// 105 + 2 + 1 bar · (density at 40 °C)/860; 854.3 kg/m3 by ASTM D1250, 860.0 with 105 bar on it
			map[string]string{"rail": "105 bar", "out": "108.000 bar"}},
		{"two pumps into one relief valve", pumpAndRelief + `
  second: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm, second: 500 rpm}}}
`, map[string]string{"out": "107.5 bar"}},
		{"the lower of two relief valves", pumpAndRelief + "  second: {kind: relief-valve, from: out, to: sump, cracking: 80 bar, flow: 10 L/min, override: 20 bar}\n" + running,
			map[string]string{"out": "100 bar"}},
		{"a gas cushion in the reservoir adds to it", replaced(pumpAndRelief, "at: sump}", "at: sump, pressure: 0.5 bar}") + running,
			map[string]string{"out": "105.5 bar", "sump": "0.5 bar"}},
		{"a charge above the relief valve", pumpAndRelief + `
  store: {kind: accumulator, at: out}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC, charge: 140 bar}, drives: {pump: 1000 rpm}}}
`, map[string]string{"out": "140 bar"}},
		{"an accumulator's flow is not limited by the pump: it is not stopped by the second relief valve", pumpAndRelief + `
  store: {kind: accumulator, at: out}
  valve: {kind: directional-valve, p: out, t: sump, a: use, rest: 0}
  lower: {kind: relief-valve, from: use, to: sump, cracking: 40 bar, flow: 20 L/min, override: 10 bar}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC, charge: 90 bar}, drives: {pump: 1000 rpm}}}
`, map[string]string{"use": "105 bar"}},
		{"without an accumulator the second relief valve bounds what is behind the valve", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: use, rest: 0}
  lower: {kind: relief-valve, from: use, to: sump, cracking: 40 bar, flow: 20 L/min, override: 10 bar}
` + running, map[string]string{"out": "105 bar", "use": "45 bar"}},
		{"a reducing valve lets no more pass than it is told, and its band", pumpAndRelief + `
  reduce: {kind: reducing-valve, p: out, a: low, t: sump, band: 2 bar, rest: 5 bar}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0 s, valve: reduce, to: 30 bar}]}}
`, map[string]string{"low": "32 bar"}},
		{"a reducing valve that is told more than there is", pumpAndRelief + `
  reduce: {kind: reducing-valve, p: out, a: low, t: sump, band: 2 bar, rest: 5 bar}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0 s, valve: reduce, to: 300 bar}]}}
`, map[string]string{"low": "105 bar"}},
		{"a reducing valve stuck in a fault case", pumpAndRelief + `
  reduce: {kind: reducing-valve, p: out, a: low, t: sump, band: 2 bar, rest: 5 bar}
cases:
  run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}
  fault: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, with: {reduce: {stuck: 60 bar}}}
`, map[string]string{"low": "62 bar"}},
		{"a single-acting cylinder on a reducing valve: its spring may press more", pumpAndRelief + `
  reduce: {kind: reducing-valve, p: out, a: low, t: sump, band: 2 bar, rest: 5 bar}
  ram: {kind: cylinder, head: low, bore: 20 mm, stroke: 10 mm, spring: {preload: 1 kN, rate: 100 N/mm}}
` + running, // (1000 + 1000) N on 314.159 mm2
			map[string]string{"low": "63.662 bar"}},
		{"a chamber that a directional valve shuts is left to the simulation", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: head, rest: 0}
  ram: {kind: cylinder, head: head, bore: 20 mm, stroke: 10 mm}
` + running, map[string]string{"out": "105 bar", "head": ""}},
		{"a load presses its cylinder's fluid back to the rail", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: head, rest: 0}
  ram: {kind: cylinder, head: head, bore: 20 mm, stroke: 10 mm, load: 6 kN}
` + running, // 6 kN on 314.159 mm2
			map[string]string{"out": "190.986 bar"}},
		{"the case's own load", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: head, rest: 0}
  ram: {kind: cylinder, head: head, bore: 20 mm, stroke: 10 mm, load: 1 kN}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, loads: {ram: [[0 s, 0 N], [1 s, 6 kN]]}}}
`, map[string]string{"out": "190.986 bar"}},
		{"a motor that its load drives is a pump that nothing bounds", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: in, rest: 0}
  motor: {kind: motor, from: in, to: sump, displacement: 10 cm3/rev, load: -5 N·m}
` + running, map[string]string{"out": ""}},
		{"a motor that its load holds back", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: in, rest: 0}
  motor: {kind: motor, from: in, to: sump, displacement: 10 cm3/rev, load: 5 N·m}
` + running, map[string]string{"out": "105 bar", "in": ""}},
		{"a double-acting cylinder with both sides on the rail is pressed back on its rod's area", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: head, b: rod, rest: 0}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 16 mm, stroke: 10 mm, load: 6 kN}
` + running, // 6 kN on 201.062 mm2
			map[string]string{"out": "298.416 bar"}},
		{"what an accumulator may empty into the return comes to the held port from behind", pumpAndRelief + dumped +
			"  reduce: {kind: reducing-valve, p: out, a: low, t: back, band: 2 bar, rest: 5 bar}\n" + charged,
			map[string]string{"low": "90 bar"}},
		{"but not beyond the back pressure that the valve is rated for, which is judged apart", pumpAndRelief + dumped +
			"  reduce: {kind: reducing-valve, p: out, a: low, t: back, band: 2 bar, rest: 5 bar, rated: {back_pressure: 12 bar}}\n" + charged,
			map[string]string{"low": "12 bar"}},
		{"a line that rises costs nothing of its own, but what is lower bears its height", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking") +
			"  line: {kind: hose, from: out, to: far, bore: 100 mm, length: 10 mm, elevation: 10 m}\n" + running,
			map[string]string{"out": "105.8532 bar"}}, // 105 bar and ρ g h = 870 · 9.80665 · 10 Pa
		{"a pump that stands still", pumpAndRelief + "cases: {rest: {lasts: 1 s, begins: {fluid: 40 degC}}}\n",
			map[string]string{"out": "0 bar"}},
		{"a pump that stands still, under a gas cushion", replaced(pumpAndRelief, "at: sump}", "at: sump, pressure: 0.5 bar}") + "cases: {rest: {lasts: 1 s, begins: {fluid: 40 degC}}}\n",
			map[string]string{"out": "0.5 bar"}},
		{"of two pumps the one with the longer way to the relief valve decides", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: near, to: sump, cracking") + `
  orifice: {kind: orifice, from: out, to: near, diameter: 3 mm}
  second: {kind: pump, from: sump, to: near, displacement: 0.00001 cm3/rev}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm, second: 1000 rpm}}}
`, map[string]string{"out": "111.426 bar", "near": "111.426 bar"}}, // the orifice as in TestLossOfAPart; a section is bounded as one
		{"the worst of two cases", pumpAndRelief + `
cases:
  slow: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 500 rpm}}
  misset: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 500 rpm}, with: {relief: {cracking: 130 bar}}}
`, map[string]string{"out": "132.5 bar"}},
		{"a return line is left to the simulation", replaced(pumpAndRelief, "to: sump, cracking", "to: low, cracking") +
			"  home: {kind: tube, from: low, to: sump, bore: 100 mm, length: 10 mm}\n" + running,
			map[string]string{"out": "105.001 bar", "low": ""}},
		{"a suction line", replaced(pumpAndRelief, "from: sump, to: out", "from: inlet, to: out") +
			"  intake: {kind: hose, from: sump, to: inlet, bore: 20 mm, length: 1 m, elevation: -0.5 m}\n" + running,
			map[string]string{"inlet": "0.042659 bar"}}, // ρ g h = 870 · 9.80665 · 0.5 Pa
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := gather(t, tt.spec)
			for node, want := range tt.want {
				is(t, node, nodeOf(t, f, node).HighestPressure, want, quantity.Pressure, 1e-4)
			}
		})
	}
}

// What keeps a pressure from being told is named by its key.
func TestUnboundedPressureNamesWhatIsMissing(t *testing.T) {
	tests := []struct{ name, spec, lacks string }{
		{"no case", pumpAndRelief, "cases"},
		{"the pump's displacement", replaced(pumpAndRelief, ", displacement: 10 cm3/rev", "") + running, "parts.pump.displacement"},
		{"the relief valve's override", replaced(pumpAndRelief, ", override: 10 bar", "") + running, "parts.relief.override"},
		{"a dimension on the way to it", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking") +
			"  hose: {kind: hose, from: out, to: far, bore: 10 mm}\n" + running, "parts.hose.length"},
		{"nothing protects it", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: aside, to: sump, cracking") + running, "simulation"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			lacks(t, "highest pressure", nodeOf(t, gather(t, tt.spec), "out").HighestPressure, tt.lacks)
		})
	}
}

// A part's highest pressure is that of its ports; a port behind it that only
// the simulation knows does not matter where it cannot come to more.
func TestPartPressure(t *testing.T) {
	f := gather(t, pumpAndRelief+`
  home: {kind: hose, from: low, to: sump, bore: 20 mm, length: 1 m}
  use: {kind: consumer, from: out, to: low, min_pressure: 20 bar}
  valve: {kind: directional-valve, p: out, t: low, a: head, rest: 0}
  ram: {kind: cylinder, head: head, bore: 20 mm, stroke: 10 mm}
`+running)
	is(t, "pump", partOf(t, f, "pump").HighestPressure, "105 bar", quantity.Pressure, 1e-6)
	is(t, "relief valve", partOf(t, f, "relief").HighestPressure, "105 bar", quantity.Pressure, 1e-6)
	is(t, "consumer between rail and return", partOf(t, f, "use").HighestPressure, "105 bar", quantity.Pressure, 1e-6)
	lacks(t, "return hose", partOf(t, f, "home").HighestPressure, "simulation")
	lacks(t, "valve with a chamber behind it", partOf(t, f, "valve").HighestPressure, "simulation")
	notes(t, "pump", partOf(t, f, "pump").HighestPressure, "at most relief open at 10.0 L/min")
	if from := partOf(t, f, "pump").HighestPressure.From; from.Case != "run" || from.Node != "out" || from.Key != "parts.relief.cracking" {
		t.Errorf("the pump's pressure comes from %+v", from)
	}
}

// A thin line between pump and relief valve costs pressure, and most when cold:
// Hagen–Poiseuille, Δp = 128 μ L Q/(π d⁴).
func TestPressureLostOnTheWayToTheReliefValve(t *testing.T) {
	f := gather(t, replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking")+
		"  line: {kind: tube, from: out, to: far, bore: 10 mm, length: 2 m}\n"+running)
	// ν 32 mm2/s at 40 °C; ρ 854.22 kg/m3 (ASTM D1250) with 105 bar on it 860.2:
	// μ 27.526 mPa·s, Q 1.66667e-4 m3/s: 128 · 0.027526 · 2 · 1.66667e-4/(π · 1e-8) = 37 384 Pa
	is(t, "pressure at the pump", nodeOf(t, f, "out").HighestPressure, "105.37384 bar", quantity.Pressure, 2e-6)
	notes(t, "pressure at the pump", nodeOf(t, f, "out").HighestPressure, "0.374 bar lost on the way to it")
}

// Of two reservoirs of equal pressure that a node stands open to, the first in the
// spec sets its pressure, every time.
func TestFirstOfEqualReservoirs(t *testing.T) {
	const two = `
parts:
  one: {kind: reservoir, at: left, pressure: 0.5 bar}
  other: {kind: reservoir, at: right, pressure: 0.5 bar}
  from-one: {kind: hose, from: left, to: intake}
  from-other: {kind: hose, from: right, to: intake}
  pump: {kind: pump, from: intake, to: out, drain: left}
`
	for range 20 {
		f := nodeOf(t, gather(t, two+running), "intake").HighestPressure
		is(t, "at the intake", f, "0.5 bar", quantity.Pressure, 1e-9)
		if f.From.Note != "gas pressure of one" {
			t.Fatalf("it is told as %q", f.From.Note)
		}
	}
}
