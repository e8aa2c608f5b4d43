package checker

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"headroom/rules"
)

// simulatedFindings are changes of the buggy demo each of which breaks one rule
// that only simulated cases can judge: what is written instead of what, in which
// case it shows, on which subject, and where in the file the finding stands.
var simulatedFindings = []struct {
	rule, subject, in string
	old, new          string
	at                string // the first line that has this
}{
	{"fluid.peak-temperature", "hepr-32", "hill-start", "to_cylinder: 1.6 W/K", "to_cylinder: 30 W/K", "fluid: {like: hepr-32}"},
	{"fluid.bulk-temperature", "hepr-32", "all-at-once", "begins: {fluid: 80 degC", "begins: {fluid: 101 degC", "fluid: {like: hepr-32}"},
	{"fluid.thin-film", "main-pump", "all-at-once", "viscosity: {min: 8 mm2/s, max: 500", "viscosity: {min: 9.5 mm2/s, max: 500", "viscosity: {min: 9.5"},
	{"fluid.thick", "main-pump", "hill-start", "max: 500 mm2/s, start_max", "max: 9 mm2/s, start_max", "max: 9 mm2/s"},
	{"fluid.vapour", "inlet", "cold-morning", "elevation: -0.10 m", "elevation: 8 m", "    to: inlet"},
	{"fluid.vapour-dip", "inlet", "cold-morning", "[1 s, 1400 rpm]], clutch", "[1 s, 1400 rpm], [1.002 s, 20000 rpm], [1.004 s, 1400 rpm]], clutch", "    to: inlet"},
	{"fluid.hot-plates", "clutch", "hill-start", "fluid: {like: hepr-32}", "fluid: {like: hepr-32, autoignition: 200 degC}", "  clutch:"},
	{"fluid.extrapolated-hot", "hepr-32", "all-at-once", "fluid: {like: hepr-32}", "fluid: {like: hepr-32, viscosity: [[0 degC, 200 mm2/s], [40 degC, 32 mm2/s]]}", "viscosity: [[0"},
	{"fluid.vapour-extrapolated", "hepr-32", "all-at-once", "fluid: {like: hepr-32}", "fluid: {like: hepr-32, vapour_pressure: [[0 degC, 0.001 mbar abs], [40 degC, 0.01 mbar abs]]}", "vapour_pressure: [[0"},
	{"fluid.life", "hepr-32", "all-at-once", "fluid: {like: hepr-32}", "fluid: {like: hepr-32, life: {hours: 20 h, at: 70 degC}}", "life: {hours"},
	{"fluid.air-release", "hepr-32", "all-at-once", "", "", "fluid: {like"},
	{"cleanliness.bypass", "return-filter", "all-at-once", "bypass: 2.2 bar", "bypass: 0.03 bar", "bypass: 0.03"},
	{"cleanliness.bypass-cold", "return-filter", "cold-morning", "bypass: 2.2 bar", "bypass: 1 bar", "bypass: 1 bar"},
	{"friction.torque-capacity", "clutch", "hill-start", "torque_needed: 165", "torque_needed: 190", "friction: [["},
	{"friction.torque-capacity-worn", "clutch", "hill-start", "wear: 0.08 mm", "wear: 0.3 mm", "friction: [["},
	{"friction.release-lift", "clutch", "hill-start", "stroke: 2.6 mm", "stroke: 1.8 mm", "clearance: 0.15 mm"},
	{"friction.plate-temperature", "clutch", "hill-start", "max_temperature: 380 degC", "max_temperature: 200 degC", "max_temperature: 200 degC"},
	{"friction.release-pressure", "clutch", "hill-start", "to: 85 bar", "to: 58 bar", "  clutch:"},
	{"friction.energy", "clutch", "hill-start", "energy_limit: 2.2", "energy_limit: 2.0", "energy_limit: 2.0"},
	{"friction.power", "clutch", "hill-start", "power_limit: 4 MW", "power_limit: 2 MW", "power_limit: 2 MW"},
	{"friction.lock-time", "launched", "hill-start", "locks_within: 2.6 s", "locks_within: 1.9 s", "name: launched"},
	{"friction.locks", "launched", "hill-start", "load: 38 N·m", "load: 400 N·m", "name: launched"},
	{"friction.speed", "clutch", "hill-start", "begins: {fluid: 75 degC, charge: 190 bar, plates", "begins: {output: 12000 rpm, fluid: 75 degC, charge: 190 bar, plates", "max_speed: 9000"},
	{"friction.in-a-row-told", "clutch", "hill-start", "", "", "  clutch:"},
	{"friction.in-a-row", "clutch", "hill-start", "  after_pump_loss: {clutch-cylinder: 3}", "  in_a_row: 4", "  clutch:"},
	{"lines.velocity", "steering-hose", "all-at-once", "bore: 6.3 mm\n    length: 1.3 m", "bore: 3 mm\n    length: 1.3 m", "  steering-hose:"},
	{"lines.drop-share", "steering-hose", "cold-morning", "bore: 6.3 mm\n    length: 1.3 m", "bore: 3 mm\n    length: 1.3 m", "  steering-hose:"},
	{"lines.return-pressure", "clutch-valve", "cold-morning", "back_pressure: 20 bar", "back_pressure: 1 bar", "back_pressure: 1 bar"},
	{"sealing.heat", "clutch-cylinder at head, FKM", "hill-start", "above_fluid: 45 K", "above_fluid: 145 K", "above_fluid: 145 K"},
	{"sealing.speed", "shift-cylinder at head, NBR", "hill-start", "", "", "{at: head, material: NBR, hardness: 70"},
	{"sealing.extrusion", "clutch-cylinder at head, FKM", "hill-start", "hardness: 75, gap: 0.06 mm, moving", "hardness: 75, gap: 0.9 mm, moving", "gap: 0.9 mm"},
	{"strength.rated-pressure", "store", "shift-valve-stuck", "rated: {pressure: 250 bar, temperature: {min: -20 degC, max: 95 degC}, cycles", "rated: {pressure: 190 bar, temperature: {min: -20 degC, max: 95 degC}, cycles", "pressure: 190 bar, temperature"},
	{"strength.hose-surge", "gallery-hose", "hill-start", "rated: {pressure: 275 bar, temperature: {min: -40 degC, max: 120 degC}}\n    proof_pressure: 550 bar\n    burst_pressure: 1100 bar\n    mass: 0.27", "rated: {pressure: 200 bar, temperature: {min: -40 degC, max: 120 degC}}\n    proof_pressure: 550 bar\n    burst_pressure: 1100 bar\n    mass: 0.27", "rated: {pressure: 200 bar, temperature: {min: -40"},
	{"strength.surge", "shift-tube-a", "hill-start", "rated: {pressure: 320 bar", "rated: {pressure: 150 bar", "rated: {pressure: 150 bar"},
	{"strength.burst-factor", "clutch-hose", "hill-start", "burst_pressure: 820 bar", "burst_pressure: 300 bar", "burst_pressure: 300 bar"},
	{"strength.proof-factor", "clutch-hose", "hill-start", "proof_pressure: 450 bar", "proof_pressure: 150 bar", "proof_pressure: 150 bar"},
	{"strength.rated-temperature", "flap-valve", "all-at-once", "back_pressure: 60 bar, temperature: {min: -20 degC, max: 105", "back_pressure: 60 bar, temperature: {min: -20 degC, max: 85", "temperature: {min: -20 degC, max: 85"},
	{"strength.cycles", "store", "all-at-once", "count: 200000, at: 150 bar", "count: 100, at: 50 bar", "count: 100, at: 50 bar"},
	{"suction.inlet-pressure", "main-pump", "cold-morning", "inlet_min: 0.75 bar", "inlet_min: 0.85 bar", "inlet_min: 0.85 bar"},
	{"suction.velocity", "main-pump", "hill-start", "bore: 19 mm", "bore: 12 mm", "  main-pump:"},
	{"supply.pressure-held", "rail stays up", "hill-start", "name: rail stays up, node: rail, at_least: 130 bar", "name: rail stays up, node: rail, at_least: 189 bar", "at_least: 189"},
	{"supply.pressure-not-passed", "rail stays down", "hill-start", "name: rail stays up, node: rail, at_least: 130 bar", "name: rail stays down, node: rail, at_most: 195 bar", "at_most: 195"},
	{"supply.stroke-time", "second gear in", "hill-start", "within: 120 ms", "within: 30 ms", "within: 30 ms"},
	{"supply.stroke-arrives", "rail stays up", "shift-valve-stuck", "node: rail, at_least: 150 bar", "part: shift-cylinder, reaches: 20 mm, within: 1 s", "reaches: 20 mm, within"},
	{"supply.consumer-pressure", "steering", "all-at-once", "min_pressure: 90 bar", "min_pressure: 170 bar", "min_pressure: 170 bar"},
	{"supply.mean-flow", "pump-lost", "pump-lost", "begins: {fluid: 70 degC, charge: 185 bar", "repeats: 2\n    begins: {fluid: 70 degC, charge: 185 bar", "  pump-lost:"},
	{"supply.recovers", "store", "pump-lost", "begins: {fluid: 70 degC, charge: 185 bar", "repeats: 2\n    begins: {fluid: 70 degC, charge: 185 bar", "  store:"},
	{"supply.store-left", "store", "pump-lost", "lowest_working: 120 bar", "lowest_working: 150 bar", "  store:"},
	{"supply.after-pump-loss", "clutch-cylinder", "hill-start", "size: 0.35 L", "size: 0.005 L", "  clutch-cylinder:"},
	{"supply.drive-power", "main-pump", "all-at-once", "drive_power: 6.5 kW", "drive_power: 4 kW", "drive_power: 4 kW"},
	{"supply.slow-delivery", "all-at-once", "all-at-once", "[2 s, 2000 rpm]", "[2 s, 100 rpm]", "main-pump: [[0 s, 3800"},
	{"supply.blown-off", "hill-start", "hill-start", "cracking: 228 bar", "cracking: 120 bar", "  hill-start:"},
	{"supply.pump-slow", "main-pump", "cold-morning", "max_speed: 5000 rpm", "max_speed: 5000 rpm\n    min_speed: 1500 rpm", "min_speed: 1500 rpm"},
	{"cleanliness.dirt-reserve", "return-filter", "all-at-once", "bypass: 2.2 bar", "bypass: 0.09 bar", "bypass: 0.09 bar"},
	{"fluid.flash-point", "hepr-32", "all-at-once", "fluid: {like: hepr-32}", "fluid: {like: hepr-32, flash_point: 80 degC}", "flash_point"},
	{"spec.nothing-expected", "pump-lost", "pump-lost", "    expects:\n      - {name: third opening, part: clutch-cylinder, reaches: 1.2 mm, from: 7 s, within: 300 ms}\n      - {name: enough to release, node: rail, at_least: 90 bar}\n", "", "  pump-lost:"},
	{"supply.spring-return", "flap-cylinder", "hill-start", "load: 150 N", "load: -400 N", "preload: 320 N"},
	{"lines.dead-end", "clutch-cylinder", "hill-start", "1.2 cm3}\n    bleeds: true", "1.2 cm3}\n    bleeds: false", "  clutch-cylinder:"},
	{"strength.buckling", "shift-cylinder", "all-at-once", "stroke: 24 mm", "stroke: 24 mm\n    buckling_length: 1 m", "buckling_length"},
	{"strength.heat-age", "clutch-hose", "all-at-once", "rated: {pressure: 225 bar,", "rated: {life: {hours: 20 h, at: 80 degC}, pressure: 225 bar,", "hours: 20 h"},
	{"suction.slope", "tank", "hill-start", "slope: 60 %", "slope: 150 %", "  tank:"},
	{"suction.burst-hose", "tank", "hill-start", "", "", "min_fill: 1.1 L"},
	{"supply.rated-flow", "steering", "all-at-once", "flow: 8 L/min", "flow: 6 L/min", "flow: 6 L/min"},
	{"run.unsettled", "all-at-once", "all-at-once", "begins: {fluid: 80 degC", "repeats: settle\n    with: {cooler: {conductance: 0.01 W/K}}\n    begins: {fluid: 80 degC", "  all-at-once:"},
	{"run.unfinished", "hill-start", "hill-start", "  main-pump:\n    kind: pump\n", "  second-tank: {kind: reservoir, at: sump, volume: 1 L, fill: 0.5 L}\n  main-pump:\n    kind: pump\n    drain: sump\n", "  hill-start:"},
}

