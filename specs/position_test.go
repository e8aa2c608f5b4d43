package specs

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gopkg.in/yaml.v3"
	"pgregory.net/rapid"
)

// allNodes lists the nodes below one, in the order of the text.
func allNodes(n *yaml.Node) []*yaml.Node {
	all := []*yaml.Node{n}
	for _, child := range n.Content {
		all = append(all, allNodes(child)...)
	}
	return all
}

// Where each value begins and ends: columns count characters, also behind °, é
// and tabs, a byte order mark counts none, and a carriage return is no part of a value.
func TestSpans(t *testing.T) {
	for _, c := range []struct {
		text string
		want []string // line:column-endline:endcolumn of each value but the root, and what stands there
	}{
		{"a: 1\nbb: 22\n", []string{"1:1-1:2 a", "1:4-1:5 1", "2:1-2:3 bb", "2:5-2:7 22"}},
		{"a: 1\r\nb: x y\r\n", []string{"1:1-1:2 a", "1:4-1:5 1", "2:1-2:2 b", "2:4-2:7 x y"}},
		{bom + "a: 1\nb: 2\n", []string{"1:1-1:2 a", "1:4-1:5 1", "2:1-2:2 b", "2:4-2:5 2"}},
		{bom + "é: \"ü\"\n", []string{"1:1-1:2 é", "1:4-1:7 \"ü\""}},
		{"a:\t1 °C\t# x\nb:  \t 2\n", []string{"1:1-1:2 a", "1:4-1:8 1 °C", "2:1-2:2 b", "2:7-2:8 2"}},
		{"é: [°C, N·m, x]\n", []string{"1:1-1:2 é", "1:4-1:16 [°C, N·m, x]", "1:5-1:7 °C", "1:9-1:12 N·m", "1:14-1:15 x"}},
		{"a: {b: 1, c: [2, 3 ] , }\n", []string{"1:1-1:2 a", "1:4-1:25 {b: 1, c: [2, 3 ] , }", "1:5-1:6 b", "1:8-1:9 1", "1:11-1:12 c", "1:14-1:21 [2, 3 ]", "1:15-1:16 2", "1:18-1:19 3"}},
		{"a: \"x\\\"y\"\nb: 'it''s'\n", []string{"1:1-1:2 a", "1:4-1:10 \"x\\\"y\"", "2:1-2:2 b", "2:4-2:11 'it''s'"}},
		{"a: one\n  two\n\n  three # x\nb: 1\n", []string{"1:1-1:2 a", "1:4-4:8 one\\n  two\\n\\n  three", "5:1-5:2 b", "5:4-5:5 1"}},
		{"a: \"one\n  two\"\n", []string{"1:1-1:2 a", "1:4-2:7 \"one\\n  two\""}},
		{"a: |\n  x\n  y\nb: >-  # c\n  z\n", []string{"1:1-1:2 a", "1:4-1:5 |", "4:1-4:2 b", "4:4-4:11 >-  # c"}},
		{"a: {}\nb: []\nc:\nd: {e: }\n", []string{"1:1-1:2 a", "1:4-1:6 {}", "2:1-2:2 b", "2:4-2:6 []", "3:1-3:2 c", "3:3-3:3 ", "4:1-4:2 d", "4:4-4:9 {e: }", "4:5-4:6 e", "4:8-4:8 "}},
		{"a:\n  - b: 1\n    c: é\n  - d\n", []string{"1:1-1:2 a", "2:3-4:6 - b: 1\\n    c: é\\n  - d", "2:5-3:9 b: 1\\n    c: é", "2:5-2:6 b", "2:8-2:9 1", "3:5-3:6 c", "3:8-3:9 é", "4:5-4:6 d"}},
		{"a: &x !!str v\nb: !!int 3\nc: *x\n", []string{"1:1-1:2 a", "1:13-1:14 v", "2:1-2:2 b", "2:10-2:11 3", "3:1-3:2 c", "3:4-3:6 *x"}},
		{"a: 𝄞 x\nb: {k: 𝄞, l: 2}\n", []string{"1:1-1:2 a", "1:4-1:7 𝄞 x", "2:1-2:2 b", "2:4-2:16 {k: 𝄞, l: 2}", "2:5-2:6 k", "2:8-2:9 𝄞", "2:11-2:12 l", "2:14-2:15 2"}},
	} {
		var root yaml.Node
		if err := yaml.Unmarshal([]byte(c.text), &root); err != nil {
			t.Fatalf("%q: %v", c.text, err)
		}
		s := newSource("f", []byte(c.text))
		var got []string
		for _, n := range allNodes(root.Content[0])[1:] {
			at := s.span(n)
			got = append(got, fmt.Sprintf("%d:%d-%d:%d %s", at.Line, at.Column, at.EndLine, at.EndColumn, excerpt(c.text, at)))
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%q (-want +got):\n%s", c.text, diff)
		}
		// In whatever order they are asked for.
		nodes := allNodes(root.Content[0])[1:]
		for i := len(nodes) - 1; i >= 0; i-- {
			at := s.span(nodes[i])
			if again := fmt.Sprintf("%d:%d-%d:%d %s", at.Line, at.Column, at.EndLine, at.EndColumn, excerpt(c.text, at)); again != got[i] {
				t.Errorf("%q: %s when asked backwards, %s forwards", c.text, again, got[i])
			}
		}
	}
}

