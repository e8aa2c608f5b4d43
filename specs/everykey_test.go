package specs

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"

	"headroom/specs/quantity"
)

// consistent are values that go together where the examples of the tags do not.
var consistent = map[string]string{"motor.turns_at.flow": "5 L/min", "fluid.family": "HV"}

// full writes a mapping of every key of a plan, for a reader to set every field.
func full(p *plan, name string, skip ...string) string {
	var keys []string
	for _, f := range p.fields {
		if slices.Contains(skip, f.name) || f.only != "" {
			continue
		}
		text, set := consistent[joinKey(name, f.key)]
		switch {
		case set:
		case f.shape == kindShape:
			text = name
		case f.shape == portShape:
			text = f.name + "-" + name
		case f.shape == sectionShape:
			text = full(f.section, name)
		case f.shape == listShape:
			text = "[" + full(f.section, name, "at") + "]"
		case f.name == "like":
			continue
		case f.ref != nil:
			text = f.ref[0] + "-1"
		default:
			text = f.sample()
		}
		keys = append(keys, f.name+": "+text)
	}
	return "{" + strings.Join(keys, ", ") + "}"
}

// fullSpec is a spec with every key there is.
func fullSpec() string {
	var out strings.Builder
	out.WriteString("headroom: 1\ncircuit: full\ntitle: Every key there is\nrevision: B\n")
	fmt.Fprintf(&out, "environment: {ambient: 40 degC, cold_start: -10 degC, air_pressure: 0.9 bar abs, service_interval: 60 h, slope: 40 %%, hot_surfaces: {exhaust: {temperature: 600 degC, shielded: true}}}\n")
	fmt.Fprintf(&out, "fluid: %s\n", full(planOf(reflect.TypeFor[Fluid](), "fluid"), ""))
	out.WriteString("parts:\n")
	for _, name := range Kinds() {
		fmt.Fprintf(&out, "  %s-1: %s\n", name, full(kinds[name].plan(), name))
	}
	out.WriteString(`nodes: {at-reservoir: {volume: 30 cm3, role: suction}}
cases:
  one:
    about: every key of a case
    lasts: 8 s
    begins: {fluid: 95 degC, ambient: 30 degC, charge: 120 bar, plates: 120 degC, output: 5 rpm, positions: {cylinder-1: 3 mm}, spools: {directional-valve-1: 1, reducing-valve-1: 20 bar}}
    drives: {pump-1: {on_below: 100 bar, off_above: 120 bar, at: to-pump, speed: 3000 rpm}, friction-pack-1: [[0 s, 0 rpm], [1 s, 3000 rpm]]}
    commands:
      - {at: 0.2 s, valve: directional-valve-1, to: 1, over: 10 ms}
      - {when: {part: cylinder-1, reaches: 12 mm}, valve: directional-valve-1, to: 0}
      - {when: {node: to-pump, below: 100 bar}, valve: reducing-valve-1, to: 30 bar}
      - {when: {node: to-pump, above: 150 bar}, valve: reducing-valve-1, to: 0 bar}
    demands: {consumer-1: [[0 s, 0 L/min], [0.5 s, 4 L/min]]}
    loads: {cylinder-1: 700 N, motor-1: 5 N·m, friction-pack-1: [[0 s, 1 N·m], [1 s, 9 N·m]]}
    with: {directional-valve-1: {stuck: -1}, reducing-valve-1: {stuck: 5 bar}}
    expects:
      - {name: in time, part: cylinder-1, reaches: 12 mm, from: 1 s, within: 60 ms}
      - {name: held, node: to-pump, at_least: 100 bar, from: 0 s, until: 8 s}
      - {name: spared, node: to-pump, at_most: 250 bar}
      - {name: locked, pack: friction-pack-1, locks_within: 2.2 s, from: 0.8 s}
    acceleration: {x: 12 m/s2, y: 3 m/s2, z: 9 m/s2}
    repeats: settle
    weight: 40 /h
  two: {lasts: 1 s, repeats: 7}
limits: {mass: 9.5 kg, velocity: {return: 3 m/s}}
concessions:
  - {rule: lines.velocity, subject: hose-1, case: one, until: 2027-03-01, by: hydraulics lead, because: short, down_to: 3.4}
`)
	return out.String()
}

