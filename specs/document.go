package specs

import "gopkg.in/yaml.v3"

// A Document is the YAML of a file that is no spec, such as a rule pack, read
// with the same bounds and complaints.
type Document struct {
	Root *yaml.Node // nil where the text cannot be read
	src  *source
}

// ReadDocument reads the YAML of a file; name is what its places are told with.
func ReadDocument(name string, data []byte) (*Document, []Problem) {
	r := newReader(name, data)
	root := r.parse()
	return &Document{Root: root, src: r.src}, sorted(r.problems, r.dropped)
}

// Span is where a node stands.
func (d *Document) Span(n *yaml.Node) Span { return d.src.span(n) }

// Start is the place of the file as a whole.
func (d *Document) Start() Span {
	return Span{File: d.src.file, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
}

// Within is the place of length bytes at an offset of a scalar's value, in
// whatever style and over however many lines it is written; the whole scalar
// where the value cannot be followed in the text.
func (d *Document) Within(n *yaml.Node, offset, length int) Span {
	return d.src.within(n, offset, length)
}

// Follows tells what stands in the text behind a scalar, up to the end of its line.
func (d *Document) Follows(n *yaml.Node) string {
	end := d.src.end(n, d.src.start(n))
	return string(d.src.text[end:d.src.endOfLine(end)])
}

// Nearest is the known word nearest to one, "" where none is near.
func Nearest(word string, known []string) string { return nearest(word, known) }

// Like lists up to three known words that are like one: those that begin with it;
// else the nearest by letters; else those that have it in them, or a piece near to it.
func Like(word string, known []string) []string { return like(word, known) }

// SortProblems puts problems in the order of their files, each once.
func SortProblems(problems []Problem) []Problem { return sorted(problems, 0) }

// Sentence joins words as in a sentence, the last by a word of its own: "a, b and c".
func Sentence(words []string, last string) string { return sentence(words, last) }
