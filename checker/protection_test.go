package checker

import (
	"testing"

	"headroom/rules/facts"
	"headroom/specs/quantity"
)

func TestReliefPresent(t *testing.T) {
	tests := []struct {
		name, spec, part string
		want             bool
		note             string
	}{
		{"beside the pump", pumpAndRelief, "pump", true, "protected by relief"},
		{"behind a valve that can be shut", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking") +
			"  shut: {kind: directional-valve, p: out, t: sump, a: far, rest: 1}\n", "pump", false, "no relief valve"},
		{"before the check valve, for the accumulator behind it", pumpAndRelief + `
  check: {kind: check-valve, from: out, to: rail}
  store: {kind: accumulator, at: rail}
`, "store", false, "no relief valve"},
		{"behind the check valve, for the pump before it", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: rail, to: sump, cracking") +
			"  check: {kind: check-valve, from: out, to: rail}\n", "pump", true, "protected by relief"},
		{"a pump that fills the reservoir through a cooler", `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out}
  cooler: {kind: cooler, from: out, to: sump}
`, "pump", true, "it stands open to a reservoir"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got := partOf(t, gather(t, tt.spec), tt.part).ReliefPresent
			if !got.Known || got.Value != tt.want {
				t.Fatalf("known %v, %v; want %v", got.Known, got.Value, tt.want)
			}
			if note := got.From.Note; len(note) < len(tt.note) || note[:len(tt.note)] != tt.note {
				t.Errorf("says %q, want %q", note, tt.note)
			}
		})
	}
}

// With 22 L/min at 14 bar above 228 bar, 16 L/min make 228 + 14 · 16/22 bar.
func TestReliefValve(t *testing.T) {
	const circuit = `
parts:
  tank: {kind: reservoir, at: sump}
  pump: {kind: pump, from: sump, to: out, displacement: 4 cm3/rev, compensator: {set: 195 bar, band: 12 bar, lag: 20 ms}, rated: {pressure: 250 bar}}
  hose: {kind: hose, from: out, to: far, rated: {pressure: 240 bar}}
  tube: {kind: tube, from: far, to: end}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 228 bar, flow: 22 L/min, override: 14 bar, rated: {pressure: 350 bar}}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 4000 rpm}}}
`
	f := partOf(t, gather(t, circuit), "relief")
	is(t, "must take", f.ReliefMustTake, "16 L/min", quantity.Flow, 1e-9)
	is(t, "rated flow", f.ReliefFlow, "22 L/min", quantity.Flow, 1e-9)
	is(t, "cracking", f.Cracking, "228 bar", quantity.Pressure, 1e-9)
	is(t, "full pressure", f.FullFlow, "238.1818 bar", quantity.Pressure, 1e-6)
	is(t, "cut-off", f.SectionCutOff, "207 bar", quantity.Pressure, 1e-9)
	is(t, "weakest", f.WeakestRated, "250 bar", quantity.Pressure, 1e-9)
	notes(t, "weakest", f.WeakestRated, "pump")
	is(t, "weakest hose", f.WeakestHose, "240 bar", quantity.Pressure, 1e-9)
	notes(t, "weakest hose", f.WeakestHose, "hose")
	lacks(t, "a tube of no wall", f.WeakestTubeBurst, "parts.tube.bore")
	for what, flag := range map[string]facts.Flag{"it returns": f.ReliefReturn, "a hose": f.ProtectsHose, "a bare tube": f.ProtectsBareTube, "a compensated pump": f.OverCompensated} {
		if !flag.Known || !flag.Value {
			t.Errorf("%s: %+v", what, flag)
		}
	}
	unrated := partOf(t, gather(t, replaced(circuit, "to: far, rated: {pressure: 240 bar}}", "to: far}")), "relief")
	lacks(t, "weakest hose beside an unrated one", unrated.WeakestHose, "parts.hose.rated.pressure")
	is(t, "weakest of the others", unrated.WeakestRated, "250 bar", quantity.Pressure, 1e-9)
	// E355, 20 × 2 mm, as in TestTubeBurst.
	walled := partOf(t, gather(t, replaced(circuit, "from: far, to: end}", "from: far, to: end, bore: 16 mm, wall: 2 mm, material: E355}")), "relief")
	is(t, "a tube judged by its wall", walled.WeakestTubeBurst, "1075.6 bar", quantity.Pressure, 1e-4)
	stated := partOf(t, gather(t, replaced(circuit, "from: far, to: end}", "from: far, to: end, burst_pressure: 900 bar}")), "relief")
	is(t, "a tube that states its burst pressure", stated.WeakestTubeBurst, "900 bar", quantity.Pressure, 1e-9)
	if note := stated.WeakestTubeBurst.From.Note; note != "tube" {
		t.Errorf("a tube that states its burst pressure: %q", note)
	}
	rated := partOf(t, gather(t, replaced(circuit, "from: far, to: end}", "from: far, to: end, rated: {pressure: 200 bar}}")), "relief")
	is(t, "a tube that states a rating", rated.WeakestRated, "200 bar", quantity.Pressure, 1e-9)
	if rated.ProtectsBareTube.Value {
		t.Error("a tube with a rating is told as one without")
	}
}

