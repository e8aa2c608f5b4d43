package specs

import (
	"fmt"
	"reflect"
	"strings"

	"headroom/specs/quantity"
)

// A field is one key of a section, made from the tags of a struct field.
//
//	key      the key in the file
//	dim      dimension of its quantity by quantity.Dimension.Key; of a table "x,y";
//	         of a profile that of its values
//	opt      "yes": may be left out
//	default  its value when left out
//	range    comparisons it must meet, separated by commas: "> 0 mm, <= 2 m"
//	oneof    the words allowed, separated by |
//	ref      what it names: node, case, part, or part kinds separated by |
//	form     the form of its text, a key of forms
//	single   "yes": a table may be a single value
//	as, by   takes the dimension and range of that key of the part which the
//	         text field with the key in by names; of a mapping its own names do
//	only     "with": may be written in a case's `with` alone
//	eg       an example of a value; by default one of its dimension
//	doc      what it is
type field struct {
	name   string
	key    string // dotted, from the root of its plan
	index  []int
	shape  shape
	common bool // of every part kind

	dim, xdim quantity.Dimension
	as        []string
	by        int // index of the sibling field that names the part; -1 for none
	opt       bool
	only      string
	standard  *standard
	limits    []limit
	oneof     []string
	ref       []string
	form      string
	single    bool
	example   string
	doc       string

	pointer bool   // a section held by a pointer
	section *plan  // of a section, or of the entries of a list or mapping
	item    *field // the values of a mapping, when they are no sections
}

// standard is a default, as written and as read.
type standard struct {
	text  string
	value quantity.Value
}

// in is the field's value within its struct.
func (f *field) in(v reflect.Value) reflect.Value {
	if len(f.index) == 1 {
		return v.Field(f.index[0])
	}
	return v.FieldByIndex(f.index)
}

func newField(sf reflect.StructField, name, prefix string, p *plan) *field {
	tag := sf.Tag.Get
	f := &field{name: name, key: joinKey(prefix, name), by: -1,
		opt: tag("opt") == "yes", only: tag("only"), form: tag("form"), single: tag("single") == "yes",
		example: tag("eg"), doc: tag("doc"),
		oneof: words(tag("oneof")), ref: words(tag("ref")), as: words(tag("as"))}
	f.setShape(sf.Type)
	f.setDimension(tag("dim"))
	if by := tag("by"); by != "" {
		index, known := p.byKey[by]
		if !known {
			panic(fmt.Sprintf("specs: %s depends on %s, which is no key before it", name, by))
		}
		f.by = index
	}
	if text, ok := sf.Tag.Lookup("default"); ok {
		f.standard = &standard{text: text}
		if f.shape == quantityShape {
			f.standard.value = mustParse(text, f.dim)
		}
	}
	f.limits = parseLimits(tag("range"), f.dim)
	if f.item != nil {
		item := *f
		item.name, item.key, item.index, item.item, item.ref, item.opt = "", "", nil, nil, nil, false
		item.shape = f.item.shape
		f.item = &item
	}
	return f
}

// setShape derives the shape from the Go type.
func (f *field) setShape(t reflect.Type) {
	switch t {
	case reflect.TypeFor[Quantity]():
		f.shape = quantityShape
	case reflect.TypeFor[Text]():
		f.shape = textShape
	case reflect.TypeFor[Flag]():
		f.shape = flagShape
	case reflect.TypeFor[Count]():
		f.shape = countShape
	case reflect.TypeFor[Table]():
		f.shape = tableShape
	case reflect.TypeFor[Port]():
		f.shape = portShape
	case reflect.TypeFor[[]Text]():
		f.shape = textsShape
	case reflect.TypeFor[[]Part](), reflect.TypeFor[[]Override](), reflect.TypeFor[Drive](),
		reflect.TypeFor[Repeats](), reflect.TypeFor[*Setting](), reflect.TypeFor[Fluid]():
		f.shape = ownShape
	default:
		f.setNested(t)
	}
}

func (f *field) setNested(t reflect.Type) {
	switch t.Kind() {
	case reflect.Struct:
		f.shape, f.section = sectionShape, planOf(t, f.key)
	case reflect.Pointer:
		f.shape, f.section, f.pointer = sectionShape, planOf(t.Elem(), f.key), true
	case reflect.Slice:
		f.shape, f.section = listShape, planOf(t.Elem(), "")
		if f.section.name < 0 {
			return
		}
		f.shape = namesShape
		if f.section.value >= 0 {
			f.setItem(t.Elem().Field(f.section.value).Type)
		}
	default:
		panic(fmt.Sprintf("specs: no way to read a %s", t))
	}
}

// setItem makes the value of a Named a section of its own, or a plain value.
func (f *field) setItem(t reflect.Type) {
	item := &field{}
	item.setShape(t)
	f.section = nil
	if item.shape == sectionShape {
		f.section = planOf(t, "")
		return
	}
	f.item = item
}

// setDimension reads the tag dim. A table with one dimension is a profile over time.
func (f *field) setDimension(tag string) {
	x, y, both := strings.Cut(tag, ",")
	switch {
	case both:
		f.xdim, f.dim = mustDimension(x), mustDimension(y)
		return
	case tag != "":
		f.dim = mustDimension(tag)
	}
	if f.holds(tableShape) || f.holds(ownShape) {
		f.xdim, f.single = quantity.Time, true
	}
}

// holds tells whether the field, or each entry of its mapping, has a shape.
func (f *field) holds(s shape) bool { return f.shape == s || f.item != nil && f.item.shape == s }

func mustDimension(key string) quantity.Dimension {
	d, known := quantity.DimensionNamed(key)
	if !known {
		panic("specs: no dimension " + key)
	}
	return d
}

func mustParse(text string, d quantity.Dimension) quantity.Value {
	v, err := quantity.Parse(text, d)
	if err != nil {
		panic(fmt.Sprintf("specs: %s: %v", text, err))
	}
	return v
}

// like is the field with the dimension and range of the key that `as` names,
// of a part kind; nil where the kind has none.
func (f *field) like(kindName string) *field {
	k, known := kinds[kindName]
	if !known {
		return nil
	}
	for _, as := range f.as {
		if g := k.plan().find(as); g != nil {
			same := *f
			same.dim, same.limits, same.as = g.dim, g.limits, nil
			return &same
		}
	}
	return nil
}

// words splits a tag at its bars.
func words(tag string) []string {
	if tag == "" {
		return nil
	}
	return strings.Split(tag, "|")
}
