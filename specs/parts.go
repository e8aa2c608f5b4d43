package specs

import (
	"fmt"
	"reflect"

	"gopkg.in/yaml.v3"

	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// partText is what is written of one part.
type partText struct {
	kind kind
	at   Span
	text *yaml.Node
	size int // nodes of the text
}

// readParts reads the parts, in the order of the file.
func (r *reader) readParts(e entry, key string) []Part {
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, r.src.span(e.value), key, "parts must be a mapping of names, such as main-pump: {kind: pump}")
		return nil
	}
	if len(e.value.Content) == 0 {
		r.wrong(ruleEmpty, r.src.span(e.key), key, "a circuit needs parts")
		return nil
	}
	order := r.survey(e.value)
	parts := make([]Part, 0, len(order))
	for _, name := range order {
		t := r.texts[name]
		path := joinKey(key, name)
		if !r.room(t.kind.plan().goType, 1, t.at, path) {
			break
		}
		parts = append(parts, r.build(name, t, path, r.catalogued(t, valueOf(t.text, "like"), path), nil))
	}
	return parts
}

// survey notes the name and kind of every part, and where the reservoirs are,
// before any part is read: parts refer to each other. It returns the names of
// those that can be read.
func (r *reader) survey(n *yaml.Node) []string {
	size := len(n.Content) / 2
	r.texts = make(map[string]partText, size)
	seen := make(map[string]int, size)
	var order []string
	for i := range size {
		key, value := n.Content[2*i], n.Content[2*i+1]
		at, fine := r.name(key, seen, nil, "parts")
		if !fine {
			r.unsure = true
			continue
		}
		k, known := r.kindOf(key.Value, at, value)
		r.parts.add(key.Value, k.name)
		if !known {
			r.unsure = true
			r.noteNodes(value)
			continue
		}
		r.texts[key.Value] = partText{k, at, value, count(value)}
		order = append(order, key.Value)
		if k.name == "reservoir" {
			switch node := valueOf(value, "at"); {
			case node == nil:
			case identifier(node.Value) != "":
				r.unsure = true
			default:
				r.reservoirs = append(r.reservoirs, node.Value)
			}
		}
	}
	return order
}

// kindOf reads the kind of a part.
func (r *reader) kindOf(name string, at Span, text *yaml.Node) (kind, bool) {
	path := joinKey("parts", name)
	if text.Kind != yaml.MappingNode {
		r.wrong(ruleShape, at, path, "%s needs keys of its own, such as kind: pump", name)
		return kind{}, false
	}
	n := valueOf(text, "kind")
	switch {
	case n == nil || isNull(n):
		r.wrong(ruleMissing, at, path+".kind", "%s needs kind (what it is), such as kind: pump", name)
		return kind{}, false
	case n.Kind != yaml.ScalarNode:
		r.wrong(ruleShape, r.src.span(n), path+".kind", "kind must be a word, such as pump")
		return kind{}, false
	}
	k, known := kinds[n.Value]
	if !known {
		message := meant(n.Value, Kinds())
		if message == "" {
			message = "; the kinds are " + sentence(Kinds(), "and")
		}
		r.wrong(ruleReference, r.src.span(n), path+".kind", "there is no part kind %s%s", n.Value, message)
	}
	return k, known
}

// valueOf finds the value of a key in a mapping, or nil.
func valueOf(n *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return n.Content[i+1]
		}
	}
	return nil
}

// build makes a part from its texts, the weakest first: the catalogue entry it
// names, its own text, and what a case changes of it. Entry and changes may be nil.
func (r *reader) build(name string, t partText, path string, grade *catalogue.Entry, changes *yaml.Node) Part {
	made := t.kind.make()
	base := made.Base()
	base.Name, base.Kind, base.At = name, t.kind.name, t.at
	v, p := reflect.ValueOf(made).Elem(), t.kind.plan()
	outer := r.layer
	r.kind = t.kind.name
	if grade != nil {
		r.layer = layerOf(*grade, path)
		r.fields(grade.Values, p, v, "")
	}
	r.layer = outer
	r.path = path
	r.muted = changes != nil
	r.fields(t.text, p, v, "")
	r.muted = false
	if changes != nil {
		r.from = FromCase
		r.fields(changes, p, v, "")
	}
	r.lenient = grade == nil && base.Like.Given()
	r.finish(p, v, place{at: t.at, name: name}, true)
	r.settle(made, grade)
	r.layer, r.lenient = outer, false
	return made
}

