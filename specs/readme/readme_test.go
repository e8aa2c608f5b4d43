package readme

import (
	"os"
	"path/filepath"
	"testing"
)

// told counts what a test was told, in place of failing it.
type told struct {
	testing.TB
	errors int
}

func (t *told) Helper()               {}
func (t *told) Errorf(string, ...any) { t.errors++ }

// A section that is out of date is told, written on demand, and then holds; what stands
// around it stays.
func TestHold(t *testing.T) {
	file := filepath.Join(t.TempDir(), "README.md")
	page := func(text string) string {
		return "before\n<!-- sums: made by go test -->\n" + text + "<!-- end of sums -->\nafter\n"
	}
	if err := os.WriteFile(file, []byte(page("\nold\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, step := range []struct {
		update bool
		errors int
	}{{false, 1}, {true, 0}, {false, 0}} {
		got := &told{TB: t}
		Hold(got, file, "sums", "go test", "new", step.update)
		if got.errors != step.errors {
			t.Errorf("update %v: told %d times, want %d", step.update, got.errors, step.errors)
		}
	}
	if data, err := os.ReadFile(file); err != nil || string(data) != page("\nnew\n") {
		t.Errorf("the page is %q, %v", data, err)
	}
}
