package rules

import (
	"slices"
	"strings"
	"testing"

	"headroom/specs"
)

// TestCore holds that the core packs are sound: every expression checks.
func TestCore(t *testing.T) {
	book := mustCore(t)
	for _, p := range book.compileAll() {
		t.Error(p)
	}
	if book.gatherer == nil {
		t.Error("no rule gathers what could not be assessed")
	}
	for _, p := range book.Packs {
		if p.File != "packs/"+p.Name+".yaml" {
			t.Errorf("pack %s stands in %s", p.Name, p.File)
		}
		for _, r := range p.rules {
			if group, _, _ := strings.Cut(r.ID, "."); group != p.Name {
				t.Errorf("rule %s stands in pack %s", r.ID, p.Name)
			}
		}
		if len(p.switchOffs)+len(p.regrades) > 0 {
			t.Errorf("pack %s changes rules of other core packs", p.Name)
		}
	}
}

// TestCoreExamples runs the examples of every core rule, and holds that each has
// those that it must have.
func TestCoreExamples(t *testing.T) {
	book := mustCore(t)
	examples := 0
	for _, f := range book.TestExamples(book.Rules) {
		t.Error(f)
	}
	for _, r := range book.Rules {
		examples += len(r.Examples)
	}
	if examples < 3*len(book.Rules)-30 {
		t.Errorf("%d rules have %d examples only", len(book.Rules), examples)
	}
}

// TestCoreProblems holds that every problem that reading a spec can find is a
// finding of a rule, and of one alone.
func TestCoreProblems(t *testing.T) {
	book := mustCore(t)
	for _, id := range specs.ProblemRules() {
		c := sampleCircuit(0)
		c = withProblems(c, []specs.Problem{{Rule: id, At: specs.Span{File: "a.yaml", Line: 3, Column: 1, EndLine: 3, EndColumn: 4}, Message: "what is wrong"}})
		var found []string
		for _, f := range book.Judge(c, Settings{}).Findings {
			if f.Subject.Kind == "problem" {
				found = append(found, f.Rule.ID+": "+f.Message)
			}
		}
		if want := []string{id + ": what is wrong"}; !slices.Equal(found, want) {
			t.Errorf("a problem of %s is told as %v", id, found)
		}
	}
}

// TestCoreWording holds a few habits of the core packs that help whoever reads a finding.
func TestCoreWording(t *testing.T) {
	for _, r := range mustCore(t).Rules {
		for what, text := range map[string]string{"title": r.Title, "basis": r.Basis, "why": r.Why, "remedy": r.Remedy} {
			if strings.TrimSpace(text) == "" {
				t.Errorf("%s has no %s", r.ID, what)
			}
		}
		if strings.HasSuffix(r.Title, ".") {
			t.Errorf("%s: a title is no sentence: %s", r.ID, r.Title)
		}
		if !strings.HasSuffix(r.Why, ".") || !strings.HasSuffix(r.Remedy, ".") {
			t.Errorf("%s: why and remedy are sentences", r.ID)
		}
	}
}

// TestExamplesNotice holds each rule to its mirror image, with the other side of
// the limit taken for the right one: an example that does not mind tests nothing.
func TestExamplesNotice(t *testing.T) {
	book := mustCore(t)
	for _, r := range book.Rules {
		if r.Measure.Text == "" {
			continue
		}
		book.compile(r)
		mirror := *r
		mirror.Sense = map[Sense]Sense{AtLeast: AtMost, AtMost: AtLeast}[r.Sense]
		if len(book.testRule(&mirror)) == 0 {
			t.Errorf("the examples of %s pass with %s for %s", r.ID, mirror.Sense, r.Sense)
		}
	}
}

// TestLacking holds what is said of a rule whose examples are too few.
func TestLacking(t *testing.T) {
	_, after, _ := strings.Cut(house, "  examples:\n")
	lines := strings.SplitAfter(after, "\n")
	tests := []struct {
		examples []string
		want     []string
	}{
		{lines, nil},
		{lines[:1], []string{"no example breaks it"}},
		{lines[1:], []string{"no example passes"}},
		{[]string{"  - {facts: {line: {role: pressure}}, verdict: skipped}\n"}, []string{"no example breaks it", "no example passes"}},
	}
	for _, test := range tests {
		text := strings.Replace(house, after, strings.Join(test.examples, ""), 1)
		packs, problems := addPack(nil, nil, "house.yaml", []byte(text))
		if problems != nil {
			t.Fatal(problems)
		}
		book, _ := assemble(packs)
		var got []string
		for _, f := range book.TestExamples(book.Rules) {
			got = append(got, f.Message)
		}
		if !slices.Equal(got, test.want) {
			t.Errorf("%d examples: %q, not %q", len(test.examples), got, test.want)
		}
	}
}

// TestExampleFailures holds what is said of an example that comes out otherwise.
func TestExampleFailures(t *testing.T) {
	tests := []struct{ old, new, want string }{
		{"velocity: 2 m/s}}, verdict: passes, headroom: 2", "velocity: 2.3 m/s}}, verdict: passes", "the example should be passes and is finding: velocity 2.30 m/s, at most 2.50 m/s allowed; " +
			"held, with 0.200 m/s left of a reserve of 0.250 m/s"},
		{"velocity: 2 m/s}}, verdict: passes, headroom: 2", "velocity: 2 m/s}}, verdict: passes, headroom: 1.9", "headroom should be 1.9 and is 2"},
		{"velocity: 2 m/s}}, verdict: passes, headroom: 2", "velocity: 2 m/s}}, verdict: finding", "the example should be finding and is passes"},
		{"role: return, velocity: 2 m/s}}, verdict: passes, headroom: 2", "role: return}}, verdict: passes", "the example should be passes and is not-assessed: line.velocity missing"},
		{"role: return, velocity: 2 m/s}}, verdict: passes, headroom: 2", "role: return}}, verdict: not-assessed, missing: [simulation]", "simulation should be missing, and line.velocity is"},
		{"velocity: 2.6 m/s}}, verdict: finding, grade: minor", "velocity: 2.6 m/s}}, verdict: finding, grade: major", "the finding should be major and is minor: velocity 2.60 m/s, at most 2.50 m/s allowed"},
		{"{line: {role: return, velocity: 2 m/s}}, verdict: passes, headroom: 2", "{line: {role: return, velocity: 2 m/s}, limits: {return_velocty: 3 m/s}}, verdict: passes, headroom: 2",
			"limits has no return_velocty; did you mean return_velocity?"},
	}
	for _, test := range tests {
		packs, problems := addPack(nil, nil, "house.yaml", []byte(changed(t, test.old, test.new)))
		if problems != nil {
			t.Fatal(problems)
		}
		book, _ := assemble(packs)
		failures := book.TestExamples(book.Rules)
		if len(failures) == 0 {
			t.Errorf("%q is not noticed", test.new)
			continue
		}
		if got := failures[0].Message; got != test.want {
			t.Errorf("%q is told as\n%s, not\n%s", test.new, got, test.want)
		}
	}
}
