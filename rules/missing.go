package rules

import (
	"slices"
	"strings"

	"headroom/rules/facts"
)

// rootKeys are the first words of key paths that are given in full.
var rootKeys = []string{"fluid", "environment", "parts", "nodes", "cases", "limits", "concessions"}

// supply turns the names of missing facts into the keys that would supply them.
func (j *judge) supply(t *target, missing []string) []string {
	keys := make([]string, 0, len(missing))
	for _, name := range missing {
		key := name
		if f := factNamed[name]; f != nil {
			_, needs := f.origin(j.scene.objects[f.variable])
			key = j.keyPath(t, f, needs)
		}
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// keyPath is the full path of a key that is told from its part, seal or case on.
func (j *judge) keyPath(t *target, f *fact, needs string) string {
	first, _, _ := strings.Cut(needs, ".")
	switch {
	case needs == "":
		return f.name
	case strings.Contains(needs, " ") || slices.Contains(rootKeys, first) || needs == "simulation" || needs == "catalogue":
		return needs
	case f.variable == sealVariable:
		if seal, rest, _ := strings.Cut(needs, "."); seal == "seals" {
			return t.path + "." + rest
		}
		return "parts." + j.partName() + "." + needs
	case f.variable == partVariable || f.variable == hereVariable || f.variable == lineVariable:
		if name := j.partName(); name != "" {
			return "parts." + name + "." + needs
		}
	case t.path != "":
		return t.path + "." + needs
	}
	return needs
}

// partName is the name of the part that is the subject or near it.
func (j *judge) partName() string {
	if of := j.scene.objects[partVariable]; of.IsValid() {
		return of.Addr().Interface().(*facts.Part).Name.Value
	}
	return ""
}
