package validation

import (
	"flag"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the table into the README")

// TestReadme holds the table of checker/README.md against the rows.
func TestReadme(t *testing.T) {
	const file, command = "../README.md", "go test ./checker/validation -run Readme -update"
	const begin, end = "<!-- validation: made by " + command + " -->\n", "<!-- end of validation -->\n"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(data), begin)
	old, after, foundEnd := strings.Cut(rest, end)
	if !found || !foundEnd {
		t.Fatalf("%s has no section of validation", file)
	}
	want := "\n" + Markdown(table(t)) + "\n"
	switch {
	case *update:
		if err := os.WriteFile(file, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
	case old != want:
		t.Errorf("the table in %s is out of date: %s", file, command)
	}
}
