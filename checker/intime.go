package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// SimulatedFacts gathers all that can be said of a circuit with each of its
// cases simulated, and what is asked for besides. Like Facts it never fails.
func SimulatedFacts(c *specs.Circuit, asked Asked) *facts.Circuit {
	s := newSurvey(c)
	s.asked = asked
	s.simulate()
	return s.told()
}

// told is all that can be said of a circuit whose cases have been simulated.
func (s *survey) told() *facts.Circuit {
	s.sees = s.seen()
	f := s.gather()
	s.inTime(f)
	f.Records = s.records(f)
	return f
}

// timed are the families of facts of a part that only simulated cases tell, one
// a file. Where a fact was bounded without time, what was simulated takes its
// place.
var timed = [...]func(s *survey, i int, part specs.Part, f *facts.Part){
	(*survey).strengthInTime,
	(*survey).protectionInTime,
	(*survey).fluidInPart,
	(*survey).flowInPart,
	(*survey).filterInTime,
	(*survey).pumpInTime,
	(*survey).packInTime,
	(*survey).reservoirInTime,
	(*survey).countsInTime,
	(*survey).ageingInTime,
}

// inTime fills in what the simulated cases tell.
func (s *survey) inTime(f *facts.Circuit) {
	for i, part := range s.spec.Parts {
		for _, family := range timed {
			family(s, i, part, f.Parts[i])
		}
	}
	s.linesInTime(f)
	s.sealsInTime(f.Seals)
	s.fluidInTime(&f.Fluid)
	s.casesInTime(f)
}
