package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// Facts gathers all that can be said of a circuit without time. It never fails: of what
// cannot be said, a fact tells what is missing.
func Facts(c *specs.Circuit) *facts.Circuit { return newSurvey(c).gather() }

// gather gathers what the families of facts say.
func (s *survey) gather() *facts.Circuit {
	c := s.spec
	f := &facts.Circuit{Spec: c}
	s.environmentFacts(&f.Environment)
	f.Parts = s.partFacts()
	f.Seals = s.sealFacts(f.Parts)
	f.Nodes = s.nodeFacts()
	f.Lines = s.lineFacts(f.Parts)
	f.Sections = s.sectionFacts()
	f.Trapped = s.trappedFacts()
	s.fluidFacts(&f.Fluid)
	s.wholeFacts(&f.Whole)
	s.caseFacts(f)
	f.Problems = problemFacts(c)
	f.Concessions = s.concessionFacts()
	return f
}

// families are the families of facts of a part, one a file. Each fills what it
// knows of the part; i is the part's index.
var families = [...]func(s *survey, i int, part specs.Part, f *facts.Part){
	(*survey).strength,
	(*survey).viscosity,
	(*survey).cleanliness,
	(*survey).filter,
	(*survey).pump,
	(*survey).idle,
	(*survey).switched,
	(*survey).store,
	(*survey).protection,
	(*survey).restState,
	(*survey).reservoir,
	(*survey).pack,
	(*survey).use,
	(*survey).cylinder,
	(*survey).ageing,
	(*survey).tried,
	(*survey).deadEnd,
}

// partFacts are the facts of all parts, in the spec's order.
func (s *survey) partFacts() []*facts.Part {
	block := make([]facts.Part, len(s.spec.Parts))
	parts := make([]*facts.Part, len(block))
	for i, part := range s.spec.Parts {
		f := &block[i]
		parts[i] = f
		common := part.Base()
		f.Spec, f.At = part, common.At
		written := facts.Origin{At: common.At, Key: s.roots[i]}
		f.Name, f.Kind = s.word(common.Name, written), s.word(common.Kind, written)
		for _, family := range families {
			family(s, i, part, f)
		}
	}
	return parts
}
