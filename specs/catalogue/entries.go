package catalogue

import (
	"io/fs"
	"path"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"

	"headroom/specs/quantity"
)

// An Entry is what `like` names: values in exactly the keys of a spec.
type Entry struct {
	Name         string
	Kind         string // "fluid", or the part's kind: "hose", "tube"
	About        string
	File         string     // within the catalogue: "fluids/hm-32.yaml"
	Values       *yaml.Node // a mapping; a copy of the caller's own
	MassPerMetre float64    // kg/m of a line, dry and without fittings; 0 where not known
	Sources      []Source
}

// Source finds where the value at a dotted key comes from.
func (e Entry) Source(key string) (Source, bool) { return sourceOf(e.Sources, key) }

// Fluid finds a fluid by name.
func Fluid(name string) (Entry, bool) {
	f, ok := open("fluids", name)
	if !ok {
		return Entry{}, false
	}
	return f.entry(strings.ToLower(name), KindFluid, &f.fluid), true
}

// Fluids lists all fluids by name.
func Fluids() []Entry {
	var all []Entry
	for _, name := range stems("fluids") {
		e, _ := Fluid(name)
		all = append(all, e)
	}
	return all
}

// Part finds a part grade by name, such as hose-2sn-10: the grade's file is
// named by what stands before the last hyphen.
func Part(name string) (Entry, bool) {
	name = strings.ToLower(name)
	hyphen := strings.LastIndexByte(name, '-')
	if hyphen < 0 {
		return Entry{}, false
	}
	f, ok := open("parts", name[:hyphen])
	if !ok {
		return Entry{}, false
	}
	for i := 0; i+1 < len(f.parts.Content); i += 2 {
		if f.parts.Content[i].Value == name {
			return f.part(name, f.parts.Content[i+1]), true
		}
	}
	return Entry{}, false
}

// Parts lists all part grades, a file after the other, in the order of the file.
func Parts() []Entry {
	var all []Entry
	for _, stem := range stems("parts") {
		f, _ := open("parts", stem)
		for i := 0; i+1 < len(f.parts.Content); i += 2 {
			all = append(all, f.part(f.parts.Content[i].Value, f.parts.Content[i+1]))
		}
	}
	return all
}

// A file is one of fluids or parts as read.
type file struct {
	path    string
	about   string
	sources []Source
	fluid   yaml.Node
	parts   yaml.Node
}

// written is a file as it stands.
type written struct {
	About   string    `yaml:"about"`
	Fluid   yaml.Node `yaml:"fluid"`
	Parts   yaml.Node `yaml:"parts"`
	Sources []Source  `yaml:"sources"`
}

// files holds what has been opened: func() *file by path.
var files sync.Map

// open reads a file once, however many ask for it.
func open(folder, stem string) (*file, bool) {
	if strings.Contains(stem, "/") {
		return nil, false // a name, not a way to a file
	}
	name := path.Join(folder, strings.ToLower(stem)+".yaml")
	if _, err := fs.Stat(data, name); err != nil {
		return nil, false
	}
	once, _ := files.LoadOrStore(name, sync.OnceValue(func() *file {
		var w written
		read(name, &w)
		return &file{path: name, about: w.About, sources: w.Sources, fluid: w.Fluid, parts: w.Parts}
	}))
	return once.(func() *file)(), true
}

// entry is the file's values as an Entry.
func (f *file) entry(name, kind string, values *yaml.Node) Entry {
	return Entry{Name: name, Kind: kind, About: f.about, File: f.path, Values: clone(values), Sources: f.sources}
}

// part is one grade of the file: its kind and its mass per metre are no keys of
// a part, and stand apart.
func (f *file) part(name string, values *yaml.Node) Entry {
	e := f.entry(name, "", values)
	if kind := take(e.Values, "kind"); kind != nil {
		e.Kind = kind.Value
	}
	if mass := take(e.Values, "mass_per_metre"); mass != nil {
		e.MassPerMetre = si(f.path+": "+name, mass.Value, quantity.Mass)
	}
	return e
}

// take removes a key from a mapping and returns its value, nil if there is none.
func take(mapping *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(mapping.Content); i += 2 {
		if mapping.Content[i].Value == key {
			value := mapping.Content[i+1]
			mapping.Content = append(mapping.Content[:i:i], mapping.Content[i+2:]...)
			return value
		}
	}
	return nil
}

// clone copies a node and all below it. The catalogue's files have no anchors.
func clone(n *yaml.Node) *yaml.Node {
	c := *n
	c.Content = make([]*yaml.Node, len(n.Content))
	for i, child := range n.Content {
		c.Content[i] = clone(child)
	}
	return &c
}

// si reads a quantity of the catalogue; an empty text is 0.
func si(where, text string, dimension quantity.Dimension) float64 {
	if text == "" {
		return 0
	}
	v, err := quantity.Parse(text, dimension)
	must(where, err)
	return v.SI
}
