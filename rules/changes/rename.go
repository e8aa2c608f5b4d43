package changes

import (
	"cmp"
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
	known := map[string]bool{}
	for _, name := range others {
		known[name] = true
	}
	return slices.DeleteFunc(slices.Clone(these), func(name string) bool { return known[name] })
}

// unpaired are the names of each revision that the other has not, but for those that are
// known to be renamed.
func (n *names) unpaired(kind string, olds, news []string) (gone, come []string) {
	gone, come = without(olds, news), without(news, olds)
	taken := map[string]bool{}
	for _, new := range n.of[kind] {
		taken[new] = true
	}
	gone = slices.DeleteFunc(gone, func(name string) bool { _, known := n.of[kind][name]; return known })
	return gone, slices.DeleteFunc(come, func(name string) bool { return taken[name] })
}

// placesOf are the places of names in a list.
func placesOf(list []string) map[string]int {
	places := make(map[string]int, len(list))
	for i, name := range list {
		places[name] = i
	}
	return places
}

// nodes takes a node for renamed where it is gone, and most ports that were at it
// are at one node that is new.
func (n *names) nodes(old, new *specs.Circuit) {
	gone, come := n.unpaired("node", nodeNames(old), nodeNames(new))
	now := make(map[string]specs.Part, len(new.Parts))
	for _, p := range new.Parts {
		now[p.Base().Name] = p
	}
	votes := map[[2]string]int{}
	for _, p := range old.Parts {
		is := now[n.part(p.Base().Name)]
		if is == nil || is.Base().Kind != p.Base().Kind {
			continue
		}
		ports := map[string]string{}
		for _, port := range specs.Ports(is) {
			ports[port.Key] = port.Node
		}
		for _, port := range specs.Ports(p) {
			votes[[2]string{port.Node, ports[port.Key]}]++
		}
	}
	before, after := placesOf(gone), placesOf(come)
	var likely []likeness
	for vote, count := range votes {
		was, isGone := before[vote[0]]
		is, isNew := after[vote[1]]
		if isGone && isNew {
			likely = append(likely, likeness{was, is, float64(count)})
		}
	}
	n.choose("node", gone, come, likely)
}

// mostPairs bounds how many entries of a kind are compared with each other for being
// alike: of a thousand and more that were renamed and changed at once, nobody is told
// which is which.
const mostPairs = 1 << 20

// entries takes an entry of a section for renamed where it is gone, and most of
// what was written in it is written in one that is new: first those that are the same
// but for the name, then the most alike.
func (n *names) entries(kind, section string, before, after specs.Written, olds, news []string) {
	was, is := before.Entries(section), after.Entries(section)
	gone, come := n.unpaired(kind, olds, news)
	n.choose(kind, gone, come, n.equal(gone, come, was, is))
	gone, come = n.unpaired(kind, olds, news)
	for _, k := range kindsOf(gone, was) {
		another := func(all map[string]map[string]string) func(string) bool {
			return func(name string) bool { return all[name]["kind"] != k }
		}
		these, those := slices.DeleteFunc(slices.Clone(gone), another(was)), slices.DeleteFunc(slices.Clone(come), another(is))
		if len(these)*len(those) <= mostPairs {
			n.choose(kind, these, those, n.alike(these, those, was, is))
		}
	}
}

// kindsOf lists the kinds of entries, each once.
func kindsOf(all []string, written map[string]map[string]string) (kinds []string) {
	for _, name := range all {
		kinds = append(kinds, written[name]["kind"])
	}
	slices.Sort(kinds)
	return slices.Compact(kinds)
}

// equal pairs entries in which the same is written, in the newer names: of several, the
// first with the first.
func (n *names) equal(gone, come []string, was, is map[string]map[string]string) (pairs []likeness) {
	same := func(name string) string { return name }
	left := map[string][]int{}
	for k, name := range come {
		if text := inOneText(is[name], same); text != "" {
			left[text] = append(left[text], k)
		}
	}
	for i, name := range gone {
		text := inOneText(was[name], n.in)
		if of := left[text]; len(of) > 0 {
			pairs = append(pairs, likeness{i, of[0], 1})
			left[text] = of[1:]
		}
	}
	return pairs
}

// inOneText is an entry in one text, whatever the order of its keys.
func inOneText(entry map[string]string, renamed func(string) string) string {
	var values []string
	for key, value := range entry {
		values = append(values, renamed(key)+"\x00"+renamed(value))
	}
	slices.Sort(values)
	return strings.Join(values, "\x00\x00")
}

// alike pairs entries of which more than the least share of values is the same, as they
// were written or in the newer names.
func (n *names) alike(gone, come []string, was, is map[string]map[string]string) (pairs []likeness) {
	holding := map[[2]string][]int{} // which new entries hold a value under a key
	for k, name := range come {
		for key, value := range is[name] {
			holding[[2]string{key, value}] = append(holding[[2]string{key, value}], k)
		}
	}
	for i, name := range gone {
		counts := make([]int, len(come))
		count := func(key, value string) {
			for _, k := range holding[[2]string{key, value}] {
				counts[k]++
			}
		}
		for key, value := range was[name] {
			key, renamed := n.in(key), n.in(value)
			if count(key, value); renamed != value {
				count(key, renamed)
			}
		}
		for k, same := range counts {
			if share := float64(same) / float64(max(1, len(was[name]), len(is[come[k]]))); share > alike {
				pairs = append(pairs, likeness{i, k, share})
			}
		}
	}
	return pairs
}

// A likeness is how alike what is gone is to what has come, by their places in lists.
type likeness struct {
	old, new int
	like     float64
}

// choose pairs what is gone with what has come, the most alike first. Each is paired
// once, and of equals the first.
func (n *names) choose(kind string, gone, come []string, pairs []likeness) {
	slices.SortFunc(pairs, func(a, b likeness) int {
		return cmp.Or(cmp.Compare(b.like, a.like), cmp.Compare(a.old, b.old), cmp.Compare(a.new, b.new))
	})
	wasTaken, isTaken := make([]bool, len(gone)), make([]bool, len(come))
	for _, p := range pairs {
		if !wasTaken[p.old] && !isTaken[p.new] {
			wasTaken[p.old], isTaken[p.new] = true, true
			n.add(kind, gone[p.old], come[p.new])
		}
	}
}
