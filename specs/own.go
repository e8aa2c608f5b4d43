package specs

import (
	"reflect"
	"strconv"

	"gopkg.in/yaml.v3"
)

// own reads what has a form of its own.
func (r *reader) own(e entry, f *field, v reflect.Value, key string) {
	switch target := v.Addr().Interface().(type) {
	case *[]Part:
		*target = r.readParts(e, key)
	case *[]Override:
		*target = r.overrides(e, key)
	case *Fluid:
		r.readFluid(e, target)
	case *Drive:
		*target = r.drive(e, f, key)
	case *Repeats:
		*target = r.repeats(e.value, key)
	case **Setting:
		*target = r.settings(e, key)
	}
}

// drive reads a speed over time, or a pressure switch.
func (r *reader) drive(e entry, f *field, key string) Drive {
	d := Drive{At: r.src.span(e.key)}
	if e.value.Kind != yaml.MappingNode {
		d.Speed = r.table(e.value, f, key)
		return d
	}
	d.Switch = &PressureSwitch{At: d.At}
	p := planOf(reflect.TypeFor[PressureSwitch](), "")
	v := reflect.ValueOf(d.Switch).Elem()
	r.fields(e.value, p, v, key)
	r.finish(p, v, place{at: d.At, key: key, own: key, name: e.key.Value}, true)
	if r.parts.kind[e.key.Value] != "pump" {
		r.wrong(ruleReference, d.At, key, "%s is %s; only a pump can be switched by pressure", e.key.Value, article(r.parts.kind[e.key.Value]))
	}
	return d
}

// maxRepeats bounds how often a case may run in a row.
const maxRepeats = 1000

// repeats reads a count or the word settle.
func (r *reader) repeats(n *yaml.Node, key string) Repeats {
	times := Repeats{At: r.src.span(n)}
	count, err := strconv.Atoi(n.Value)
	switch {
	case n.Kind == yaml.ScalarNode && n.Value == "settle":
		times.Settle = true
	case n.Kind == yaml.ScalarNode && nearest(n.Value, []string{"settle"}) != "":
		r.wrong(ruleShape, times.At, key, "repeats must be a whole number or settle; did you mean settle?")
	case n.Kind != yaml.ScalarNode || err != nil:
		r.wrong(ruleShape, times.At, key, "repeats must be a whole number or settle")
	case count < 1 || count > maxRepeats:
		r.wrong(ruleRange, times.At, key, "repeats must be from 1 to %d, or settle", maxRepeats)
	default:
		times.Count = count
	}
	return times
}

// settings reads a tree of limits as it is written.
func (r *reader) settings(e entry, key string) *Setting {
	if e.value.Kind != yaml.MappingNode {
		r.wrong(ruleShape, r.src.span(e.value), key, "%s must be a mapping of limits, such as {mass: 9.5 kg}", e.key.Value)
		return nil
	}
	root := r.setting(e, key)
	return &root
}

func (r *reader) setting(e entry, key string) Setting {
	s := Setting{Name: e.key.Value, At: r.src.span(e.key)}
	switch {
	case isNull(e.value):
		r.wrong(ruleEmpty, s.At, key, "%s has no value; write one or leave the key out", s.Name)
	case e.value.Kind == yaml.ScalarNode:
		s.Value = Text{Value: e.value.Value, Source: r.from, Key: key, At: r.src.span(e.value)}
	case e.value.Kind != yaml.MappingNode:
		r.wrong(ruleShape, r.src.span(e.value), key, "%s must be a single value or a mapping of limits", s.Name)
	default:
		s.Children = r.settingsIn(e.value, key)
	}
	return s
}

func (r *reader) settingsIn(n *yaml.Node, key string) []Setting {
	size := len(n.Content) / 2
	if !r.room(reflect.TypeFor[Setting](), size, r.src.span(n), key) {
		return nil
	}
	all := make([]Setting, 0, size)
	seen := make(map[string]int, size)
	for i := range size {
		one := entry{n.Content[2*i], n.Content[2*i+1]}
		if _, fine := r.name(one.key, seen, nil, key); fine {
			all = append(all, r.setting(one, joinKey(key, one.key.Value)))
		}
	}
	return all
}
