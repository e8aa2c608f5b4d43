package specs

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
)

// shape is the form of a value in a file.
type shape uint8

const (
	quantityShape shape = iota // a Quantity
	textShape                  // a Text
	flagShape                  // a Flag
	countShape                 // a Count
	tableShape                 // a Table or Profile
	portShape                  // a Port
	kindShape                  // a part's `kind`, which is read before the rest
	sectionShape               // a struct, or a pointer to one
	listShape                  // a list of sections
	textsShape                 // a list of Texts
	namesShape                 // a mapping from names to values or sections
	ownShape                   // read by a function of its own, see own.go
)

// A plan is how a struct is read from a mapping: made once a type and place.
type plan struct {
	goType    reflect.Type
	prefix    string // the section's own dotted key; "" for a part, case or entry
	part      bool   // it is that of a part
	fields    []*field
	byKey     map[string]int
	ports     []*field
	at        int // index of its `At Span`, or -1
	number    int // index of its `Index int`, or -1
	name      int // index of its `Name string`, or -1
	value     int // index of a Named's Value, or -1
	exclusive bool
	checks    bool
	staged    bool
	deep      bool // something in it has a default
}

// checker is a section or part with checks of its own across keys, made once
// all its values are read.
type checker interface{ check(r *reader, where place) }

// stager is a document that needs to act between its keys, which are read in
// the order of its plan: what comes later depends on what came before.
type stager interface{ stage(r *reader, key string) }

var plans sync.Map // of *plan by planKey

type planKey struct {
	of     reflect.Type
	prefix string
}

// planOf is the plan of a struct type whose keys are told after prefix. It
// panics where tags are wrong, a slip of the programmer that any test meets.
func planOf(t reflect.Type, prefix string) *plan {
	key := planKey{t, prefix}
	if p, known := plans.Load(key); known {
		return p.(*plan)
	}
	p, _ := plans.LoadOrStore(key, newPlan(t, prefix))
	return p.(*plan)
}

func newPlan(t reflect.Type, prefix string) *plan {
	p := &plan{goType: t, prefix: prefix, byKey: map[string]int{}, at: -1, number: -1, name: -1, value: -1}
	p.staged = reflect.PointerTo(t).Implements(reflect.TypeFor[stager]())
	p.exclusive = reflect.PointerTo(t).Implements(reflect.TypeFor[exclusive]())
	p.checks = reflect.PointerTo(t).Implements(reflect.TypeFor[checker]())
	if reflect.PointerTo(t).Implements(reflect.TypeFor[Part]()) {
		p.part = true
		p.add(&field{name: "kind", key: "kind", shape: kindShape, by: -1, doc: "what it is"})
	}
	p.collect(t, nil, prefix, false)
	for _, f := range p.fields {
		if f.shape == portShape {
			p.ports = append(p.ports, f)
		}
		p.deep = p.deep || f.standard != nil || f.section != nil && f.section.deep
	}
	if len(p.fields) > maxKeys {
		panic(fmt.Sprintf("specs: %s has more than %d keys", t, maxKeys))
	}
	return p
}

// collect adds the fields of t, those of embedded structs in their place.
func (p *plan) collect(t reflect.Type, outer []int, prefix string, common bool) {
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(append([]int(nil), outer...), i)
		tag, keyed := f.Tag.Lookup("key")
		switch {
		case f.Anonymous:
			p.collect(f.Type, index, prefix, common || f.Type == reflect.TypeFor[Common]())
		case keyed:
			made := newField(f, tag, prefix, p)
			made.index, made.common = index, common
			p.add(made)
		case outer == nil:
			p.special(f, i)
		}
	}
}

// special notes the fields that a reader fills besides the keys.
func (p *plan) special(f reflect.StructField, i int) {
	switch {
	case f.Name == "At" && f.Type == reflect.TypeFor[Span]():
		p.at = i
	case f.Name == "Index" && f.Type.Kind() == reflect.Int:
		p.number = i
	case f.Name == "Name" && f.Type.Kind() == reflect.String:
		p.name = i
	case f.Name == "Value":
		p.value = i
	}
}

// add puts a field in; a key that is there already gives way to it, so that a
// kind's own key wins over a common one.
func (p *plan) add(f *field) {
	if i, known := p.byKey[f.name]; known {
		p.fields = slices.Delete(p.fields, i, i+1)
		for j := i; j < len(p.fields); j++ {
			p.byKey[p.fields[j].name] = j
		}
	}
	p.byKey[f.name] = len(p.fields)
	p.fields = append(p.fields, f)
}

// find is the field of a dotted key, or nil.
func (p *plan) find(key string) *field {
	name, rest, nested := strings.Cut(key, ".")
	i, known := p.byKey[name]
	switch {
	case !known:
		return nil
	case !nested:
		return p.fields[i]
	case p.fields[i].section == nil:
		return nil
	}
	return p.fields[i].section.find(rest)
}

// list names the keys of a plan, for messages.
func (p *plan) list() string {
	var keys []string
	for _, f := range p.fields {
		if f.only == "" && !f.common {
			keys = append(keys, f.name)
		}
	}
	if len(keys) > 9 {
		keys = append(keys[:6:6], "more")
	}
	return sentence(keys, "and")
}

// joinKey joins two parts of a dotted key.
func joinKey(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	}
	return a + "." + b
}
