package checker

import (
	"path/filepath"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// alwaysWarm is a consumer behind a line that no case asks anything of when cold,
// nor in one of them when warm.
const alwaysWarm = `
environment: {ambient: 40 degC, cold_start: 0 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 12 L}
  pump: {kind: pump, from: sump, to: out, displacement: 20 cm3/rev, delivers: {flow: 38 L/min, at: {pressure: 150 bar, speed: 2000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 150 bar, flow: 40 L/min, override: 10 bar}
  feed: {kind: tube, from: out, to: far, bore: 10 mm, length: 3 m, wall: 2 mm, material: E355}
  user: {kind: consumer, from: far, to: sump, min_pressure: 50 bar}
cases:
  run: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 2000 rpm}, demands: {user: 20 L/min}}
  idle: {lasts: 1 s, begins: {fluid: 40 degC}, drives: {pump: 2000 rpm}}
`

// stored is a line that an accumulator alone feeds, never when cold.
const stored = `
environment: {ambient: 40 degC, cold_start: 0 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 12 L}
  store: {kind: accumulator, at: rail, size: 4 L, precharge: {pressure: 80 bar}, gas: nitrogen, time_constant: 20 s, inlet: 20 mm}
  feed: {kind: tube, from: rail, to: port, bore: 10 mm, length: 3 m, wall: 1.5 mm, material: E235}
  valve: {kind: directional-valve, p: port, t: sump, a: out, flow: 40 L/min, drop: 5 bar, lag: 2 ms, rest: 0}
  jet: {kind: orifice, from: out, to: sump, diameter: 2.5 mm}
cases: {run: {lasts: 1 s, begins: {fluid: 40 degC, charge: 180 bar}, commands: [{at: 0.2 s, valve: valve, to: 1}]}}
`

// Once every case has come to its end, nothing is missing for want of simulation:
// what is still not known names what in the spec would supply it.
func TestNothingIsMissingForWantOfSimulation(t *testing.T) {
	circuits := map[string]*specs.Circuit{
		"press":  specs.Read("press.yaml", []byte(plain+press)),
		"store":  specs.Read("store.yaml", []byte(plain+store)),
		"warm":   specs.Read("warm.yaml", []byte(plain+alwaysWarm)),
		"stored": specs.Read("stored.yaml", []byte(plain+stored)),
		"pushed": specs.Read("pushed.yaml", []byte(plain+pushed)),
	}
	for _, file := range demos(t) {
		if c := specs.Read(filepath.Base(file), read(t, file)); len(c.Parts) > 0 {
			circuits[filepath.Base(file)] = c
		}
	}
	for name, c := range circuits {
		t.Run(name, func(t *testing.T) {
			f := SimulatedFacts(c, Asked{})
			for _, r := range f.Records {
				if r.Unfinished != "" {
					t.Fatalf("%s: %s", r.Case, r.Unfinished)
				}
			}
			if len(f.Records) == 0 || len(f.Records) != len(f.Cases) {
				t.Fatalf("%d of %d cases were simulated", len(f.Records), len(f.Cases))
			}
			each(f, func(subject, name string, fact any) {
				var missing string
				switch f := fact.(type) {
				case facts.Fact:
					missing = f.Missing
				case facts.Text:
					missing = f.Missing
				case facts.Flag:
					missing = f.Missing
				}
				if strings.Contains(missing, facts.Simulation) {
					t.Errorf("%s: %s is missing for %q", subject, name, missing)
				}
			})
		})
	}
}