// A compensator whose band cannot be read leaves the cut-off unknown; that the
// rule for it applies stays known.
func TestReliefOverCompensator(t *testing.T) {
	const pump = "compensator: {set: 195 bar, lag: 20 ms}, "
	f := partOf(t, gather(t, replaced(pumpAndRelief, "kind: pump, ", "kind: pump, "+pump)+running), "relief")
	if !f.OverCompensated.Value {
		t.Error("a pump whose compensator lacks its band is told as one without")
	}
	lacks(t, "cut-off", f.SectionCutOff, "parts.pump.compensator.band")
	if without := partOf(t, gather(t, pumpAndRelief+running), "relief"); !without.OverCompensated.Known || without.OverCompensated.Value {
		t.Errorf("without a compensator: %+v", without.OverCompensated)
	}
}

// A switch whose pressure is not given leaves that unknown; that the pump is
// switched stays known.
func TestSwitchedKnown(t *testing.T) {
	const drive = "cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: {at: out, speed: 1000 rpm, on_below: 80 bar}}}}\n"
	f := partOf(t, gather(t, pumpAndRelief+drive), "relief")
	if !f.Switched.Value {
		t.Error("a pump whose switch lacks a pressure is told as not switched")
	}
	lacks(t, "pressure that stops it", f.SectionSwitchOff, "cases.run.drives.pump.off_above")
	if driven := partOf(t, gather(t, pumpAndRelief+running), "relief"); !driven.Switched.Known || driven.Switched.Value {
		t.Errorf("driven at a speed: %+v", driven.Switched)
	}
}

// twoRegulators lead into a section with a relief valve of its own.
const twoRegulators = `
  big: {kind: flow-regulator, from: out, to: use, flow: 3 L/min, needs: 5 bar}
  small: {kind: flow-regulator, from: out, to: use, flow: 5 L/min, needs: 5 bar}
  port: {kind: relief-valve, from: use, to: sump, cracking: 50 bar, flow: 20 L/min, override: 10 bar}
`

// What flow regulators let through is told by their names, at the first one's flow.
func TestRegulatorsTold(t *testing.T) {
	f := partOf(t, gather(t, pumpAndRelief+twoRegulators+running), "port")
	notes(t, "must take", f.ReliefMustTake, "all that big, small can let through")
	if key := f.ReliefMustTake.From.Key; key != "parts.big.flow" {
		t.Errorf("it is set by %s", key)
	}
}

