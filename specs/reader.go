package specs

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"slices"

	"gopkg.in/yaml.v3"
)

// Load reads a spec file. The error is about the file system alone: what is
// wrong with the text is in the circuit's Problems.
func Load(path string) (*Circuit, error) { return LoadAs(path, filepath.ToSlash(path)) }

// LoadAs is Load for a file that is told by another name than its path.
func LoadAs(path, name string) (*Circuit, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the spec: %w", err)
	}
	return Read(name, data), nil
}

// readFile reads a file, but no more of it than shows that it is too large.
// What is no file, such as a pipe that nobody writes to, is refused unopened.
func readFile(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is not a file", path)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxFile+1))
}

// Read reads the text of a spec; name is what its places are told with. It
// never fails: what is wrong is in the circuit's Problems.
func Read(name string, data []byte) *Circuit {
	c := &Circuit{File: name, Source: data}
	r := newReader(name, data)
	r.circuit = c
	if root := r.parse(); root != nil {
		r.document(root, reflect.ValueOf(c).Elem())
	}
	if c.Fluid.At.Line == 0 {
		c.Fluid.At = r.firstLine() // what is missing has a place too
	}
	c.Problems = sorted(r.problems, r.dropped)
	return c
}

// Readable tells whether the file could be read as a spec at all: it is YAML, and a
// mapping with one of the keys of a spec.
func (c *Circuit) Readable() bool {
	return !slices.ContainsFunc(c.Problems, func(p Problem) bool {
		return p.Rule == ruleSyntax || p.Path == "" && (p.Rule == ruleEmpty || p.Rule == ruleShape)
	})
}

// noSpec tells whether a mapping has none of the keys that every spec has.
func noSpec(root *yaml.Node) bool {
	for i := 0; i < len(root.Content); i += 2 {
		if key := root.Content[i].Value; key == "headroom" || key == "circuit" {
			return false
		}
	}
	return true
}

// ReadProject reads the text of a project file, as Read does a spec's.
func ReadProject(name string, data []byte) *Project {
	p := &Project{File: name, Source: data}
	r := newReader(name, data)
	if root := r.parse(); root != nil {
		r.document(root, reflect.ValueOf(p).Elem())
	}
	p.Problems = sorted(r.problems, r.dropped)
	return p
}

// A layer is one text that values come from: the file itself, a catalogue
// entry, or a case's changes of a part.
type layer struct {
	src  *source
	from Source
	path string // key path of what is being read: "parts.main-pump"
}

// A reader reads one file.
type reader struct {
	layer
	circuit *Circuit // nil for a project file
	air     float64  // pressure of the surrounding air, Pa
	stopped syntaxMark

	parts      names               // by name, with their kinds; "" where the kind is not known
	nodes      names               // by name
	cases      names               // by name
	reservoirs []string            // the node of each reservoir
	found      []Node              // the nodes at parts' ports
	unsure     bool                // a part cannot be read, so there may be more of a kind
	texts      map[string]partText // a part's own text, for cases that change it

	kind    string   // of the part being read
	lenient bool     // its catalogue entry is not known, so nor is what is missing
	inCase  bool     // the part is that of a case
	muted   bool     // problems of this text have been told before
	unread  []string // paths of sections that are there but cannot be read
	memory  int      // bytes of sections made so far
	guesses int      // near words looked for so far

	problems []Problem
	dropped  int
}

// entry is one key and value of a mapping.
type entry struct{ key, value *yaml.Node }

func newReader(name string, data []byte) *reader {
	return &reader{layer: layer{src: newSource(name, data), from: FromSpec}, air: standardAir}
}

// document reads the whole file into a struct.
func (r *reader) document(root *yaml.Node, v reflect.Value) {
	p := planOf(v.Type(), "")
	if root.Kind != yaml.MappingNode {
		r.add(Problem{Rule: ruleShape, At: r.firstLine(), Message: "the file must be a mapping with the keys " + p.list()})
		return
	}
	if r.circuit != nil && len(r.problems) == 0 && noSpec(root) {
		r.add(Problem{Rule: ruleShape, At: r.firstLine(), Message: "this is no spec: it has neither the key headroom nor circuit"})
		return
	}
	r.fields(root, p, v, "")
	if !p.staged {
		r.finish(p, v, place{at: r.firstLine(), name: "the project file"}, true)
	}
}

// wrong notes a problem with a value of the text being read.
func (r *reader) wrong(rule string, at Span, key, format string, args ...any) {
	r.add(Problem{Rule: rule, At: at, Path: joinKey(r.path, key), Message: fmt.Sprintf(format, args...)})
}

// maxMemory bounds the sections made of one file: one with a million empty
// entries would otherwise take a kilobyte for each.
const maxMemory = 32 << 20

// room tells whether there is room for n more values of a type.
func (r *reader) room(t reflect.Type, n int, at Span, key string) bool {
	if r.memory > maxMemory {
		return false
	}
	r.memory += n * int(t.Size())
	if r.memory > maxMemory {
		r.wrong(ruleRange, at, key, "more entries than a circuit can have; what follows is not read")
		return false
	}
	return true
}
