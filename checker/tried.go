package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// tried tells what a valve moves, and whether some case has it stuck where it
// does not rest.
func (s *survey) tried(i int, part specs.Part, f *facts.Part) {
	switch part.(type) {
	case *specs.DirectionalValve, *specs.ReducingValve:
	default:
		return
	}
	f.Moves = s.moved(i)
	if len(s.cases) == 0 {
		f.StuckTried = facts.Flag{Missing: "cases"}
		return
	}
	o := facts.Origin{At: part.Base().At, Key: s.roots[i], Note: "no case has it stuck where it does not rest"}
	for c := range s.cases {
		if stuckAway(s.cases[c].parts[i]) {
			o.Case, o.Note = s.cases[c].spec.Name, ""
			f.StuckTried = s.holds(true, o)
			return
		}
	}
	f.StuckTried = s.holds(false, o)
}

// stuckAway tells whether a valve is stuck where it does not rest.
func stuckAway(part specs.Part) bool {
	switch v := part.(type) {
	case *specs.DirectionalValve:
		return v.Stuck.Given() && v.Stuck.SI != v.Rest.SI
	case *specs.ReducingValve:
		return v.Stuck.Given() && v.Stuck.SI != v.Rest.SI
	}
	return false
}

// moved is the friction pack whose cylinder a valve alone feeds and drains, else
// the cylinder; unset where there is none.
func (s *survey) moved(valve int) facts.Text {
	moved := -1
	for i, part := range s.spec.Parts {
		if _, ok := part.(*specs.Cylinder); !ok {
			continue
		}
		for _, port := range s.graph.Ports[i] {
			if _, by, dead := s.graph.DeadEnd(port.Node); !dead || by != valve {
				continue
			}
			if pack, ok := s.packOf(i); ok {
				return s.word(s.graph.Name(pack), facts.Origin{At: s.spec.Parts[pack].Base().At, Key: s.roots[pack], Note: "by " + s.graph.Name(i)})
			}
			if moved < 0 {
				moved = i
			}
		}
	}
	if moved < 0 {
		return facts.Text{}
	}
	return s.word(s.graph.Name(moved), facts.Origin{At: s.spec.Parts[moved].Base().At, Key: s.roots[moved]})
}

// packOf is the friction pack that a cylinder releases.
func (s *survey) packOf(cylinder int) (pack int, ok bool) {
	for i, part := range s.spec.Parts {
		if p, is := part.(*specs.FrictionPack); is && p.ReleasedBy.Value == s.graph.Name(cylinder) {
			return i, true
		}
	}
	return 0, false
}
