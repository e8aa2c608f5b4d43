package main

import (
	"bytes"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The README's excerpt is what the program says of the demo circuit.
func TestReadmeExcerpt(t *testing.T) {
	t.Chdir("../..")
	var out, errors bytes.Buffer
	run([]string{"check", "specs/demo/stonechat.yaml"}, &out, &errors)
	if errors.Len() > 0 {
		t.Fatal(errors.String())
	}
	readme, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	before, rest, begins := strings.Cut(string(readme), "<!-- excerpt -->\n")
	_, after, ends := strings.Cut(rest, "<!-- /excerpt -->")
	if !begins || !ends {
		t.Fatal("the README has no place for the excerpt")
	}
	want := before + "<!-- excerpt -->\n```\n" + excerpt(out.String()) + "```\n<!-- /excerpt -->" + after
	if string(readme) == want {
		return
	}
	if !*update {
		t.Fatal("the README's excerpt is not what the program says; run this test with -update")
	}
	if err := os.WriteFile("README.md", []byte(want), 0o644); err != nil {
		t.Fatal(err)
	}
}

// excerpt is the heading, two findings and the verdict of a text output.
func excerpt(text string) string {
	paragraphs := strings.SplitAfter(text, "\n\n")
	verdict := ""
	for _, p := range paragraphs {
		if strings.HasPrefix(p, "broken: ") || strings.HasPrefix(p, "incomplete: ") || strings.HasPrefix(p, "holds: ") {
			verdict = strings.TrimSuffix(p, "\n")
		}
	}
	return strings.Join(paragraphs[:3], "") + "...\n\n" + verdict
}

// The README names every verb, and no other.
func TestReadmeNamesEveryVerb(t *testing.T) {
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var known []string
	for _, c := range newRoot().Commands() {
		if !strings.Contains(string(data), "| `headroom "+c.Name()) {
			t.Errorf("%s is in no row", c.Name())
		}
		known = append(known, c.Name())
	}
	for line := range strings.Lines(string(data)) {
		if rest, row := strings.CutPrefix(line, "| `headroom "); row {
			if verb := strings.FieldsFunc(rest, func(c rune) bool { return c == ' ' || c == '`' })[0]; !slices.Contains(known, verb) {
				t.Errorf("there is no verb %s", verb)
			}
		}
	}
}

// The README names every flag of check.
func TestReadmeNamesEveryFlagOfCheck(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`(?m)^ +(?:-\w, )?(--[\w-]+)`).FindAllStringSubmatch(newCheck().Flags().FlagUsages(), -1) {
		if !strings.Contains(string(readme), m[1]) {
			t.Errorf("the README does not name %s", m[1])
		}
	}
}

// The house has every folder with Go in it, told beside its README: in the table a folder
// after the first of a row may be told by its last name.
func TestHouseNamesEveryFolder(t *testing.T) {
	t.Chdir("../..")
	text, err := os.ReadFile("DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		cells := strings.Split(line, "|")
		if len(cells) != 5 {
			continue
		}
		above := ""
		for name := range strings.SplitSeq(cells[1], ",") {
			name = strings.Trim(strings.TrimSpace(name), "`")
			if above == "" {
				above = path.Dir(name)
			} else if !strings.Contains(name, "/") {
				name = path.Join(above, name)
			}
			told[name] = true
		}
	}
	err = filepath.WalkDir(".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "testdata" || name != "." && strings.HasPrefix(d.Name(), ".")) {
			return filepath.SkipDir
		}
		if folder := filepath.ToSlash(filepath.Dir(name)); strings.HasSuffix(name, ".go") && !told[folder] {
			told[folder] = true
			t.Errorf("DEVELOPERS.md has no row for %s", folder)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}
