package specs

import (
	"maps"
	"reflect"
	"slices"
)

// kind is one part kind: what it is, in a few words, and how to make one.
type kind struct {
	name  string
	about string
	make  func() Part
	of    reflect.Type // the struct that make makes
}

// kinds holds every part kind by name; each kind's own file registers it.
var kinds = map[string]kind{}

func register(name, about string, make func() Part) kind {
	k := kind{name, about, make, reflect.TypeOf(make()).Elem()}
	kinds[name] = k
	return k
}

// Kinds lists the names of all part kinds, sorted.
func Kinds() []string { return slices.Sorted(maps.Keys(kinds)) }

// plan is how a part of this kind is read.
func (k kind) plan() *plan { return planOf(k.of, "") }

// Ports lists a part's connected ports, in the order its kind declares them.
func Ports(p Part) []Port {
	v := reflect.ValueOf(p).Elem()
	plan := planOf(v.Type(), "")
	ports := make([]Port, 0, len(plan.ports))
	for _, f := range plan.ports {
		if port := f.in(v).Interface().(Port); port.Given() {
			ports = append(ports, port)
		}
	}
	return ports
}

// PortKeys lists the keys of a kind's ports, in the order it declares them.
func PortKeys(kindName string) []string {
	k, known := kinds[kindName]
	if !known {
		return nil
	}
	var keys []string
	for _, f := range k.plan().ports {
		keys = append(keys, f.name)
	}
	return keys
}
