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
		f := factNamed[name]
		if f == nil {
			keys = append(keys, name)
			continue
		}
		_, needs := f.origin(j.scene.objects[f.variable])
		if needs == facts.Simulation && simulated(j.circuit) {
			keys = append(keys, f.label+" of "+t.Name+" (no case gives one)")
			continue
		}
		for _, one := range separate(needs) {
			keys = append(keys, j.keyPath(t, f, one))
		}
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// simulated tells whether every case has come to its end: what is missing then is
// not for want of simulation.
func simulated(c *facts.Circuit) bool {
	return len(c.Records) > 0 && len(c.Records) == len(c.Cases) &&
		!slices.ContainsFunc(c.Records, func(r facts.CaseRecord) bool { return r.Unfinished != "" })
}

// separate takes a list of keys apart; what is said in words stays in one piece.
func separate(needs string) []string {
	keys := strings.Split(needs, ", ")
	if slices.ContainsFunc(keys, func(key string) bool { return strings.Contains(key, " ") }) {
		return []string{needs}
	}
	return keys
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
