package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"headroom/rules"
)

// A fragment is a circuit that breaks one rule: a base, and the lines that differ.
type fragment struct {
	name, rule, base string
	text             string    // the whole spec, expectations taken out
	wants            []mention // of the rule, and of those that break along with it
}

// A mention is a finding, as a fragment expects it or as the program tells it.
type mention struct {
	line                 int
	grade, rule, subject string
}

func (m mention) String() string {
	return fmt.Sprintf("line %d: %s %s %s", m.line, m.grade, m.rule, m.subject)
}

// TestRuleFragments holds each rule of the core packs to a circuit that breaks it
// and to nothing else: what is found is what is written beside the faulty lines,
// and the other way round. The bases themselves hold without a finding.
func TestRuleFragments(t *testing.T) {
	program := build(t)
	bases := readBases(t)
	met := map[string]bool{}
	families, err := filepath.Glob("testdata/rules/*.txtar")
	if err != nil || len(families) == 0 {
		t.Fatal("no fragments", err)
	}
	for _, file := range families {
		family := strings.TrimSuffix(filepath.Base(file), ".txtar")
		fragments := readFragments(t, file, bases)
		for _, f := range fragments {
			met[f.rule] = true
		}
		t.Run(family, func(t *testing.T) {
			t.Parallel()
			for name, found := range findings(t, program, fragments) {
				f := fragments[slices.IndexFunc(fragments, func(f fragment) bool { return f.name == name })]
				for _, d := range differences(f.wants, found) {
					t.Errorf("%s on %s: %s", f.name, f.base, d)
				}
			}
		})
	}
	t.Run("bases", func(t *testing.T) {
		t.Parallel()
		var plain []fragment
		for name, text := range bases {
			plain = append(plain, fragment{name: name, text: text})
		}
		for name, found := range findings(t, program, plain) {
			if len(found) > 0 {
				t.Errorf("%s is to hold without a finding, and has %v", name, found)
			}
		}
	})
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range core.Rules {
		if !met[r.ID] {
			t.Errorf("no fragment under testdata/rules breaks %s", r.ID)
		}
	}
}

// readBases are the clean circuits, by name.
func readBases(t *testing.T) map[string]string {
	files, err := filepath.Glob("testdata/rules/bases/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatal("no bases", err)
	}
	bases := map[string]string{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		bases[strings.TrimSuffix(filepath.Base(file), ".yaml")] = string(text)
	}
	return bases
}

// heading is how a fragment is headed: its rule and its base, and if there are more
// for that rule, what is special about it.
var heading = regexp.MustCompile(`^(\S+) on (\S+?)(?:, (.+))?$`)

func readFragments(t *testing.T, file string, bases map[string]string) []fragment {
	archive, err := txtar.ParseFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var all []fragment
	for _, part := range archive.Files {
		m := heading.FindStringSubmatch(part.Name)
		if m == nil {
			t.Fatalf("%s: a fragment is headed RULE on BASE, not %s", file, part.Name)
		}
		base, known := bases[m[2]]
		if !known {
			t.Fatalf("%s: %s: there is no base %s", file, part.Name, m[2])
		}
		f := fragment{name: m[1] + plainName(m[3]), rule: m[1], base: m[2]}
		text, err := overlay(base, string(part.Data))
		if err == nil {
			f.text, f.wants, err = expectations(text)
		}
		own := func(m mention) bool { return m.rule == f.rule }
		switch {
		case err != nil:
			t.Fatalf("%s: %s: %v", file, part.Name, err)
		case !slices.ContainsFunc(f.wants, own):
			t.Fatalf("%s: %s: no line is marked with it", file, part.Name)
		case slices.ContainsFunc(all, func(other fragment) bool { return other.name == f.name }):
			t.Fatalf("%s: there are two of %s", file, part.Name)
		}
		all = append(all, f)
	}
	return all
}

func plainName(text string) string {
	if text == "" {
		return ""
	}
	return "-" + strings.ReplaceAll(text, " ", "-")
}

// A marker stands behind the line where a finding must stand: `# <- GRADE RULE SUBJECT`
// for the rule itself, `# <+ GRADE RULE SUBJECT: WHY` for one that breaks along.
var marker = regexp.MustCompile(`\s*# <([-+]) (\S+) (\S+) ([^:#]+?)(?:: ([^#]+?))?$`)

