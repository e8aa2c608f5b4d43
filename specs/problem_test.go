package specs

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// mistake is one entry of testdata/problems.txt.
type mistake struct {
	line     int
	was, now string
	want     []string
}

// mistakes reads the file: entries of `was`, `now` and the problems told, with
// \n for the end of a line.
func mistakes(t *testing.T) []mistake {
	t.Helper()
	data, err := os.ReadFile("testdata/problems.txt")
	if err != nil {
		t.Fatal(err)
	}
	var all []mistake
	lines := strings.NewReplacer(`\n`, "\n")
	for i, line := range strings.Split(strings.TrimRight(string(data), "\n"), "\n") {
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "was "):
			all = append(all, mistake{line: i + 1, was: lines.Replace(line[4:])})
		case strings.HasPrefix(line, "now "):
			all[len(all)-1].now = lines.Replace(line[4:])
		default:
			all[len(all)-1].want = append(all[len(all)-1].want, line)
		}
	}
	return all
}

// text is the base spec with the mistake in it.
func (m mistake) text(t *testing.T) string {
	t.Helper()
	if n := strings.Count(base, m.was); n != 1 {
		t.Fatalf("problems.txt:%d: %q stands %d times in the base spec, not once", m.line, m.was, n)
	}
	return strings.Replace(base, m.was, m.now, 1)
}

// Every kind of mistake, with its place, what stands there, and the whole message.
func TestProblems(t *testing.T) {
	rules := map[string]bool{}
	for _, m := range mistakes(t) {
		t.Run(fmt.Sprintf("problems.txt:%d", m.line), func(t *testing.T) {
			text := m.text(t)
			problems := Read("spec.yaml", []byte(text)).Problems
			if diff := cmp.Diff(m.want, told(problems, text)); diff != "" {
				t.Errorf("%s\n(-want +got):\n%s", m.now, diff)
			}
			for _, p := range problems {
				rules[p.Rule] = true
			}
		})
	}
	for _, rule := range ProblemRules() {
		if !rules[rule] && rule != ruleSyntax {
			t.Errorf("no mistake of rule %s", rule)
		}
	}
}

// A problem that a wrong value causes elsewhere is not told: an absent value is
// no contradiction, and a part of no known kind no missing one.
func TestOneMistakeIsToldOnce(t *testing.T) {
	for _, m := range mistakes(t) {
		seen := map[string]bool{}
		for _, p := range Read("spec.yaml", []byte(m.text(t))).Problems {
			if key := p.String(); seen[key] {
				t.Errorf("problems.txt:%d: told twice: %s", m.line, key)
			} else {
				seen[key] = true
			}
		}
	}
}

// A file with nothing but its two keys is told what else it needs, at its start.
func TestNothingButKeys(t *testing.T) {
	text := "headroom: 1\ncircuit: x\n"
	want := []string{
		"1:1 [] spec.missing fluid: the spec needs fluid (the circuit's fluid), such as fluid: {like: hm-32}",
		"1:1 [] spec.missing parts: the spec needs parts (its parts by name), such as parts: {tank: {kind: reservoir}}",
		"1:1 [] spec.missing title: the spec needs title (what it is, in a line), such as title: Buggy, central hydraulics",
	}
	if diff := cmp.Diff(want, told(Read("spec.yaml", []byte(text)).Problems, text)); diff != "" {
		t.Error(diff)
	}
}

func TestTooManyProblems(t *testing.T) {
	text := base + strings.Repeat("x: 1\n", 250)
	problems := Read("spec.yaml", []byte(text)).Problems
	if len(problems) != maxProblems+1 {
		t.Fatalf("%d problems told", len(problems))
	}
	last := problems[maxProblems]
	if want := "and 150 more problems from here on"; last.Message != want || last.At.Line != strings.Count(base, "\n")+1+maxProblems {
		t.Errorf("the last problem is %s", last)
	}
	huge := base + strings.Repeat("x: 1\n", 2*maxGathered)
	last = Read("spec.yaml", []byte(huge)).Problems[maxProblems]
	if want := fmt.Sprintf("and %d more problems from here on", 2*maxGathered-maxProblems); last.Message != want {
		t.Errorf("the last problem is %s", last)
	}
}

// What a file holds is told in one line that can be read.
func TestTidy(t *testing.T) {
	for text, want := range map[string]string{
		"plain °C":                    "plain °C",
		"two\nlines\tand \u202e back": "two lines and   back",
		strings.Repeat("é", 501):      strings.Repeat("é", 499) + "…",
		strings.Repeat("é", 500):      strings.Repeat("é", 500),
	} {
		if got := tidy(text); got != want {
			t.Errorf("%q becomes %q", text, got)
		}
	}
	problems := Read("spec.yaml", []byte(strings.Replace(base, "circuit: test-rig", `circuit: "a\nb"`, 1))).Problems
	if len(problems) != 1 || !strings.HasPrefix(problems[0].Message, "a b cannot be a name") {
		t.Error(problems)
	}
}
