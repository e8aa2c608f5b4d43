package specs

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
)

// Schema is a JSON Schema (draft 7, which editors' YAML support knows best) of
// a spec, made from the same tags that it is read by. It refuses unknown keys,
// missing keys, wrong words and units of another dimension; what only numbers
// and names decide is left to reading.
func Schema() []byte {
	s := schemer{definitions: object{}}
	root := s.section(planOf(reflect.TypeFor[Circuit](), ""))
	root["$schema"] = "http://json-schema.org/draft-07/schema#"
	root["title"] = "Hydraulic circuit spec, format 1"
	root["definitions"] = s.definitions
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(root); err != nil {
		panic(fmt.Sprintf("specs: the schema cannot be written: %v", err)) // it holds strings, numbers and maps alone
	}
	return out.Bytes()
}

// object is a JSON object; encoding/json writes its keys in order.
type object = map[string]any

// schemer gathers the definitions that a schema refers to.
type schemer struct{ definitions object }

func reference(name string) object { return object{"$ref": "#/definitions/" + name} }

// define adds a definition once and refers to it.
func (s *schemer) define(name string, make func() object) object {
	if _, known := s.definitions[name]; !known {
		s.definitions[name] = object{} // holds the place while it is made
		s.definitions[name] = make()
	}
	return reference(name)
}

// section is the schema of a mapping by its plan.
func (s *schemer) section(p *plan) object {
	o := s.keys(p)
	if needed := needs(p); len(needed) > 0 {
		o["allOf"] = []object{needed}
	}
	if p.exclusive {
		var ways []object
		_, sets := reflect.New(p.goType).Interface().(exclusive).ways()
		for _, keys := range sets {
			ways = append(ways, object{"required": keys})
		}
		o["oneOf"] = ways
	}
	return o
}

// keys is the schema of a mapping whose keys may all be left out.
func (s *schemer) keys(p *plan) object {
	properties := object{}
	for _, f := range p.fields {
		switch {
		case f.common:
			properties[f.name] = s.define("common-"+f.name, func() object { return s.field(f) })
		default:
			properties[f.name] = s.field(f)
		}
	}
	return object{"type": "object", "properties": properties, "additionalProperties": false}
}

// needs is the schema of what must be there of a mapping and of those in it.
func needs(p *plan) object {
	o, inner := object{}, object{}
	var required []string
	for _, f := range p.fields {
		if f.required() {
			required = append(required, f.name)
		}
		if f.shape == sectionShape {
			if deeper := needs(f.section); len(deeper) > 0 {
				inner[f.name] = deeper
			}
		}
	}
	if len(required) > 0 {
		o["required"] = required
	}
	if len(inner) > 0 {
		o["properties"] = inner
	}
	return o
}

// required tells whether a key must be there.
func (f *field) required() bool { return !f.opt && f.standard == nil && f.only == "" }

// field is the schema of one key, with what an editor shows of it.
func (s *schemer) field(f *field) object {
	o := s.value(f)
	if _, refers := o["$ref"]; refers {
		// What stands beside a $ref would be ignored; editors show the first description
		// that they meet, which is to be the key's and not the dimension's.
		o = object{"allOf": []object{{"description": f.describe()}, o}}
	}
	o["description"] = f.describe()
	if f.standard != nil && f.shape != portShape {
		o["default"] = f.standard.text
	}
	return o
}

// describe is the field's documentation in one line.
func (f *field) describe() string {
	text := f.doc
	if len(f.limits) > 0 {
		text += "; " + inWords(f.limits)
	}
	return text
}

// names is a mapping from names to values or sections.
func (s *schemer) names(f *field) object {
	var item object
	if f.item != nil {
		item = s.value(f.item)
	} else {
		item = s.section(f.section)
	}
	return object{"type": "object", "propertyNames": object{"pattern": namePattern}, "additionalProperties": item}
}

// own is the schema of what has a form of its own.
func (s *schemer) own(f *field) object {
	switch f.name {
	case "parts":
		return object{"type": "object", "minProperties": 1, "propertyNames": object{"pattern": namePattern},
			"additionalProperties": s.define("part", s.part)}
	case "with":
		return object{"type": "object", "additionalProperties": s.define("changed-part", s.changedPart)}
	case "fluid":
		p := planOf(reflect.TypeFor[Fluid](), "fluid")
		o := s.keys(p)
		o["if"], o["else"] = object{"required": []string{"like"}}, needs(p)
		return o
	case "repeats":
		return object{"anyOf": []object{{"type": "integer", "minimum": 1, "maximum": maxRepeats}, {"const": "settle"}}}
	case "limits":
		return object{"type": "object", "additionalProperties": s.define("limit", s.setting)}
	}
	return object{"anyOf": []object{s.table(f, f.dim), s.section(planOf(reflect.TypeFor[PressureSwitch](), ""))}}
}

func (s *schemer) setting() object {
	return object{"anyOf": []object{
		{"type": []string{"string", "number", "boolean"}},
		{"type": "object", "additionalProperties": reference("limit")}}}
}

// part is one of the kinds, told apart by `kind`: a condition for each, and not
// one of several, so that a mistake is told of the kind that is meant. What its
// catalogue entry may supply is required only where it has none.
func (s *schemer) part() object {
	var all []object
	for _, name := range Kinds() {
		p := kinds[name].plan()
		var ports []string
		properties := object{}
		for _, f := range p.fields {
			switch {
			case f.shape == portShape && f.required():
				ports = append(ports, f.name)
			case f.only != "":
				properties[f.name] = false
			}
		}
		then := object{"allOf": []object{s.kind(name)}, "properties": properties,
			"if": object{"required": []string{"like"}}, "else": needs(p)}
		if len(ports) > 0 {
			then["required"] = ports
		}
		all = append(all, object{"if": object{"required": []string{"kind"}, "properties": object{"kind": object{"const": name}}}, "then": then})
	}
	return object{"type": "object", "required": []string{"kind"},
		"properties": object{"kind": object{"enum": Kinds(), "description": "what it is"}},
		"allOf":      all}
}

// kind is the keys of a part kind.
func (s *schemer) kind(name string) object {
	return s.define(name, func() object {
		o := s.keys(kinds[name].plan())
		o["description"] = article(name) + ": " + kinds[name].about
		return o
	})
}

// changedPart is a part's keys in a case: whatever changes, but its kind.
func (s *schemer) changedPart() object {
	var all []object
	for _, name := range Kinds() {
		all = append(all, object{"allOf": []object{s.kind(name)}, "properties": object{"kind": false}})
	}
	return object{"anyOf": all}
}
