package rules

import (
	"flag"
	"os"
	"strings"
	"testing"

	"headroom/specs/readme"
)

var update = flag.Bool("update", false, "write the generated sections of the README files")

// TestReference holds the generated sections of the README files against what
// they are made of.
func TestReference(t *testing.T) {
	const command = "go test ./rules -run Reference -update"
	readme.Hold(t, "facts/README.md", "facts", command, Reference(), *update)
	readme.Hold(t, "README.md", "kinds", command, kindReference(), *update)
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
