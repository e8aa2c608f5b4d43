package checker

import (
	"math"
	"strings"
	"testing"

	"headroom/specs/quantity"
)

func TestTubeBurst(t *testing.T) {
	const tube = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  pipe: {kind: tube, from: out, to: far, bore: 16 mm, length: 1 m, wall: 2 mm, material: MATERIAL}
environment: {ambient: 20 degC}
`
	replace := func(material, hottest string) string {
		return replaced(plain, "max_temperature: 80 degC", "max_temperature: "+hottest) + replaced(tube, "MATERIAL", material)
	}
	tests := []struct{ name, spec, want, lacks string }{
		// S_y 355, S_u 490 MPa, k 1.25: Lamé to the tensile strength 107.56, Faupel
		// 116.67 MPa, the lower of them (recomputed independently).
		{"E355 at 20 °C", replace("E355", "20 degC"), "107.56 MPa", ""},
		// At 100 °C the standard's least yield is 304 MPa: Faupel
		// 2·304/√3 · ln 1.25 · (2 − 304/490) = 108.06, still above Lamé.
		{"E355 at 100 °C", replace("E355", "100 degC"), "107.56 MPa", ""},
		// E235 at 60 °C: yield half way between 235 and 198 MPa, tensile 340:
		// Faupel 2·216.5/√3 · 0.223144 · (2 − 216.5/340) = 76.05, Lamé 74.63 MPa.
		{"E235 at 60 °C", replace("E235", "60 degC"), "74.634 MPa", ""},
		// At 300 °C yield 132: Faupel 2·132/√3 · 0.223144 · (2 − 132/340) = 54.82 MPa.
		{"E235 at 300 °C", replace("E235", "300 degC"), "54.817 MPa", ""},
		{"hotter than its strength is known", replace("E235", "310 degC"), "", "parts.pipe.burst_pressure"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			burst := partOf(t, gatherOf(t, tt.spec), "pipe").BurstPressure
			if tt.want == "" {
				lacks(t, "burst pressure", burst, tt.lacks)
				return
			}
			is(t, "burst pressure", burst, tt.want, quantity.PressureDifference, 1e-4)
		})
	}
}

// Short excursions of the fluid count where they are given: at 300 °C as above.
func TestTubeBurstAtThePeak(t *testing.T) {
	f := gatherOf(t, replaced(plain, "max_temperature: 80 degC", "max_temperature: 80 degC\n  peak_temperature: 300 degC")+`
parts:
  pipe: {kind: tube, from: a, to: b, bore: 16 mm, length: 1 m, wall: 2 mm, material: E235}
`)
	is(t, "burst pressure", partOf(t, f, "pipe").BurstPressure, "54.817 MPa", quantity.PressureDifference, 1e-4)
}

func TestTubeBurstNeedsItsMaterial(t *testing.T) {
	f := gather(t, `
parts:
  bare: {kind: tube, from: a, to: b, bore: 16 mm, length: 1 m, wall: 2 mm}
  thin: {kind: tube, from: a, to: b, bore: 16 mm, length: 1 m, material: E235}
  stated: {kind: tube, from: a, to: b, bore: 16 mm, length: 1 m, burst_pressure: 900 bar}
  hose: {kind: hose, from: a, to: b, bore: 16 mm, length: 1 m}
`)
	lacks(t, "without a material", partOf(t, f, "bare").BurstPressure, "parts.bare.material")
	lacks(t, "without a wall", partOf(t, f, "thin").BurstPressure, "parts.thin.wall")
	lacks(t, "of a hose that states none", partOf(t, f, "hose").BurstPressure, "parts.hose.burst_pressure")
	is(t, "as stated", partOf(t, f, "stated").BurstPressure, "900 bar", quantity.Pressure, 1e-9)
}

// Gauge pressures stay gauge whatever the air.
func TestRatedPressureIsGauge(t *testing.T) {
	f := gather(t, `
environment: {altitude: 2000 m}
parts:
  hose: {kind: hose, from: a, to: b, bore: 16 mm, length: 1 m, rated: {pressure: 250 bar}, proof_pressure: 60 MPa}
`)
	is(t, "rated", partOf(t, f, "hose").RatedPressure, "250 bar", quantity.Pressure, 1e-12)
	is(t, "proof", partOf(t, f, "hose").ProofPressure, "600 bar", quantity.Pressure, 1e-12)
	is(t, "air at 2000 m, ISO 2533", f.Environment.AirPressure, "0.79495 bar abs", quantity.AbsolutePressure, 1e-4)
}

// Steel tube to EN 10305 has strengths up to 300 °C; what a tube states goes first.
func TestTubeRatedTemperature(t *testing.T) {
	f := gather(t, `
parts:
  tube: {kind: tube, from: a, to: b, bore: 9 mm, wall: 1.5 mm, length: 1 m, material: E235}
  stated: {kind: tube, from: a, to: b, bore: 9 mm, wall: 1.5 mm, length: 1 m, material: E235, rated: {temperature: {max: 120 degC}}}
  unknown: {kind: tube, from: a, to: b, bore: 9 mm, wall: 1.5 mm, length: 1 m}
  hose: {kind: hose, from: a, to: b, bore: 9 mm, length: 1 m}
`)
	is(t, "by its material", partOf(t, f, "tube").RatedMax, "300 degC", quantity.Temperature, 1e-9)
	is(t, "as stated", partOf(t, f, "stated").RatedMax, "120 degC", quantity.Temperature, 1e-9)
	lacks(t, "of no material", partOf(t, f, "unknown").RatedMax, "parts.unknown.rated.temperature.max")
	lacks(t, "of a hose", partOf(t, f, "hose").RatedMax, "parts.hose.rated.temperature.max")
}

// A tube begins to yield at its bore at S_y (k² − 1)/(√3 k²): E235 at the
// fluid's 80 °C yields at 235 − 37 · 60/80 = 207.25 MPa, 12 × 1.5 mm, k = 12/9, at
// 207.25 · 0.4375/√3 = 52.349 MPa.
func TestTubeProof(t *testing.T) {
	f := gather(t, `
parts:
  tube: {kind: tube, from: a, to: b, bore: 9 mm, wall: 1.5 mm, length: 1 m, material: E235}
  stated: {kind: tube, from: a, to: b, bore: 9 mm, wall: 1.5 mm, length: 1 m, material: E235, proof_pressure: 400 bar, rated: {pressure: 200 bar}}
  bare: {kind: tube, from: a, to: b, bore: 9 mm, length: 1 m, material: E235}
  hose: {kind: hose, from: a, to: b, bore: 9 mm, length: 1 m}
`)
	is(t, "by its wall", partOf(t, f, "tube").ProofPressure, "523.49 bar", quantity.Pressure, 2e-5)
	is(t, "as stated", partOf(t, f, "stated").ProofPressure, "400 bar", quantity.Pressure, 1e-9)
	lacks(t, "without a wall", partOf(t, f, "bare").ProofPressure, "parts.bare.wall")
	lacks(t, "of a hose", partOf(t, f, "hose").ProofPressure, "parts.hose.proof_pressure")
	for name, want := range map[string]bool{"tube": true, "stated": false, "hose": false} {
		if got := partOf(t, f, name).BareTube; !got.Known || got.Value != want {
			t.Errorf("%s as a tube without a rating: %+v, want %v", name, got, want)
		}
	}
}

func TestFatigueNeedsFirst(t *testing.T) {
	const cycles = "rated: {cycles: {count: 1000, at: 100 bar, exponent: 5}}"
	for _, tt := range []struct{ name, spec, lacks string }{
		{"no rating", "parts: {store: {kind: accumulator, at: a}}", "parts.store.rated.cycles"},
		{"no service interval", "parts: {store: {kind: accumulator, at: a, " + cycles + "}}", "environment.service_interval"},
		{"half a rating", "environment: {service_interval: 60 h}\nparts: {store: {kind: accumulator, at: a, rated: {cycles: {count: 1000, at: 100 bar}}}}", "parts.store.rated.cycles.exponent"},
		{"all of it", "environment: {service_interval: 60 h}\nparts: {store: {kind: accumulator, at: a, " + cycles + "}}", "simulation"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			store := partOf(t, gather(t, tt.spec), "store")
			lacks(t, "miner sum", store.MinerSum, tt.lacks)
			if rated := strings.Contains(tt.spec, "cycles"); store.CyclesRated.Value != rated {
				t.Errorf("rated for cycles: %v, want %v", store.CyclesRated.Value, rated)
			}
		})
	}
}

// A rod side of its own valve can be shut while the head side is pressed: with
// 20 mm bore and 12 mm rod, areas 4 : 2.56, the rod side comes to 1.5625 times
// the head side's pressure.
func TestIntensification(t *testing.T) {
	const ram = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 100 bar, flow: 10 L/min, override: 10 bar}
  valve: {kind: directional-valve, p: rail, t: sump, a: head, rest: 0}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 12 mm, stroke: 50 mm}
`
	const worked = "cases: {c: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0 s, valve: valve, to: 1}]}}\n"
	own := gather(t, ram+"  other: {kind: directional-valve, p: rail, t: sump, a: rod, rest: 0}\n"+worked)
	is(t, "rod side", partOf(t, own, "ram").Intensified, "171.875 bar", quantity.Pressure, 1e-6) // 110 bar at 10 L/min
	notes(t, "rod side", partOf(t, own, "ram").Intensified, "other shut while the head side is at 110 bar")
	open := gather(t, ram+"  vent: {kind: hose, from: rod, to: sump, bore: 10 mm, length: 1 m}\n"+worked)
	lacks(t, "a rod side that stands open", partOf(t, open, "ram").Intensified, "")
	if shut, free := partOf(t, own, "ram").RodCanBeShut, partOf(t, open, "ram").RodCanBeShut; !shut.Value || free.Value || !free.Known {
		t.Errorf("shut by its own valve: %+v; open: %+v", shut, free)
	}
	blind := partOf(t, gather(t, replaced(ram, ", rod_diameter: 12 mm", "")+"  other: {kind: directional-valve, p: rail, t: sump, a: rod, rest: 0}\n"+worked), "ram")
	if lacks(t, "a rod of no diameter", blind.Intensified, "parts.ram.rod_diameter"); !blind.RodCanBeShut.Value {
		t.Error("a rod side of unknown area is told as one that nothing can shut")
	}
}

