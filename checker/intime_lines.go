package checker

import (
	"fmt"

	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// linesInTime tells what flows in the lines, what that loses, and what stopping
// it adds.
func (s *survey) linesInTime(f *facts.Circuit) {
	k := 0
	for i, part := range s.spec.Parts {
		if l := lineOf(part); l != nil {
			s.lineInTime(i, f.Lines[k])
			f.Parts[i].HighestSurge = f.Lines[k].StaticSurge
			k++
		}
	}
}

func (s *survey) lineInTime(i int, f *facts.Line) {
	o := s.partOrigin(i)
	area := bore(lineOf(s.spec.Parts[i]))
	f.Velocity = or(s.worst(search{from: o}, func(r *run) (moment, bool) {
		m, has := highestOf(i, "velocity")(r)
		m.note = print(m.value*area, quantity.Flow)
		return m, has
	}), "a case that lasts 50 ms")
	f.Flow = reckoned(f.Velocity, rising, func(velocity facts.Fact) facts.Fact {
		from := *velocity.From
		from.Note = ""
		return s.known(velocity.Value*area, from)
	})
	f.LastingVelocity = or(s.worst(search{from: o}, func(r *run) (moment, bool) {
		if v := r.out.Parts[i].Lasting; v != nil {
			m := when(*v)
			m.note = print(m.value*area, quantity.Flow)
			return m, true
		}
		return moment{}, false
	}), "a case that lasts 1 s")
	f.DropWarm = or(s.worst(search{from: o, only: warmCase}, mostOf(i, "drop")), "a case that begins warmer than cold start")
	if cold := s.worst(search{from: o, only: coldCase}, mostOf(i, "drop")); cold.Known || cold.Missing != "" {
		f.DropCold = cold
	} else if f.DropCold.Missing == facts.Simulation {
		f.DropCold = missing("a case that begins at cold start")
	}
	f.DropShare = s.worst(search{from: o}, func(r *run) (moment, bool) {
		m, has := r.moments.share[i]
		return m, has
	})
	f.Surge = s.surgeInTime(i, func(p *network.Surge) float64 { return p.Rise }, 0)
	f.StaticSurge = s.withSurge(i, f.Pressure)
}

// surgeInTime is the greatest of the pressures that closures make, by a measure
// of them, less another.
func (s *survey) surgeInTime(i int, of func(*network.Surge) float64, less float64) facts.Fact {
	f := s.worst(search{from: s.partOrigin(i)}, func(r *run) (moment, bool) {
		surges := r.out.Parts[i].Surges
		best := -1
		for k := range surges {
			if best < 0 || of(&surges[k]) > of(&surges[best]) {
				best = k
			}
		}
		if best < 0 {
			return moment{note: "nothing stops its flow fast"}, true
		}
		p := &surges[best]
		return moment{
			value: of(p) - less, time: p.Time, timed: true,
			note: fmt.Sprintf("%s shuts at %s and adds %s", p.By, print(p.Pressure-s.air, quantity.Pressure), print(p.Rise, quantity.PressureDifference)),
		}, true
	})
	if f.Known {
		f.From.Basis = "Korteweg 1878; Joukowsky 1898; Michaud 1878"
	}
	return f
}

// withSurge is the higher of a line's highest pressure and of what closures make
// of its pressure at their instants.
func (s *survey) withSurge(i int, highest facts.Fact) facts.Fact {
	var top extreme
	top.add(highest)
	top.add(s.surgeInTime(i, func(p *network.Surge) float64 { return p.Pressure + p.Rise }, s.air))
	return top.fact()
}

// sealsInTime tells how fast the seals of cylinders slide.
func (s *survey) sealsInTime(seals []*facts.Seal) {
	k := 0
	for i, part := range s.spec.Parts {
		for range part.Base().Seals {
			f := seals[k]
			k++
			if f.Moving.Value {
				f.Speed = or(s.worst(search{from: s.partOrigin(i)}, mostOf(i, "speed")), "simulation")
				if part.Base().Kind != "cylinder" {
					f.Speed = missing("a diameter of the sealed shaft")
				}
			}
		}
	}
}
