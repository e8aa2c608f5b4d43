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
		home, said := s.atHome(run)
		m.value += home - loss
		m.note = "its level less a service loss of " + print(loss, quantity.Volume) + said
		return m, has
	})
	highest := s.worst(search{from: o, warmth: true}, func(run *run) (moment, bool) {
		m, has := highestOf(i, "level")(run)
		home, said := s.atHome(run)
		m.value += home
		m.note = said
		return m, has
	})
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

// atHome is the oil that the reservoir has more at the start of a case than `fill`
// says (m³), which is what it holds with accumulators charged and cylinders
// retracted: what accumulators lack of their charge, less what cylinders that begin
// extended took. With several reservoirs it cannot be told whose it is.
func (s *survey) atHome(r *run) (more float64, said string) {
	b := s.budget()
	if b.lacks != "" {
		return 0, ""
	}
	lacking, taken := b.charged, 0.0
	for i, p := range r.view.parts {
		switch p := p.(type) {
		case *specs.Accumulator:
			if oil := r.reading(i, "oil"); oil != nil {
				lacking -= oil.Begin
			}
		case *specs.Cylinder:
			if x := r.reading(i, "position"); x != nil {
				taken += stroked(p) * min(1, max(0, x.Begin/p.Stroke.SI))
			}
		}
	}
	if lacking = max(0, lacking); lacking > leastTold {
		said += ", and " + print(lacking, quantity.Volume) + " that accumulators have yet to take as it begins"
	}
	if taken > leastTold {
		said += ", less " + print(taken, quantity.Volume) + " in cylinders that begin extended"
	}
	return lacking - taken, said
}

// leastTold is the least volume (m³) that is told of: a hundredth of a litre.
const leastTold = 1e-5