// What loads do to it: one that bears is taken off, one that pulls is added, one that
// grows less leaves what the whole of it pressed. Another cylinder's load presses on
// it too, borne there by the whole piston unless a way joins its sides.
func TestIntensificationUnderLoad(t *testing.T) {
	const ram = pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: head, rest: 0}
  other: {kind: directional-valve, p: out, t: sump, a: rod, rest: 0}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 12 mm, stroke: 50 mm}
`
	const mate = `
  lift: {kind: directional-valve, p: out, t: sump, a: far, b: back, rest: -1}
  mate: {kind: cylinder, head: far, rod: back, bore: 20 mm, rod_diameter: 16 mm, stroke: 50 mm, load: 6 kN}
`
	const round = "  round: {kind: orifice, from: far, to: back, diameter: 1 mm}\n"
	const begins = "cases: {c: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, commands: [{at: 0 s, valve: valve, to: 1}"
	const worked = begins + "]}}\n"
	const lifted = begins + ", {at: 0 s, valve: lift, to: 1}]}}\n"
	loaded := func(load string) string { return replaced(ram, "stroke: 50 mm", "stroke: 50 mm, load: "+load) }
	const bears = "other shut while the head side is at 105 bar against a load of 1.00 kN: at most relief open at 10.0 L/min"
	for _, tt := range []struct{ name, spec, want, note string }{
		// 314.159 and 201.062 mm2
		{"none", ram + worked, "164.0625 bar", "other shut while the head side is at 105 bar: at most relief open at 10.0 L/min"},
		{"one that bears", loaded("1 kN") + worked, "114.327 bar", bears}, // (3298.67 − 1000) N
		{"a spring that bears", replaced(ram, "stroke: 50 mm", "stroke: 50 mm, spring: {preload: 1 kN, rate: 1 N/mm}") + worked, "114.327 bar", bears},
		{"one that pulls", loaded("-1 kN") + worked, "213.798 bar", "at 105 bar and a load of 1.00 kN pulls: at most"},
		{"one that holds the head side above what drives it", loaded("6 kN") + worked, "0 bar", "at 191 bar against a load of 6.00 kN: load and spring of ram at rest"},
		{"one that grows less", ram + replaced(worked, "drives:", "loads: {ram: [[0 s, 5 kN], [1 s, 1 kN]]}, drives:"), "198.944 bar", "at 159 bar against a load of 1.00 kN"},
		{"the worse of two cases", loaded("1 kN") + replaced(worked, "cases: {", "cases: {light: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, loads: {ram: 500 N}}, "), "139.195 bar", "against a load of 500 N"},
		{"another cylinder's", ram + mate + lifted, "357.478 bar", "at 229 bar: load and spring of mate at rest"},               // 6 kN/314.159 mm2 + 105 bar · 0.36
		{"another's whose sides are joined", ram + mate + round + lifted, "466.275 bar", "at 298 bar: load and spring of mate"}, // 6 kN/201.062 mm2
	} {
		f := partOf(t, gather(t, tt.spec), "ram").Intensified
		is(t, tt.name, f, tt.want, quantity.Pressure, 1e-5)
		notes(t, tt.name, f, tt.note)
	}
}

// Where only the simulation knows what the head side comes to, it is the most that
// each case shows, against its own load.
func TestIntensificationInTime(t *testing.T) {
	const press = `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: out, displacement: 5 cm3/rev, delivers: {flow: 4.6 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %, compensator: {set: 80 bar, band: 5 bar, lag: 50 ms}}
  valve: {kind: directional-valve, p: out, t: sump, a: head, flow: 10 L/min, drop: 5 bar, lag: 20 ms, rest: 1}
  other: {kind: directional-valve, p: out, t: sump, a: rod, flow: 10 L/min, drop: 5 bar, lag: 20 ms, rest: 0}
  ram: {kind: cylinder, head: head, rod: rod, bore: 20 mm, rod_diameter: 12 mm, stroke: 50 mm, moving_mass: 5 kg, load: 1 kN, dead_volume: {head: 5 cm3, rod: 5 cm3}}
