package rules

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the generated sections of the README files")

// TestReference holds the generated sections of the README files against what
// they are made of.
func TestReference(t *testing.T) {
	heldSection(t, "facts/README.md", "facts", Reference())
	heldSection(t, "README.md", "kinds", kindReference())
}

// heldSection holds, or writes, what stands between two marks of a file.
func heldSection(t *testing.T, file, name, text string) {
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	begin, end := "<!-- "+name+": made by go test ./rules -run Reference -update -->\n", "<!-- end of "+name+" -->\n"
	before, rest, found := strings.Cut(string(data), begin)
	old, after, foundEnd := strings.Cut(rest, end)
	if !found || !foundEnd {
		t.Fatalf("%s has no section of %s", file, name)
	}
	want := "\n" + text + "\n"
	switch {
	case *update:
		if err := os.WriteFile(file, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
	case old != want:
		t.Errorf("the %s in %s are out of date: go test ./rules -run Reference -update", name, file)
	}
}

// TestFactsAreDocumented holds what every fact must say of itself.
func TestFactsAreDocumented(t *testing.T) {
	for _, f := range vocabulary {
		if f.doc == "" || f.label == "" || !f.form.Known() {
			t.Errorf("%s has no meaning, label or form", f.name)
		}
		if strings.HasSuffix(f.name, "_absolute") != strings.Contains(f.formWords(), "absolute") && f.name != "here.lasting_lowest_absolute" && f.name != "environment.air_pressure" {
			t.Errorf("%s is %s: a name tells whether a pressure is absolute", f.name, f.formWords())
		}
	}
}

// TestReadmePack holds that the pack shown in the README is sound, and that its
// examples come out as it says.
func TestReadmePack(t *testing.T) {
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(data), "```yaml\n")
	text, _, found := strings.Cut(rest, "```")
	if !found {
		t.Fatal("README.md shows no pack")
	}
	packs, problems := addPack(mustCore(t).Packs, nil, "README.md", []byte(text))
	for _, p := range problems {
		t.Error(p)
	}
	book, _ := assemble(packs)
	if r := book.Rule("mass.unstated"); r == nil || r.Grade != Minor || r.Regraded == "" {
		t.Error("the pack regrades nothing")
	}
	if len(book.SwitchedOff) != 1 || book.Rule("lines.velocity") != nil {
		t.Error("the pack switches nothing off")
	}
	for _, f := range book.TestExamples([]*Rule{book.Rule("house.return-velocity")}) {
		t.Error(f)
	}
}
