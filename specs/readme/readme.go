// Package readme holds the parts of a README that tests make: what stands between two
// marks is what the code says, or the test fails. Only tests import it.
package readme

import (
	"os"
	"strings"
	"testing"
)

// Hold compares the section of that name in a file with the text, and writes it where
// update is set. Command is what makes the section; its first mark tells it.
func Hold(t testing.TB, file, name, command, text string, update bool) {
	t.Helper()
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	begin, end := "<!-- "+name+": made by "+command+" -->\n", "<!-- end of "+name+" -->\n"
	before, rest, found := strings.Cut(string(data), begin)
	old, after, foundEnd := strings.Cut(rest, end)
	if !found || !foundEnd {
		t.Fatalf("%s has no section of %s", file, name)
	}
	want := "\n" + text + "\n"
	switch {
	case update:
		if err := os.WriteFile(file, []byte(before+begin+want+end+after), 0o644); err != nil {
			t.Fatal(err)
		}
	case old != want:
		t.Errorf("the section of %s in %s is out of date: %s", name, file, command)
	}
}
