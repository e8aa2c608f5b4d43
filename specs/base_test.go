package specs

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// base is a small circuit with most of what a spec may hold and no problem.
const base = `headroom: 1
circuit: test-rig
title: Rig for tests
fluid: {like: hm-32}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L}
  main-pump: {kind: pump, from: sump, to: rail, displacement: 4 cm3/rev, delivers: {flow: 5.5 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  store: {kind: accumulator, at: rail, size: 0.5 L, precharge: {pressure: 90 bar}, gas: nitrogen, time_constant: 8 s, inlet: 8 mm}
  pipe: {kind: tube, from: rail, to: feed, bore: 8 mm, length: 1 m, wall: 1 mm}
  filter: {kind: filter, from: feed, to: clean, flow: 20 L/min, drop: 0.5 bar, viscosity: 32 mm2/s}
  valve: {kind: directional-valve, p: clean, t: sump, a: head, b: rod, flow: 10 L/min, drop: 3 bar, lag: 15 ms, rest: 0}
  reducer: {kind: reducing-valve, p: clean, a: low, t: sump, flow: 10 L/min, drop: 3 bar, band: 2 bar, lag: 15 ms, rest: 0 bar}
  ram: {kind: cylinder, head: head, rod: rod, bore: 32 mm, rod_diameter: 18 mm, stroke: 200 mm, moving_mass: 5 kg}
  release: {kind: cylinder, head: low, bore: 40 mm, stroke: 3 mm, moving_mass: 1 kg, spring: {preload: 2 kN, rate: 60 N/mm}}
  clutch: {kind: friction-pack, released_by: release, faces: 8, inner_radius: 40 mm, outer_radius: 60 mm, friction: 0.1, plates: {mass: 1 kg, specific_heat: 460 J/kg/K, max_temperature: 300 degC}, driven: {inertia: 0.1 kg·m2, load: 5 N·m}, to_cylinder: 2 W/K, to_air: 3 W/K}
  steering: {kind: consumer, from: clean, to: sump, min_pressure: 20 bar}
nodes: {rail: {role: pressure}}
cases:
  one:
    lasts: 5 s
    begins: {fluid: 50 degC}
    drives: {main-pump: 1500 rpm, clutch: 3000 rpm}
    commands: [{at: 1 s, valve: valve, to: 1}]
    demands: {steering: 2 L/min}
    with: {filter: {drop: 2 bar}}
    expects: [{part: ram, reaches: 100 mm, from: 1 s, within: 1 s}]
`

// told writes problems as tests expect them: the place, what stands there, and the rest.
func told(problems []Problem, text string) []string {
	var all []string
	for _, p := range problems {
		all = append(all, fmt.Sprintf("%d:%d [%s] %s %s: %s", p.At.Line, p.At.Column, excerpt(text, p.At), p.Rule, p.Path, p.Message))
	}
	return all
}

// excerpt is what stands at a place of a text.
func excerpt(text string, at Span) string {
	var out strings.Builder
	line, column := 1, 1
	for _, c := range strings.TrimPrefix(text, bom) {
		from := line > at.Line || line == at.Line && column >= at.Column
		to := line > at.EndLine || line == at.EndLine && column >= at.EndColumn
		if from && !to {
			out.WriteRune(c)
		}
		column++
		if c == '\n' {
			line, column = line+1, 1
		}
	}
	return strings.NewReplacer("\r", `\r`, "\n", `\n`, "\t", `\t`).Replace(out.String())
}

func TestBaseHasNoProblem(t *testing.T) {
	if diff := cmp.Diff([]string(nil), told(Read("spec.yaml", []byte(base)).Problems, base)); diff != "" {
		t.Error(diff)
	}
}
