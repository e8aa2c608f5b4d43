package main

import (
	"bytes"
	"os"
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
