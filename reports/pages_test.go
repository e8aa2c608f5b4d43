package reports

import (
	"bytes"
	"strings"
	"testing"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
)

// page is what something writes.
func pageOf(t *testing.T, write func(*bytes.Buffer) error) []byte {
	t.Helper()
	var out bytes.Buffer
	if err := write(&out); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// bookRule is a rule as a handbook would show it.
func bookRule() *rules.Rule {
	return &rules.Rule{
		ID: "lines.velocity", Title: "Velocity by role", Pack: "lines", At: specs.Span{File: "packs/lines.yaml", Line: 12}, For: "line",
		Where: rules.Expression{Text: "line.role != ''"}, Measure: rules.Expression{Text: "line.velocity"}, Sense: rules.AtMost, Limit: rules.Expression{Text: "limits.velocity"},
		Reserve: rules.Reserve{Share: 0.1, Text: "10 %"}, Grade: rules.Minor, Regraded: "ours are short", Basis: "common practice",
		Why: "Fast oil heats itself and froths in the reservoir, and what heats it is paid for at the pump, at the cooler and in the mass of both.", Remedy: "A wider line.",
	}
}

// gathering is the rule that gathers what was not assessed.
func gathering() *rules.Rule {
	return &rules.Rule{ID: "run.not-assessed", Title: "Not assessed", Pack: "run", At: specs.Span{File: "packs/run.yaml", Line: 80}, For: "circuit", Gathers: "not-assessed", Grade: rules.Major, Basis: "silence is not a pass", Why: "It may be what fails.", Remedy: "Give the keys."}
}

// TestPagesExactly holds the table of rules, the page of one and its working.
func TestPagesExactly(t *testing.T) {
	book := partial().Book
	book.Rules = append(book.Rules, bookRule())
	expect(t, "rules.txt", pageOf(t, func(out *bytes.Buffer) error { return RuleTable(out, book) }))
	expect(t, "rule.txt", pageOf(t, func(out *bytes.Buffer) error { return RulePage(out, bookRule()) }))
	expect(t, "gathers.txt", pageOf(t, func(out *bytes.Buffer) error { return RulePage(out, gathering()) }))
	expect(t, "margins.txt", pageOf(t, func(out *bytes.Buffer) error { return Margins(out, broken()) }))
	working := broken().Judgement.Assessments
	working[0].Working = append(working[0].Working,
		rules.Step{Fact: "part.mass", Label: "mass", Value: ratio(3), Origin: &facts.Origin{Basis: "ISO 4413", At: at(4), Note: "as weighed"}},
		rules.Step{Fact: "part.leak", Label: "leak", Value: ratio(1), Origin: &facts.Origin{Case: "cold"}},
		rules.Step{Fact: "limits.burst", Label: "limits.burst", Value: ratio(4)},
	)
	unassessed := broken().Judgement.NotAssessed[2]
	unassessed.Excused = "proved by test"
	shown := []*rules.Explanation{
		{Subject: working[0].Subject, Assessment: working[0]},
		{Subject: working[1].Subject, Assessment: working[1]},
		{Subject: unassessed.Subject, NotAssessed: unassessed},
		{Subject: rules.Subject{Kind: "part", Name: "tube", Case: "cold"}, Skipped: "kind tube ≠ tube"},
	}
	expect(t, "working.txt", pageOf(t, func(out *bytes.Buffer) error { return RuleWorking(out, "winch.yaml", bookRule(), shown) }))
	for rule, want := range map[*rules.Rule]string{
		bookRule(): "no subject here that this rule is for", gathering(): "every critical rule is assessed here, or excused",
	} {
		if out := pageOf(t, func(out *bytes.Buffer) error { return RuleWorking(out, "winch.yaml", rule, nil) }); !strings.HasSuffix(string(out), "\n\n"+want+"\n") {
			t.Errorf("%s", out)
		}
	}
}

// What points to another file than the circuit's is told with that file's name.
func TestPlaceInAnotherFile(t *testing.T) {
	a := &rules.Assessment{At: specs.Span{File: "headroom.yaml", Line: 3, Column: 2}}
	for file, want := range map[string]string{"headroom.yaml": "line 3", "winch.yaml": "headroom.yaml line 3"} {
		if got := place(file, a); got != want {
			t.Errorf("in %s: %q, not %q", file, got, want)
		}
	}
	a.Subject.Kind = "problem"
	if got := place("headroom.yaml", a); got != "line 3, column 2" {
		t.Errorf("a problem: %q", got)
	}
	if got := place("winch.yaml", &rules.Assessment{}); got != "" {
		t.Errorf("nowhere: %q", got)
	}
}

// What is missing is told key by key, in alphabetical order, the simulation last.
func TestMissingByKey(t *testing.T) {
	u := func(keys ...string) *rules.Unassessed { return &rules.Unassessed{Missing: keys} }
	for range 20 {
		keys, rulesOf := missingByKey([]*rules.Unassessed{u("simulation", "a"), u("zeal", "simulation"), u("b"), u("simulation")})
		if got := strings.Join(keys, " "); got != "a b zeal simulation" {
			t.Fatal(got)
		}
		if len(rulesOf["simulation"]) != 3 || len(rulesOf["a"]) != 1 {
			t.Fatalf("%d want the simulation", len(rulesOf["simulation"]))
		}
	}
}
