package reports

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

var update = flag.Bool("update", false, "rewrite the expected output in testdata")

// expect compares output with a file of testdata to the byte.
func expect(t *testing.T, name string, got []byte) {
	t.Helper()
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
		t.Errorf("%s differs:\n--- got\n%s\n--- want\n%s", name, got, want)
	}
}

// told is what a form writes of some results.
func told(t *testing.T, form string, options Options, run Run, results ...*rules.Result) []byte {
	t.Helper()
	var out bytes.Buffer
	f, err := Open(form, &out, options)
	if err != nil {
		t.Fatal(err)
	}
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

func at(line int) specs.Span {
	return specs.Span{File: "winch.yaml", Line: line, Column: 22, EndLine: line, EndColumn: 29}
}

func bar(v float64) *rules.Value { return &rules.Value{SI: v * 1e5, Dimension: quantity.Pressure} }

func ratio(v float64) *rules.Value { return &rules.Value{SI: v} }

func head(v float64) *float64 { return &v }

func circuit() *specs.Circuit {
	return &specs.Circuit{
		File: "winch.yaml", Name: specs.Text{Value: "winch"}, Title: specs.Text{Value: "Ropeway winch"},
		Revision: specs.Text{Value: "B"}, Cases: make([]specs.Case, 2),
	}
}

// clean is a result without findings.
func clean() *rules.Result {
	held := &rules.Assessment{
		ID: "0a1b", Rule: &rules.Rule{ID: "strength.rated-pressure", Grade: rules.Critical, Basis: "ISO 4413", Remedy: "Lower it."},
		Subject: rules.Subject{Kind: "part", Name: "hose"}, Measure: bar(200), Limit: &rules.Limit{Sense: "at most", Value: *bar(280)},
		Margin: &rules.Value{SI: 80e5, Dimension: quantity.PressureDifference}, Headroom: head(5.714), Holds: true, At: at(12),
	}
	return &rules.Result{
		Circuit: circuit(), Digest: "d1", Readable: true,
		Judgement: &rules.Judgement{Verdict: rules.Holds, Assessments: []*rules.Assessment{held}},
	}
}

// broken is a result with findings of every grade, one conceded, and rules
// that could not be assessed.
func broken() *rules.Result {
	burst := &rules.Assessment{
		ID:      "1c2d",
		Rule:    &rules.Rule{ID: "strength.burst-factor", Grade: rules.Critical, Basis: "hose 4: SAE J517", Remedy: "Choose a stronger part, or lower the pressure it sees, by the relief valve or by the compensator of the pump."},
		Subject: rules.Subject{Kind: "part", Name: "clutch-hose"}, Measure: ratio(2.897), Limit: &rules.Limit{Sense: "at least", Value: *ratio(4)},
		Margin: ratio(-1.103), Finding: true, Grade: rules.Critical,
		Message: "burst pressure 620 bar ÷ highest pressure 214 bar (hill-start, 2.31 s) = 2.90, at least 4.00 needed", At: at(84),
		Working: []rules.Step{
			{Fact: "part.burst_pressure", Label: "burst pressure", Value: bar(620), Origin: &facts.Origin{At: at(84)}},
			{Fact: "part.highest_pressure", Label: "highest pressure", Value: bar(214), Origin: &facts.Origin{Case: "hill-start", Time: 2.31, Timed: true, Node: "rail"}},
			{Fact: "part.kind", Label: "kind", Text: "hose", Origin: &facts.Origin{At: at(80)}},
		},
	}
	eaten := &rules.Assessment{
		ID:   "3e4f",
		Rule: &rules.Rule{ID: "supply.consumer-pressure", Grade: rules.Critical, Basis: "its own min_pressure", Remedy: "A larger accumulator."}, Subject: rules.Subject{Kind: "part-in-case", Name: "steering", Case: "all-at-once"},
		Measure: bar(91), Limit: &rules.Limit{Sense: "at least", Value: *bar(90)}, Margin: &rules.Value{SI: 1e5, Dimension: quantity.PressureDifference},
		Headroom: head(0.222), Holds: true, Finding: true, Grade: rules.Minor, Message: "lowest difference 91.0 bar, at least 90.0 bar needed", At: at(40),
	}
	conceded := &rules.Assessment{
		ID: "5a6b", Rule: &rules.Rule{ID: "mass.budget", Grade: rules.Major, Basis: "the project's own budget", Remedy: "Save mass."},
		Subject: rules.Subject{Kind: "circuit", Name: "winch"}, Finding: true, Grade: rules.Major, Message: "mass 21.4 kg, at most 21.0 kg allowed", At: at(3),
		Conceded: &specs.Concession{By: specs.Text{Value: "hydraulics lead"}, Until: specs.Text{Value: "2027-03-01"}, Because: specs.Text{Value: "prototype"}},
	}
	return &rules.Result{
		Circuit: circuit(), Digest: "d2", Readable: true,
		Judgement: &rules.Judgement{
			Verdict:     rules.Broken,
			Assessments: []*rules.Assessment{burst, eaten, conceded},
			Findings:    []*rules.Assessment{burst, conceded, eaten},
			NotAssessed: []*rules.Unassessed{
				{Rule: &rules.Rule{ID: "fluid.life", Grade: rules.Minor}, Subject: rules.Subject{Kind: "fluid", Name: "winch-oil"}, Missing: []string{"fluid.life"}, At: at(5)},
				{Rule: &rules.Rule{ID: "suction.inlet-pressure", Grade: rules.Critical}, Subject: rules.Subject{Kind: "part", Name: "pump"}, Missing: []string{"simulation"}, At: at(9)},
				{Rule: &rules.Rule{ID: "suction.inlet-pressure", Grade: rules.Critical}, Subject: rules.Subject{Kind: "part", Name: "spare-pump"}, Missing: []string{"parts.spare-pump.inlet_min", "simulation"}, At: at(10)},
			},
		},
	}
}

// unreadable is a file that is no spec.
func unreadable() *rules.Result {
	wrong := &rules.Assessment{
		ID: "7c8d", Rule: &rules.Rule{ID: "spec.syntax", Grade: rules.Major, Basis: "YAML 1.2", Remedy: "Mend the place named."},
		Subject: rules.Subject{Kind: "problem"}, Finding: true, Grade: rules.Major, Message: "a bracket is not closed", At: at(1),
	}
	return &rules.Result{
		Circuit: &specs.Circuit{File: "winch.yaml"}, Digest: "d3",
		Judgement: &rules.Judgement{Verdict: rules.Broken, Assessments: []*rules.Assessment{wrong}, Findings: []*rules.Assessment{wrong}},
	}
}

// partial is a result of a part of the rules and one case, judged by packs that
// changed some.
func partial() *rules.Result {
	r := clean()
	off := &rules.Rule{ID: "lines.velocity", Grade: rules.Minor}
	milder := &rules.Rule{ID: "strength.burst-factor", Grade: rules.Minor}
	gone := &rules.Rule{ID: "mass.budget", Grade: rules.Minor}
	r.Scope = rules.Scope{Only: []string{"strength.*", "lines.*", "supply.stroke-time", "supply.pressure-held", "fluid.*"}, Case: "hill-start"}
	r.Book = &rules.Rulebook{
		Rules:       []*rules.Rule{milder},
		SwitchedOff: []rules.SwitchedOff{{Rule: off, Pack: "house", Because: "ours is stricter"}},
		Regraded: []rules.Regraded{
			{Rule: milder, Was: rules.Critical, Pack: "house", Because: "a prototype, run behind a screen and never with people near to it"},
			{Rule: gone, Was: rules.Major, Pack: "house", Because: "switched off since"},
		},
	}
	return r
}

// pack is a file with faults that is no circuit.
func pack() *rules.Result {
	r := unreadable()
	r.Circuit.File, r.Other, r.Readable = "house.yaml", true, true
	return r
}

// wanting is a result that lacks keys with long paths.
func wanting() *rules.Result {
	r := clean()
	for i := range 9 {
		key := "parts.accumulator-of-the-front-steering-assistance-" + string(rune('a'+i)) + ".rated.temperature.max"
		r.Judgement.NotAssessed = append(r.Judgement.NotAssessed, &rules.Unassessed{
			Rule: &rules.Rule{ID: "strength.rated-temperature", Grade: rules.Major}, Subject: rules.Subject{Kind: "part", Name: "accumulator-of-the-front-steering-assistance"}, Missing: []string{key}, At: at(20),
		})
	}
	return r
}
