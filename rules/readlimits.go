package rules

import (
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"headroom/rules/expression"
	"headroom/specs"
	"headroom/specs/quantity"
)

// limitGroup reads the limits below a key of a pack.
func (r *packReader) limitGroup(e *entry, path string) []*limit {
	if e.value == nil {
		return nil
	}
	s := r.section(e.value, path, nil)
	if s == nil {
		return nil
	}
	var all []*limit
	for i := 0; i+1 < len(e.value.Content); i += 2 {
		name := e.value.Content[i].Value
		one := s.entries[name]
		if one == nil || one.value != e.value.Content[i+1] {
			continue // told before
		}
		if l := r.limit(one, path); l != nil {
			all = append(all, l)
		}
	}
	return all
}

// limit reads one limit with all below it.
func (r *packReader) limit(e *entry, above string) *limit {
	name := e.key.Value
	at := r.doc.Span(e.key)
	r.limits++
	switch {
	case r.limits == maxLimits+1:
		r.wrong("spec.range", at, "a pack has at most %d limits", maxLimits)
		return nil
	case r.limits > maxLimits:
		return nil
	case !limitForm.MatchString(name):
		r.wrong("spec.shape", at, "a limit's name is made of small letters, digits and underscores, or is a part kind")
		return nil
	}
	l := &limit{name: name, path: above + "." + name, at: at, core: r.pack.core}
	switch e.value.Kind {
	case yaml.ScalarNode:
		r.limitValue(l, e.value)
	case yaml.MappingNode:
		r.limitMapping(l, e)
	default:
		r.wrong("spec.shape", r.doc.Span(e.value), "%s must be a single value or a group of limits", l.path)
		return nil
	}
	return l
}

// limitMapping reads a limit that is written as a mapping: a group, a choice of
// sets, or one without a default.
func (r *packReader) limitMapping(l *limit, e *entry) {
	has := func(word string) bool {
		for i := 0; i < len(e.value.Content); i += 2 {
			if e.value.Content[i].Value == word {
				return true
			}
		}
		return false
	}
	switch {
	case has(noDefaultWord):
		r.withoutDefault(l, e)
	case has(chooseWord):
		r.choice(l, e)
	default:
		l.group = r.limitGroup(e, l.path)
		if len(l.group) == 0 {
			r.wrong("spec.empty", l.at, "%s has no limits in it", l.path)
		}
	}
}

// limitValue reads a default: a quantity by its unit, a number, true or false, or a word.
func (r *packReader) limitValue(l *limit, n *yaml.Node) {
	l.value.given = true
	if n.Tag == "!!bool" {
		l.form.Form = expression.Flag
		l.value.flag, _ = strconv.ParseBool(n.Value)
		return
	}
	v, dimension, err := quantity.ParseAny(n.Value)
	switch {
	case err == nil:
		l.form = expression.Type{Form: expression.Number, Dimension: dimension}
		l.value.number = v.SI
	case n.Value == "" || strings.ContainsAny(n.Value[:1], "0123456789+-."):
		at := r.doc.Span(n)
		r.wrong("spec.unit", within(at, n.Value, err), "%s", err)
	default:
		l.form.Form = expression.Text
		l.value.text = n.Value
	}
}

// withoutDefault reads a limit that only a spec or project gives.
func (r *packReader) withoutDefault(l *limit, e *entry) {
	s := r.section(e.value, l.path, []string{noDefaultWord, perWord, kindsWord, oneOfWord})
	if s == nil || s.value(noDefaultWord) == nil {
		return
	}
	text := s.text(noDefaultWord)
	form, fine := formNamed(text)
	if !fine {
		r.wrong("spec.unit", s.at(noDefaultWord), "no_default takes a unit, or number, text or flag; %s is none", text)
	}
	l.form = form
	if per := s.text(perWord); per != "" {
		if per != "part" {
			r.wrong("spec.reference", s.at(perWord), "per can be part alone")
		}
		l.named = true
	}
	for _, n := range s.list(kindsWord) {
		switch {
		case !l.named:
			r.wrong("spec.shape", s.at(kindsWord), "kinds stands beside per: part")
		case !slices.Contains(specs.Kinds(), n.Value):
			r.wrong("spec.reference", r.doc.Span(n), "there is no kind of part %s%s", n.Value, hint(n.Value, specs.Kinds()))
		}
		l.kinds = append(l.kinds, n.Value)
	}
	for _, n := range s.list(oneOfWord) {
		l.oneOf = append(l.oneOf, n.Value)
	}
	if l.oneOf != nil && form.Form != expression.Text {
		r.wrong("spec.shape", s.at(oneOfWord), "one_of lists texts; %s is %s", l.path, form)
	}
}

// formNamed is the type that no_default names by a unit or a word.
func formNamed(text string) (expression.Type, bool) {
	switch text {
	case "number":
		return expression.Type{Form: expression.Number}, true
	case "text":
		return expression.Type{Form: expression.Text}, true
	case "flag":
		return expression.Type{Form: expression.Flag}, true
	}
	_, dimension, err := quantity.ParseAny("1 " + text)
	return expression.Type{Form: expression.Number, Dimension: dimension}, err == nil && text != ""
}

// choice reads named sets, one of which holds.
func (r *packReader) choice(l *limit, e *entry) {
	s := r.section(e.value, l.path, nil)
	if s == nil || s.value(chooseWord) == nil {
		return
	}
	l.chosen = s.text(chooseWord)
	for i := 0; i+1 < len(e.value.Content); i += 2 {
		name := e.value.Content[i].Value
		one := s.entries[name]
		if name == chooseWord || one == nil || one.value != e.value.Content[i+1] {
			continue
		}
		set := &limit{name: name, path: l.path, at: r.doc.Span(one.key), core: r.pack.core}
		set.group = r.limitGroup(one, l.path)
		l.sets = append(l.sets, set)
	}
	switch {
	case len(l.sets) == 0:
		r.wrong("spec.empty", l.at, "%s has no sets to choose from", l.path)
		l.group = []*limit{}
	case l.set(l.chosen) == nil:
		r.wrong("spec.reference", s.at(chooseWord), "%s has no set %s%s", l.path, l.chosen, hint(l.chosen, l.setNames()))
		l.chosen = l.sets[0].name
	}
}
