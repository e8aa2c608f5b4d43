package specs

import (
	"reflect"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// fields reads a mapping into a struct by its plan. Keys are told after prefix.
func (r *reader) fields(n *yaml.Node, p *plan, v reflect.Value, prefix string) {
	var slots [maxKeys]int32 // index of each field's value in the mapping
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i]
		index, known := p.byKey[key.Value]
		switch {
		case key.Kind != yaml.ScalarNode:
			r.wrong(ruleShape, r.src.span(key), joinKey(prefix, p.prefix), "a key must be a plain word")
		case !known:
			r.unknownKey(key, p, prefix)
		case slots[index] != 0:
			r.wrong(ruleDuplicate, r.src.span(key), joinKey(prefix, joinKey(p.prefix, key.Value)),
				"%s is written twice; first on line %d", key.Value, n.Content[slots[index]-1].Line)
		default:
			slots[index] = int32(i + 1)
		}
	}
	for i, f := range p.fields {
		if slots[i] != 0 {
			at := slots[i]
			r.field(entry{n.Content[at-1], n.Content[at]}, f, v, p, prefix)
		}
		if p.staged {
			r.staged(f, v, slots[i] != 0)
		}
	}
}

// staged finishes one key of a document that acts between its keys.
func (r *reader) staged(f *field, v reflect.Value, written bool) {
	where := place{at: r.firstLine(), name: "the spec"}
	if f.shape == ownShape && !f.opt && !written {
		r.missing(f, where)
	}
	r.finishField(f, f.in(v), where, true)
	v.Addr().Interface().(stager).stage(r, f.name)
}

// field reads the value of one key.
func (r *reader) field(e entry, f *field, v reflect.Value, p *plan, prefix string) {
	key := f.key
	if prefix != "" {
		key = prefix + "." + f.key
	}
	if f.only != "" && !r.inCase {
		r.wrong(ruleUnknownKey, r.src.span(e.key), key, "%s belongs in a case, under %s", f.name, f.only)
		return
	}
	if f.as != nil && f.by >= 0 {
		name := p.fields[f.by].in(v).Interface().(Text).Value
		same := f.like(r.parts.kind[name])
		if same == nil { // the name is wrong, which has been told
			r.broken(f, f.in(v), e, key)
			return
		}
		f = same
	}
	r.value(e, f, f.in(v), key)
}

// value reads a value by its shape.
func (r *reader) value(e entry, f *field, v reflect.Value, key string) {
	n := e.value
	if isNull(n) {
		r.wrong(ruleEmpty, r.src.span(e.key), key, "%s has no value; write one or leave the key out", e.key.Value)
		r.broken(f, v, e, key)
		return
	}
	switch target := v.Addr().Interface().(type) {
	case *Quantity:
		*target = r.quantity(n, f, key)
	case *Text:
		*target = r.text(n, f, key)
	case *Flag:
		*target = r.flag(n, key)
	case *Count:
		*target = r.count(n, f, key)
	case *Table:
		*target = r.table(n, f, key)
	case *Port:
		*target = r.port(n, f, key)
	case *[]Text:
		*target = r.textList(n, f, key)
	default:
		r.nested(e, f, v, key)
	}
}

// nested reads what is made of several values.
func (r *reader) nested(e entry, f *field, v reflect.Value, key string) {
	switch f.shape {
	case sectionShape:
		r.section(e, f, v, key)
	case listShape:
		r.list(e, f, v, key)
	case namesShape:
		r.named(e, f, v, key)
	case ownShape:
		r.own(e, f, v, key)
	}
}

// broken marks a value that is there but cannot be read, so that it does not
// count as missing.
func (r *reader) broken(f *field, v reflect.Value, e entry, key string) {
	at := r.src.span(e.key)
	switch target := v.Addr().Interface().(type) {
	case *Quantity:
		*target = Quantity{Dimension: f.dim, At: at}
	case *Text:
		*target = Text{At: at}
	case *Flag:
		*target = Flag{At: at}
	case *Count:
		*target = Count{At: at}
	case *Table:
		*target = Table{At: at}
	case *Port:
		*target = Port{At: at}
	default:
		r.unread = append(r.unread, joinKey(r.path, key))
	}
}

// section reads a nested mapping.
func (r *reader) section(e entry, f *field, v reflect.Value, key string) {
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, r.src.span(e.value), key, "%s needs keys of its own: %s", e.key.Value, f.section.list())
		r.broken(f, v, e, key)
		return
	}
	if f.pointer {
		fresh := reflect.New(f.section.goType)
		if !v.IsNil() {
			fresh.Elem().Set(v.Elem())
		}
		v.Set(fresh)
		v = fresh.Elem()
	}
	if f.section.at >= 0 {
		v.Field(f.section.at).Set(reflect.ValueOf(r.src.span(e.key)))
	}
	r.fields(e.value, f.section, v, rootOf(key, f))
}

