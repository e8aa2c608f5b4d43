package review

import (
	"bytes"
	"flag"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"headroom/reports"
	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

var update = flag.Bool("update", false, "rewrite the expected output in testdata")

// press is the spec of a small circuit.
const press = `headroom: 1
circuit: press
title: A hand press
revision: B
fluid: {like: hm-32}
parts:
  tank: {kind: reservoir, at: sump, volume: 3 L, fill: 2 L, mass: 1 kg}
  pump: {kind: pump, from: sump, to: rail, displacement: 1 cm3/rev, delivers: {flow: 1.4 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %, mass: 2 kg}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 120 bar, flow: 2 L/min, override: 8 bar}
  ram:
    kind: cylinder
    head: rail
    bore: 20 mm
    stroke: 40 mm
    moving_mass: 1 kg
    rated: {pressure: 110 bar}
    seals: [{at: head, material: NBR, hardness: 80, moving: true}]
    mass: 0.5 kg
cases:
  press:
    about: one stroke
    lasts: 2 s
    drives: {pump: 1500 rpm}
    expects:
      - {name: down, part: ram, reaches: 38 mm, within: 1.2 s}
      - {node: rail, at_least: 60 bar, from: 1 s}
concessions:
  - {rule: mass.budget, subject: press, until: 2027-03-01, by: hydraulics lead, because: a prototype, down_to: 4 kg}
`

func place(n, from, to int) specs.Span {
	return specs.Span{File: "press.yaml", Line: n, Column: from, EndLine: n, EndColumn: to}
}

func known(v float64) facts.Fact { return facts.Fact{Value: v, Known: true, From: &facts.Origin{}} }

func said(text string) facts.Text { return facts.Text{Value: text, Known: true, From: &facts.Origin{}} }

func value(v float64, d quantity.Dimension) *rules.Value { return &rules.Value{SI: v, Dimension: d} }

// judged is the press with findings of several grades, one case over time, and rules
// that could not be assessed: written by hand, so that no law of physics changes it.
func judged(t testing.TB, spec string) *rules.Result {
	t.Helper()
	c := specs.Read("press.yaml", []byte(spec))
	for _, p := range c.Problems {
		t.Fatal(p)
	}
	f := &facts.Circuit{Spec: c, Whole: facts.Whole{Name: said("press"), FluidMass: known(1.74)}}
	f.Environment.AirPressure = known(101325)
	f.Fluid = facts.Fluid{
		Name: said("hm-32"), Family: said("HM"), MaxTemperature: known(343.15), PeakTemperature: known(363.15), HottestUsed: known(325), ReservoirHottest: known(315),
		Curve: []facts.ViscosityPoint{{At: 313.15, Viscosity: 32e-6, What: "at 40 °C", Given: true}, {At: 325, Viscosity: 21e-6, What: "at its hottest", Given: true}},
	}
	for _, p := range c.Parts {
		part := &facts.Part{Spec: p, Name: said(p.Base().Name), Kind: said(p.Base().Kind)}
		if p.Base().Kind == "relief-valve" {
			part.Cracking = known(120e5)
		}
		if p.Base().Kind == "cylinder" {
			part.RatedPressure = known(110e5)
			f.Seals = append(f.Seals, &facts.Seal{Part: part, Name: said("ram at head, NBR"), Material: said("NBR"), Rating: said("suitable"),
				Hottest: known(325), Coldest: known(293.15), Min: known(243.15), Max: known(373.15), Pressure: known(118e5), Moving: facts.Flag{Value: true, Known: true}, Speed: known(0.04), SpeedAllowed: known(0.5)})
		}
		f.Parts = append(f.Parts, part)
	}
	k := &facts.Case{Spec: &c.Cases[0], Name: said("press")}
	f.Cases = []*facts.Case{k}
	f.Expectations = []*facts.Expectation{
		{Case: k, Spec: &c.Cases[0].Expects[0], Name: said("down"), Within: known(1.2)},
		{Case: k, Spec: &c.Cases[0].Expects[1], Name: said("rail at least 60 bar"), AtLeast: known(60e5)},
	}
	rated := &rules.Assessment{
		ID: "01", Rule: &rules.Rule{ID: "strength.rated-pressure", Title: "Highest pressure against the rated", Grade: rules.Critical, Basis: "ISO 4413", Why: "It may burst.", Reserve: rules.Reserve{Share: 0.05, Text: "5 %"}},
		Subject: rules.Subject{Kind: "part", Name: "ram"}, Measure: value(118e5, quantity.Pressure), Limit: &rules.Limit{Sense: "at most", Value: *value(110e5, quantity.Pressure)},
		Margin: value(-8e5, quantity.PressureDifference), Headroom: number(-1.4545), Finding: true, Grade: rules.Critical, Remedy: "Lower the pressure.",
		Message: "highest pressure 118 bar (press, 1.50 s, at rail), at most 110 bar allowed (rated pressure)", At: place(16, 23, 30),
		Working: []rules.Step{
			{Fact: "part.highest_pressure", Label: "highest pressure", Value: value(118e5, quantity.Pressure), Origin: &facts.Origin{At: place(8, 3, 7), Case: "press", Time: 1.5, Timed: true, Node: "rail"}},
			{Fact: "part.rated_pressure", Label: "rated pressure", Value: value(110e5, quantity.Pressure), Origin: &facts.Origin{At: place(16, 23, 30)}},
			{Fact: "part.kind", Label: "kind", Text: "cylinder"},
		},
	}
	mass := &rules.Assessment{
		ID: "02", Rule: &rules.Rule{ID: "mass.budget", Grade: rules.Major}, Subject: rules.Subject{Kind: "circuit", Name: "press"},
		Measure: value(5.24, quantity.Mass), Limit: &rules.Limit{Sense: "at most", Value: *value(5, quantity.Mass)}, Margin: value(-0.24, quantity.Mass),
		Finding: true, Grade: rules.Major, Message: "mass 5.24 kg, at most 5.00 kg allowed", At: place(2, 10, 15),
	}
	if len(c.Concessions) > 0 {
		mass.Conceded = &c.Concessions[0]
	}
	stroke := &rules.Assessment{
		ID: "03", Rule: &rules.Rule{ID: "supply.stroke-time", Grade: rules.Critical, Reserve: rules.Reserve{Share: 0.1, Text: "10 %"}}, Subject: rules.Subject{Kind: "expectation", Name: "down", Case: "press"},
		Measure: value(1.1, quantity.Time), Limit: &rules.Limit{Sense: "at most", Value: *value(1.2, quantity.Time)}, Margin: value(0.1, quantity.Time), Headroom: number(0.8333),
		Holds: true, Finding: true, Grade: rules.Minor, Message: "time taken 1.10 s, at most 1.20 s allowed; held", At: place(26, 66, 71),
		Working: []rules.Step{{Fact: "expectation.time", Label: "time taken", Value: value(1.1, quantity.Time), Origin: &facts.Origin{Case: "press", Time: 1.1, Timed: true}}},
	}
	held := &rules.Assessment{
		ID: "04", Rule: &rules.Rule{ID: "fluid.bulk-temperature", Grade: rules.Major, Reserve: rules.Reserve{Amount: 10, Text: "10 K"}}, Subject: rules.Subject{Kind: "fluid", Name: "hm-32"},
		Measure: value(315, quantity.Temperature), Limit: &rules.Limit{Sense: "at most", Value: *value(343.15, quantity.Temperature)}, Margin: value(28.15, quantity.TemperatureDifference), Headroom: number(2.815), Holds: true,
	}
	plain := &rules.Assessment{ID: "05", Rule: &rules.Rule{ID: "spec.loose-node", Grade: rules.Major}, Subject: rules.Subject{Kind: "node", Name: "rail"}, Holds: true}
	r := &rules.Result{
		Circuit: c, Facts: f, Digest: "0a1b2c", Readable: true, Conceding: len(c.Concessions) > 0, Cases: []facts.CaseRecord{pressed()},
		Judgement: &rules.Judgement{
			Verdict: rules.Broken, Assessments: []*rules.Assessment{mass, rated, stroke, held, plain}, Findings: []*rules.Assessment{rated, mass, stroke},
			NotAssessed: []*rules.Unassessed{{Rule: &rules.Rule{ID: "strength.burst-factor", Grade: rules.Critical}, Subject: rules.Subject{Kind: "part", Name: "ram"}, Missing: []string{"parts.ram.burst_pressure"}}},
		},
	}
	r.Coverage = &rules.Coverage{
		Rules: []rules.RuleCoverage{{Rule: rated.Rule, Assessed: 1}, {Rule: mass.Rule}},
		Parts: []rules.ThingCoverage{{Name: "ram", By: []string{"strength.rated-pressure"}, Wanted: []string{"strength.burst-factor"}}, {Name: "tank"}},
	}
	return r
}

func number(v float64) *float64 { return &v }

// pressed is what the case came to.
func pressed() facts.CaseRecord {
	h := &facts.History{Columns: []facts.Column{
		{Of: "rail", What: "pressure", Dimension: quantity.Pressure}, {Of: "sump", What: "pressure", Dimension: quantity.Pressure},
		{Of: "rail", What: "temperature", Dimension: quantity.Temperature}, {Of: "sump", What: "temperature", Dimension: quantity.Temperature},
		{Of: "ram", What: "position", Dimension: quantity.Length}, {Of: "pump", What: "flow", Dimension: quantity.Flow}, {Of: "pump", What: "power", Dimension: quantity.Power},
	}}
	for i := range 11 {
		t := 0.2 * float64(i)
		flow := 1.5e-3 / 60
		if i == 4 {
			flow = math.NaN()
		}
		h.Rows = append(h.Rows, []float64{t, min(118e5, 80e5*t), 0, 313 + 6*t, 312 + t, min(0.04, 0.036*t), flow, 0})
	}
	ranged := func(d quantity.Dimension, low, high float64) facts.Reading {
		return facts.Reading{Dimension: d, Ranged: true, Lowest: facts.Extreme{Value: low}, Highest: facts.Extreme{Value: high, Time: 1.5}}
	}
	return facts.CaseRecord{
		Case: "press", Steps: 10, MassError: 1e-6, EnergyError: 2e-4, History: h,
		Nodes: []facts.NodeRecord{
			{Name: "sump", Pressure: ranged(quantity.Pressure, 0, 0), Temperature: ranged(quantity.Temperature, 312, 314)},
			{Name: "rail", Pressure: ranged(quantity.Pressure, 0, 118e5), Temperature: ranged(quantity.Temperature, 313, 325)},
		},
		Expectations: []facts.ExpectationRecord{
			{Name: "down", Dimension: quantity.Time, Came: true, Measure: 1.1, Limit: 1.2, AtMost: true, Time: 1.1},
			{Name: "rail at least 60 bar", Dimension: quantity.Pressure, Limit: 60e5},
		},
	}
}

// page is what is written of some results.
func page(t testing.TB, run reports.Run, results ...*rules.Result) []byte {
	t.Helper()
	var out bytes.Buffer
	f := Open(&out)
	for _, r := range results {
		if err := f.Circuit(r); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Close(run); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

var picture = regexp.MustCompile(`(?s)(<div class="wide picture"[^>]*>).*?</div>`)

// expect compares a page with a file of testdata, but for its diagram, its style and its
// script, which have tests or files of their own.
func expect(t *testing.T, name string, got []byte) {
	t.Helper()
	got = picture.ReplaceAll(got, []byte("$1the diagram</div>"))
	got = bytes.Replace(got, []byte(style), []byte("the style"), 1)
	got = bytes.Replace(got, []byte(script), []byte("the script"), 1)
	got = regexp.MustCompile(`sha256-[^&']+`).ReplaceAll(got, []byte("sha256-of-the-script"))
	path := filepath.Join("testdata", name)
	if *update {
		if err := os.WriteFile(path, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what is written; look at the difference after go test ./reports/review -update", name)
	}
}
