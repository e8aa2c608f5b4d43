package specs

import (
	"cmp"
	"reflect"
	"slices"
)

// A place is where a section stands, for what is missing in it.
type place struct {
	at   Span
	key  string // what its keys are told after
	name string // what it is called: "main-pump", "entry 2 of commands"
	own  string // key of the section itself
	root string // what a nested section is part of; "" for name itself
}

// finish fills in defaults and, where the section is given at all, tells which
// required keys are missing and makes the section's own checks.
func (r *reader) finish(p *plan, v reflect.Value, where place, given bool) {
	for _, f := range p.fields {
		r.finishField(f, f.in(v), where, given)
	}
	if given && p.exclusive {
		r.oneWay(v.Addr().Interface().(exclusive), p, v, where)
	}
	if given && p.checks {
		v.Addr().Interface().(checker).check(r, where)
	}
}

func (r *reader) finishField(f *field, v reflect.Value, where place, given bool) {
	switch f.shape {
	case quantityShape, textShape, flagShape, countShape, tableShape, portShape:
		if !present(v) {
			r.absent(f, v, where, given)
		}
	case sectionShape:
		r.finishSection(f, v, where, given)
	}
}

// present tells whether a value stands in a file, readable or not.
func present(v reflect.Value) bool { return placed(v).Line != 0 }

// placed is where a value stands in a file.
func placed(v reflect.Value) Span {
	switch value := v.Addr().Interface().(type) {
	case *Quantity:
		return value.At
	case *Text:
		return value.At
	case *Flag:
		return value.At
	case *Count:
		return value.At
	case *Table:
		return value.At
	case *Port:
		return value.At
	case **Trigger:
		if *value != nil {
			return (*value).At
		}
	}
	return Span{}
}

// absent gives a value its default, or tells that it is missing.
func (r *reader) absent(f *field, v reflect.Value, where place, given bool) {
	switch {
	case f.shape == portShape && f.standard != nil:
		r.onlyReservoir(f, v, where)
	case f.standard != nil:
		r.fallBack(f, v, where)
	case given && !f.opt && f.only == "" && !r.lenient:
		r.missing(f, where)
	}
}

// fallBack gives a value the format's default.
func (r *reader) fallBack(f *field, v reflect.Value, where place) {
	key := joinKey(where.key, f.key)
	switch value := v.Addr().Interface().(type) {
	case *Quantity:
		*value = Quantity{SI: f.standard.value.SI, Dimension: f.dim, Source: FromDefault, Key: key}
		if f.standard.value.Gauge {
			value.SI += r.air
		}
	case *Text:
		*value = Text{Value: f.standard.text, Source: FromDefault, Key: key}
	}
}

// onlyReservoir connects a port that is left out to the only reservoir.
func (r *reader) onlyReservoir(f *field, v reflect.Value, where place) {
	if len(r.reservoirs) == 1 {
		v.Set(reflect.ValueOf(Port{Key: f.name, Node: r.reservoirs[0], Source: FromDefault}))
		return
	}
	if r.unsure && len(r.reservoirs) == 0 {
		return
	}
	reason := "there is no reservoir"
	if len(r.reservoirs) > 1 {
		reason = "there are several reservoirs"
	}
	r.wrong(ruleMissing, where.at, joinKey(where.key, f.key), "%s needs %s, because %s: the node that takes what leaks through it, such as %s: sump", where.name, f.name, reason, f.name)
}

// missing tells that a required key is not there.
func (r *reader) missing(f *field, where place) {
	r.wrong(ruleMissing, where.at, joinKey(where.key, f.key), "%s needs %s (%s), such as %s: %s", where.name, f.name, f.doc, f.name, f.sample())
}

// finishSection finishes a nested section.
func (r *reader) finishSection(f *field, v reflect.Value, where place, given bool) {
	if f.pointer {
		if v.IsNil() {
			return
		}
		v = v.Elem()
	}
	at := v.Field(f.section.at).Interface().(Span)
	root := cmp.Or(where.root, where.name)
	inner := place{at: at, key: where.key, own: joinKey(where.key, f.key), name: f.key + " of " + root, root: root}
	switch {
	case at.Line != 0:
		// Of a section that may be left out, the catalogue may know a part alone.
		r.finish(f.section, v, inner, given && !(f.opt && at.File != r.src.file))
	case given && !f.opt && !r.lenient && !slices.Contains(r.unread, joinKey(r.path, joinKey(where.key, f.key))):
		r.missing(f, where)
		fallthrough
	case f.section.deep:
		r.finish(f.section, v, inner, false)
	}
}

var pointType = reflect.TypeFor[Point]()