// list reads a list of mappings.
func (r *reader) list(e entry, f *field, v reflect.Value, key string) {
	if e.value.Kind != yaml.SequenceNode {
		r.wrong(ruleShape, r.src.span(e.value), key, "%s must be a list; begin each entry with a -", e.key.Value)
		return
	}
	p := f.section
	if !r.room(p.goType, len(e.value.Content), r.src.span(e.key), key) {
		return
	}
	entries := reflect.MakeSlice(v.Type(), len(e.value.Content), len(e.value.Content))
	used := 0
	for i, n := range e.value.Content {
		if n.Kind != yaml.MappingNode {
			r.wrong(ruleShape, r.src.span(n), indexed(key, i), "an entry of %s needs keys of its own: %s", e.key.Value, p.list())
			continue
		}
		item := entries.Index(used)
		used++
		at := r.src.span(n)
		item.Field(p.at).Set(reflect.ValueOf(at))
		if p.number >= 0 {
			item.Field(p.number).SetInt(int64(i))
		}
		r.fields(n, p, item, indexed(key, i))
		r.finish(p, item, place{at: at, key: indexed(key, i), own: indexed(key, i), name: "entry " + strconv.Itoa(i+1) + " of " + e.key.Value}, true)
	}
	v.Set(entries.Slice(0, used))
}

// named reads a mapping whose keys are names.
func (r *reader) named(e entry, f *field, v reflect.Value, key string) {
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, r.src.span(e.value), key, "%s must be a mapping of names", e.key.Value)
		return
	}
	size := len(e.value.Content) / 2
	if !r.room(v.Type().Elem(), size, r.src.span(e.key), key) {
		return
	}
	entries := reflect.MakeSlice(v.Type(), size, size)
	used := 0
	seen := make(map[string]int, size)
	for i := range size {
		one := entry{e.value.Content[2*i], e.value.Content[2*i+1]}
		at, fine := r.name(one.key, seen, f.ref, key)
		if fine && r.namedEntry(one, at, f, entries.Index(used), joinKey(key, one.key.Value)) {
			used++
		} else {
			entries.Index(used).SetZero()
		}
	}
	v.Set(entries.Slice(0, used))
}

// name reads a name that is a key, and tells whether it can be used.
func (r *reader) name(n *yaml.Node, seen map[string]int, ref []string, key string) (Span, bool) {
	at := r.src.span(n)
	if n.Kind != yaml.ScalarNode {
		r.wrong(ruleShape, at, key, "a name must be a plain word")
		return at, false
	}
	key = joinKey(key, n.Value)
	if first, known := seen[n.Value]; known {
		r.wrong(ruleDuplicate, at, key, "%s is written twice; first on line %d", n.Value, first)
		return at, false
	}
	seen[n.Value] = n.Line
	if ref != nil {
		return at, r.refers(ref, n.Value, at, key)
	}
	if message := identifier(n.Value); message != "" {
		r.wrong(ruleRange, at, key, "%s", message)
		return at, false
	}
	return at, true
}

// namedEntry reads one name and its value into an entry, and tells whether the
// entry can be used.
func (r *reader) namedEntry(e entry, at Span, f *field, v reflect.Value, key string) bool {
	v.FieldByName("Name").SetString(e.key.Value)
	v.FieldByName("At").Set(reflect.ValueOf(at))
	if f.item != nil {
		return r.namedValue(e, f.item, v.FieldByName("Value"), key)
	}
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, at, key, "%s needs keys of its own: %s", e.key.Value, f.section.list())
		return false
	}
	if f.section.goType != v.Type() { // a Named with a section for its value
		v = v.FieldByName("Value")
		r.namedSection(e, at, f.section, v, key)
		return true
	}
	outer := r.path
	r.path = joinKey(r.path, key)
	r.namedSection(e, at, f.section, v, "")
	r.path = outer
	return true
}

func (r *reader) namedSection(e entry, at Span, p *plan, v reflect.Value, key string) {
	if p.at >= 0 {
		v.Field(p.at).Set(reflect.ValueOf(at))
	}
	r.fields(e.value, p, v, key)
	r.finish(p, v, place{at: at, key: key, own: key, name: e.key.Value}, true)
}

func (r *reader) namedValue(e entry, item *field, v reflect.Value, key string) bool {
	if item.as != nil {
		if item = item.like(r.parts.kind[e.key.Value]); item == nil {
			return false
		}
	}
	r.value(e, item, v, key)
	return !isNull(e.value)
}

// rootOf is what stands before a field's own key in a key.
func rootOf(key string, f *field) string {
	return strings.TrimSuffix(strings.TrimSuffix(key, f.key), ".")
}

// indexed is the key of an entry of a list.
func indexed(key string, i int) string { return key + "[" + strconv.Itoa(i) + "]" }
