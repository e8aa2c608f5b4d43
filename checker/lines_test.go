package checker

import (
	"testing"

	"headroom/specs/quantity"
)

func TestFlowThroughLines(t *testing.T) {
	const base = `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet, bore: 20 mm, length: 1 m}
  pump: {kind: pump, from: inlet, to: out, displacement: 10 cm3/rev}
  delivery: {kind: hose, from: out, to: far, bore: 10 mm, length: 1 m}
  relief: {kind: relief-valve, from: out, to: back}
`
	const home = "  home: {kind: hose, from: back, to: sump, bore: 20 mm, length: 1 m}\n"
	tests := []struct {
		name, spec string
		want       map[string]string
	}{
		{"a pump, a throttle and nothing else: all that goes round is what the pump gives", base + `
  throttle: {kind: orifice, from: far, to: back}
` + home + running, map[string]string{"intake": "10 L/min", "delivery": "10 L/min", "home": "10 L/min"}},
		{"a consumer takes less than the pump gives", base + `
  branch: {kind: hose, from: far, to: use}
  user: {kind: consumer, from: use, to: back}
` + home + "cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, demands: {user: [[0 s, 1 L/min], [1 s, 4 L/min]]}}}\n",
			map[string]string{"intake": "10 L/min", "delivery": "4 L/min", "branch": "4 L/min", "home": "14 L/min"}}, // the relief valve's 10 and the user's 4
		{"behind a flow regulator", base + `
  regulator: {kind: flow-regulator, from: far, to: slow, flow: 3 L/min}
  branch: {kind: hose, from: slow, to: back}
` + home + running, map[string]string{"branch": "3 L/min", "delivery": "3 L/min"}},
		{"a dead end", base + home + running, map[string]string{"delivery": "0 L/min", "intake": "10 L/min", "home": "10 L/min"}},
		{"an accumulator before a cylinder: only the simulation knows", base + `
  check: {kind: check-valve, from: far, to: rail}
  store: {kind: accumulator, at: rail}
  feed: {kind: hose, from: rail, to: port}
  valve: {kind: directional-valve, p: port, t: back, a: head, rest: 0}
  ram: {kind: cylinder, head: head}
` + home + running, map[string]string{"delivery": "10 L/min", "feed": "", "home": ""}},
		{"two ways round", base + `
  left: {kind: hose, from: far, to: end}
  right: {kind: hose, from: far, to: end}
  throttle: {kind: orifice, from: end, to: back}
` + home + running, map[string]string{"left": "", "right": "", "delivery": "10 L/min", "home": "10 L/min"}},
		{"two check valves in a row pass on what comes to the first", base + `
  one: {kind: check-valve, from: far, to: mid}
  link: {kind: hose, from: mid, to: next}
  two: {kind: check-valve, from: next, to: end}
  last: {kind: hose, from: end, to: back}
` + home + running, map[string]string{"link": "10 L/min", "last": "10 L/min"}},
		{"the pump stands in one case and turns in another", base + "  throttle: {kind: orifice, from: far, to: back}\n" + home + `
cases:
  rest: {lasts: 1 s, begins: {fluid: 40 degC}}
  run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: {on_below: 10 bar, off_above: 20 bar, at: out, speed: 600 rpm}}}
`, map[string]string{"intake": "6 L/min", "delivery": "6 L/min"}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := gather(t, tt.spec)
			for name, want := range tt.want {
				is(t, name, lineNamed(t, f, name).Flow, want, quantity.Flow, 1e-9)
			}
		})
	}
}