// A piece of a scalar is found in the text, however the scalar is written.
func TestPieceOfScalar(t *testing.T) {
	for _, c := range []struct{ text, piece, want string }{
		{"a: 210 bar", "bar", "1:8 bar"},
		{"a: '210 bar'", "bar", "1:9 bar"},
		{"a: \"210 bar\"", "bar", "1:9 bar"},
		{"a: \"21\\u0030 bar\"", "bar", "1:14 bar"},
		{"a: \"\\xb0 bar\"", "bar", "1:10 bar"},
		{"a: \"\\U0001D11E bar\"", "bar", "1:16 bar"},
		{"a: \"210 b\\x61r\"", "bar", "1:9 b\\x61r"},
		{"a: 'it''s bar'", "bar", "1:11 bar"},
		{"é: 20 °C", "°C", "1:7 °C"},
		{"a: 210\n  bar", "bar", "2:3 bar"},
		{"a: |\n  210 bar\n", "bar", "2:7 bar"},
		{"a: >-\n  210\n  bar\n", "bar", "3:3 bar"},
		{"a: &x 210 bar", "bar", "1:11 bar"},
		{"a: \"210 \\\n  bar\"", "bar", "1:4 \"210 \\\\n  bar\""}, // not followed: the whole scalar
	} {
		var root yaml.Node
		if err := yaml.Unmarshal([]byte(c.text), &root); err != nil {
			t.Fatalf("%q: %v", c.text, err)
		}
		n := root.Content[0].Content[1]
		offset := strings.Index(n.Value, c.piece)
		s := newSource("f", []byte(c.text))
		at := s.within(n, offset, len(c.piece))
		if got := fmt.Sprintf("%d:%d %s", at.Line, at.Column, excerpt(c.text, at)); got != c.want {
			t.Errorf("%q: %s, want %s", c.text, got, c.want)
		}
	}
}

// The places of a whole spec do not depend on how its lines end, on a byte order
// mark, or on its being written with tabs between key and value.
func TestSpansAlike(t *testing.T) {
	want := Read("spec.yaml", []byte(fullSpec()))
	for name, text := range map[string]string{
		"CRLF":            strings.ReplaceAll(fullSpec(), "\n", "\r\n"),
		"byte order mark": bom + fullSpec(),
		"tabs":            strings.ReplaceAll(fullSpec(), ": ", ":\t"),
	} {
		got := Read("spec.yaml", []byte(text))
		if diff := cmp.Diff(want.Parts, got.Parts); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		if diff := cmp.Diff(want.Cases, got.Cases); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

// Places in lines of any length, asked for in any order, are those that counting
// from the start of the line gives.
func TestFindAndPlace(t *testing.T) {
	text := bom + strings.Repeat("aé°𝄞 ", 400) + "\n\n" + strings.Repeat("x", 3*stride) + "\r\nshort °\n"
	s := newSource("f", []byte(text))
	lines := strings.Split(text, "\n")
	starts := []int{0}
	for _, line := range lines {
		starts = append(starts, starts[len(starts)-1]+len(line)+1)
	}
	rapid.Check(t, func(t *rapid.T) {
		line := rapid.IntRange(1, len(lines)).Draw(t, "line")
		content := []rune(strings.TrimPrefix(lines[line-1], bom))
		column := rapid.IntRange(1, len(content)+1).Draw(t, "column")
		want := starts[line-1] + len(string(content[:column-1]))
		if line == 1 {
			want += len(bom)
		}
		if got := s.find(line, column); got != want {
			t.Fatalf("line %d column %d at %d, want %d", line, column, got, want)
		}
		other := rapid.IntRange(1, len(content)+1).Draw(t, "another column")
		offset := want + len(string(content[:other-1])) - len(string(content[:column-1]))
		if gotLine, gotColumn := s.place(line, offset); gotLine != line || gotColumn != other {
			t.Fatalf("offset %d at line %d column %d, want %d, %d", offset, gotLine, gotColumn, line, other)
		}
	})
}
