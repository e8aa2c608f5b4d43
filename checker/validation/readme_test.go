package validation

import (
	"flag"
	"fmt"
	"os"
	"strings"
	"testing"

	"headroom/specs/readme"
)

var update = flag.Bool("update", false, "write the generated sections of the README")

// TestReadme holds the generated sections of checker/README.md: the table of the
// rows, and the coefficients that may be altered unnoticed.
func TestReadme(t *testing.T) {
	const command = "go test ./checker/validation -run Readme -update"
	readme.Hold(t, "../README.md", "validation", command, Markdown(table(t)), *update)
	readme.Hold(t, "../README.md", "survivors", command, survivors(t), *update)
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