// expectations takes the markers out of a spec.
func expectations(text string) (string, []mention, error) {
	var wants []mention
	lines := strings.Split(text, "\n")
	for i := range lines {
		for {
			m := marker.FindStringSubmatch(lines[i])
			if m == nil {
				break
			}
			if m[1] == "+" && m[5] == "" {
				return "", nil, fmt.Errorf("%s breaks along, and nothing says why", m[3])
			}
			wants = append(wants, mention{i + 1, m[2], m[3], m[4]})
			lines[i] = strings.TrimSuffix(lines[i], m[0])
		}
	}
	return strings.Join(lines, "\n"), wants, nil
}

// build builds the program as it is shipped.
func build(t *testing.T) string {
	path := filepath.Join(t.TempDir(), "headroom")
	if text, err := exec.Command("go", "build", "-o", path, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return path
}

// findings runs the program on fragments, and gives what it told of each.
func findings(t *testing.T, program string, fragments []fragment) map[string][]mention {
	folder := t.TempDir()
	for _, f := range fragments {
		if err := os.WriteFile(filepath.Join(folder, f.name+".yaml"), []byte(f.text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out, problems bytes.Buffer
	command := exec.Command(program, "check", "--as", "json", "--fail-at", "never", "--today", "2027-03-01", ".")
	command.Dir, command.Stdout, command.Stderr = folder, &out, &problems
	err := command.Run()
	if unreadable := (*exec.ExitError)(nil); err != nil && (!errors.As(err, &unreadable) || unreadable.ExitCode() != exitUsage) {
		t.Fatal(err, problems.String())
	}
	var told struct {
		Circuits []struct {
			File, Verdict string
			Findings      []struct {
				Rule, Grade string
				Subject     struct{ Name, Case string }
				At          struct{ Line int }
			}
		}
	}
	if err := json.Unmarshal(out.Bytes(), &told); err != nil {
		t.Fatal(err, problems.String())
	}
	found := map[string][]mention{}
	for _, c := range told.Circuits {
		name := strings.TrimSuffix(filepath.Base(c.File), ".yaml")
		found[name] = nil
		for _, f := range c.Findings {
			subject := f.Subject.Name
			if f.Subject.Case != "" && f.Subject.Case != subject {
				subject += " in " + f.Subject.Case
			}
			found[name] = append(found[name], mention{f.At.Line, f.Grade, f.Rule, subject})
		}
		if len(c.Findings) == 0 && c.Verdict != "holds" {
			t.Errorf("%s has no finding, and is %s", name, c.Verdict)
		}
	}
	for _, f := range fragments {
		if _, judged := found[f.name]; !judged {
			t.Errorf("nothing is told of %s", f.name)
		}
	}
	return found
}

// differences are what was found and not expected, and the other way round.
func differences(wants, found []mention) (all []string) {
	count := map[mention]int{}
	for _, m := range wants {
		count[m]++
	}
	for _, m := range found {
		count[m]--
	}
	for m, n := range count {
		switch {
		case n > 0:
			all = append(all, m.String()+": expected, and not found")
		case n < 0:
			all = append(all, m.String()+": found, and not expected")
		}
	}
	slices.Sort(all)
	return all
}

func TestDifferences(t *testing.T) {
	one, two, three := mention{3, "minor", "a.b", "pump"}, mention{4, "minor", "a.b", "pump"}, mention{3, "major", "a.b", "pump"}
	for _, test := range []struct {
		wants, found []mention
		differences  int
	}{
		{nil, nil, 0},
		{[]mention{one, two}, []mention{two, one}, 0},
		{[]mention{one}, nil, 1},
		{nil, []mention{one}, 1},
		{[]mention{one}, []mention{one, one}, 1},
		{[]mention{one}, []mention{two}, 2},
		{[]mention{one}, []mention{three}, 2},
	} {
		if got := differences(test.wants, test.found); len(got) != test.differences {
			t.Errorf("%v against %v: %v", test.wants, test.found, got)
		}
	}
}

func TestExpectations(t *testing.T) {
	text, wants, err := expectations("a: 1 # note\nb: 2  # <- minor a.b pump at to, NBR # <+ major c.d pump in frost: it follows\n")
	want := []mention{{2, "major", "c.d", "pump in frost"}, {2, "minor", "a.b", "pump at to, NBR"}}
	if err != nil || text != "a: 1 # note\nb: 2\n" || !slices.Equal(wants, want) {
		t.Errorf("%q, %v, %v", text, wants, err)
	}
	if _, _, err := expectations("a: 1 # <+ minor a.b pump"); err == nil {
		t.Error("a companion without a reason is let pass")
	}
}
