package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// protectionInTime holds what a relief valve must take against what went through
// it: a piston that a load pushes, or an accumulator, may send it more than pumps
// give. What pumps could give stays where it is more than any case sent.
func (s *survey) protectionInTime(i int, part specs.Part, f *facts.Part) {
	if _, ok := part.(*specs.ReliefValve); !ok {
		return
	}
	if f.FullFlow.Missing == facts.Simulation {
		f.FullFlow = missing("a way from " + part.Base().Name + " to a reservoir that nothing can shut")
		f.ReliefSection = f.FullFlow
	}
	if !f.ReliefMustTake.Known {
		return
	}
	pumped := f.ReliefMustTake.Value
	for c := range s.runs {
		run := &s.runs[c]
		taken := s.inCase(search{from: s.partOrigin(i)}, run, highestOf(i, "flow"))
		if taken.Known && taken.Value > f.ReliefMustTake.Value+reachedFlow {
			taken.From.Note = "more than the " + print(pumped, quantity.Flow) + " that pumps can give"
			f.ReliefMustTake = taken
			s.fullerFlow(i, run, taken, f)
		}
	}
}

// fullerFlow tells the pressure that a relief valve comes to with a flow that a
// case sent through it.
func (s *survey) fullerFlow(i int, run *run, taken facts.Fact, f *facts.Part) {
	if !f.FullFlow.Known {
		return
	}
	blown := s.open(s.reliefOf(i), run.view, taken.Value)
	if full := blown.pressure - s.air; blown.lacks == "" && full > f.FullFlow.Value {
		o := *taken.From
		o.Note = blown.told()
		f.FullFlow = s.known(full, o)
		if f.ReliefSection.Known {
			f.ReliefSection = higher(f.ReliefSection, f.FullFlow)
		}
	}
}