// layerOf is a catalogue entry as a text to read from.
func layerOf(e catalogue.Entry, path string) layer {
	return layer{src: &source{file: "catalogue/" + e.File}, from: FromCatalogue, path: path}
}

// catalogued finds the part grade that `like` names, nil where there is none.
func (r *reader) catalogued(t partText, like *yaml.Node, path string) *catalogue.Entry {
	if like == nil || like.Kind != yaml.ScalarNode || isNull(like) {
		return nil
	}
	grade, known := catalogue.Part(like.Value)
	at := r.src.span(like)
	switch {
	case !known:
		names := catalogue.Names(t.kind.name)
		hint := meant(like.Value, names)
		if hint == "" && len(names) == 0 {
			hint = "; it has no " + t.kind.name + " at all"
		}
		r.add(Problem{ruleReference, at, path + ".like", fmt.Sprintf("the catalogue has no %s %s%s", t.kind.name, like.Value, hint)})
		return nil
	case grade.Kind != t.kind.name:
		r.add(Problem{ruleReference, at, path + ".like", fmt.Sprintf("%s is %s; %s is needed here", like.Value, article(grade.Kind), article(t.kind.name))})
		return nil
	}
	return &grade
}

// line is a part that is as heavy as it is long.
type line interface{ line() *Line }

// settle completes a part from several of its values, and makes the checks that
// all kinds share.
func (r *reader) settle(p Part, grade *catalogue.Entry) {
	base := p.Base()
	if l, is := p.(line); is && grade != nil && grade.MassPerMetre > 0 && base.Mass.At.Line == 0 && l.line().Length.Given() {
		base.Mass = Quantity{SI: grade.MassPerMetre * l.line().Length.SI, Dimension: quantity.Mass, Source: FromCatalogue, Key: "mass",
			At: Span{File: "catalogue/" + grade.File, Line: grade.Values.Line, Column: grade.Values.Column, EndLine: grade.Values.Line, EndColumn: grade.Values.Column}}
	}
	r.atMost(base.Rated.Pressure, base.ProofPressure)
	r.atMost(base.Rated.Pressure, base.BurstPressure)
	r.atMost(base.ProofPressure, base.BurstPressure)
	for i := range base.Seals {
		r.sealPlace(p, &base.Seals[i])
	}
}

// sealPlace checks that a seal's `at` is a port of its part, or a node at one.
func (r *reader) sealPlace(p Part, s *Seal) {
	if !s.Port.Given() {
		return
	}
	var places []string
	for _, port := range Ports(p) {
		if s.Port.Value == port.Key || s.Port.Value == port.Node {
			return
		}
		places = append(places, port.Key)
	}
	r.wrong(ruleReference, s.Port.At, s.Port.Key, "%s is no port of %s and no node at one; its ports are %s", s.Port.Value, p.Base().Name, sentence(places, "and"))
	s.Port = Text{At: s.Port.At}
}

// readFluid reads the fluid from its own keys and, weaker, the catalogue entry it names.
func (r *reader) readFluid(e entry, fluid *Fluid) {
	p, v := planOf(reflect.TypeFor[Fluid](), "fluid"), reflect.ValueOf(fluid).Elem()
	fluid.At = r.src.span(e.key)
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, r.src.span(e.value), "fluid", "fluid needs keys of its own, such as {like: hm-32}")
		return
	}
	if like := valueOf(e.value, "like"); like != nil && like.Kind == yaml.ScalarNode && !isNull(like) {
		if known, found := catalogue.Fluid(like.Value); found {
			outer := r.layer
			r.layer = layerOf(known, "")
			r.fields(known.Values, p, v, "")
			r.layer = outer
		} else {
			r.lenient = true
			r.wrong(ruleReference, r.src.span(like), "fluid.like", "%s", inCatalogue(false, like.Value, "fluid", catalogue.KindFluid))
		}
	}
	r.fields(e.value, p, v, "")
	r.finish(p, v, place{at: fluid.At, name: "fluid"}, true)
	r.lenient = false
}
