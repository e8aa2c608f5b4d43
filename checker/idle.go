package checker

import (
	"fmt"
	"math"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// This file holds what the pumps give at their slowest against what is lost
// inside them and the valves, and what they give in vain.

// idle tells how slow a pump turns where it turns at all.
func (s *survey) idle(i int, part specs.Part, f *facts.Part) {
	p, ok := part.(*specs.Pump)
	if !ok {
		return
	}
	f.MinSpeed = s.given(p.MinSpeed, s.path(i, "min_speed"))
	f.LowestSpeed = s.lowestSpeed(i)
}

// lowestSpeed is the lowest speed of a pump over the cases that drive it. A run-up
// from rest or a run-down to it passes all speeds: those count at which a profile
// stays, turns, begins or ends, but for rest itself.
func (s *survey) lowestSpeed(i int) facts.Fact {
	least, in := math.Inf(1), -1
	for c := range s.cases {
		if w := s.cases[c].slowest(s.graph.Name(i)); w < least {
			least, in = w, c
		}
	}
	if in < 0 {
		return missing("cases.*.drives." + s.graph.Name(i))
	}
	at, key := s.driveOf(&s.cases[in], i)
	return s.known(least, facts.Origin{At: at, Key: key, Case: s.cases[in].spec.Name})
}

// slowest is the lowest speed (rad/s) above rest at which a case drives a part
// for more than the passing; +Inf where it drives it at none.
func (v *caseView) slowest(name string) float64 {
	least := math.Inf(1)
	for _, d := range v.spec.Drives {
		switch {
		case d.Name != name:
		case d.Value.Switch != nil && d.Value.Switch.Speed.Given():
			least = d.Value.Switch.Speed.SI
		default:
			points := d.Value.Speed.Points
			for i, point := range points {
				if point.Y > 0 && !passing(points, i) {
					least = min(least, point.Y)
				}
			}
		}
	}
	return least
}

// passing tells whether a profile only passes one of its points, on the way up
// or down.
func passing(points []specs.Point, i int) bool {
	if i == 0 || i == len(points)-1 {
		return false
	}
	before, at, after := points[i-1].Y, points[i].Y, points[i+1].Y
	return before < at && at < after || before > at && at > after
}

// lowestDelivery is what the pumps that a case turns displace at their lowest
// speeds, without slip; unset where it turns none.
func (s *survey) lowestDelivery(v *caseView) facts.Fact {
	sum := 0.0
	var turned []int
	for _, i := range s.pumps {
		speed := v.slowest(s.graph.Name(i))
		if math.IsInf(speed, 1) {
			continue
		}
		pump, ok := v.parts[i].(*specs.Pump)
		if !ok || !pump.Displacement.Given() {
			return missing(s.path(i, "displacement"))
		}
		sum += pump.Displacement.SI * speed
		turned = append(turned, i)
	}
	if len(turned) == 0 {
		return facts.Fact{}
	}
	at, key := s.driveOf(v, turned[0])
	return s.known(sum, facts.Origin{At: at, Key: key, Case: v.spec.Name, Note: s.names(turned) + " at full displacement, slowest"})
}

// idleInTime tells what a case loses inside its pumps and valves at worst, and
// what relief valves blow off of what its pumps give.
func (s *survey) idleInTime(r *run, f *facts.Case) {
	written := facts.Origin{At: r.view.spec.At, Key: r.view.root, Case: r.view.spec.Name}
	f.LostFlow = s.inCase(search{from: written}, r, s.lostFlow)
	f.BlownShare = s.inCase(search{from: written}, r, s.blownShare)
}

// lostFlow is the most that pumps slip and that directional valves leak, each at
// its own worst instant. A pump that never turns slips nothing.
func (s *survey) lostFlow(r *run) (moment, bool) {
	slipped, leaked := 0.0, 0.0
	for i := range s.spec.Parts {
		switch s.spec.Parts[i].(type) {
		case *specs.Pump:
			if slip := r.reading(i, "slip"); slip != nil && r.view.turns(i) {
				slipped += max(0, slip.Highest.Value)
			}
		case *specs.DirectionalValve:
			if leak := r.reading(i, "leakage"); leak != nil {
				leaked += max(0, leak.Highest.Value)
			}
		}
	}
	return moment{
		value: slipped + leaked,
		note:  fmt.Sprintf("slip of pumps %s, leakage of valves %s at most", print(slipped, quantity.Flow), print(leaked, quantity.Flow)),
	}, true
}

// leastGiven is the share of what pumps could give that counts as given at least: one
// that a compensator holds back gives next to nothing, of which the few cubic
// centimetres that it blows off as it starts would be much.
const leastGiven = 0.1

// blowsOff tells whether what goes through a relief valve is lost to what the pumps
// feed: where its outlet reaches a reservoir, or a pump's own outlet is protected by it.
// One between a cylinder and the valve that commands it holds the load back.
func (s *survey) blowsOff(valve int) bool {
	r := s.reliefOf(valve)
	if r == nil || r.returns {
		return true
	}
	for _, pump := range s.pumps {
		if to, ok := s.graph.At(pump, "to"); ok && r.protects[to] {
			return true
		}
	}
	return false
}

// blownShare is the share of what the pumps give on the average that relief
// valves blow off: none of it where they give nothing.
func (s *survey) blownShare(r *run) (moment, bool) {
	given, could, blown, most := 0.0, 0.0, 0.0, 0.0
	worst := ""
	for i := range s.spec.Parts {
		switch p := s.spec.Parts[i].(type) {
		case *specs.Pump:
			if q := r.reading(i, "flow"); q != nil {
				given += max(0, q.Mean)
			}
			if n := r.reading(i, "speed"); n != nil {
				could += p.Displacement.SI * math.Abs(n.Mean)
			}
		case *specs.ReliefValve:
			q := r.reading(i, "flow")
			if q == nil || q.Mean <= 0 || !s.blowsOff(i) {
				continue
			}
			blown += q.Mean
			if drop := r.reading(i, "drop"); drop != nil && q.Mean > most {
				most = q.Mean
				worst = fmt.Sprintf("; %s turns about %s into heat", s.graph.Name(i), print(q.Mean*drop.Highest.Value, quantity.Power))
			}
		}
	}
	if given <= reachedFlow {
		return moment{note: "the pumps give nothing"}, true
	}
	note := print(min(blown, given), quantity.Flow) + " of " + print(given, quantity.Flow) + worst
	if blown > given {
		given = blown
	}
	return moment{value: blown / max(given, leastGiven*could), note: note}, true
}
