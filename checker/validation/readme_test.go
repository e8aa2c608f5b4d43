package validation

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the generated sections of the README")

// TestReadme holds the generated sections of checker/README.md: the table of the
// rows, and the coefficients that may be altered unnoticed.
func TestReadme(t *testing.T) {
	held(t, "validation", Markdown(table(t)))
	held(t, "survivors", survivors(t))
}

func held(t *testing.T, name, text string) {
	t.Helper()
	const file, command = "../README.md", "go test ./checker/validation -run Readme -update"
	begin, end := "<!-- "+name+": made by "+command+" -->\n", "<!-- end of "+name+" -->\n"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
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
		t.Errorf("the section of %s in %s is out of date: %s", name, file, command)
	}
}

// survivors is survivors.txt as a table; what it speaks of must stand in the source.
func survivors(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile("survivors.txt")
	if err != nil {
		t.Fatal(err)
	}
	text := "| law | line | altered | why no test notices |\n|---|---|---|---|\n"
	for line := range strings.Lines(string(data)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		if len(f) != 5 || f[4] == "" {
			t.Fatalf("survivors.txt: %q has not five columns", line)
		}
		source, err := os.ReadFile("../" + f[0] + "/" + f[1])
		if err != nil || !strings.Contains(string(source), f[2]+"\n") || !strings.Contains(f[2], f[3]) {
			t.Errorf("survivors.txt: %s is not in %s (%v)", f[2], f[1], err)
		}
		code, _, _ := strings.Cut(f[2], "//")
		text += fmt.Sprintf("| %s/%s | `%s` | %s | %s |\n", f[0], f[1], strings.TrimSpace(strings.ReplaceAll(code, "|", "\\|")), f[3], f[4])
	}
	return text
}
