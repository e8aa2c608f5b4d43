package network

import (
	"reflect"

	"headroom/specs"
)

// missingIn is the first key without which a part has no equations: one that is
// required and was not given, or could not be read. "" where there is none.
func missingIn(p specs.Part) string {
	return missingKey(reflect.ValueOf(p).Elem(), "")
}

var (
	quantityType = reflect.TypeFor[specs.Quantity]()
	tableType    = reflect.TypeFor[specs.Table]()
	countType    = reflect.TypeFor[specs.Count]()
	portType     = reflect.TypeFor[specs.Port]()
	commonType   = reflect.TypeFor[specs.Common]()
)

func missingKey(v reflect.Value, prefix string) string {
	for i := range v.NumField() {
		f, value := v.Type().Field(i), v.Field(i)
		key, only := f.Tag.Get("key"), f.Tag.Get("only")
		if f.Type == commonType || f.Tag.Get("opt") != "" || only != "" {
			continue
		}
		if f.Type.Kind() == reflect.Struct && f.Anonymous {
			if missing := missingKey(value, prefix); missing != "" {
				return missing
			}
			continue
		}
		if key == "" {
			continue
		}
		given := true
		switch f.Type {
		case quantityType:
			given = value.Interface().(specs.Quantity).Given()
		case tableType:
			given = len(value.Interface().(specs.Table).Points) > 0
		case countType:
			given = value.Interface().(specs.Count).Given()
		case portType:
			given = value.Interface().(specs.Port).Given()
		default:
			if f.Type.Kind() == reflect.Struct {
				if _, section := f.Type.FieldByName("At"); section {
					if missing := missingKey(value, prefix+key+"."); missing != "" {
						return missing
					}
				}
			}
		}
		if !given {
			return prefix + key
		}
	}
	return ""
}
