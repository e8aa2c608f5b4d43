package checker

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// each calls do for every fact of a circuit, with the name of its subject and
// its own.
func each(c *facts.Circuit, do func(subject, name string, fact any)) {
	walk := func(subject string, s any) {
		v := reflect.ValueOf(s).Elem()
		for i := range v.NumField() {
			if name, is := v.Type().Field(i).Tag.Lookup("fact"); is {
				do(subject, name, v.Field(i).Interface())
			}
		}
	}
	walk("circuit", &c.Whole)
	walk("environment", &c.Environment)
	walk("fluid", &c.Fluid)
	for _, p := range c.Parts {
		walk("part "+p.Name.Value, p)
	}
	for _, s := range c.Seals {
		walk("seal "+s.Name.Value, s)
	}
	for _, n := range c.Nodes {
		walk("node "+n.Name.Value, n)
	}
	for _, l := range c.Lines {
		walk("line "+l.Name.Value, l)
	}
	for _, s := range c.Sections {
		walk("section "+s.Name.Value, s)
	}
	for _, t := range c.Trapped {
		walk("trapped "+t.Name.Value, t)
	}
	for _, k := range c.Cases {
		walk("case "+k.Name.Value, k)
	}
	for _, p := range c.PartsInCase {
		walk("part "+p.Part.Name.Value+" in "+p.Case.Name.Value, &p.Here)
	}
	for _, n := range c.NodesInCase {
		walk("node "+n.Node.Name.Value+" in "+n.Case.Name.Value, &n.Here)
	}
	for _, e := range c.Expectations {
		walk("expectation "+e.Name.Value, e)
	}
}

// sound checks what holds of every fact: a known one is a number and says where
// it comes from, at a place in a file; an unknown one names a key, the
// simulation, what it takes in words ("a filter that ..."), or leaves it to its tag.
func sound(t *testing.T, c *facts.Circuit) {
	t.Helper()
	each(c, func(subject, name string, fact any) {
		var known bool
		var from *facts.Origin
		var missing string
		switch f := fact.(type) {
		case facts.Fact:
			known, from, missing = f.Known, f.From, f.Missing
			if known && (math.IsNaN(f.Value) || math.IsInf(f.Value, 0)) {
				t.Errorf("%s: %s is %v", subject, name, f.Value)
			}
		case facts.Text:
			known, from, missing = f.Known, f.From, f.Missing
		case facts.Flag:
			known, from, missing = f.Known, f.From, f.Missing
		}
		switch {
		case known && from == nil:
			t.Errorf("%s: %s does not say where it comes from", subject, name)
		case known && missing != "":
			t.Errorf("%s: %s is known and missing for %q", subject, name, missing)
		case known && (from.At.Line < 1 || from.Key == ""):
			t.Errorf("%s: %s comes from %+v", subject, name, from)
		case !known:
			for _, key := range strings.Split(missing, ", ") {
				if !namesAKey(key) {
					t.Errorf("%s: %s is missing for %q", subject, name, key)
				}
			}
		}
	})
}

func namesAKey(key string) bool {
	switch key {
	case "", "simulation", "cases":
		return true
	}
	if strings.HasPrefix(key, "a ") {
		return true
	}
	top, _, nested := strings.Cut(key, ".")
	switch top {
	case "parts", "cases", "fluid", "environment", "circuit", "concessions":
		return nested || top == "circuit"
	}
	return false
}

func demos(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob("../specs/demo/*.yaml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no demo circuits: %v", err)
	}
	return files
}

func read(t testing.TB, file string) []byte {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

func TestFactsOfTheDemosAreSound(t *testing.T) {
	for _, file := range demos(t) {
		c := specs.Read(filepath.Base(file), read(t, file))
		if len(c.Parts) == 0 {
			continue // a project file
		}
		t.Run(filepath.Base(file), func(t *testing.T) { sound(t, Facts(c)) })
	}
}

// A spec of which any one line is missing is still surveyed, and what is said of
// it is as sound as of the whole one.
func TestFactsOfABrokenSpecAreSound(t *testing.T) {
	lines := strings.Split(string(read(t, "../specs/demo/stonechat.yaml")), "\n")
	for i := range lines {
		without := strings.Join(append(append([]string{}, lines[:i]...), lines[i+1:]...), "\n")
		t.Run(fmt.Sprintf("without line %d", i+1), func(t *testing.T) {
			sound(t, Facts(specs.Read("stonechat.yaml", []byte(without))))
		})
	}
}

func TestFactsOfNothing(t *testing.T) {
	for _, text := range []string{"", "headroom: 1", "circuit: x\nparts: {}", "parts: {a: {kind: pump}}", "{"} {
		c := Facts(specs.Read("empty.yaml", []byte(text)))
		if len(c.Problems) == 0 {
			t.Errorf("%q has no problem", text)
		}
	}
}

func TestSameFactsTwice(t *testing.T) {
	text := read(t, "../specs/demo/stonechat.yaml")
	tell := func() string {
		var b strings.Builder
		each(Facts(specs.Read("stonechat.yaml", text)), func(subject, name string, fact any) {
			switch f := fact.(type) {
			case facts.Fact:
				fmt.Fprintln(&b, subject, name, f.Value, f.Known, f.Missing, f.From)
			case facts.Text:
				fmt.Fprintln(&b, subject, name, f.Value, f.Known, f.Missing, f.From)
			case facts.Flag:
				fmt.Fprintln(&b, subject, name, f.Value, f.Known, f.Missing, f.From)
			}
		})
		return b.String()
	}
	first := tell()
	for range 5 {
		if again := tell(); again != first {
			t.Fatal("the facts of one spec differ from run to run")
		}
	}
}
