// Package catalogue is embedded data that a spec may refer to by name: fluids
// and part grades for `like`, seal and tube materials, fluid families and
// viscosity grades. Each row names its sources. Nothing is read before it is
// asked for: a fluid and a part grade is a small file of its own.
package catalogue

import (
	"embed"
	"fmt"
	"path"
	"slices"
	"strings"
	"sync"

	"gopkg.in/yaml.v3"
)

//go:embed fluids/*.yaml parts/*.yaml *.yaml
var data embed.FS

// A Mark tells how sure a value is.
type Mark string

// The marks, surest first.
const (
	Published      Mark = "published"       // seen in the source named
	CommonPractice Mark = "common practice" // a fact of the trade, seen in its publications
	FromMemory     Mark = "from memory"     // not seen: a default, never a proof
)

// A Source says where values come from.
type Source struct {
	Of     []string `yaml:"of"` // their keys, dotted where nested: "rated.pressure"
	Source string   `yaml:"source"`
	Mark   Mark     `yaml:"mark"`
}

// sourceOf finds the source of a dotted key: that of the key itself or of the
// nearest group it stands in.
func sourceOf(sources []Source, key string) (Source, bool) {
	for {
		for _, s := range sources {
			if slices.Contains(s.Of, key) {
				return s, true
			}
		}
		dot := strings.LastIndexByte(key, '.')
		if dot < 0 {
			return Source{}, false
		}
		key = key[:dot]
	}
}

// The kinds of names, for Names.
const (
	KindFluid        = "fluid"         // for a fluid's `like`
	KindPart         = "part"          // for a part's `like`; "hose" and "tube" give those alone
	KindSealMaterial = "seal-material" // for a seal's `material`
	KindTubeMaterial = "tube-material" // for a tube's `material`
	KindFluidFamily  = "fluid-family"  // for a fluid's `family`
)

// Names lists the names of a kind, for a hint at the nearest one. It reads all
// of that kind.
func Names(kind string) []string {
	switch kind {
	case KindFluid:
		return stems("fluids")
	case KindSealMaterial:
		return seals().names
	case KindTubeMaterial:
		return tubes().names
	case KindFluidFamily:
		return families().names
	}
	var names []string
	for _, e := range Parts() {
		if kind == KindPart || kind == e.Kind {
			names = append(names, e.Name)
		}
	}
	return names
}

// stems lists the files of a folder without their ending, sorted.
func stems(folder string) []string {
	entries, err := data.ReadDir(folder)
	must(folder, err)
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e.Name(), path.Ext(e.Name()))
	}
	return names
}

// read decodes an embedded file.
func read(file string, into any) {
	text, err := data.ReadFile(file)
	must(file, err)
	must(file, yaml.Unmarshal(text, into))
}

// must stops the program on a mistake in the embedded data, which the tests of
// this package read from end to end.
func must(where string, err error) {
	if err != nil {
		panic(fmt.Sprintf("catalogue: %s: %v", where, err))
	}
}

// A table is the rows of one file in the order of the file, found by name or alias.
type table[T any] struct {
	names []string
	rows  []T
	index map[string]int // by name and alias in lower case
}

// find looks a row up, whatever the case of the letters.
func (t table[T]) find(name string) (T, bool) {
	i, ok := t.index[strings.ToLower(name)]
	if !ok {
		var none T
		return none, false
	}
	return t.rows[i], true
}

// load prepares the reading of a file of the form {sources, KEY: {name: row}},
// which happens at the first call. Resolve makes of a row as written, with the
// sources that all rows share, the row as told and its aliases.
func load[W, T any](file, key string, resolve func(name string, written W, shared []Source) (T, []string)) func() table[T] {
	return sync.OnceValue(func() table[T] {
		var document map[string]yaml.Node
		read(file, &document)
		var shared []Source
		if node, ok := document["sources"]; ok {
			must(file, node.Decode(&shared))
		}
		node := document[key]
		t := table[T]{index: map[string]int{}}
		for i := 0; i+1 < len(node.Content); i += 2 {
			name := node.Content[i].Value
			var written W
			must(file+": "+name, node.Content[i+1].Decode(&written))
			row, aliases := resolve(name, written, shared)
			for _, known := range append([]string{name}, aliases...) {
				t.index[strings.ToLower(known)] = len(t.rows)
			}
			t.names, t.rows = append(t.names, name), append(t.rows, row)
		}
		return t
	})
}

// override puts a row's own sources before those all rows share.
func override(own, shared []Source) []Source {
	return append(slices.Clip(own), shared...)
}