// unset lists the fields below v that nobody of the wanted sources has set.
func unset(v reflect.Value, path string, skip map[string]bool) []string {
	switch value := v.Interface().(type) {
	case Quantity:
		return blank(value.Source, path)
	case Text:
		return blank(value.Source, path)
	case Flag:
		return blank(value.Source, path)
	case Count:
		return blank(value.Source, path)
	case Table:
		return blank(value.Source, path)
	case Port:
		return blank(value.Source, path)
	case Repeats, *Setting, []Override, Drive:
		return nil
	}
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return []string{path}
		}
		return unset(v.Elem(), path, skip)
	case reflect.Struct:
		var all []string
		for i := range v.NumField() {
			f := v.Type().Field(i)
			key := f.Tag.Get("key")
			if (key != "" || f.Anonymous) && !skip[path+"."+key] && f.Tag.Get("only") == "" {
				all = append(all, unset(v.Field(i), joinKey(path, key), skip)...)
			}
		}
		return all
	case reflect.Slice:
		if v.Len() == 0 {
			return []string{path}
		}
	}
	return nil
}

func blank(s Source, path string) []string {
	if s == FromSpec {
		return nil
	}
	return []string{path}
}

// Every key of every kind can be read and sets its field.
func TestEveryKey(t *testing.T) {
	text := fullSpec()
	c := Read("full.yaml", []byte(text))
	for _, p := range c.Problems {
		t.Errorf("%v\n%s", p, strings.Split(text, "\n")[p.At.Line-1])
	}
	if len(c.Parts) != len(Kinds()) {
		t.Fatalf("%d parts of %d kinds", len(c.Parts), len(Kinds()))
	}
	for _, p := range c.Parts {
		// A kind's own viscosity takes the place of the common one.
		skip := map[string]bool{p.Base().Kind + ".like": true, p.Base().Kind + ".viscosity": p.Base().Kind == "filter"}
		for _, path := range unset(reflect.ValueOf(p).Elem(), p.Base().Kind, skip) {
			if path != "filter.viscosity" && !strings.HasSuffix(path, "seals.at") {
				t.Errorf("%s was not set", path)
			}
		}
	}
	if got := c.Part("filter-1").(*Filter).RatedAt; !got.Given() || c.Part("filter-1").Base().Viscosity.Min.Given() {
		t.Errorf("the filter's own viscosity was not set: %+v", got)
	}
	for _, path := range unset(reflect.ValueOf(c.Fluid), "fluid", map[string]bool{"fluid.like": true}) {
		t.Errorf("%s was not set", path)
	}
	for _, path := range unset(reflect.ValueOf(c.Environment), "environment", map[string]bool{"environment.altitude": true}) {
		t.Errorf("%s was not set", path)
	}
	one := c.Cases[0]
	for _, path := range unset(reflect.ValueOf(one), "case", nil) {
		t.Errorf("%s was not set", path)
	}
	if one.Drives[0].Value.Switch == nil || len(one.Drives[1].Value.Speed.Points) != 2 || len(one.With) != 2 || !one.Repeats.Settle || c.Cases[1].Repeats.Count != 7 {
		t.Errorf("what has a form of its own was not set: %+v", one)
	}
	if c.Limits == nil || len(c.Limits.Children) != 2 || c.Limits.Children[1].Children[0].Value.Value != "3 m/s" {
		t.Errorf("limits: %+v", c.Limits)
	}
	for _, path := range unset(reflect.ValueOf(c.Concessions[0]), "concession", nil) {
		t.Errorf("%s was not set", path)
	}
}

// Each example that a message or a page shows can be written.
func TestSamples(t *testing.T) {
	for _, name := range Kinds() {
		walkFields(kinds[name].plan(), func(f *field) {
			if strings.Contains(f.sample(), "...") || f.sample() == "" {
				t.Errorf("%s.%s has no example", name, f.key)
			}
			if f.shape != quantityShape || f.as != nil {
				return
			}
			r := newReader("", nil)
			v, err := quantity.Parse(f.sample(), f.dim)
			if err != nil {
				t.Errorf("%s.%s: %v", name, f.key, err)
				return
			}
			if v.Gauge {
				v.SI += r.air
			}
			if message := r.outside(v.SI, f.limits); message != "" {
				t.Errorf("%s.%s: %s must be %s", name, f.key, f.sample(), message)
			}
		})
	}
}

// walkFields visits the fields of a plan and of the sections in it.
func walkFields(p *plan, visit func(*field)) {
	for _, f := range p.fields {
		if f.shape == kindShape || f.shape == ownShape || f.shape == textShape && f.opt && f.example == "" {
			continue
		}
		if f.section != nil {
			walkFields(f.section, visit)
			continue
		}
		visit(f)
	}
}