func TestFlowNamesWhatIsMissing(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  delivery: {kind: hose, from: out, to: far}
`+running)
	lacks(t, "flow", lineNamed(t, f, "delivery").Flow, "parts.pump.displacement")
	f = gather(t, "parts: {tank: {kind: reservoir, at: sump}, pump: {kind: pump, from: sump, to: out}, delivery: {kind: hose, from: out, to: far}}\n")
	lacks(t, "flow without a case", lineNamed(t, f, "delivery").Flow, "cases")
}

// Esposito, Fluid Power with Applications, example 10-1: 30 gpm at 20 ft/s want a
// bore of 0.783 in (0.7826).
func TestVelocity(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet, bore: 1 in, length: 1 m}
  pump: {kind: pump, from: inlet, to: out, displacement: 6.93 in3/rev}
  line: {kind: tube, from: out, to: far, bore: 0.7826 in, length: 1 m}
  throttle: {kind: orifice, from: far, to: sump}
`+running) // 1 gal (US) is 231 in3: 6.93 in3 · 1000/min is 30 gpm
	is(t, "velocity", lineNamed(t, f, "line").Velocity, "20 ft/s", quantity.Velocity, 1e-3)
	notes(t, "velocity", lineNamed(t, f, "line").Velocity, "114 L/min, all that pump gives at 1000 rpm")
	// 30 gpm through 1 in: 20 ft/s · 0.7826²
	is(t, "suction velocity", partOf(t, f, "pump").SuctionVelocity, "12.25 ft/s", quantity.Velocity, 1e-3)
	straight := gather(t, pumpAndRelief+running)
	is(t, "suction velocity without a line", partOf(t, straight, "pump").SuctionVelocity, "0 m/s", quantity.Velocity, 0)
}

// Hagen–Poiseuille, Δp = 128 μ L Q/(π d⁴), at the temperature of the warm case
// and at cold start. ν 32 mm2/s at 40 °C, ρ 854.22 kg/m3 by ASTM D1250 (ρ15 870,
// α 7.216e-4; published 854.22); ν 86.28 mm2/s at 20 °C (published, for
// 32/5.4 mm2/s), ρ 866.86 kg/m3.
func TestDropOfALine(t *testing.T) {
	f := gather(t, `
environment: {cold_start: 20 degC}
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev}
  line: {kind: tube, from: out, to: far, bore: 10 mm, length: 2 m}
  throttle: {kind: orifice, from: far, to: sump}
cases:
  warm: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}
  hot: {lasts: 1 s, begins: {fluid: 70 degC}, drives: {pump: 1000 rpm}}
  cold: {lasts: 1 s, begins: {fluid: 20 degC}, drives: {pump: 600 rpm}}
`)
	line := lineNamed(t, f, "line")
	is(t, "warm", line.DropWarm, "0.37125 bar", quantity.PressureDifference, 1e-4) // 27.335 mPa·s, 10 L/min
	is(t, "cold", line.DropCold, "0.60945 bar", quantity.PressureDifference, 2e-4) // 74.793 mPa·s, 6 L/min
	notes(t, "warm", line.DropWarm, "10.0 L/min at 40.0 degC")
	notes(t, "cold", line.DropCold, "6.00 L/min at 20.0 degC")
}

// Oil of 870 kg/m3 and 1.5 GPa in steel tube of 16 mm bore and 2 mm wall, 10 m
// long, 5 m/s: the wave runs at 1273.6 m/s in a thick wall anchored upstream
// (1276.4 m/s by the thin wall), Joukowsky gives 55.40 bar (55.52); shut in 50 ms
// Michaud gives 17.40 bar (recomputed independently). 100 bar on the oil raise
// its density by 0.7 %, the surge by 0.2 % more on the average.
func TestSurge(t *testing.T) {
	const circuit = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 60.3186 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 100 bar, flow: 60 L/min, override: 1 bar}
  line: {kind: tube, from: out, to: port, bore: 16 mm, wall: 2 mm, material: E235, length: 10 m}
  valve: {kind: directional-valve, p: port, t: sump, a: use, rest: 0, lag: LAG}
  throttle: {kind: orifice, from: port, to: sump}
