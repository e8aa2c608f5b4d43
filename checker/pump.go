package checker

import (
	"fmt"
	"math"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// pump tells how fast a pump turns, what it gives and takes, and from where it
// draws; and how fast a motor may turn.
func (s *survey) pump(i int, part specs.Part, f *facts.Part) {
	if m, motor := part.(*specs.Motor); motor {
		f.MaxSpeed = s.given(m.MaxSpeed, s.path(i, "max_speed"))
		f.HighestSpeed = simulated()
		return
	}
	p, ok := part.(*specs.Pump)
	if !ok {
		return
	}
	f.MaxSpeed = s.given(p.MaxSpeed, s.path(i, "max_speed"))
	f.InletMin = s.given(p.InletMin, s.path(i, "inlet_min"))
	f.DrivePower = s.given(p.DrivePower, s.path(i, "drive_power"))
	f.HighestSpeed = s.highestSpeed(i)
	f.PowerAtRating = s.powerAtRating(i, p)
	f.DeliveryTop = s.deliveryTop(i, p, f.HighestSpeed)
	f.CutOff = s.cutOff(i, p)
	f.DrivenBackward = s.backflow(i, p)
	f.SuctionVelocity = s.suctionVelocity(i)
}

// highestSpeed is the highest speed of a part over the cases that drive it.
func (s *survey) highestSpeed(i int) facts.Fact {
	top := -1
	for c := range s.cases {
		if w := s.cases[c].speed[i]; !math.IsNaN(w) && (top < 0 || w > s.cases[top].speed[i]) {
			top = c
		}
	}
	if top < 0 {
		return missing("cases.*.drives." + s.graph.Name(i))
	}
	v := &s.cases[top]
	at, key := s.driveOf(v, i)
	return s.known(v.speed[i], facts.Origin{At: at, Key: key, Case: v.spec.Name})
}

// powerAtRating is the shaft power at the point of `delivers`:
//
//	P = (D Δp/η_m + drag) ω, with D per radian
func (s *survey) powerAtRating(i int, p *specs.Pump) facts.Fact {
	at := under(s.roots[i])
	if key := lacking(
		at(p.Displacement, "displacement"), at(p.MechanicalEfficiency, "mechanical_efficiency"), at(p.Drag, "drag"),
		at(p.Delivers.Cond.Pressure, "delivers.at.pressure"), at(p.Delivers.Cond.Speed, "delivers.at.speed"),
	); key != "" {
		return missing(key)
	}
	point := &p.Delivers.Cond
	torque := p.Displacement.SI*point.Pressure.SI/p.MechanicalEfficiency.SI + p.Drag.SI
	return s.known(torque*point.Speed.SI, facts.Origin{
		At: p.Delivers.At, Key: s.path(i, "delivers"),
		Note: fmt.Sprintf("at %s and %s", print(point.Pressure.SI, quantity.PressureDifference), print(point.Speed.SI, quantity.RotationalSpeed)),
	})
}

// deliveryTop is full displacement at the highest speed.
func (s *survey) deliveryTop(i int, p *specs.Pump, speed facts.Fact) facts.Fact {
	if !speed.Known {
		return speed
	}
	if !p.Displacement.Given() {
		return missing(s.path(i, "displacement"))
	}
	o := *speed.From
	o.Note = "full displacement at " + print(speed.Value, quantity.RotationalSpeed)
	return s.known(p.Displacement.SI*speed.Value, o)
}

// cutOff is the pressure at which a compensator leaves no displacement.
func (s *survey) cutOff(i int, p *specs.Pump) facts.Fact {
	if p.Compensator == nil {
		return missing(s.path(i, "compensator"))
	}
	at := under(s.path(i, "compensator"))
	if key := lacking(at(p.Compensator.Set, "set"), at(p.Compensator.Band, "band")); key != "" {
		return missing(key)
	}
	return s.known(p.Compensator.Set.SI+p.Compensator.Band.SI-s.air, facts.Origin{
		At: p.Compensator.Set.At, Key: s.path(i, "compensator.set"), Note: "set and band of the compensator",
	})
}

// backflow tells whether nothing that stores pressure can drive a pump backwards.
func (s *survey) backflow(i int, p *specs.Pump) facts.Flag {
	o := facts.Origin{At: p.At, Key: s.roots[i], Note: "no accumulator's pressure reaches its outlet"}
	store, driven := s.graph.Driver(i)
	if driven {
		o.Note = "the pressure of " + s.graph.Name(store) + " reaches its outlet"
	}
	return s.holds(!driven, o)
}

// suctionVelocity is the highest velocity in the lines to a pump's inlet.
func (s *survey) suctionVelocity(i int) facts.Fact {
	inlet, ok := s.graph.At(i, "from")
	if !ok {
		return missing(s.path(i, "from"))
	}
	if s.graph.Nodes[inlet].Reservoir {
		return s.known(0, facts.Origin{At: s.spec.Parts[i].Base().At, Key: s.roots[i], Note: "it draws straight from the reservoir"})
	}
	var top facts.Fact
	for _, part := range s.graph.Sections[s.graph.Nodes[inlet].Section].Parts {
		if lineOf(s.spec.Parts[part]) == nil {
			continue
		}
		v := s.velocity(part)
		if !v.Known {
			return v
		}
		if !top.Known || v.Value > top.Value {
			top = v
		}
	}
	if !top.Known {
		return simulated()
	}
	return top
}
