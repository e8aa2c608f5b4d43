package specs

import (
	"strings"
	"testing"
)

// TestWithin holds the place of a piece of a scalar, found by its text, in every
// style that YAML has for one.
func TestWithin(t *testing.T) {
	tests := []struct {
		name, text   string
		line, column int
	}{
		{"plain", "a: 1\nkey: alpha + mark\n", 2, 14},
		{"plain over lines", "key: alpha +\n  beta +\n\n   mark\n", 4, 4},
		{"single quotes", "key: 'it''s a mark'\n", 1, 15},
		{"double quotes", `key: "\u00e9 \"q\" mark"` + "\n", 1, 20},
		{"double quotes over lines", "key: \"alpha\n   mark\"\n", 2, 4},
		{"literal", "key: |\n  alpha +\n\n    beta mark\n  x\n", 4, 10},
		{"folded", "key: >-   # why\n\n   alpha +\n   beta\n\n   mark + x\n", 6, 4},
		{"beyond ASCII", "key: 'ö µ mark'\n", 1, 11},
		{"in a flow", "key: [{a: b}, {c: alpha mark}]\n", 1, 25},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			d, problems := ReadDocument("f", []byte(test.text))
			if problems != nil {
				t.Fatal(problems)
			}
			n := d.Root
			for len(n.Content) > 0 {
				n = n.Content[len(n.Content)-1]
			}
			at := d.Within(n, strings.Index(n.Value, "mark"), len("mark"))
			want := Span{"f", test.line, test.column, test.line, test.column + 4}
			if at != want {
				t.Errorf("found at %v; it stands at %v", at, want)
			}
		})
	}
}

// TestWithinFollows holds the place of every word of scalars whose words are in
// order against a search of the text.
func TestWithinFollows(t *testing.T) {
	const text = "key: >\n   one two\n   three\n\n     four\n   five six\n\n\n   seven\n"
	d, _ := ReadDocument("f", []byte(text))
	n := d.Root.Content[1]
	lines := strings.Split(text, "\n")
	for _, word := range strings.Fields(n.Value) {
		at := d.Within(n, strings.Index(n.Value, word), len(word))
		if got := lines[at.Line-1][at.Column-1 : at.EndColumn-1]; got != word {
			t.Errorf("%q found where %q stands", word, got)
		}
	}
}
