package changes

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"headroom/specs"
)

// A Rename is a part, node or case that two revisions call differently.
type Rename struct {
	Kind     string // "part", "node" or "case"
	Old, New string
}

// alike is the least share of its values that an entry keeps when it is renamed;
// one with fewer is another one. By common sense: more than half.
const alike = 0.5

// names are the newer names of what an older revision calls something else.
type names struct {
	list  []Rename
	of    map[string]map[string]string // by kind, then by the older name
	plain map[string]string            // those that stand for one thing alone, whatever the kind
	still map[string]bool              // names that the newer revision uses
}

// in puts the newer names into a text that holds older ones, word by word.
func (n *names) in(text string) string {
	if len(n.plain) == 0 {
		return text
	}
	var out strings.Builder
	for len(text) > 0 {
		end := strings.IndexFunc(text, func(r rune) bool { return !isNamed(r) })
		switch end {
		case -1:
			out.WriteString(n.word(text))
			return out.String()
		case 0:
			end = 1
			out.WriteString(text[:1])
		default:
			out.WriteString(n.word(text[:end]))
		}
		text = text[end:]
	}
	return out.String()
}

// word is the newer name of a word, whatever kind of thing it names.
func (n *names) word(old string) string {
	if renamed, is := n.plain[old]; is {
		return renamed
	}
	return old
}

// part is the newer name of a part.
func (n *names) part(old string) string {
	if renamed, is := n.of["part"][old]; is {
		return renamed
	}
	return old
}

// isNamed tells whether names of parts, nodes and cases may hold a letter.
func isNamed(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r > 127
}

func (n *names) add(kind, old, new string) {
	n.list = append(n.list, Rename{kind, old, new})
	if n.of[kind] == nil {
		n.of[kind] = map[string]string{}
	}
	n.of[kind][old] = new
	if !n.still[old] {
		n.plain[old] = new
	}
}

// renames finds what two revisions of a circuit call differently: nodes by the
// ports of parts that kept their names, then parts and cases by what is written in
// them, and the nodes of these.
func renames(old, new *specs.Circuit) *names {
	n := &names{of: map[string]map[string]string{}, plain: map[string]string{}, still: map[string]bool{}}
	for _, name := range slices.Concat(partNames(new), nodeNames(new), caseNames(new)) {
		n.still[name] = true
	}
	before, after := old.Written(), new.Written()
	n.nodes(old, new)
	n.entries("part", "parts", before, after, partNames(old), partNames(new))
	n.nodes(old, new)
	n.entries("case", "cases", before, after, caseNames(old), caseNames(new))
	return n
}

func partNames(c *specs.Circuit) (all []string) {
	for _, p := range c.Parts {
		all = append(all, p.Base().Name)
	}
	return all
}

func caseNames(c *specs.Circuit) (all []string) {
	for _, k := range c.Cases {
		all = append(all, k.Name)
	}
	return all
}

func nodeNames(c *specs.Circuit) (all []string) {
	for _, k := range c.Nodes {
		all = append(all, k.Name)
	}
	return all
}

// without lists the names of one revision that the other has not.
func without(these, others []string) []string {
	return slices.DeleteFunc(slices.Clone(these), func(name string) bool { return slices.Contains(others, name) })
}

// nodes takes a node for renamed where it is gone, and most ports that were at it
// are at one node that is new.
func (n *names) nodes(old, new *specs.Circuit) {
	gone, come := without(nodeNames(old), nodeNames(new)), without(nodeNames(new), nodeNames(old))
	votes := map[[2]string]int{}
	for _, p := range old.Parts {
		now := new.Part(n.part(p.Base().Name))
		if now == nil || now.Base().Kind != p.Base().Kind {
			continue
		}
		ports := map[string]string{}
		for _, port := range specs.Ports(now) {
			ports[port.Key] = port.Node
		}
		for _, port := range specs.Ports(p) {
			votes[[2]string{port.Node, ports[port.Key]}]++
		}
	}
	n.choose("node", gone, come, func(was, is string) float64 { return float64(votes[[2]string{was, is}]) })
}

// entries takes an entry of a section for renamed where it is gone, and most of
// what was written in it is written in one that is new.
func (n *names) entries(kind, section string, before, after specs.Written, olds, news []string) {
	gone, come := without(olds, news), without(news, olds)
	was, written := map[string]map[string]string{}, map[string]map[string]string{}
	for _, name := range come {
		written[name] = after.Entry(section, name)
	}
	for _, name := range gone {
		was[name] = before.Entry(section, name)
	}
	n.choose(kind, gone, come, func(old, new string) float64 {
		share := n.same(was[old], written[new])
		if share <= alike || was[old]["kind"] != written[new]["kind"] {
			return 0
		}
		return share
	})
}

// same is the share of the values of two entries that are alike, as they were
// written or in the newer names.
func (n *names) same(old, new map[string]string) float64 {
	count := 0
	for key, value := range old {
		if other, has := new[n.in(key)]; has && (other == value || other == n.in(value)) {
			count++
		}
	}
	return float64(count) / float64(max(1, len(old), len(new)))
}

// choose pairs what is gone with what has come, the most alike first; 0 is not
// alike at all. Each is paired once, and of equals the first.
func (n *names) choose(kind string, gone, come []string, likeness func(old, new string) float64) {
	type pair struct {
		old, new int
		like     float64
	}
	var pairs []pair
	for i, old := range gone {
		if _, known := n.of[kind][old]; known {
			continue
		}
		for k, new := range come {
			if like := likeness(old, new); like > 0 && !slices.Contains(slices.Collect(maps.Values(n.of[kind])), new) {
				pairs = append(pairs, pair{i, k, like})
			}
		}
	}
	slices.SortFunc(pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(b.like, a.like), cmp.Compare(a.old, b.old), cmp.Compare(a.new, b.new))
	})
	taken := map[string]bool{}
	for _, p := range pairs {
		if old, new := gone[p.old], come[p.new]; !taken["-"+old] && !taken["+"+new] {
			taken["-"+old], taken["+"+new] = true, true
			n.add(kind, old, new)
		}
	}
}
