package checker

import (
	"fmt"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/specs"
)

// alone is the circuit with the task's one case, judged without the rules that
// ask how well cases cover the circuit. A case that does not exist is a problem.
func alone(c *specs.Circuit, task Task) (*specs.Circuit, rules.Settings) {
	one := *c
	one.Cases = slices.DeleteFunc(slices.Clone(c.Cases), func(k specs.Case) bool { return k.Name != task.Case })
	if len(one.Cases) == 0 {
		one.Problems = append(slices.Clone(c.Problems), specs.Problem{
			Rule: "spec.reference", At: c.Name.At, Path: "cases",
			Message: fmt.Sprintf("there is no case %s; this circuit has %s", task.Case, caseNames(c)),
		})
	}
	settings, only := task.Settings, task.Settings.Only
	settings.Only = func(r *rules.Rule) bool { return r.Covers == "" && (only == nil || only(r)) }
	return &one, settings
}

func caseNames(c *specs.Circuit) string {
	var names []string
	for _, k := range c.Cases {
		names = append(names, k.Name)
	}
	if len(names) == 0 {
		return "none"
	}
	return strings.Join(names, ", ")
}
