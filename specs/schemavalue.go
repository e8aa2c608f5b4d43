package specs

import (
	"strings"

	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// value is the schema of a value by its shape.
func (s *schemer) value(f *field) object {
	switch f.shape {
	case quantityShape:
		return s.either(f, func(d quantity.Dimension) object { return s.quantity(d) })
	case tableShape:
		return s.either(f, func(d quantity.Dimension) object { return s.table(f, d) })
	case textShape:
		return s.text(f)
	case flagShape:
		return object{"type": "boolean"}
	case countShape:
		return f.whole()
	case portShape:
		return s.name()
	case textsShape:
		return object{"type": "array", "items": s.text(f)}
	case sectionShape:
		return s.keys(f.section)
	case listShape:
		return object{"type": "array", "items": s.section(f.section)}
	case namesShape:
		return s.names(f)
	case ownShape:
		return s.own(f)
	}
	return object{}
}

// either is one schema, or where the dimension depends on a part's kind one of several.
func (s *schemer) either(f *field, of func(quantity.Dimension) object) object {
	if f.as == nil {
		return of(f.dim)
	}
	var all []object
	seen := map[quantity.Dimension]bool{}
	for _, kind := range Kinds() {
		if like := f.like(kind); like != nil && !seen[like.dim] {
			seen[like.dim] = true
			all = append(all, of(like.dim))
		}
	}
	return object{"anyOf": all}
}

const numberPattern = `^\s*[-+−]?(\d+\.?\d*|\.\d+)([eE][-+−]?\d+)?`

// quantity is a number with a unit that is none of another dimension's usual ones.
func (s *schemer) quantity(d quantity.Dimension) object {
	return s.define("quantity-"+d.Key(), func() object {
		o := object{"type": "string", "pattern": numberPattern + `\s*[^\s\d].*$`, "not": object{"type": "string", "pattern": numberPattern + `\s*(` + strings.Join(foreign(d), "|") + `)\s*$`}}
		switch d {
		case quantity.Number:
			o["type"] = []string{"number", "string"}
			o["pattern"] = numberPattern + `.*$`
		case quantity.AbsolutePressure:
			o["pattern"] = numberPattern + `\s*[^\s\d].*abs\s*$`
		}
		o["description"] = d.WithArticle() + ", such as " + samples[d]
		return o
	})
}

// foreign lists usual units that a dimension cannot be written in, as patterns.
func foreign(d quantity.Dimension) []string {
	var units []string
	seen := map[string]bool{}
	for _, other := range quantity.Dimensions() {
		for _, unit := range other.Units() {
			if _, err := quantity.Parse("1 "+unit, d); err != nil && !seen[unit] {
				seen[unit] = true
				units = append(units, quote(unit))
			}
		}
	}
	return units
}

// quote takes the special meaning from characters of a pattern.
func quote(text string) string {
	return strings.NewReplacer(`(`, `\(`, `)`, `\)`, `/`, `\/`, `.`, `\.`, `^`, `\^`, `*`, `\*`).Replace(text)
}

// table is a list of points, or a single value where one may stand.
func (s *schemer) table(f *field, d quantity.Dimension) object {
	least := 2
	if f.single {
		least = 1
	}
	points := object{"type": "array", "minItems": least, "items": object{
		"type": "array", "minItems": 2, "maxItems": 2, "items": []object{s.quantity(f.xdim), s.quantity(d)}}}
	if !f.single {
		return points
	}
	return object{"anyOf": []object{s.quantity(d), points}}
}

// whole is a whole number within the field's limits.
func (f *field) whole() object {
	o := object{"type": "integer"}
	for _, l := range f.limits {
		o[map[string]string{">=": "minimum", "<=": "maximum"}[l.op]] = l.si
	}
	return o
}

// patterns are the forms that a pattern can tell.
var patterns = map[string]string{
	"identifier": namePattern,
	"rule":       `^[A-Za-z0-9][A-Za-z0-9_-]*\.[A-Za-z0-9][A-Za-z0-9_-]*$`,
	"date":       `^\d{4}-\d{2}-\d{2}$`,
	"iso4406":    `^((\d{1,2}|-)/)?\d{1,2}/\d{1,2}$`,
}

const namePattern = `^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$`

// names that the catalogue knows, by form: an editor offers them.
var offered = map[string]string{
	"seal-material": catalogue.KindSealMaterial,
	"tube-material": catalogue.KindTubeMaterial,
	"fluid-family":  catalogue.KindFluidFamily,
}

func (s *schemer) text(f *field) object {
	o := object{"type": []string{"string", "number"}}
	switch {
	case f.oneof != nil:
		return object{"enum": f.oneof}
	case f.ref != nil:
		return s.name()
	case f.form == "identifier":
		return s.name()
	case patterns[f.form] != "":
		return object{"type": "string", "pattern": patterns[f.form]}
	case offered[f.form] != "":
		return object{"anyOf": []object{{"enum": catalogue.Names(offered[f.form])}, o}}
	}
	return o
}

// name is an identifier; YAML reads one of digits alone as a number.
func (s *schemer) name() object {
	return s.define("name", func() object {
		return object{"type": []string{"string", "number", "boolean"}, "pattern": namePattern}
	})
}
