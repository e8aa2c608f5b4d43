package specs

import "gopkg.in/yaml.v3"

// overrides reads the parts as they are in one case.
func (r *reader) overrides(e entry, key string) []Override {
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, r.src.span(e.value), key, "with must be a mapping of part names, such as main-filter: {drop: 3 bar}")
		return nil
	}
	size := len(e.value.Content) / 2
	all := make([]Override, 0, min(size, len(r.texts)))
	seen := make(map[string]int, size)
	for i := range size {
		name, changes := e.value.Content[2*i], e.value.Content[2*i+1]
		path := joinKey(key, name.Value)
		at, fine := r.name(name, seen, []string{"part"}, key)
		if !fine {
			continue
		}
		if changes.Kind != yaml.MappingNode {
			r.wrong(ruleShape, at, path, "%s needs the keys that change in this case, such as stuck or drop", name.Value)
			continue
		}
		t := r.texts[name.Value]
		if !r.room(t.kind.plan().goType, 1+t.size/16, at, path) {
			break
		}
		all = append(all, Override{Part: name.Value, At: at, As: r.override(name.Value, t, changes, joinKey(r.path, path))})
	}
	return all
}

// override reads one part as a case has it.
func (r *reader) override(name string, t partText, changes *yaml.Node, path string) Part {
	if kind := valueOf(changes, "kind"); kind != nil {
		r.add(Problem{ruleUnknownKey, r.src.span(kind), path + ".kind", "a case cannot change what kind of part " + name + " is"})
	}
	like := valueOf(changes, "like")
	grade := r.catalogued(t, like, path)
	if like == nil {
		r.muted = true
		grade = r.catalogued(t, valueOf(t.text, "like"), path)
		r.muted = false
	}
	r.inCase = true
	made := r.build(name, t, path, grade, changes)
	r.inCase = false
	return made
}

// count is the number of nodes of a text.
func count(n *yaml.Node) int {
	sum := 1
	for _, child := range n.Content {
		sum += count(child)
	}
	return sum
}
