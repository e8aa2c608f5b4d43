package checker

import (
	"fmt"

	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
)

// pack tells what a friction pack holds and what releases it.
func (s *survey) pack(i int, part specs.Part, f *facts.Part) {
	p, ok := part.(*specs.FrictionPack)
	if !ok {
		return
	}
	f.TorqueNeeded = s.given(p.TorqueNeeded, s.path(i, "torque_needed"))
	f.PlatesMax = s.given(p.Plates.MaxTemperature, s.path(i, "plates.max_temperature"))
	f.PlatesMaxSpeed = s.given(p.Plates.MaxSpeed, s.path(i, "plates.max_speed"))
	f.EnergyLimit = s.given(p.EnergyLimit, s.path(i, "energy_limit"))
	f.PowerLimit = s.given(p.PowerLimit, s.path(i, "power_limit"))
	f.InputSpeed = s.highestSpeed(i)
	if _, c := s.releaser(p); c == nil {
		unknown := missing(s.path(i, "released_by"))
		f.TorqueCapacity, f.TorqueWorn, f.ReleaseNew, f.ReleaseWorn = unknown, unknown, unknown, unknown
		f.FullLift, f.ReleaseStroke = unknown, unknown
		f.ByReducingValve = facts.Flag{Missing: unknown.Missing}
		return
	}
	written := s.packIn(s.asWritten(), i)
	f.ReleaseNew, f.ReleaseWorn = written.releaseNew(), written.releaseWorn()
	f.TorqueCapacity, f.TorquePerBand = s.restCapacity(i, false), s.torquePerBand(i)
	f.TorqueWorn = s.restCapacity(i, true)
	f.FullLift, f.ReleaseStroke = s.tightestLift(i)
	f.ByReducingValve = s.holds(f.TorquePerBand.Known || f.TorquePerBand.Missing != "", facts.Origin{At: p.At, Key: s.roots[i]})
}

// restCapacity is the least torque a clamped pack, new or worn, holds with what
// pressure is left in its cylinder at rest, as written and as any case has it. That is known without
// time where the cylinder rests at a reservoir's pressure: past return lines the flow
// decides.
func (s *survey) restCapacity(i int, worn bool) facts.Fact {
	least := s.capacityAtRest(s.packIn(s.asWritten(), i), worn)
	for c := range s.cases {
		if !least.Known {
			break
		}
		if f := s.capacityAtRest(s.packIn(&s.cases[c], i), worn); !f.Known || f.Value < least.Value {
			least = f
		}
	}
	return least
}

func (s *survey) capacityAtRest(k packView, worn bool) facts.Fact {
	residual := k.residual()
	if !residual.Known {
		return residual
	}
	held, lacks := k.holds(residual.Value, worn)
	if lacks != "" {
		return missing(lacks)
	}
	o := *residual.From
	o.At, o.Key, o.Case = k.pack.Friction.At, k.key(k.i, k.pack.Friction.Source, "friction"), k.v.spec.Name
	o.Note = k.heldBy(residual.Value, worn) + " (" + residual.From.Note + ")"
	return s.known(held, o)
}

// tightestLift is the lift for full release, and the stroke of the cylinder that is
// to lift so far, as written or as the case has them that leaves the least.
func (s *survey) tightestLift(i int) (lift, stroke facts.Fact) {
	lift, stroke = s.packIn(s.asWritten(), i).fullLift()
	for c := range s.cases {
		if !lift.Known || !stroke.Known {
			break
		}
		l, x := s.packIn(&s.cases[c], i).fullLift()
		if !l.Known || !x.Known || x.Value-l.Value < stroke.Value-lift.Value {
			lift, stroke = l, x
		}
	}
	return lift, stroke
}

// fullSlip is a slip (rad/s) at which the rounding of friction.Torque is past.
const fullSlip = 1e3

// residual is the highest pressure left in a cylinder that is to clamp.
func (k packView) residual() facts.Fact {
	s := k.s
	head, ok := s.graph.At(k.cylinder, "head")
	if !ok {
		return missing(s.path(k.cylinder, "head"))
	}
	if home, ok := s.restsAt(head); ok {
		rest := 0.0
		note := "at rest"
		if _, valve := s.joinedAt(head); valve != nil {
			part, _ := s.graph.Part(valve.Name)
			valve, _ = k.v.parts[part].(*specs.ReducingValve)
			if rest = valve.Rest.SI - s.air; rest > 0 {
				note = valve.Name + " at rest"
			}
		}
		pressure := s.reservoirPressure(k.v, home) - s.air
		return s.known(max(rest, pressure), facts.Origin{Node: s.graph.Nodes[head].Name, Note: note})
	}
	return simulated()
}

// restsAt is the reservoir node right behind the valve that drains a node at
// rest: no line lies between, so that no flow adds to the reservoir's pressure.
func (s *survey) restsAt(node int) (reservoir int, ok bool) {
	section := s.graph.Nodes[node].Section
	for _, part := range s.graph.Sections[section].Parts {
		switch s.spec.Parts[part].(type) {
		case *specs.ReducingValve, *specs.DirectionalValve:
		default:
			continue
		}
		t, connected := s.graph.At(part, "t")
		if connected && s.graph.Nodes[t].Reservoir && s.drainsBy(part, section) {
			return t, true
		}
	}
	return 0, false
}

// drainsBy tells whether a valve at rest lets a section out to its t.
func (s *survey) drainsBy(valve, section int) bool {
	first, last := s.graph.Of(valve)
	for k := first; k < last; k++ {
		p := &s.graph.Passages[k]
		out := p.Edge == topology.AT || p.Edge == topology.BT
		if out && s.graph.Nodes[p.From].Section == section && s.graph.OpenAtRest(k) {
			return true
		}
	}
	return false
}

// torquePerBand is the most torque left open by the band of the reducing valve that
// commands a pack, as written or as any case has both; unset where none does.
func (s *survey) torquePerBand(i int) facts.Fact {
	most := s.packIn(s.asWritten(), i).torquePerBand()
	for c := range s.cases {
		if !most.Known {
			break
		}
		if f := s.packIn(&s.cases[c], i).torquePerBand(); !f.Known || f.Value > most.Value {
			most = f
		}
	}
	return most
}

// torquePerBand is that of one case:
//
//	ΔT = μ z R A · band, at the highest friction
func (k packView) torquePerBand() facts.Fact {
	s := k.s
	head, ok := s.graph.At(k.cylinder, "head")
	if !ok {
		return facts.Fact{}
	}
	for _, part := range s.graph.Sections[s.graph.Nodes[head].Section].Parts {
		valve, ok := k.v.parts[part].(*specs.ReducingValve)
		if !ok {
			continue
		}
		a, connected := s.graph.At(part, "a")
		if !connected || s.graph.Nodes[a].Section != s.graph.Nodes[head].Section {
			continue
		}
		lever, key := k.lever(highest)
		if key == "" {
			key = lacking(keyed{k.release.Bore, s.path(k.cylinder, "bore")}, keyed{valve.Band, s.path(part, "band")})
		}
		if key != "" {
			return missing(key)
		}
		area, _ := areas(k.release)
		return s.known(lever*area*valve.Band.SI, facts.Origin{
			At: valve.Band.At, Key: k.key(part, valve.Band.Source, "band"), Case: k.v.spec.Name,
			Note: fmt.Sprintf("band of %s, friction %.3g", valve.Name, highest(k.pack.Friction)),
		})
	}
	return facts.Fact{}
}
