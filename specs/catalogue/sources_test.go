package catalogue

import (
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// Every value has a source, every source says what it is of, every mark is one of three.
func TestFluidSources(t *testing.T) {
	for _, e := range Fluids() {
		checkSources(t, e.Name, e.Sources, e.Values)
		if e.About == "" {
			t.Errorf("%s: about is missing", e.Name)
		}
	}
}

// checkSources holds an entry's sources against its values, both ways. Extra
// are keys that stand apart from the values.
func checkSources(t *testing.T, name string, sources []Source, values *yaml.Node, extra ...string) {
	t.Helper()
	used := map[string]bool{}
	mark := func(key string) {
		key, _, _ = strings.Cut(key, "/")
		if s, ok := sourceOf(sources, key); !ok {
			t.Errorf("%s: %s has no source", name, key)
		} else {
			for _, of := range s.Of {
				if key == of || strings.HasPrefix(key, of+".") {
					used[of] = true
				}
			}
		}
	}
	leaves(values, "", func(key string, _ *yaml.Node) { mark(key) })
	for _, key := range extra {
		mark(key)
	}
	seen := map[string]bool{}
	for _, s := range sources {
		checkMark(t, name, s.Source, s.Mark)
		for _, of := range s.Of {
			if !used[of] {
				t.Errorf("%s: source of %s, which is no value here", name, of)
			}
			if seen[of] {
				t.Errorf("%s: %s has two sources", name, of)
			}
			seen[of] = true
		}
	}
}

// checkMark wants a source in words and one of the three marks.
func checkMark(t *testing.T, name, source string, mark Mark) {
	t.Helper()
	if source == "" || !slices.Contains([]Mark{Published, CommonPractice, FromMemory}, mark) {
		t.Errorf("%s: source %q with mark %q", name, source, mark)
	}
}

func TestPartSources(t *testing.T) {
	last := ""
	for _, e := range Parts() {
		if e.File == last {
			continue // the sources are those of the file: once is enough
		}
		last = e.File
		checkSources(t, e.Name, e.Sources, e.Values, "mass_per_metre")
		if e.About == "" {
			t.Errorf("%s: about is missing", e.File)
		}
	}
	// Every part has the keys of the first of its file, so its sources cover it.
	for _, e := range Parts() {
		leaves(e.Values, "", func(key string, _ *yaml.Node) {
			if _, ok := e.Source(key); !ok {
				t.Errorf("%s: %s has no source", e.Name, key)
			}
		})
	}
}

// checkRowSources wants a good source for each of the keys.
func checkRowSources(t *testing.T, name string, sources []Source, keys ...string) {
	t.Helper()
	for _, key := range keys {
		if s, ok := sourceOf(sources, key); !ok {
			t.Errorf("%s: %s has no source", name, key)
		} else {
			checkMark(t, name+" "+key, s.Source, s.Mark)
		}
	}
	for _, s := range sources {
		for _, of := range s.Of {
			if !slices.Contains(keys, of) {
				t.Errorf("%s: source of %s, which is no key here", name, of)
			}
		}
	}
}
