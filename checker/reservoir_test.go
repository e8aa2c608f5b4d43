package checker

import (
	"strings"
	"testing"

	"headroom/specs/quantity"
)

// ASTM D1250, lubricants of 870 kg/m3: 891.80 kg/m3 at -20 °C, 815.78 at 100 °C.
// 10 L filled at 15 °C are 9.7556 L and 10.6646 L then.
func TestReservoirExpansion(t *testing.T) {
	f := gatherOf(t, replaced(plain, "max_temperature: 80 degC", "max_temperature: 100 degC")+`
environment: {cold_start: -20 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 12 L, fill: 10 L, service_loss: 0 L, min_fill: 9 L}
`)
	tank := partOf(t, f, "tank")
	is(t, "cold", tank.LowestFill, "9.7556 L", quantity.Volume, 1e-5)
	is(t, "hot", tank.HighestFill, "10.6646 L", quantity.Volume, 1e-5)
	is(t, "volume", tank.Volume, "12 L", quantity.Volume, 1e-9)
	is(t, "least", tank.MinFill, "9 L", quantity.Volume, 1e-9)
}

// The budget item by item, at 15 °C where nothing expands. Single acting, bore
// 20 mm and stroke 100 mm: 31.416 cm3 out. Double acting with a rod of 10 mm:
// the rod's 7.854 cm3. Accumulator of 1 L, precharged to 10 MPa at 20 °C, at
// ambient 20 °C: at 20 MPa its gas fills 0.52465 L (short equation), so that it
// gives back 0.47535 L; from 20 to 30 MPa it takes 0.14613 L more (0.37852 L).
func TestReservoirBudget(t *testing.T) {
	const circuit = `
environment: {ambient: 20 degC, cold_start: 20 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 12 L, fill: 10 L, service_loss: 0.5 L}
  pump: {kind: pump, from: sump, to: out, displacement: 0.000001 cm3/rev}
  relief: {kind: relief-valve, from: out, to: sump, cracking: RELIEF, flow: 60 L/min, override: 1 bar}
  check: {kind: check-valve, from: out, to: rail, cracking: 0 bar, flow: 10 L/min, drop: 1 bar}
  single: {kind: cylinder, head: a, bore: 20 mm, stroke: 100 mm}
  double: {kind: cylinder, head: a, rod: b, bore: 20 mm, rod_diameter: 10 mm, stroke: 100 mm}
`
	const store = "  store: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 100 bar abs, temperature: 20 degC}}\n"
	const run = "cases: {run: {lasts: 1 s, begins: {fluid: 20 degC, charge: 200 bar abs}, drives: {pump: 1000 rpm}}}\n"
	fluid := replaced(replaced(plain, "expansion: 0.0007216 1/K", "expansion: 1e-12 1/K"), "max_temperature: 80 degC", "max_temperature: 20 degC")
	at := func(relief, rest string) string { return fluid + replaced(circuit, "RELIEF", relief) + rest + run }

	strokes := partOf(t, gatherOf(t, at("200 bar", "")), "tank")
	is(t, "strokes and service loss", strokes.LowestFill, "9.46073 L", quantity.Volume, 1e-6)
	is(t, "returned, without an accumulator", strokes.HighestFill, "10 L", quantity.Volume, 1e-6)

	// the difference that cracks it: 300 bar abs less the reservoir's air
	charged := partOf(t, gatherOf(t, at("298.98675 bar", store)), "tank")
	is(t, "accumulator full", charged.LowestFill, "9.31460 L", quantity.Volume, 3e-5) // 9.46073 − 0.14613
	is(t, "accumulator empty", charged.HighestFill, "10.47535 L", quantity.Volume, 3e-5)
}

