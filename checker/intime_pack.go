package checker

import (
	"fmt"
	"math"

	"headroom/checker/friction"
	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// packInTime tells what a friction pack's plates go through, and what releases
// and clamps it.
func (s *survey) packInTime(i int, part specs.Part, f *facts.Part) {
	p, ok := part.(*specs.FrictionPack)
	if !ok {
		return
	}
	f.PlatesHottest = s.sees.plates[i]
	o := s.partOrigin(i)
	area := faceArea(p)
	note := fmt.Sprintf("over %s of %d faces", print(area, quantity.Area), p.Faces.Value)
	f.EnergyPerArea = s.worst(search{from: o}, func(r *run) (moment, bool) {
		e := hardest(r.out.Parts[i].Engagements, func(e *network.Engagement) float64 { return e.Energy })
		if e == nil {
			return moment{note: "no engagement"}, true
		}
		return moment{value: e.Energy / area, time: e.Starts, timed: true, note: print(e.Energy, quantity.Energy) + " " + note}, true
	})
	f.PowerPerArea = s.worst(search{from: o}, func(r *run) (moment, bool) {
		e := hardest(r.out.Parts[i].Engagements, func(e *network.Engagement) float64 { return e.Power.Value })
		if e == nil {
			return moment{note: "no engagement"}, true
		}
		return moment{value: e.Power.Value / area, time: e.Power.Time, timed: true, note: print(e.Power.Value, quantity.Power) + " " + note}, true
	})
	f.OutputSpeed = s.worst(search{from: o}, mostOf(i, "output_speed"))
	f.ReleaseAvailable = or(s.worst(search{from: o, lowest: true}, func(r *run) (moment, bool) {
		m, has := r.moments.released[i]
		return m, has
	}), "a case that releases "+p.Name)
	s.capacityInTime(i, p, f)
}

// faceArea is the area of all faces of a pack, m².
func faceArea(p *specs.FrictionPack) float64 {
	return float64(p.Faces.Value) * math.Pi * (p.OuterRadius.SI*p.OuterRadius.SI - p.InnerRadius.SI*p.InnerRadius.SI)
}

// hardest is the engagement with the most of something; nil for none.
func hardest(all []network.Engagement, of func(*network.Engagement) float64) *network.Engagement {
	var top *network.Engagement
	for k := range all {
		if top == nil || of(&all[k]) > of(top) {
			top = &all[k]
		}
	}
	return top
}

// capacityInTime tells the torque that a pack holds with the highest pressure
// that any case leaves in its cylinder; where the cylinder rests at a
// reservoir's pressure, no less than that.
func (s *survey) capacityInTime(i int, p *specs.FrictionPack, f *facts.Part) {
	cylinder, c := s.releaser(p)
	if c == nil {
		return
	}
	left := s.worst(search{from: s.partOrigin(i)}, func(r *run) (moment, bool) {
		m, has := r.moments.residual[i]
		return m, has
	})
	if !left.Known {
		if !f.TorqueCapacity.Known {
			f.TorqueCapacity = or(left, "a case in which "+p.Name+" clamps")
		}
		return
	}
	lever, key := s.lever(i, p, lowest)
	if key == "" {
		key = s.packLacks(i, p, cylinder, c)
	}
	if key != "" {
		f.TorqueCapacity = missing(key)
		return
	}
	head, _ := areas(c)
	clamp, _, _ := friction.Clamp(c.Spring.Preload.SI, left.Value, head, 0, p.TakeUp.SI)
	if held := lever * clamp; !f.TorqueCapacity.Known || held < f.TorqueCapacity.Value {
		o := *left.From
		o.At, o.Key = p.Friction.At, s.path(i, "friction")
		o.Note = fmt.Sprintf("friction %.3g, %s left in %s", lowest(p.Friction), print(left.Value, quantity.Pressure), c.Name)
		f.TorqueCapacity = s.known(held, o)
	}
}
