package rules

import (
	"errors"
	"slices"
	"strconv"

	"github.com/google/cel-go/common/types/ref"

	"headroom/rules/expression"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// limitValues are the limits that hold for one circuit.
type limitValues struct {
	values  map[string]ref.Val // by symbol
	origins map[string]*facts.Origin
}

// value is what an expression reads of a limit.
func (v *limitValues) value(name string) (any, bool) {
	value, known := v.values[name]
	return value, known
}

// A resolver puts the settings of a project and a spec over the defaults.
type resolver struct {
	overrides map[string]override // by path
	chosen    map[string]string   // set by path of the choice
	parts     []string            // names that entries for each part may have
	kinds     map[string]string   // of those parts
	anyPart   bool                // names of parts are not known: a project file
	problems  []specs.Problem
}

type override struct {
	value limitValue
	at    specs.Span
}

func newResolver() *resolver {
	return &resolver{overrides: map[string]override{}, chosen: map[string]string{}, kinds: map[string]string{}}
}

// defaultNote is how the default of a pack came about.
const defaultNote = "default"

// resolve gives the values of all limits under the overrides taken so far.
func (r *resolver) resolve(root *limit) *limitValues {
	v := &limitValues{values: map[string]ref.Val{}, origins: map[string]*facts.Origin{}}
	r.fill(v, root)
	return v
}

// fill adds a limit and all below it, and returns the entries of a group.
func (r *resolver) fill(v *limitValues, l *limit) {
	switch {
	case l.isChoice():
		set := l.set(l.chosen)
		if name, chosen := r.chosen[l.path]; chosen {
			set = l.set(name)
		}
		for _, c := range set.group {
			r.fill(v, c)
		}
	case l.named:
		r.fillGroup(v, l, nil)
	case l.isGroup():
		for _, c := range l.group {
			r.fill(v, c)
		}
		if _, uniform := l.uniform(); uniform {
			r.fillGroup(v, l, l.names())
		}
	default:
		r.fillValue(v, l)
	}
}

// fillValue adds a single limit.
func (r *resolver) fillValue(v *limitValues, l *limit) {
	value, origin := l.value, &facts.Origin{Key: l.path, Note: defaultNote}
	if !l.core {
		origin.At = l.at
	}
	if o, overridden := r.overrides[l.path]; overridden {
		value, origin = o.value, &facts.Origin{Key: l.path, At: o.at}
	}
	v.origins[l.path] = origin
	v.values[l.path] = valueOf(l.form, value)
	if !value.given {
		v.values[l.path] = expression.Missing(l.path)
	}
}

// fillGroup adds a group that is read by name: the entries that packs declare
// and those that the settings add.
func (r *resolver) fillGroup(v *limitValues, l *limit, names []string) {
	entries := map[string]ref.Val{}
	for _, name := range names {
		if c := l.child(name); c.value.given || r.overridden(c.path) {
			entries[name] = v.values[c.path]
		}
	}
	form, _ := l.uniform()
	for path, o := range r.overrides {
		name, below := below(l.path, path)
		if !below || slices.Contains(names, name) {
			continue
		}
		entries[name] = valueOf(form, o.value)
		v.origins[path] = &facts.Origin{Key: path, At: o.at}
	}
	v.values[l.path] = expression.MapOf(l.path, entries)
	if len(entries) == 0 {
		v.values[l.path] = expression.Missing(l.path)
	}
}

func (r *resolver) overridden(path string) bool {
	_, overridden := r.overrides[path]
	return overridden
}

// below is the last step of a path that lies directly below another.
func below(group, path string) (string, bool) {
	if len(path) <= len(group)+1 || path[:len(group)] != group || path[len(group)] != '.' {
		return "", false
	}
	name := path[len(group)+1:]
	return name, !slices.Contains([]byte(name), '.')
}

func valueOf(form expression.Type, v limitValue) ref.Val {
	switch form.Form {
	case expression.Number:
		return expression.NumberOf(v.number)
	case expression.Text:
		return expression.TextOf(v.text)
	}
	return expression.FlagOf(v.flag)
}

// take notes the settings of a project or spec as overrides.
func (r *resolver) take(root *limit, settings *specs.Setting) {
	if settings != nil {
		r.takeGroup(root, settings.Children)
	}
}

func (r *resolver) takeGroup(l *limit, settings []specs.Setting) {
	for _, s := range settings {
		if c := l.child(s.Name); c != nil {
			r.takeOne(c, s)
			continue
		}
		if form, uniform := l.uniform(); uniform && l.takesKinds() && slices.Contains(specs.Kinds(), s.Name) {
			r.takeValue(l.path+"."+s.Name, form, nil, s)
			continue
		}
		r.wrong("spec.unknown-key", s.At, l.path+"."+s.Name, "%s has no %s%s", l.path, s.Name, hint(s.Name, l.names()))
	}
}

// takesKinds tells whether a group is one of part kinds, with a value for others.
func (l *limit) takesKinds() bool {
	names := l.names()
	return slices.Contains(names, othersWord) && !slices.ContainsFunc(names, func(name string) bool {
		return name != othersWord && !slices.Contains(specs.Kinds(), name)
	})
}

func (r *resolver) takeOne(l *limit, s specs.Setting) {
	switch {
	case l.isChoice():
		r.takeChoice(l, s)
	case l.named:
		r.takeNamed(l, s)
	case l.isGroup() && s.Value.Given():
		r.wrong("spec.shape", s.Value.At, l.path, "%s is a group of limits: %s", l.path, list(l.names()))
	case l.isGroup():
		r.takeGroup(l, s.Children)
	case !s.Value.Given():
		if len(s.Children) > 0 {
			r.wrong("spec.shape", s.At, l.path, "%s is a single value, %s", l.path, l.form)
		}
	default:
		r.takeValue(l.path, l.form, l.oneOf, s)
	}
}

// takeChoice notes which set is chosen, and what is put over it.
func (r *resolver) takeChoice(l *limit, s specs.Setting) {
	if s.Value.Given() {
		r.choose(l, s.Value)
		return
	}
	var rest []specs.Setting
	for _, c := range s.Children {
		if c.Name == chooseWord {
			r.choose(l, c.Value)
		} else {
			rest = append(rest, c)
		}
	}
	set := l.set(l.chosen)
	if name, chosen := r.chosen[l.path]; chosen {
		set = l.set(name)
	}
	r.takeGroup(set, rest)
}

func (r *resolver) choose(l *limit, name specs.Text) {
	if l.set(name.Value) == nil {
		r.wrong("spec.reference", name.At, l.path, "%s has no set %s%s", l.path, name.Value, hint(name.Value, l.setNames()))
		return
	}
	r.chosen[l.path] = name.Value
}

// takeNamed notes the entries of a limit that has one for each part.
func (r *resolver) takeNamed(l *limit, s specs.Setting) {
	if s.Value.Given() {
		r.wrong("spec.shape", s.Value.At, l.path, "%s needs a value for each part, such as {clutch-cylinder: %s}", l.path, s.Value.Value)
		return
	}
	for _, c := range s.Children {
		path := l.path + "." + c.Name
		switch {
		case !r.anyPart && !slices.Contains(r.parts, c.Name):
			r.wrong("spec.reference", c.At, path, "there is no part %s%s", c.Name, hint(c.Name, r.named(l)))
		case !r.anyPart && l.kinds != nil && !slices.Contains(l.kinds, r.kinds[c.Name]):
			r.wrong("spec.reference", c.At, path, "%s is for parts of the kind %s; %s is a %s%s", l.path, specs.Sentence(l.kinds, "or"), c.Name, r.kinds[c.Name], hint(c.Name, r.named(l)))
		case !c.Value.Given():
			r.wrong("spec.shape", c.At, path, "%s needs a single value, %s", path, l.form)
		default:
			r.takeValue(path, l.form, l.oneOf, c)
		}
	}
}

// named are the parts that a limit may have an entry for.
func (r *resolver) named(l *limit) (names []string) {
	for _, part := range r.parts {
		if l.kinds == nil || slices.Contains(l.kinds, r.kinds[part]) {
			names = append(names, part)
		}
	}
	return names
}

func (r *resolver) takeValue(path string, form expression.Type, oneOf []string, s specs.Setting) {
	value, err := readLimit(s.Value.Value, form)
	switch {
	case err != nil:
		r.wrong("spec.unit", within(s.Value.At, s.Value.Value, err), path, "%s", err)
	case oneOf != nil && !slices.Contains(oneOf, value.text):
		r.wrong("spec.reference", s.Value.At, path, "%s cannot be %s%s", path, value.text, hint(value.text, oneOf))
	default:
		r.overrides[path] = override{value, s.Value.At}
	}
}

// readLimit reads an override in the type of its default.
func readLimit(text string, form expression.Type) (limitValue, error) {
	switch form.Form {
	case expression.Number:
		v, err := quantity.Parse(text, form.Dimension)
		if err == nil && form.Dimension == quantity.Pressure && !v.Gauge {
			err = errors.New("a gauge pressure is needed here; leave out abs")
		}
		return limitValue{given: true, number: v.SI}, err
	case expression.Flag:
		flag, err := strconv.ParseBool(text)
		if err != nil {
			err = errors.New("true or false is needed here")
		}
		return limitValue{given: true, flag: flag}, err
	}
	return limitValue{given: true, text: text}, nil
}

// within is the piece of a value that an error of a quantity is about, where the
// value stands as such on one line.
func within(at specs.Span, text string, err error) specs.Span {
	var wrong *quantity.Error
	if errors.As(err, &wrong) && at.Line == at.EndLine && at.EndColumn-at.Column == len(text) {
		at.Column += wrong.Offset
		at.EndColumn = at.Column + wrong.Length
	}
	return at
}

func (r *resolver) wrong(rule string, at specs.Span, path, format string, arguments ...any) {
	r.problems = append(r.problems, problem(rule, at, path, format, arguments...))
}
