package checker

import (
	"strings"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// This file makes facts: of a value in the spec, of a result, of what is missing.

// given is a quantity of the spec as a fact; a gauge pressure as the difference
// to the surrounding air. The path is its key path, told when it is absent.
func (s *survey) given(q specs.Quantity, path string) facts.Fact {
	if !q.Given() {
		return missing(path)
	}
	value := q.SI
	if q.Dimension == quantity.Pressure {
		value -= s.air
	}
	return facts.Fact{Value: value, Known: true, From: s.source(q.Source, q.At, path)}
}

// text is a word of the spec as a fact.
func (s *survey) text(t specs.Text, path string) facts.Text {
	if !t.Given() {
		return facts.Text{Missing: path}
	}
	return facts.Text{Value: t.Value, Known: true, From: s.source(t.Source, t.At, path)}
}

// flag is a yes or no of the spec as a fact.
func (s *survey) flag(f specs.Flag, path string) facts.Flag {
	if !f.Given() {
		return facts.Flag{Missing: path}
	}
	return facts.Flag{Value: f.Value, Known: true, From: s.source(f.Source, f.At, path)}
}

// source is the origin of a value as written, with the catalogue's own source
// for one that was taken from there.
func (s *survey) source(from specs.Source, at specs.Span, path string) *facts.Origin {
	o := facts.Origin{At: at, Key: path}
	switch from {
	case specs.FromDefault:
		o.At, o.Note = s.whereabouts(path), "the format's default"
	case specs.FromCatalogue:
		o.Note, o.Basis = s.quote(path)
	}
	return s.origin(o)
}

// whereabouts is where something stands in the spec that nobody wrote: at what
// it would be written in.
func (s *survey) whereabouts(path string) specs.Span {
	section, inner, _ := strings.Cut(path, ".")
	name, _, _ := strings.Cut(inner, ".")
	switch section {
	case "parts":
		if i, known := s.graph.Part(name); known {
			return s.spec.Parts[i].Base().At
		}
	case "cases":
		for i := range s.spec.Cases {
			if c := &s.spec.Cases[i]; c.Name == name {
				return c.At
			}
		}
	case "fluid":
		return s.spec.Fluid.At
	case "environment":
		if s.spec.Environment.At.Line > 0 {
			return s.spec.Environment.At
		}
	}
	return s.top()
}

// top is where the circuit's name stands, or the file's first character.
func (s *survey) top() specs.Span {
	if at := s.spec.Name.At; at.Line > 0 {
		return at
	}
	return specs.Span{File: s.spec.File, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
}

// quote names the catalogue entry that a value comes from, and its source.
func (s *survey) quote(path string) (note, basis string) {
	like, key := s.spec.Fluid.Like.Value, strings.TrimPrefix(path, "fluid.")
	find := catalogue.Fluid
	if rest, ok := strings.CutPrefix(path, "parts."); ok {
		name, inner, _ := strings.Cut(rest, ".")
		part, known := s.graph.Part(name)
		if !known {
			return "", ""
		}
		like, key, find = s.spec.Parts[part].Base().Like.Value, inner, catalogue.Part
	}
	entry, known := s.entries[like]
	if !known {
		entry, _ = find(like)
		s.entries[like] = entry
	}
	if source, ok := entry.Source(key); ok {
		basis = told(source)
	}
	return "catalogue entry " + like, basis
}

// told is a catalogue source in words, with how sure it is unless it was seen.
func told(c catalogue.Source) string {
	if c.Mark == catalogue.Published || c.Mark == "" {
		return c.Source
	}
	return c.Source + " (" + string(c.Mark) + ")"
}

// origin keeps an origin. They are taken from blocks, for there are many.
func (s *survey) origin(o facts.Origin) *facts.Origin {
	const block = 256
	if len(s.origins) == cap(s.origins) {
		s.origins = make([]facts.Origin, 0, block)
	}
	s.origins = append(s.origins, o)
	return &s.origins[len(s.origins)-1]
}

// known is a result as a fact.
func (s *survey) known(value float64, o facts.Origin) facts.Fact {
	return facts.Fact{Value: value, Known: true, From: s.origin(o)}
}

// word is a word found as a fact, holds a yes or no found.
func (s *survey) word(value string, o facts.Origin) facts.Text {
	return facts.Text{Value: value, Known: true, From: s.origin(o)}
}

func (s *survey) holds(value bool, o facts.Origin) facts.Flag {
	return facts.Flag{Value: value, Known: true, From: s.origin(o)}
}

// missing is a fact that the values at some key paths would supply.
func missing(paths ...string) facts.Fact { return facts.Fact{Missing: strings.Join(paths, ", ")} }

// simulated is a fact that only a simulated case supplies.
func simulated() facts.Fact { return facts.Fact{Missing: facts.Simulation} }

// lacking is the first of some values, by key, that is not given; "" for none.
func lacking(values ...keyed) string {
	for _, v := range values {
		if !v.q.Given() {
			return v.path
		}
	}
	return ""
}

// keyed is a quantity with its key path.
type keyed struct {
	q    specs.Quantity
	path string
}

// under gives a function that pairs quantities with their paths below a root.
func under(root string) func(q specs.Quantity, key string) keyed {
	return func(q specs.Quantity, key string) keyed { return keyed{q, root + "." + key} }
}

// print is a value in words, in its dimension's unit for people.
func print(value float64, d quantity.Dimension) string { return d.Format(value) }