// Each rule that judges what was simulated finds what it is for, on the right
// subject and at the right line.
func TestSimulatedRulesFind(t *testing.T) {
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	demo, err := os.ReadFile("../specs/demo/stonechat.yaml")
	if err != nil {
		t.Fatal(err)
	}
	folder := t.TempDir()
	tests := simulatedFindings
	if testing.Short() { // under the race detector each takes seconds, and all run the same code
		tests = tests[:4]
	}
	for _, test := range tests {
		t.Run(test.rule, func(t *testing.T) {
			text := string(demo)
			if test.old != "" {
				text = replaced(text, test.old, test.new)
			}
			path := filepath.Join(folder, test.rule+".yaml")
			if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
			result := Judge(Task{Path: path, Name: "buggy.yaml", Case: test.in, Book: book, Settings: rules.Settings{
				Only: func(r *rules.Rule) bool { return r.ID == test.rule },
			}})
			line := 1 + strings.Count(text[:strings.Index(text, test.at)], "\n")
			for _, f := range result.Judgement.Findings {
				if f.Subject.Name == test.subject && f.At.Line == line && !f.Holds {
					return
				}
			}
			for _, f := range result.Judgement.Findings {
				t.Logf("found %s at line %d, holds %v: %s", f.Subject.Name, f.At.Line, f.Holds, f.Message)
			}
			for _, u := range result.Judgement.NotAssessed {
				t.Logf("not assessed: %s for want of %v", u.Subject.Name, u.Missing)
			}
			t.Errorf("no finding on %s at line %d", test.subject, line)
		})
	}
}
