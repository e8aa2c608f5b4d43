package checker

import (
	"fmt"
	"math"

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
	f.EnergyPerArea = s.worst(search{from: o}, func(r *run) (moment, bool) {
		e := hardest(r.out.Parts[i].Engagements, func(e *network.Engagement) float64 { return e.Energy })
		if e == nil {
			return moment{note: "no engagement"}, true
		}
		area, over := facesOf(r, i)
		return moment{value: e.Energy / area, time: e.Starts, timed: true, note: print(e.Energy, quantity.Energy) + over}, true
	})
	f.PowerPerArea = s.worst(search{from: o}, func(r *run) (moment, bool) {
		e := hardest(r.out.Parts[i].Engagements, func(e *network.Engagement) float64 { return e.Power.Value })
		if e == nil {
			return moment{note: "no engagement"}, true
		}
		area, over := facesOf(r, i)
		return moment{value: e.Power.Value / area, time: e.Power.Time, timed: true, note: print(e.Power.Value, quantity.Power) + over}, true
	})
	f.OutputSpeed = s.worst(search{from: o}, mostOf(i, "output_speed"))
	if _, c := s.releaser(p); c != nil {
		s.releaseInTime(i, f)
		s.releaseKept(i, f)
		s.capacityInTime(i, &f.TorqueCapacity, false)
		s.capacityInTime(i, &f.TorqueWorn, true)
	}
}

// facesOf is the area of the faces of a pack as a case has it, m², and that in words.
func facesOf(r *run, i int) (area float64, over string) {
	p, _ := caseAs[*specs.FrictionPack](r, i)
	area = faceArea(p)
	return area, fmt.Sprintf(" over %s of %d faces", print(area, quantity.Area), p.Faces.Value)
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

// releaseInTime tells the pressure that a pack's cylinder comes to and that which it
// needs, in the case in which the one is the least of the other: a case may have a
// stiffer spring or a load.
func (s *survey) releaseInTime(i int, f *facts.Part) {
	o := s.partOrigin(i)
	least, worst := math.Inf(1), (*run)(nil)
	for c := range s.runs {
		r := &s.runs[c]
		if r.lacks != "" {
			f.ReleaseAvailable = missing(r.lacks)
			return
		}
		came, called := r.moments.released[i]
		if !called {
			continue
		}
		share := came.value
		if needed := s.packIn(r.view, i).releaseNeeded(); needed.Known {
			share /= needed.Value
		}
		if share < least {
			least, worst = share, r
		}
	}
	if worst == nil {
		f.ReleaseAvailable = missing("a case that releases " + s.graph.Name(i))
		return
	}
	f.ReleaseAvailable = s.inCase(search{from: o}, worst, func(r *run) (moment, bool) { return r.moments.released[i], true })
	k := s.packIn(worst.view, i)
	f.ReleaseNew, f.ReleaseWorn = unlessSame(f.ReleaseNew, k.releaseNew()), unlessSame(f.ReleaseWorn, k.releaseWorn())
}

// releaseKept tells the lowest that a full release falls back to while it is called for.
func (s *survey) releaseKept(i int, f *facts.Part) {
	if !f.ReleaseNew.Known {
		f.ReleaseKept = missing(f.ReleaseNew.Missing)
		return
	}
	f.ReleaseKept = or(s.worst(search{from: s.partOrigin(i), lowest: true}, func(r *run) (moment, bool) {
		kept, freed := r.moments.kept[i]
		return kept, freed && !s.faulty(r.view)
	}), "a case in which "+s.graph.Name(i)+" is fully released")
}

// releaseNeeded is the pressure for full release, with worn plates where that is
// known.
func (k packView) releaseNeeded() facts.Fact {
	if worn := k.releaseWorn(); worn.Known {
		return worn
	}
	return k.releaseNew()
}

// unlessSame is a fact of a case, or that of the part as written where it is the same.
func unlessSame(written, inCase facts.Fact) facts.Fact {
	if written.Known && inCase.Known && written.Value == inCase.Value {
		return written
	}
	return inCase
}

// capacityInTime tells the least torque that a pack, new or worn, holds with what pressure each
// case leaves in its cylinder; where the cylinder rests at a reservoir's pressure,
// no more than with that.
func (s *survey) capacityInTime(i int, f *facts.Fact, worn bool) {
	if p := s.spec.Parts[i].(*specs.FrictionPack); worn && !p.Wear.Given() {
		return
	}
	least := s.worst(search{from: s.partOrigin(i), lowest: true}, func(r *run) (moment, bool) {
		m, clamps := r.moments.residual[i]
		if !clamps {
			return m, false
		}
		k := s.packIn(r.view, i)
		m.note = k.heldBy(m.value, worn)
		m.value, _ = k.holds(m.value, worn) // nothing is lacking in a case that was simulated
		return m, true
	})
	switch {
	case !least.Known && !f.Known:
		*f = or(least, "a case in which "+s.graph.Name(i)+" clamps")
	case least.Known && (!f.Known || least.Value < f.Value):
		for c := range s.runs {
			if k := s.packIn(s.runs[c].view, i); k.v.spec.Name == least.From.Case {
				least.From.At, least.From.Key = k.pack.Friction.At, k.key(i, k.pack.Friction.Source, "friction")
			}
		}
		*f = least
	}
}