func TestReliefMustTake(t *testing.T) {
	const second = "  second: {kind: pump, from: sump, to: out, displacement: 10 cm3/rev}\n"
	const both = "cases: {run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm, second: 500 rpm}}}\n"
	tests := []struct{ name, spec, of, want string }{
		{"both pumps", pumpAndRelief + second + both, "relief", "15 L/min"},
		{"the case with the most", pumpAndRelief + second + `
cases:
  one: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}}
  other: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {second: 1200 rpm}}
`, "relief", "12 L/min"},
		{"a pump that a check valve parts from it", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: aside, to: sump, cracking") +
			"  check: {kind: check-valve, from: aside, to: out}\n" + running, "relief", "0 L/min"},
		{"set above what the first comes to, it takes nothing", pumpAndRelief +
			"  later: {kind: relief-valve, from: out, to: sump, cracking: 120 bar, flow: 20 L/min, override: 10 bar}\n" + running, "later", "0 L/min"},
		{"set within the override of the first, it must count on all of it", pumpAndRelief +
			"  later: {kind: relief-valve, from: out, to: sump, cracking: 103 bar, flow: 20 L/min, override: 10 bar}\n" + running, "later", "10 L/min"},
		{"behind a valve, set below the first", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: use, rest: 0}
  port: {kind: relief-valve, from: use, to: sump, cracking: 50 bar, flow: 20 L/min, override: 10 bar}
` + running, "port", "10 L/min"},
		{"behind a valve, set above the first", pumpAndRelief + `
  valve: {kind: directional-valve, p: out, t: sump, a: use, rest: 0}
  port: {kind: relief-valve, from: use, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}
` + running, "port", "0 L/min"},
		{"behind a flow regulator", pumpAndRelief + `
  regulator: {kind: flow-regulator, from: out, to: use, flow: 3 L/min, needs: 5 bar}
  port: {kind: relief-valve, from: use, to: sump, cracking: 50 bar, flow: 20 L/min, override: 10 bar}
` + running, "port", "3 L/min"},
		{"behind two flow regulators", pumpAndRelief + twoRegulators + running, "port", "8 L/min"},
		{"beside flow regulators that its own pump feeds", pumpAndRelief + twoRegulators + "  hose: {kind: hose, from: out, to: use}\n" + running, "port", "10 L/min"},
		{"behind two flow regulators that hold more than the pump gives", pumpAndRelief +
			replaced(twoRegulators, "flow: 5 L/min, needs", "flow: 9 L/min, needs") + running, "port", "10 L/min"},
		{"behind a flow regulator for more than its pump gives, beside one of another pump", replaced(pumpAndRelief, "to: out, disp", "to: low, disp") + second +
			replaced(replaced(twoRegulators, "flow: 3 L/min", "flow: 30 L/min"), "small: {kind: flow-regulator, from: out", "small: {kind: flow-regulator, from: low") +
			both, "port", "10 L/min"},
		{"behind a flow regulator from another pump, beside one that feeds it", replaced(pumpAndRelief, "to: out, disp", "to: use, disp") + second +
			twoRegulators + both, "port", "15 L/min"},
		{"with a lower one past an orifice", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking") + `
  throttle: {kind: orifice, from: out, to: far, diameter: 1 mm, discharge: 0.61}
  near: {kind: relief-valve, from: out, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}
` + running, "near", "10 L/min"},
		{"with a lower one past a wide line", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking") + `
  line: {kind: tube, from: out, to: far, bore: 10 mm, length: 2 m}
  near: {kind: relief-valve, from: out, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}
` + running, "near", "0 L/min"},
		{"beside a lower one, the pump past an orifice", replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking") + `
  throttle: {kind: orifice, from: out, to: far, diameter: 1 mm, discharge: 0.61}
  beside: {kind: relief-valve, from: far, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}
` + running, "beside", "0 L/min"},
		{"behind a reducing valve told to hold less", pumpAndRelief + `
  reduce: {kind: reducing-valve, p: out, a: use, t: sump, band: 2 bar, rest: 30 bar}
  port: {kind: relief-valve, from: use, to: sump, cracking: 50 bar, flow: 20 L/min, override: 10 bar}
` + running, "port", "0 L/min"},
		{"behind a reducing valve told to hold more", pumpAndRelief + `
  reduce: {kind: reducing-valve, p: out, a: use, t: sump, band: 2 bar, rest: 60 bar}
  port: {kind: relief-valve, from: use, to: sump, cracking: 50 bar, flow: 20 L/min, override: 10 bar}
` + running, "port", "10 L/min"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			is(t, tt.of, partOf(t, gather(t, tt.spec), tt.of).ReliefMustTake, tt.want, quantity.Flow, 1e-9)
		})
	}
}

// Return lines stand behind a relief valve and add to its pressure. Laminar,
// as in TestPressureLostOnTheWayToTheReliefValve, with the air's pressure on the
// fluid: ν 32 mm2/s, ρ 854.22 kg/m3, 128 · 0.027335 · 2 · 1.66667e-4/(π · 1e-8).
func TestReliefValveWithBackPressure(t *testing.T) {
	f := gather(t, replaced(pumpAndRelief, "to: sump, cracking", "to: low, cracking")+
		"  home: {kind: tube, from: low, to: sump, bore: 10 mm, length: 2 m}\n"+running)
	is(t, "full pressure", partOf(t, f, "relief").FullFlow, "105.37125 bar", quantity.Pressure, 2e-6)
	shut := gather(t, replaced(pumpAndRelief, "to: sump, cracking", "to: low, cracking")+
		"  shut: {kind: check-valve, from: sump, to: low}\n"+running)
	lacks(t, "full pressure into what is shut", partOf(t, shut, "relief").FullFlow, "simulation")
}

// What is lost on the way to a relief valve the pump sees on top of the valve's own
// pressure: in a line as in TestPressureLostOnTheWayToTheReliefValve; in an orifice of
// 1 mm by ρ/2 (Q/(0.61 A))² = 430.1 · (1.66667e-4/4.7909e-7)² = 520.5 bar, ρ at 105 bar. A
// second valve at the pump takes it there, at 150 bar and its own override of 5 bar.
func TestPressureOfTheSectionWhileReliefOpens(t *testing.T) {
	far := replaced(pumpAndRelief, "from: out, to: sump, cracking", "from: far, to: sump, cracking")
	const line = "  line: {kind: tube, from: out, to: far, bore: 10 mm, length: 2 m}\n"
	const orifice = "  line: {kind: orifice, from: out, to: far, diameter: 1 mm, discharge: 0.61}\n"
	const near = "  near: {kind: relief-valve, from: out, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}\n"
	for _, tt := range []struct{ name, text, want string }{
		{"at the pump", pumpAndRelief, "105 bar"},
		{"past a line", far + line, "105.37384 bar"},
		{"past an orifice", far + orifice, "625.5 bar"},
		{"past an orifice, with another before it", far + orifice + near, "155 bar"},
	} {
		relief := partOf(t, gather(t, tt.text+running), "relief")
		is(t, tt.name, relief.ReliefSection, tt.want, quantity.Pressure, 2e-4)
		is(t, tt.name+", at the valve", relief.FullFlow, "105 bar", quantity.Pressure, 2e-6)
	}
	lacks(t, "past an orifice of no diameter", partOf(t, gather(t, far+replaced(orifice, "diameter: 1 mm, ", "")+running), "relief").ReliefSection, "parts.line.diameter")
}

func TestBackflow(t *testing.T) {
	const store = "  store: {kind: accumulator, at: rail}\n"
	checked := partOf(t, gather(t, pumpAndRelief+"  check: {kind: check-valve, from: out, to: rail}\n"+store), "pump").DrivenBackward
	open := partOf(t, gather(t, pumpAndRelief+"  hose: {kind: hose, from: out, to: rail}\n"+store), "pump").DrivenBackward
	if !checked.Value || open.Value {
		t.Errorf("stopped by a check valve: %v, by a hose: %v; want true, false", checked.Value, open.Value)
	}
	if want := "the pressure of store reaches its outlet"; open.From.Note != want {
		t.Errorf("says %q, want %q", open.From.Note, want)
	}
}