// A case that begins hotter than the fluid's limit sets the hottest.
func TestReservoirHotterThanTheLimit(t *testing.T) {
	f := gather(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 12 L, fill: 10 L}
cases: {run: {lasts: 1 s, begins: {fluid: 100 degC}}}
`)
	is(t, "hot", partOf(t, f, "tank").HighestFill, "10.6646 L", quantity.Volume, 1e-5)
	notes(t, "hot", partOf(t, f, "tank").HighestFill, "run begins so")
}

func TestReservoirNamesWhatIsMissing(t *testing.T) {
	const tank = "environment: {cold_start: -20 degC}\nparts:\n  tank: {kind: reservoir, at: sump, volume: 12 L, fill: 10 L, service_loss: 0 L}\n"
	for _, tt := range []struct{ name, spec, lowest, highest string }{
		{"no fill", replaced(tank, "fill: 10 L, ", ""), "parts.tank.fill", "parts.tank.fill"},
		{"no service loss", replaced(tank, ", service_loss: 0 L", ""), "parts.tank.service_loss", "known"},
		{"no cold start", replaced(tank, "cold_start: -20 degC", "ambient: 20 degC"), "environment.cold_start", "known"},
		{"a line without a bore", tank + "  hose: {kind: hose, from: sump, to: a, length: 1 m}\n", "parts.hose.bore", "parts.hose.bore"},
		{"a cylinder without a stroke", tank + "  ram: {kind: cylinder, head: a, bore: 20 mm}\n", "parts.ram.stroke", "parts.ram.stroke"},
		{"two reservoirs", tank + "  other: {kind: reservoir, at: upper}\n", "simulation", "simulation"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := partOf(t, gather(t, tt.spec), "tank")
			lacks(t, "lowest", f.LowestFill, tt.lowest)
			if tt.highest != "known" {
				lacks(t, "highest", f.HighestFill, tt.highest)
			} else if !f.HighestFill.Known {
				t.Errorf("highest is missing for %s", f.HighestFill.Missing)
			}
		})
	}
}

func TestUncovers(t *testing.T) {
	const tank = `
parts:
  tank: {kind: reservoir, at: sump, uncovers: {x: 16 m/s2, y: 12 m/s2}}
cases:
  brake: {lasts: 1 s, begins: {fluid: 40 degC}, acceleration: {x: -8 m/s2}}
  bend: {lasts: 1 s, begins: {fluid: 40 degC}, acceleration: {x: 4 m/s2, y: 9 m/s2}}
`
	// the bend: √((4/16)² + (9/12)²) = √0.625
	f := partOf(t, gather(t, tank), "tank")
	is(t, "share", f.UncoversShare, "0.790569", quantity.Number, 1e-6)
	notes(t, "share", f.UncoversShare, "4.00 m/s2 of 16.0 m/s2 along x, 9.00 m/s2 of 12.0 m/s2 along y")
	if f.UncoversShare.From.Case != "bend" {
		t.Errorf("it is that of %s", f.UncoversShare.From.Case)
	}
	lacks(t, "an axis without a limit", partOf(t, gather(t, replaced(tank, ", y: 12 m/s2", "")), "tank").UncoversShare, "parts.tank.uncovers.y")
	lacks(t, "no acceleration", partOf(t, gather(t, "parts: {tank: {kind: reservoir, at: sump}}\n"), "tank").UncoversShare, "cases.*.acceleration")
}

// 50 % is tan 26.6°: 0.5 · 9.80665 = 4.9033 m/s2, against 12 sideways 0.40861.
func TestSlope(t *testing.T) {
	const tank = "parts: {tank: {kind: reservoir, at: sump, uncovers: {x: 16 m/s2, y: 12 m/s2}}}\n"
	share := partOf(t, gather(t, "environment: {slope: 50 %}\n"+tank), "tank").SlopeShare
	is(t, "share", share, "0.408610", quantity.Number, 1e-5)
	notes(t, "share", share, "along y")
	lacks(t, "without a slope", partOf(t, gather(t, tank), "tank").SlopeShare, "environment.slope")
	lacks(t, "without a way", partOf(t, gather(t, "environment: {slope: 50 %}\n"+replaced(tank, ", y: 12 m/s2", "")), "tank").SlopeShare, "parts.tank.uncovers.y")
}

// 10 L less 1 L lost and 6 L to keep: 3 L at 15 L/min, 10 cm3/rev at 1500 rpm, are
// gone in 12 s; without a hose past the pump none are.
func TestBurstHose(t *testing.T) {
	const spec = `
parts:
  tank: {kind: reservoir, at: sump, fill: 10 L, min_fill: 6 L, service_loss: 1 L}
  intake: {kind: hose, from: sump, to: inlet, bore: 20 mm, length: 1 m}
  pump: {kind: pump, from: inlet, to: rail, displacement: 10 cm3/rev}
  line: {kind: hose, from: rail, to: far, bore: 10 mm, length: 1 m}
cases:
  slow: {lasts: 1 s, drives: {pump: 1000 rpm}}
  fast: {lasts: 1 s, drives: {pump: [[0 s, 0 rpm], [1 s, 1500 rpm]]}}
`
	tank := partOf(t, gather(t, spec), "tank")
	is(t, "time left", tank.BurstTime, "12 s", quantity.Time, 1e-9)
	saysOf(t, "a hose past the pump", tank.FeedsHoses, true, "line")
	if tank.BurstTime.From.Case != "fast" {
		t.Errorf("it is lost in %s", tank.BurstTime.From.Case)
	}
	saysOf(t, "no hose but the intake", partOf(t, gather(t, replaced(spec, "line: {kind: hose", "line: {kind: tube")), "tank").FeedsHoses, false, "")
	saysOf(t, "no pump that draws", partOf(t, gather(t, replaced(spec, "from: inlet, to: rail", "from: elsewhere, to: rail")), "tank").FeedsHoses, false, "")
	lacks(t, "without min_fill", partOf(t, gather(t, replaced(spec, "min_fill: 6 L, ", "")), "tank").BurstTime, "parts.tank.min_fill")
	lacks(t, "without a service loss", partOf(t, gather(t, replaced(spec, ", service_loss: 1 L", "")), "tank").BurstTime, "parts.tank.service_loss")
	is(t, "filled to less than the pickup needs", partOf(t, gather(t, replaced(spec, "min_fill: 6 L", "min_fill: 9.5 L")), "tank").BurstTime, "0 s", quantity.Time, 1e-9)
	lacks(t, "a pump of unknown displacement", partOf(t, gather(t, replaced(spec, ", displacement: 10 cm3/rev", "")), "tank").BurstTime, "parts.pump.displacement")
	lacks(t, "no case", partOf(t, gather(t, spec[:strings.Index(spec, "cases:")]), "tank").BurstTime, "cases.*.drives")
}
