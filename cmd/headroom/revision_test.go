package main

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is taken out of a revision is bounded in files and bytes, before a byte is read.
func TestBoundsOfRevisions(t *testing.T) {
	entry := func(mode, size, path string) string {
		return mode + " blob " + strings.Repeat("a", 40) + " " + size + "\t" + path + "\x00"
	}
	many := func(n int, size string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(entry("100644", size, fmt.Sprintf("a%d.yaml", i)))
		}
		return b.String()
	}
	for _, c := range []struct {
		name, list string
		files      int
		err        string
	}{
		{"nothing", "", 0, ""},
		{"what is no YAML", entry("100644", "  7", "a.txt") + "\x00x\x00160000 commit aa -\tsub.yaml\x00", 0, ""},
		{"links", entry("120000", "  7", "a.yaml"), 0, ""},
		{"the largest", entry("100644", " 524288", "a.yaml") + entry("100755", "7", "b/c.YML"), 2, ""},
		{"larger", entry("100644", "524289", "a b.yaml") + entry("100644", "7", "c.yaml"), 2, ""},
		{"a little room for larger ones", entry("100644", "200000000", "a.yaml") + entry("100644", "200000000", "b.yaml") + entry("100644", "7", "c.yaml"), 2, ""},
		{"not there", entry("100644", "BAD", "a.yaml"), 0, "git has no a.yaml of the revision here"},
		{"as many bytes as are taken", many(512, "524288"), 512, ""},
		{"more bytes", many(513, "524288"), 0, "256 MiB together"},
		{"as many files as are taken", many(100_000, "1"), 100_000, ""},
		{"more files", many(100_001, "1"), 0, "100001 YAML files"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files, err := yamlIn([]byte(c.list))
			if len(files) != c.files {
				t.Errorf("%d files", len(files))
			}
			if err == nil && c.err != "" || err != nil && (c.err == "" || !strings.Contains(err.Error(), c.err)) {
				t.Errorf("%v, not %q", err, c.err)
			}
		})
	}
}

// What git gives instead of a file is an error, whatever it is.
func TestUnpack(t *testing.T) {
	if err := unpack(bufio.NewReader(strings.NewReader("ab blob 600000\n"+strings.Repeat(" ", 600_000)+"\nb blob 3\na: \n")), []blob{{"ab", "a.yaml", 600_000}, {"b", "b.yaml", 3}}, t.TempDir()); err != nil {
		t.Error(err)
	}
	files := []blob{{"ab", "x/a.yaml", 3}}
	for given, want := range map[string]string{
		"ab blob 3\na: \n": "", "": "git does not give x/a.yaml: EOF", "\n": "git does not give x/a.yaml: ", "ab missing\n": "git does not give x/a.yaml: ab missing",
		"ab blob 99999999\n": "git does not give", "ab blob 3\na:": "git does not give all of x/a.yaml",
	} {
		folder := t.TempDir()
		err := unpack(bufio.NewReader(strings.NewReader(given)), files, folder)
		if err == nil && want != "" || err != nil && (want == "" || !strings.Contains(err.Error(), want)) {
			t.Errorf("%q: %v, not %q", given, err, want)
		}
		if got, _ := os.ReadFile(filepath.Join(folder, "x", "a.yaml")); want == "" && string(got) != "a: " {
			t.Errorf("%q: wrote %q", given, got)
		}
	}
}