nodes: {out: {volume: 100 cm3}}
cases: {c: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}}
`
	c := simulateText(t, press, Asked{})
	ram, head := partOf(t, c, "ram").Intensified, nodeOf(t, c, "head").HighestPressure
	if !ram.Known || !head.Known {
		t.Fatalf("the ram comes to %+v, its head side to %+v", ram, head)
	}
	const full, ring = 314.159265e-6, 201.061930e-6
	want := (head.Value*full - 1000) / ring
	if math.Abs(ram.Value-want) > 1e-6*want || ram.Value < 50e5 {
		t.Errorf("%g Pa with %g Pa on the head side, want %g", ram.Value, head.Value, want)
	}
	notes(t, "rod side", ram, " against a load of 1.00 kN, the highest that it comes to")
	if ram.From.Case != "c" || ram.From.Node != "head" || !ram.From.Timed {
		t.Errorf("it comes from %+v", ram.From)
	}
}

// What a part's return side sees: of a motor the pressure before the orifice behind
// it, ρ/2 (Q/(C_d A))², with 10 L/min through 2 mm; of a valve that at its port t.
// What has no such side says so.
func TestReturnPressure(t *testing.T) {
	text := replaced(replaced(press, "to: jet, bore", "to: mid, bore"), "  nozzle: {", `  fan: {kind: motor, from: mid, to: jet, displacement: 10 cm3/rev, turns_at: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %, inertia: 1 g·m2, load: 0.1 N·m, rated: {back_pressure: 20 bar}}
  nozzle: {rated: {back_pressure: 20 bar}, `)
	text = text[:strings.Index(text, "  fast:")]
	text = replaced(text, "drives: {pump: 1000 rpm}", "drives: {pump: [[0 s, 0 rpm], [1 s, 1000 rpm]]}")
	f := simulateText(t, text, Asked{})
	v := 10e-3 / 60 / (0.61 * 3.14159265e-6)
	near(t, "back pressure of the motor", partOf(t, f, "fan").ReturnPressure, 854.22/2*v*v, 0.02*854.22/2*v*v)
	lacks(t, "back pressure of the orifice", partOf(t, f, "nozzle").ReturnPressure, "a return or drain side of nozzle")
	valve := partOf(t, simulateText(t, store, Asked{}), "valve").ReturnPressure
	near(t, "back pressure of the valve", valve, 0, 1e3)
	if node := valve.From.Node; node != "sump" {
		t.Errorf("the valve's return side is at %s", node)
	}
}
