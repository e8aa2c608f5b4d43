package specs

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"
)

// Mistakes of YAML itself, each at the place where a reader would look for it.
// What the keys a and b of these texts mean in a spec is not looked at.
func TestSyntax(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string
	}{
		{"", []string{"1:1 [] spec.empty : the file is empty"}},
		{"\n\n", []string{"1:1 [] spec.empty : the file is empty"}},
		{"# only a comment\n", []string{"1:1 [] spec.empty : the file is empty"}},
		{"---\n", []string{"1:1 [] spec.empty : the file is empty"}},
		{"~\n", []string{"1:1 [] spec.empty : the file is empty"}},
		{"text\n", []string{"1:1 [] spec.shape : the file must be a mapping with the keys headroom, circuit, title, revision, environment, fluid and more"}},
		{"- a\n- b\n", []string{"1:1 [] spec.shape : the file must be a mapping with the keys headroom, circuit, title, revision, environment, fluid and more"}},
		{"42\n", []string{"1:1 [] spec.shape : the file must be a mapping with the keys headroom, circuit, title, revision, environment, fluid and more"}},
		{"a: [1, 2\nb: 3\n", []string{"2:2 [:] spec.syntax : the list that opens with [ on line 1 goes wrong here; a comma or the closing ] is missing"}},
		{"q: 1\na: [1, 2\nb: 3\n", []string{"3:2 [:] spec.syntax : the list that opens with [ on line 2 goes wrong here; a comma or the closing ] is missing"}},
		{"q: 1\na: {x: 1, y: 2\nb: 3\n", []string{"3:2 [:] spec.syntax : the mapping that opens with { on line 2 goes wrong here; a comma or the closing } is missing"}},
		{"q: 1\na: {x: 1 y: 2}\n", []string{"2:11 [:] spec.syntax : the mapping that opens with { on line 2 goes wrong here; a comma or the closing } is missing"}},
		{"q: 1\na: [1 2]]\n", []string{"2:9 []] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
		{"a: 1\n\tb: 2\n", []string{"2:1 [\\t] spec.syntax : a tab indents this line; YAML wants spaces"}},
		{"a:\n\tb: 2\n", []string{"2:1 [\\t] spec.syntax : a tab indents this line; YAML wants spaces"}},
		{"a: 1\n b: 2\n", []string{"2:3 [:] spec.syntax : a second colon on this line, or wrong indentation; put a text that holds a colon in quotes"}},
		{"a:\n  b: 1\n c: 2\n", []string{"3:2 [c] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
		{"a: x: y\n", []string{"1:5 [:] spec.syntax : a second colon on this line, or wrong indentation; put a text that holds a colon in quotes"}},
		{"q: 1\na: x: y\n", []string{"2:5 [:] spec.syntax : a second colon on this line, or wrong indentation; put a text that holds a colon in quotes"}},
		{"a: \"open\nb: 1\n", []string{"1:4 [\"] spec.syntax : these quotes are not closed"}},
		{"q: 1\na: 'open\nb: 1\n", []string{"2:4 ['] spec.syntax : these quotes are not closed"}},
		{"a: 1\nkey\nb: 2\n", []string{"2:1 [k] spec.syntax : a colon is missing behind this; write key: value"}},
		{"a: 1\nkey without colon", []string{"2:1 [k] spec.syntax : a colon is missing behind this; write key: value"}},
		{"a: @x\n", []string{"1:4 [@] spec.syntax : a text that begins with @ must stand in quotes"}},
		{"q: 1\nb: `x`\n", []string{"2:4 [`] spec.syntax : a text that begins with ` must stand in quotes"}},
		{"a: %x\n", []string{"1:4 [%] spec.syntax : a text that begins with % must stand in quotes"}},
		{"a: *nothing\n", []string{"1:4 [*] spec.syntax : an alias (*name) of something that does not exist; write the value out, in quotes if it begins with *"}},
		{"a: 'x' y\n", []string{"1:8 [y] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
		{"a: ]\n", []string{"1:4 []] spec.syntax : a value is missing here"}},
		{"q: 1\na: }\n", []string{"2:4 [}] spec.syntax : a value is missing here"}},
		{"a: \"\\q\"\n", []string{"1:5 [\\] spec.syntax : a backslash within double quotes has a meaning of its own, and not this one; use single quotes"}},
		{"q: 1\n- a\n", []string{"2:1 [-] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
		{"- a\nb: 1\n", []string{"2:1 [b] spec.syntax : this does not fit the list that begins on line 1; its entries must begin with - in one column"}},
		{"a: - b\n", []string{"1:4 [-] spec.syntax : a list cannot begin here; put its first - on a line of its own below the key"}},
		{"a: 1\n---\nb: 2\n", []string{"2:1 [-] spec.syntax : a second document begins here; a file holds one"}},
		{"a: 1\n...\n---\nb: [\n", []string{"5:1 [] spec.syntax : the file ends here, but a [ or { is still open"}},
		{"a: &x 1\nb: *x\n", []string{"1:4 [&x] spec.syntax : an anchor (&x); write each value out where it belongs", "2:4 [*x] spec.syntax : an alias (*x); write the value out"}},
		{"<<: {a: 1}\n", []string{"1:1 [<<] spec.syntax : a merge key (<<); write the values out"}},
		{"a: !!str 3\n", []string{"1:4 [!!str] spec.syntax : a tag (!!str); values need none here"}},
		{"a: !foo bar\n", []string{"1:4 [!foo] spec.syntax : a tag (!foo); values need none here"}},
		{"a: |x\n  foo\n", []string{"1:5 [x] spec.syntax : this is not YAML: did not find expected comment or line break"}},
		{"%YAML 3.0\n---\na: 1\n", []string{"1:1 [%] spec.syntax : this is not YAML: found incompatible YAML document"}},
		{"a: \x01\n", []string{"1:4 [\x01] spec.syntax : control character U+0001; remove it"}},
		{"a: \xff\n", []string{"1:4 [�] spec.syntax : byte 0xFF is not UTF-8; save the file as UTF-8"}},
		{"é: ü\xc3\n", []string{"1:5 [�] spec.syntax : byte 0xC3 is not UTF-8; save the file as UTF-8"}},
		{"\ufeffa: \x7f", []string{"1:4 [\x7f] spec.syntax : control character U+007F; remove it"}},
		{"a: b\rc: d\n", []string{"1:5 [\\r] spec.syntax : a carriage return without a line feed; end lines with one or both"}},
		{"a: \u2028\n", []string{"1:4 [\u2028] spec.syntax : character U+2028, which cannot be seen; remove it"}},
		{"a: \u0085\n", []string{"1:4 [\u0085] spec.syntax : control character U+0085; remove it"}},
		{"\xff\xfea\x00", []string{"1:1 [] spec.syntax : the file is UTF-16; save it as UTF-8"}},
		{"a: 1\nb: 2\nc: [\n\n\n# end\n", []string{"7:1 [] spec.syntax : the file ends here, but a [ or { is still open"}},
		{"é: [°, 'x\n", []string{"1:8 ['] spec.syntax : these quotes are not closed"}},
		{"key: {a: 1,\n\n  b: [2, 3\n}\n", []string{"4:1 [}] spec.syntax : the list that opens with [ on line 3 goes wrong here; a comma or the closing ] is missing"}},
		{"headroom: 1\ncircuit: x\n  title: y\n", []string{"3:8 [:] spec.syntax : a second colon on this line, or wrong indentation; put a text that holds a colon in quotes"}},
		{"a: b\n  c: d\n", []string{"2:4 [:] spec.syntax : a second colon on this line, or wrong indentation; put a text that holds a colon in quotes"}},
		{"? a\n: b\nc\n", []string{"3:1 [c] spec.syntax : a colon is missing behind this; write key: value"}},
		{"a: \"b\"c\n", []string{"1:7 [c] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
		{"a: [b]c\n", []string{"1:7 [c] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
		{"a: &x [*x]\n", []string{"1:4 [&x] spec.syntax : an anchor (&x); write each value out where it belongs", "1:8 [*x] spec.syntax : an alias (*x); write the value out"}},
		{"a: b # c: d\n  e: f\n", []string{"2:3 [e] spec.syntax : this does not fit the mapping that begins on line 1; its keys must begin in one column, each value end with its line"}},
	} {
		problems := Read("spec.yaml", []byte(c.text)).Problems
		problems = slices.DeleteFunc(problems, func(p Problem) bool { return p.Rule == ruleUnknownKey || p.Rule == ruleMissing })
		if diff := cmp.Diff(c.want, told(problems, c.text)); diff != "" {
			t.Errorf("%q (-want +got):\n%s", c.text, diff)
		}
	}
}

// The places above are read from fields of the parser that it does not export.
// Should they ever go, this fails, and the texts of its errors are all there is.
func TestMarksOfParser(t *testing.T) {
	decoder := yaml.NewDecoder(strings.NewReader("q: 1\na: [1, 2\nb: 3\n"))
	if err := decoder.Decode(new(yaml.Node)); err == nil {
		t.Fatal("no error")
	}
	want := syntaxMark{problem: "did not find expected ',' or ']'", context: "while parsing a flow sequence",
		line: 3, column: 2, contextLine: 2, contextColumn: 4}
	if got := marksOf(decoder); got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if got := marksOf(new(yaml.Decoder)); got != (syntaxMark{}) {
		t.Errorf("of a decoder without a parser: %+v", got)
	}
}

func TestNesting(t *testing.T) {
	nested := func(levels int) string {
		return "a: " + strings.Repeat("[", levels) + strings.Repeat("]", levels)
	}
	for levels, want := range map[int]string{
		maxNested:     "",
		maxNested + 1: fmt.Sprintf("nested more than %d levels deep", maxNested),
		20000:         fmt.Sprintf("nested more than %d levels deep", maxNested),
	} {
		got := ""
		for _, p := range Read("spec.yaml", []byte(nested(levels))).Problems {
			if p.Rule == ruleSyntax {
				got = p.Message
			}
		}
		if got != want {
			t.Errorf("%d levels: %q, want %q", levels, got, want)
		}
	}
}

func TestTooLarge(t *testing.T) {
	text := base + strings.Repeat("#", maxFile-len(base))
	if problems := Read("spec.yaml", []byte(text)).Problems; len(problems) != 0 {
		t.Errorf("a file of the most that is read: %v", problems)
	}
	problems := Read("spec.yaml", []byte(text+"#")).Problems
	want := []string{"1:1 [] spec.syntax : the file has more than 512 KiB, the most that is read; a circuit needs a few"}
	if diff := cmp.Diff(want, told(problems, text)); diff != "" {
		t.Error(diff)
	}
}
