package rules

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"headroom/rules/facts"
	"headroom/specs"
)

// A subjectKind is a kind of subject that rules may be for.
type subjectKind struct {
	name  string
	about string
	reads []variable // beyond circuit, fluid and environment; the subject's own first
	all   func(*facts.Circuit) []target
}

// A target is one subject, ready to be judged.
type target struct {
	Subject
	at      specs.Span
	path    string           // key path in the spec; "" for none
	objects [3]reflect.Value // the structs of the kind's reads, in their order
}

// holds tells whether a key path is that of a value of the subject.
func (t *target) holds(key string) bool {
	rest, below := strings.CutPrefix(key, t.path)
	return key != "" && below && (t.path == "" || rest == "" || rest[0] == '.' || rest[0] == '[')
}

// subjectKinds are the kinds in the order of the documentation.
var subjectKinds = []subjectKind{
	{"circuit", "the circuit as a whole", nil, func(c *facts.Circuit) []target {
		return []target{{Subject: Subject{Name: c.Whole.Name.Value}, at: c.Whole.At}}
	}},
	{"fluid", "its fluid", nil, func(c *facts.Circuit) []target {
		return []target{{Subject: Subject{Name: c.Fluid.Name.Value}, at: c.Fluid.At, path: "fluid"}}
	}},
	{"part", "each part, over all cases", []variable{partVariable}, func(c *facts.Circuit) []target {
		return targets(c.Parts, func(p *facts.Part) target {
			return targetOf(p.Name.Value, p.At, "parts."+p.Name.Value, p)
		})
	}},
	{"seal", "each seal", []variable{sealVariable, partVariable}, func(c *facts.Circuit) []target {
		return targets(c.Seals, func(s *facts.Seal) target {
			return targetOf(s.Name.Value, s.At, fmt.Sprintf("parts.%s.seals[%d]", s.Part.Name.Value, s.Index), s, s.Part)
		})
	}},
	{"line", "each tube and hose", []variable{lineVariable, partVariable}, func(c *facts.Circuit) []target {
		return targets(c.Lines, func(l *facts.Line) target {
			return targetOf(l.Name.Value, l.At, "parts."+l.Name.Value, l, l.Part)
		})
	}},
	{"node", "each node, over all cases", []variable{nodeVariable}, func(c *facts.Circuit) []target {
		return targets(c.Nodes, func(n *facts.Node) target {
			return targetOf(n.Name.Value, n.At, "nodes."+n.Name.Value, n)
		})
	}},
	{"section", "each set of nodes that nothing closable divides", []variable{sectionVariable}, func(c *facts.Circuit) []target {
		return targets(c.Sections, func(s *facts.Section) target { return targetOf(s.Name.Value, s.At, "", s) })
	}},
	{"trapped-volume", "each volume closed on all sides", []variable{trappedVariable}, func(c *facts.Circuit) []target {
		return targets(c.Trapped, func(t *facts.Trapped) target { return targetOf(t.Name.Value, t.At, "", t) })
	}},
	{"case", "each operating case", []variable{caseVariable}, func(c *facts.Circuit) []target {
		return targets(c.Cases, func(k *facts.Case) target {
			return targetOf(k.Name.Value, k.At, "cases."+k.Name.Value, k)
		})
	}},
	{"part-in-case", "each part in each case", []variable{hereVariable, partVariable, caseVariable}, func(c *facts.Circuit) []target {
		return targets(c.PartsInCase, func(p *facts.PartInCase) target {
			t := targetOf(p.Part.Name.Value, p.At, "parts."+p.Part.Name.Value, &p.Here, p.Part, p.Case)
			t.Case = p.Case.Name.Value
			return t
		})
	}},
	{"node-in-case", "each node in each case", []variable{hereVariable, nodeVariable, caseVariable}, func(c *facts.Circuit) []target {
		return targets(c.NodesInCase, func(n *facts.NodeInCase) target {
			t := targetOf(n.Node.Name.Value, n.At, "nodes."+n.Node.Name.Value, &n.Here, n.Node, n.Case)
			t.Case = n.Case.Name.Value
			return t
		})
	}},
	{"expectation", "each line of a case's expects", []variable{expectationVariable, caseVariable}, func(c *facts.Circuit) []target {
		return targets(c.Expectations, func(e *facts.Expectation) target {
			path := "cases." + e.Case.Name.Value
			if e.Spec != nil {
				path = fmt.Sprintf("%s.expects[%d]", path, e.Spec.Index)
			}
			t := targetOf(e.Name.Value, e.At, path, e, e.Case)
			t.Case = e.Case.Name.Value
			return t
		})
	}},
	{concessionKind, "each recorded acceptance", []variable{concessionVariable}, func(c *facts.Circuit) []target {
		return targets(c.Concessions, func(k *facts.Concession) target {
			name := strings.TrimSpace(k.Rule.Value + " " + k.Subject.Value)
			return targetOf(name, k.At, cmp.Or(k.Path, fmt.Sprintf("concessions[%d]", k.Index)), k)
		})
	}},
	{problemKind, "each thing wrong with the file", []variable{problemVariable}, func(c *facts.Circuit) []target {
		return targets(c.Problems, func(p *facts.Problem) target {
			return targetOf(cmp.Or(p.Path, p.At.File), p.At, p.Path, p)
		})
	}},
}

// kindNamed finds a kind of subject; nil for none.
func kindNamed(name string) *subjectKind {
	i := slices.IndexFunc(subjectKinds, func(k subjectKind) bool { return k.name == name })
	if i < 0 {
		return nil
	}
	return &subjectKinds[i]
}

// targets lists a circuit's subjects of the kind.
func (k *subjectKind) targets(c *facts.Circuit) []target {
	all := k.all(c)
	for i := range all {
		all[i].Kind = k.name
	}
	return all
}

func targets[T any](all []T, of func(T) target) []target {
	list := make([]target, len(all))
	for i, one := range all {
		list[i] = of(one)
	}
	return list
}

// targetOf makes a target of pointers to the structs of its kind's reads.
func targetOf(name string, at specs.Span, path string, objects ...any) target {
	t := target{Subject: Subject{Name: name}, at: at, path: path}
	for i, o := range objects {
		t.objects[i] = reflect.ValueOf(o).Elem()
	}
	return t
}

// roots are the first words that a rule for the kind may read.
func (k *subjectKind) roots() []string {
	var words []string
	for _, v := range k.reads {
		words = append(words, v.String())
	}
	for _, v := range []variable{circuitVariable, fluidVariable, environmentVariable} {
		words = append(words, v.String())
	}
	return append(words, limitsWord)
}

// owns tells whether a variable is the kind's own subject, not something near it.
func (k *subjectKind) owns(v variable) bool {
	switch k.name {
	case "circuit":
		return v == circuitVariable
	case "fluid":
		return v == fluidVariable
	case "line":
		return v == lineVariable || v == partVariable
	case "part-in-case":
		return v == hereVariable || v == partVariable
	case "node-in-case":
		return v == hereVariable || v == nodeVariable
	}
	return len(k.reads) > 0 && v == k.reads[0]
}
