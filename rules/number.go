package rules

import (
	"strings"

	"github.com/google/cel-go/common/types"

	"headroom/rules/expression"
	"headroom/specs"
)

// Numbers are the limits of one circuit that are numbers, by path (SI): what a
// computation that is only made where a limit asks for it has to know.
type Numbers struct{ values *limitValues }

// NumbersFor gives the limits that hold for a circuit.
func (b *Rulebook) NumbersFor(spec *specs.Circuit, project *specs.Project) Numbers {
	values, _ := b.limitsFor(spec, project)
	return Numbers{values}
}

// Of is the value of a limit; false where it has none.
func (n Numbers) Of(path string) (float64, bool) {
	v, ok := n.values.values[path].(types.Double)
	return float64(v), ok
}

// Entry is the value that a group of limits has for a name; false where it has none.
func (n Numbers) Entry(path, name string) (float64, bool) {
	group, ok := n.values.values[path].(*expression.Map)
	if !ok {
		return 0, false
	}
	value, _ := group.Entry(name)
	v, ok := value.(types.Double)
	return float64(v), ok
}

// Reads tells whether a rule that is in force speaks of a fact; only narrows the rules,
// nil to all.
func (b *Rulebook) Reads(fact string, only func(*Rule) bool) bool {
	for _, r := range b.Rules {
		if only != nil && !only(r) {
			continue
		}
		for _, e := range []Expression{r.Where, r.Measure, r.Limit, r.Require, r.Says} {
			if strings.Contains(e.Text, fact) {
				return true
			}
		}
	}
	return false
}
