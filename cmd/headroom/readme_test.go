package main

import (
	"bytes"
	"os"
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
