package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"headroom/specs"
)

// concessionPack is judgePack with a rule for concessions.
const concessionPack = judgePack + `- {id: j.concession, title: t, for: concession, require: concession.state == 'covers', says: "the concession for {concession.rule} is {concession.state}: {concession.detail}", grade: major, basis: b, why: w, remedy: r, examples: []}
`

// TestConcessions holds what a concession covers, and what is told of one that
// covers less than what is there. The hose in question has a burst factor of 3.5
// where 4 is needed, and 260 bar where 250 are allowed.
func TestConcessions(t *testing.T) {
	const rest = "subject: hose, until: 2027-03-01, by: lead, because: measured}"
	tests := []struct {
		name, concession, today string
		conceded, told          []string
		verdict                 Verdict
	}{
		{"none", "", "2026-11-25", nil, nil, Broken},
		{"covers", "{rule: j.critical, " + rest, "2026-11-25", []string{"j.critical"}, nil, Holds},
		{"of every subject", "{rule: j.critical, until: 2027-03-01, by: lead, because: measured}", "2026-11-25", nil, nil, Broken},
		{"covers on its last day", "{rule: j.critical, " + rest, "2027-03-01", []string{"j.critical"}, nil, Holds},
		{"expired", "{rule: j.critical, " + rest, "2027-03-02", nil, []string{"the concession for j.critical is expired: lead gave it until 2027-03-01"}, Broken},
		{"never asked the date", "{rule: j.critical, " + rest, "", []string{"j.critical"}, nil, Holds},
		{"of another subject", "{rule: j.critical, subject: tube, until: 2027-03-01, by: lead, because: measured}", "2026-11-25", nil, []string{"the concession for j.critical is unused: the rule has no subject tube; there is hose"}, Broken},
		{"in a case that there is not", "{rule: j.critical, case: run, " + rest, "2026-11-25", nil, nil, Broken},
		{"without a reason", "{rule: j.critical, until: 2027-03-01, by: lead}", "2026-11-25", nil, nil, Broken},
		{"until no day", "{rule: j.critical, until: soon, by: lead, because: measured}", "2026-11-25", nil, nil, Broken},
		{"far enough", "{rule: j.critical, down_to: 260 bar, " + rest, "2026-11-25", []string{"j.critical"}, nil, Holds},
		{"not far enough", "{rule: j.critical, down_to: 259 bar, " + rest, "2026-11-25", nil, []string{"the concession for j.critical is exceeded: 259 bar was accepted at worst, until 2027-03-01, and hose has 260 bar"}, Broken},
		{"far enough, from below", "{rule: j.factor, down_to: 3.5, " + rest, "2026-11-25", []string{"j.factor"}, nil, Broken},
		{"not far enough, from below", "{rule: j.factor, down_to: 3.51, " + rest, "2026-11-25", nil, []string{"the concession for j.factor is exceeded: 3.51 was accepted at worst, until 2027-03-01, and hose has 3.50"}, Broken},
		{"of what holds", "{rule: j.major, " + rest, "2026-11-25", nil, []string{"the concession for j.major is unused: what it covers holds"}, Broken},
	}
	book := bookOf(t, concessionPack)
	for _, test := range tests {
		c := mill(given{"hose", 260, 250, 910, 60, 100, true})
		if test.concession != "" {
			c.Spec = spec(t, "concessions:\n- "+test.concession+"\n")
		}
		j := book.Judge(c, Settings{Today: test.today})
		var conceded, told []string
		for _, f := range j.Findings {
			if f.Conceded != nil {
				conceded = append(conceded, f.Rule.ID)
			}
			if f.Subject.Kind == "concession" {
				told = append(told, f.Message)
				if f.At.Line != 8 || f.Path != "concessions[0]" {
					t.Errorf("%s is told at line %d, %s", test.name, f.At.Line, f.Path)
				}
			}
		}
		if !slices.Equal(conceded, test.conceded) || !slices.Equal(told, test.told) || j.Verdict != test.verdict {
			t.Errorf("%s: conceded %q, told %q, %s", test.name, conceded, told, j.Verdict)
		}
	}
}

// TestConcessionsNotLookedFor holds that a concession is not said to be of no use
// where what it covers was not looked for.
func TestConcessionsNotLookedFor(t *testing.T) {
	book := bookOf(t, concessionPack)
	const text = "concessions:\n- {rule: j.major, subject: hose, until: 2027-03-01, by: lead, because: measured}\n"
	told := func(c string, project *specs.Project, s Settings) int {
		circuit := mill(sound)
		circuit.Spec = spec(t, c)
		s.Project = project
		return len(book.Judge(circuit, s).Findings)
	}
	if told(text, nil, Settings{}) != 1 {
		t.Error("an unused concession is not told")
	}
	if told(text, nil, Settings{Partial: true}) != 0 {
		t.Error("it is told of a part of the cases")
	}
	if told(text, nil, Settings{Only: func(r *Rule) bool { return r.ID != "j.major" }}) != 0 {
		t.Error("it is told without its rule")
	}
	if told("", specs.ReadProject("headroom.yaml", []byte(text)), Settings{}) != 0 {
		t.Error("one of the project is told of a single circuit")
	}
}

// TestConcessionProblems holds what is said of concessions that cannot be meant.
func TestConcessionProblems(t *testing.T) {
	const rest = "subject: hose, until: 2027-03-01, by: lead, because: measured}"
	book := bookOf(t, concessionPack)
	for concession, want := range map[string]string{
		"{rule: j.mayor, " + rest:                     "spec.reference j.mayor: there is no rule j.mayor; did you mean j.major?",
		"{rule: j.flag, down_to: 3 bar, " + rest:      "spec.shape 3 bar: j.flag has no measure; leave down_to out",
		"{rule: j.critical, down_to: 3, " + rest:      "spec.unit 3: 3 has no unit; a pressure is needed here, such as bar, MPa or psi",
		"{rule: j.factor, down_to: 3 bar, " + rest:    "spec.unit bar: bar is a pressure; a plain number is needed here, such as 0.5 or 50 %",
		"{rule: j.critical, down_to: 3 baar, " + rest: "spec.unit baar: unknown unit baar; did you mean bar?",
	} {
		c := spec(t, "concessions:\n- "+concession+"\n")
		_, problems := book.limitsFor(c, nil)
		if len(problems) != 1 {
			t.Errorf("%s: %v", concession, problems)
			continue
		}
		p := problems[0]
		line := strings.Split(string(c.Source), "\n")[p.At.Line-1]
		if got := fmt.Sprintf("%s %s: %s", p.Rule, line[p.At.Column-1:p.At.EndColumn-1], p.Message); got != want {
			t.Errorf("%s\nnot\n%s", got, want)
		}
	}
}
