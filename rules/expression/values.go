package expression

import (
	"slices"

	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/common/types/traits"
)

// A Scene is what an expression reads: the facts of one subject, and limits. It
// gives each symbol of the vocabulary a value made by NumberOf, TextOf, FlagOf,
// MapOf or Missing. It must be the scene of one goroutine.
type Scene interface {
	ResolveName(name string) (value any, known bool)
}

// NumberOf is a number for an expression to read, in SI.
func NumberOf(si float64) ref.Val { return types.Double(si) }

// TextOf is a text for an expression to read.
func TextOf(text string) ref.Val { return types.String(text) }

// FlagOf is a yes or no for an expression to read.
func FlagOf(flag bool) ref.Val { return types.Bool(flag) }

// Missing stands for the value of a symbol that is not known. It may be shared.
func Missing(name string) ref.Val { return types.NewUnknown(0, types.NewAttributeTrail(name)) }

// others is the entry of a Map that stands for names which are not listed.
const others = "others"

// A Map is a group of values by name for an expression to read.
type Map struct {
	traits.Mapper
	name   string
	values map[string]ref.Val
}

// MapOf makes a group of values of one form, called by its symbol's name.
func MapOf(name string, values map[string]ref.Val) *Map {
	entries := make(map[ref.Val]ref.Val, len(values))
	for k, v := range values {
		entries[types.String(k)] = v
	}
	return &Map{types.NewRefValMap(types.DefaultTypeAdapter, entries), name, values}
}

// Entry is the value of a name: its own, or that of others.
func (m *Map) Entry(name string) (ref.Val, bool) {
	if v, ok := m.values[name]; ok {
		return v, true
	}
	v, ok := m.values[others]
	return v, ok
}

func (m *Map) entry(name string) ref.Val {
	if v, ok := m.Entry(name); ok {
		return v
	}
	return Missing(m.name + "." + name)
}

// An Outcome is what comes of an expression: a value, or the names of what is
// missing to have one, or why there is none.
type Outcome struct {
	Number  float64
	Text    string
	Flag    bool
	Missing []string // sorted, each once
	Failure string   // why there can be no value: a division by zero
}

// Decided tells whether there is a value.
func (o Outcome) Decided() bool { return o.Missing == nil && o.Failure == "" }

func outcomeOf(v ref.Val) Outcome {
	switch v := v.(type) {
	case types.Double:
		return Outcome{Number: float64(v)}
	case types.Bool:
		return Outcome{Flag: bool(v)}
	case types.String:
		return Outcome{Text: string(v)}
	case *types.Unknown:
		return Outcome{Missing: missingOf(v)}
	case *types.Err:
		return Outcome{Failure: v.Error()}
	}
	return Outcome{Failure: "it came to nothing"}
}

func missingOf(u *types.Unknown) []string {
	var names []string
	for _, id := range u.IDs() {
		trails, _ := u.GetAttributeTrails(id)
		for _, t := range trails {
			names = append(names, t.Variable())
		}
	}
	slices.Sort(names)
	return slices.Compact(names)
}