cases: {run: {lasts: 1 s, begins: {fluid: 15 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0 s, valve: valve, to: 1, over: OVER}]}}
`
	at := func(lag, over string) string { return replaced(replaced(circuit, "LAG", lag), "OVER", over) }
	tests := []struct{ name, spec, want string }{
		{"shut within a wave's way there and back", at("1 ms", "0 s"), "55.63 bar"}, // 55.40 bar · √(1 + (100 + 55.6/2) bar/1.5 GPa)
		{"shut in 50 ms", at("0.001 ms", "62.5 ms"), "17.52 bar"},                   // 17.40 bar · (1 + 100 bar/1.5 GPa)
		{"shut so slowly that there is none", at("0.001 ms", "0.2 s"), "0 bar"},     // beyond 10 L/a, 79 ms
		{"no valve", replaced(at("1 ms", "0 s"), "p: port", "p: aside"), "0 bar"},   // a dead end
		{"a lag of its own counts", at("22.756 ms", "0 s"), "17.52 bar"},            // 50 ms/ln 9
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := lineNamed(t, gather(t, tt.spec), "line")
			is(t, "velocity", f.Velocity, "5 m/s", quantity.Velocity, 1e-5)
			is(t, "surge", f.Surge, tt.want, quantity.PressureDifference, 1e-3)
			if f.StaticSurge.Value != f.Pressure.Value+f.Surge.Value {
				t.Errorf("pressure %v and surge %v add up to %v", f.Pressure.Value, f.Surge.Value, f.StaticSurge.Value)
			}
		})
	}
}

// Oil of 1.5 GPa with 0.5 % of free air at 5 bar, stopped from 3 m/s at once in a line
// of no material: 28.0 bar as it squeezes the air (solved independently), 18.3 bar with
// the modulus before the surge.
func TestSurgeSqueezesFreeAir(t *testing.T) {
	const circuit = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 36.1912 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 5 bar, flow: 60 L/min, override: 0.01 bar}
  line: {kind: tube, from: out, to: port, bore: 16 mm, length: 10 m}
  valve: {kind: directional-valve, p: port, t: sump, a: use, rest: 0, lag: 1 ms}
  throttle: {kind: orifice, from: port, to: sump}
cases: {run: {lasts: 1 s, begins: {fluid: 15 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0 s, valve: valve, to: 1, over: 0 s}]}}
`
	f := lineNamed(t, gatherOf(t, replaced(plain, "free_air: 0 %", "free_air: 0.5 %")+circuit), "line")
	is(t, "velocity", f.Velocity, "3 m/s", quantity.Velocity, 1e-4)
	is(t, "pressure", f.Pressure, "5 bar", quantity.Pressure, 3e-3)
	is(t, "surge", f.Surge, "28.0 bar", quantity.PressureDifference, 5e-3)
}

// A line's pressure with surge is told of its part as well.
func TestSurgeOfAPart(t *testing.T) {
	f := gather(t, pumpAndRelief+"  hose: {kind: hose, from: out, to: far, bore: 10 mm, length: 1 m}\n"+running)
	is(t, "with surge", partOf(t, f, "hose").HighestSurge, "105 bar", quantity.Pressure, 1e-9)
}

// A valve that stands where the flow comes from does not stop it; a consumer that
// takes its demand back does, as fast as it does.
func TestSurgeIsOfWhatTheFlowGoesTo(t *testing.T) {
	const circuit = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 60.3186 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 100 bar, flow: 60 L/min, override: 1 bar}
  valve: {kind: directional-valve, p: out, t: sump, a: aside, rest: 0, lag: 1 ms}
  line: {kind: tube, from: out, to: far, bore: 16 mm, wall: 2 mm, material: E235, length: 10 m}
  user: {kind: consumer, from: far, to: sump}
cases: {run: {lasts: 1 s, begins: {fluid: 15 degC}, drives: {pump: 1000 rpm}, demands: {user: DEMAND}}}
`
	steady := lineNamed(t, gather(t, replaced(circuit, "DEMAND", "60.3186 L/min")), "line")
	is(t, "surge with a steady demand", steady.Surge, "0 bar", quantity.PressureDifference, 0)
	notes(t, "surge with a steady demand", steady.Surge, "no valve stops its flow")
	falling := lineNamed(t, gather(t, replaced(circuit, "DEMAND", "[[0 s, 60.3186 L/min], [62.5 ms, 0 L/min]]")), "line")
	is(t, "surge with a falling demand", falling.Surge, "17.52 bar", quantity.PressureDifference, 1e-3)
	notes(t, "surge with a falling demand", falling.Surge, "user shuts in 50.0 ms")
}
