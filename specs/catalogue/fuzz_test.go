package catalogue

import (
	"strings"
	"testing"

	"gopkg.in/yaml.v3"
)

// FuzzNames: whatever name is asked for, there is nothing of it, or an entry of that
// very name with values and the sources of each.
func FuzzNames(f *testing.F) {
	for _, name := range []string{"hm-32", "HM-32", "hose-2sn-10", "nbr", "e235", "../seals", "", "-", "a-b-c"} {
		f.Add(name)
	}
	f.Fuzz(func(t *testing.T, name string) {
		for _, find := range []func(string) (Entry, bool){Fluid, Part} {
			e, known := find(name)
			if !known {
				continue
			}
			if e.Name != strings.ToLower(name) || strings.ContainsAny(e.Name, "/\\ ") || e.Values == nil || e.Values.Kind != yaml.MappingNode || len(e.Sources) == 0 {
				t.Errorf("%q is %+v", name, e)
			}
		}
		if m, known := Seal(name); known && m.Symbol == "" {
			t.Errorf("seal %q is %+v", name, m)
		}
		if m, known := Tube(name); known && m.Name == "" {
			t.Errorf("tube %q is %+v", name, m)
		}
		if m, known := Family(name); known && m.Symbol == "" {
			t.Errorf("family %q is %+v", name, m)
		}
	})
}
