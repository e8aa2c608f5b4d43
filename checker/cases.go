package checker

import (
	"strconv"
	"strings"

	"headroom/rules/facts"
	"headroom/specs"
)

// caseFacts are the facts of all cases: of each as one, of each part and node
// in it, of what it expects. What happens in a case only the simulation tells.
func (s *survey) caseFacts(f *facts.Circuit) {
	parts := make([]facts.PartInCase, len(s.cases)*len(f.Parts))
	nodes := make([]facts.NodeInCase, len(s.cases)*len(f.Nodes))
	shutIn := s.shutChambers()
	for c := range s.cases {
		v := &s.cases[c]
		of := s.oneCase(v)
		f.Cases = append(f.Cases, of)
		for i, part := range f.Parts {
			p := &parts[c*len(f.Parts)+i]
			p.Part, p.Case, p.At = part, of, part.At
			s.partInCase(i, v, &p.Here)
			f.PartsInCase = append(f.PartsInCase, p)
		}
		idle := s.untouched(shutIn, v)
		for n, node := range f.Nodes {
			p := &nodes[c*len(f.Nodes)+n]
			p.Node, p.Case, p.At = node, of, node.At
			p.Here.MadeUp = s.madeUp(n, idle[n], v)
			if s.vapour != nil {
				p.Here.VapourPressure.Missing = facts.Simulation // it depends on the temperature
			}
			f.NodesInCase = append(f.NodesInCase, p)
		}
		for e := range v.spec.Expects {
			f.Expectations = append(f.Expectations, s.expectation(v, of, &v.spec.Expects[e]))
		}
	}
}

func (s *survey) oneCase(v *caseView) *facts.Case {
	written := facts.Origin{At: v.spec.At, Key: v.root, Case: v.spec.Name}
	delivery := s.lowestDelivery(v)
	return &facts.Case{
		Spec:     v.spec,
		At:       v.spec.At,
		Name:     s.word(v.spec.Name, written),
		Repeated: s.holds(v.spec.Repeats.Settle || v.spec.Repeats.Count > 1, written),
		Settles:  s.holds(v.spec.Repeats.Settle, written),

		Expectations:   s.known(float64(len(v.spec.Expects)), written),
		TurnsPumps:     s.holds(delivery.Known || delivery.Missing != "", written),
		LowestDelivery: delivery,
	}
}

// partInCase is what a part needs in a case, and whether anything is asked of it.
func (s *survey) partInCase(i int, v *caseView, here *facts.Here) {
	if c, ok := v.parts[i].(*specs.Consumer); ok {
		here.Draws = s.holds(asked(v.spec, c.Name), facts.Origin{At: v.spec.At, Key: v.root, Case: v.spec.Name})
		here.NeededDifference = s.given(c.MinPressure, s.path(i, "min_pressure"))
	}
}

// The kinds of expectations.
const (
	expectsStroke  = "stroke"
	expectsAtLeast = "at-least"
	expectsAtMost  = "at-most"
	expectsLock    = "lock"
)

// expectation is one line of `expects`: what it asks.
func (s *survey) expectation(v *caseView, of *facts.Case, e *specs.Expectation) *facts.Expectation {
	path := v.root + ".expects[" + strconv.Itoa(e.Index) + "]"
	written := facts.Origin{At: e.At, Key: path, Case: v.spec.Name}
	f := &facts.Expectation{Case: of, At: e.At, Spec: e}
	var what string
	switch { // by what is written, also where it cannot be read
	case e.Pack.At.Line > 0:
		f.Kind, what = s.word(expectsLock, written), called(e.Pack, "pack", e)+" locks"
		f.Within = s.given(e.LocksWithin, path+".locks_within")
	case e.Node.At.Line > 0 && e.AtMost.At.Line > 0:
		f.Kind, what = s.word(expectsAtMost, written), called(e.Node, "node", e)+" at most"
		f.AtMost = s.given(e.AtMost, path+".at_most")
	case e.Node.At.Line > 0:
		f.Kind, what = s.word(expectsAtLeast, written), called(e.Node, "node", e)+" at least"
		f.AtLeast = s.given(e.AtLeast, path+".at_least")
	default:
		f.Kind, what = s.word(expectsStroke, written), called(e.Part, "part", e)+" arrives"
		f.Within = s.given(e.Within, path+".within")
	}
	if e.Name.Given() {
		what = e.Name.Value
	}
	f.Name = s.word(what, written)
	return f
}

// called is the name of what an expectation is about, or where that cannot be read
// its place in the list: "node of expects[2]".
func called(name specs.Text, what string, e *specs.Expectation) string {
	if name.Value != "" {
		return name.Value
	}
	return what + " of expects[" + strconv.Itoa(e.Index) + "]"
}

// problemFacts are what is wrong with the file.
func problemFacts(c *specs.Circuit) []*facts.Problem {
	var all []*facts.Problem
	for i := range c.Problems {
		p := &c.Problems[i]
		from := &facts.Origin{At: p.At, Key: p.Path}
		all = append(all, &facts.Problem{
			At:      p.At,
			Path:    p.Path,
			Kind:    facts.Text{Value: strings.TrimPrefix(p.Rule, "spec."), Known: true, From: from},
			Message: facts.Text{Value: p.Message, Known: true, From: from},
		})
	}
	return all
}

// concessionFacts are the spec's concessions. Whether they cover anything is
// known once the rules have been applied.
func (s *survey) concessionFacts() []*facts.Concession {
	var all []*facts.Concession
	for i := range s.spec.Concessions {
		c := &s.spec.Concessions[i]
		path := "concessions[" + strconv.Itoa(i) + "]"
		all = append(all, &facts.Concession{
			At:      c.At,
			Index:   i,
			Rule:    s.text(c.Rule, path+".rule"),
			Subject: s.text(c.Subject, path+".subject"),
		})
	}
	return all
}
