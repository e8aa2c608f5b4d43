package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// reservoirInTime holds a reservoir's budget against the levels that the cases
// came to: a case may take or give back more than the budget reckons with.
func (s *survey) reservoirInTime(i int, part specs.Part, f *facts.Part) {
	r, ok := part.(*specs.Reservoir)
	if !ok {
		return
	}
	o := s.partOrigin(i)
	loss := r.ServiceLoss.SI
	lowest := s.worst(search{from: o, lowest: true}, func(run *run) (moment, bool) {
		m, has := lowestOf(i, "level")(run)
		m.value -= loss
		m.note = "its level less a service loss of " + print(loss, quantity.Volume)
		return m, has
	})
	highest := s.worst(search{from: o, warmth: true}, highestOf(i, "level"))
	if f.LowestFill.Known && lowest.Known && lowest.Value < f.LowestFill.Value {
		f.LowestFill = lowest
	}
	if f.LowestFill.Missing == facts.Simulation && r.ServiceLoss.Given() {
		f.LowestFill = lowest
	}
	if f.HighestFill.Known && highest.Known && highest.Value > f.HighestFill.Value || f.HighestFill.Missing == facts.Simulation {
		f.HighestFill = highest
	}
}
