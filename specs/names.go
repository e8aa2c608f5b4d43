package specs

import (
	"slices"
	"strings"

	"gopkg.in/yaml.v3"
)

// names are names in use, with what each names.
type names struct {
	order []string
	kind  map[string]string
}

func (n *names) add(name, kind string) {
	if n.kind == nil {
		n.kind = map[string]string{}
	}
	if _, known := n.kind[name]; !known {
		n.order = append(n.order, name)
	}
	n.kind[name] = kind
}

// of lists the names of some kinds, in the order they were added.
func (n *names) of(kinds []string) []string {
	var some []string
	for _, name := range n.order {
		if slices.Contains(kinds, n.kind[name]) || slices.Contains(kinds, "part") {
			some = append(some, name)
		}
	}
	return some
}

// refers tells whether a name names something of the kinds that ref allows.
func (r *reader) refers(ref []string, name string, at Span, key string) bool {
	if r.circuit == nil {
		return true // a project file knows no names
	}
	book := &r.parts
	switch ref[0] {
	case "node":
		book = &r.nodes
	case "case":
		book = &r.cases
	}
	kind, known := book.kind[name]
	needed := sentence(articles(ref), "or")
	switch {
	case known && kind == "": // its own kind is wrong, which has been told
		return false
	case known && (slices.Contains(ref, kind) || ref[0] == "part"):
		return true
	case known:
		r.wrong(ruleReference, at, key, "%s is %s; %s is needed here", name, article(kind), needed)
		return false
	}
	r.wrong(ruleReference, at, key, "%s %s", "there is no "+sentence(ref, "or")+" "+name+";", r.others(name, ref, book))
	return false
}

// others says what could have been meant instead of a name.
func (r *reader) others(name string, ref []string, book *names) string {
	if r.guesses++; r.guesses > maxGuesses {
		return "give " + sentence(articles(ref), "or") + " of this circuit"
	}
	known := book.of(ref)
	if near := nearest(name, known); near != "" {
		return "did you mean " + near + "?"
	}
	switch {
	case len(known) == 0:
		return "the circuit has none"
	case len(known) == 1:
		return "the only one is " + known[0]
	case len(known) <= 8:
		return "there are " + sentence(known, "and")
	}
	return "give " + sentence(articles(ref), "or") + " of this circuit"
}

// sentence joins words as in a sentence: "a, b and c".
func sentence(words []string, last string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	n := len(words) - 1
	return strings.Join(words[:n], ", ") + " " + last + " " + words[n]
}

func articles(words []string) []string {
	all := make([]string, len(words))
	for i, w := range words {
		all[i] = article(w)
	}
	return all
}

// article puts "a" or "an" before a word.
func article(word string) string {
	if word != "" && strings.ContainsRune("aeiou", rune(word[0])) {
		return "an " + word
	}
	return "a " + word
}

// meant is the end of a message that guesses what a word was meant to be.
func meant(word string, known []string) string {
	if near := nearest(word, known); near != "" {
		return "; did you mean " + near + "?"
	}
	return ""
}

// Bounds on what is searched for a near word: a guess must not cost more than
// the reading.
const (
	maxWord    = 48
	maxWords   = 500
	maxGuesses = 200
)

// nearest is the known word nearest to one, "" where none is near: no more
// edits than a third of its letters. The first of several wins.
func nearest(word string, known []string) string {
	if len(word) > maxWord {
		return ""
	}
	best, least := "", 1+len(word)/3
	for _, k := range known[:min(len(known), maxWords)] {
		if len(k) > maxWord || max(len(k), len(word))-min(len(k), len(word)) >= least {
			continue
		}
		if d := edits(strings.ToLower(word), strings.ToLower(k)); d < least {
			best, least = k, d
		}
	}
	return best
}

// maxLike is how many words are offered for one.
const maxLike = 3

func like(word string, known []string) []string {
	small := strings.ToLower(word)
	if small == "" || len(small) > maxWord {
		return nil
	}
	begins := filter(known, func(k string) bool { return strings.HasPrefix(k, small) })
	if len(begins) > 0 {
		return begins
	}
	if near := nearest(word, known); near != "" {
		return []string{near}
	}
	within := filter(known, func(k string) bool { return strings.Contains(k, small) })
	if len(within) > 0 {
		return within
	}
	return filter(known, func(k string) bool {
		pieces := strings.FieldsFunc(k, isJoint)
		for n := len(small) - 1; n <= min(len(small)+1, len(k)); n++ {
			pieces = append(pieces, k[:n]) // its beginning
		}
		return nearest(small, pieces) != ""
	})
}

// filter gives the first few words that pass, each once; they are judged in small letters.
func filter(known []string, passes func(string) bool) (some []string) {
	for _, k := range known[:min(len(known), maxWords)] {
		if len(some) < maxLike && !slices.Contains(some, k) && passes(strings.ToLower(k)) {
			some = append(some, k)
		}
	}
	return some
}

// isJoint tells what stands between the pieces of a name.
func isJoint(c rune) bool { return c == '.' || c == '-' || c == ' ' || c == ',' || c == '_' }

// edits counts the letters to insert, drop, replace or swap with their neighbour
// that make b of a (optimal string alignment).
func edits(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range len(a) {
		row[0] = i + 1
		for j := range len(b) {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(last[j]+cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// unknownKey tells that a key is none of a plan.
func (r *reader) unknownKey(n *yaml.Node, p *plan, prefix string) {
	if n.Tag == "!!merge" {
		return // which has been told
	}
	var known, own []string
	for _, f := range p.fields {
		if f.only == "" || r.inCase {
			known = append(known, f.name)
			if !f.common {
				own = append(own, f.name)
			}
		}
	}
	message := "there is no key " + n.Value + " here"
	switch {
	case p.part:
		message = article(r.kind) + " has no key " + n.Value
	case p.prefix != "":
		message = p.prefix + " has no key " + n.Value
	}
	if r.guesses++; r.guesses > maxGuesses {
		known, own = nil, nil
	}
	if near := nearest(n.Value, known); near != "" {
		message += "; did you mean " + near + "?"
	} else if len(own) > 0 && len(own) <= maxTold {
		message += "; its keys are " + sentence(own, "and")
	}
	r.wrong(ruleUnknownKey, r.src.span(n), joinKey(prefix, joinKey(p.prefix, n.Value)), "%s", message)
}

// maxTold is how many keys a message lists.
const maxTold = 14
