package rules

import (
	"slices"

	"headroom/rules/expression"
	"headroom/specs"
)

// A limit is one step of the tree of limits that packs declare: a group of
// others, a choice of sets, or a value.
type limit struct {
	name string     // its own step of the path; "limits" for the root
	path string     // "limits.velocity.return"
	at   specs.Span // of its name in the pack
	core bool       // its value comes from a core pack

	group  []*limit // what is below it, in order of declaration
	sets   []*limit // of a choice: the groups to choose from
	chosen string   // of a choice: the set chosen by default

	form  expression.Type // of a value, or of the entries that the spec names
	value limitValue      // of a value
	named bool            // its entries are named by the spec, one for each part
	kinds []string        // of what kinds the parts are; nil for any
	oneOf []string        // the texts allowed; nil for any
}

// A limitValue is a default or an override; given is false for a limit without default.
type limitValue struct {
	given  bool
	number float64
	text   string
	flag   bool
}

// The words of a pack's limits that are no names of limits.
const (
	othersWord    = "others"
	chooseWord    = "choose"
	noDefaultWord = "no_default"
	perWord       = "per"
	kindsWord     = "kinds"
	oneOfWord     = "one_of"
)

func (l *limit) isGroup() bool  { return len(l.group) > 0 }
func (l *limit) isChoice() bool { return len(l.sets) > 0 }
func (l *limit) isValue() bool  { return !l.isGroup() && !l.isChoice() && !l.named }

// child finds what is directly below a group.
func (l *limit) child(name string) *limit {
	i := slices.IndexFunc(l.group, func(c *limit) bool { return c.name == name })
	if i < 0 {
		return nil
	}
	return l.group[i]
}

// names lists what is directly below a group.
func (l *limit) names() []string {
	var names []string
	for _, c := range l.group {
		names = append(names, c.name)
	}
	return names
}

// set finds a set of a choice.
func (l *limit) set(name string) *limit {
	i := slices.IndexFunc(l.sets, func(s *limit) bool { return s.name == name })
	if i < 0 {
		return nil
	}
	return l.sets[i]
}

// setNames lists the sets of a choice.
func (l *limit) setNames() []string {
	var names []string
	for _, s := range l.sets {
		names = append(names, s.name)
	}
	return names
}

// uniform is the type of a group's entries where all are values of one type, so
// that it can be read by name; false where they are not.
func (l *limit) uniform() (expression.Type, bool) {
	if l.named {
		return l.form, true
	}
	if !l.isGroup() {
		return expression.Type{}, false
	}
	for _, c := range l.group {
		if !c.isValue() || c.form != l.group[0].form {
			return expression.Type{}, false
		}
	}
	return l.group[0].form, true
}

// symbols are the names that expressions may read of a limit and all below it.
func (l *limit) symbols() []expression.Symbol {
	var all []expression.Symbol
	if l.isValue() {
		return append(all, expression.Symbol{Name: l.path, Type: l.form})
	}
	if form, uniform := l.uniform(); uniform {
		form.Map = true
		symbol := expression.Symbol{Name: l.path, Type: form}
		if !l.named {
			symbol.Keys = l.names()
		}
		all = append(all, symbol)
	}
	for _, c := range l.group {
		all = append(all, c.symbols()...)
	}
	if l.isChoice() {
		all = append(all, l.common()...)
	}
	return all
}

// common are the symbols that all sets of a choice have.
func (l *limit) common() []expression.Symbol {
	var all []expression.Symbol
	for _, s := range l.sets[0].symbols() {
		everywhere := true
		for _, other := range l.sets[1:] {
			i := slices.IndexFunc(other.symbols(), func(o expression.Symbol) bool { return o.Name == s.Name && o.Type == s.Type })
			everywhere = everywhere && i >= 0
		}
		if everywhere {
			all = append(all, s)
		}
	}
	return all
}

// merge puts what a later pack declares over what earlier ones did. What does
// not fit together is told by wrong.
func (l *limit) merge(later *limit, wrong func(at specs.Span, format string, arguments ...any)) {
	for _, c := range later.group {
		mine := l.child(c.name)
		switch {
		case mine == nil:
			l.group = append(l.group, c)
		case mine.isValue() && c.isValue() && mine.form == c.form, mine.named && c.named && mine.form == c.form:
			mine.value, mine.at, mine.core, mine.kinds, mine.oneOf = c.value, c.at, c.core, c.kinds, c.oneOf
		case mine.isGroup() && c.isGroup():
			mine.merge(c, wrong)
		case mine.isChoice() && c.isChoice():
			mine.mergeSets(c, wrong)
		default:
			wrong(c.at, "%s is %s here, and %s in %s", c.path, c.about(), mine.about(), place(mine.at))
		}
	}
}

func (l *limit) mergeSets(later *limit, wrong func(at specs.Span, format string, arguments ...any)) {
	l.chosen = later.chosen
	for _, s := range later.sets {
		if mine := l.set(s.name); mine != nil {
			mine.merge(s, wrong)
		} else {
			l.sets = append(l.sets, s)
		}
	}
}

// about says what a limit is.
func (l *limit) about() string {
	switch {
	case l.isGroup():
		return "a group"
	case l.isChoice():
		return "a choice of sets"
	case l.named:
		return l.form.String() + " for each part"
	}
	return l.form.String()
}

// clone copies a tree: merging changes it, and a pack may be part of several rulebooks.
func (l *limit) clone() *limit {
	c := *l
	c.group, c.sets = nil, nil
	for _, child := range l.group {
		c.group = append(c.group, child.clone())
	}
	for _, set := range l.sets {
		c.sets = append(c.sets, set.clone())
	}
	return &c
}
