package checker

import (
	"fmt"

	"headroom/checker/friction"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
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
	cylinder, c := s.releaser(p)
	if c == nil {
		unknown := missing(s.path(i, "released_by"))
		f.TorqueCapacity, f.ReleaseNew, f.ReleaseWorn = unknown, unknown, unknown
		f.ByReducingValve = facts.Flag{Missing: unknown.Missing}
		return
	}
	f.TorqueCapacity = s.torqueCapacity(i, p, cylinder, c)
	f.ReleaseNew = s.releaseNew(i, p, cylinder, c)
	f.ReleaseWorn = s.releaseWorn(i, p, cylinder, c)
	f.TorquePerBand = s.torquePerBand(i, p, cylinder, c)
	f.ByReducingValve = s.holds(f.TorquePerBand.Known || f.TorquePerBand.Missing != "", facts.Origin{At: p.At, Key: s.roots[i]})
}

// releaseNew is the pressure for full release with new plates.
func (s *survey) releaseNew(i int, p *specs.FrictionPack, cylinder int, c *specs.Cylinder) facts.Fact {
	if !p.Clearance.Given() {
		return missing(s.path(i, "clearance"))
	}
	return s.releasePressure(i, p, cylinder, c, p.Clearance.SI)
}

// releaseWorn is the pressure for full release with plates worn to the service
// limit: the cylinder then lifts by the wear as well, from where its spring has
// its preload.
func (s *survey) releaseWorn(i int, p *specs.FrictionPack, cylinder int, c *specs.Cylinder) facts.Fact {
	if !p.Clearance.Given() {
		return missing(s.path(i, "clearance"))
	}
	if !p.Wear.Given() {
		return missing(s.path(i, "wear"))
	}
	return s.releasePressure(i, p, cylinder, c, p.Clearance.SI+p.Wear.SI)
}

// releasePressure is the pressure that lifts a pack's cylinder until every face
// has the clearance (m), against spring, load and dry friction:
//
//	p = (F_0 + c (take-up + faces · clearance) + load + friction)/A
func (s *survey) releasePressure(i int, p *specs.FrictionPack, cylinder int, c *specs.Cylinder, clearance float64) facts.Fact {
	if key := s.packLacks(i, p, cylinder, c); key != "" {
		return missing(key)
	}
	head, _ := areas(c)
	lift := friction.FullLift(p.TakeUp.SI, p.Faces.Value, clearance)
	against := c.Load.SI + c.Friction.Coulomb.SI
	return s.known(friction.ReleasePressure(c.Spring.Preload.SI+against, c.Spring.Rate.SI, lift, head), facts.Origin{
		At: p.At, Key: s.roots[i],
		Note: fmt.Sprintf("%s of lift against the spring of %s", print(lift, quantity.Length), c.Name),
	})
}

// packLacks is the key of a value without which neither clamp nor release can be
// worked out; "" for none.
func (s *survey) packLacks(i int, p *specs.FrictionPack, cylinder int, c *specs.Cylinder) string {
	if c.Spring == nil {
		return s.path(cylinder, "spring")
	}
	if !p.Faces.Given() {
		return s.path(i, "faces")
	}
	return lacking(
		keyed{p.TakeUp, s.path(i, "take_up")},
		keyed{c.Bore, s.path(cylinder, "bore")},
		keyed{c.Spring.Preload, s.path(cylinder, "spring.preload")},
		keyed{c.Spring.Rate, s.path(cylinder, "spring.rate")},
	)
}

// torqueCapacity is the least torque a clamped pack holds: at the lowest
// friction of its table, with what pressure is left in its cylinder. That is
// known without time where the cylinder rests at a reservoir's pressure: past
// return lines the flow decides.
func (s *survey) torqueCapacity(i int, p *specs.FrictionPack, cylinder int, c *specs.Cylinder) facts.Fact {
	residual := s.residual(cylinder)
	if !residual.Known {
		return residual
	}
	lever, key := s.lever(i, p, lowest)
	if key == "" {
		key = s.packLacks(i, p, cylinder, c)
	}
	if key != "" {
		return missing(key)
	}
	head, _ := areas(c)
	clamp, _, _ := friction.Clamp(c.Spring.Preload.SI, residual.Value, head, 0, p.TakeUp.SI)
	o := *residual.From
	o.At, o.Key = p.Friction.At, s.path(i, "friction")
	o.Note = fmt.Sprintf("friction %.3g, %s left in %s (%s)", lowest(p.Friction), print(residual.Value, quantity.Pressure), c.Name, residual.From.Note)
	return s.known(lever*clamp, o)
}

// lever is torque per clamp force of a pack (m), μ z R, with the friction taken
// from its table; or the key of what is lacking.
func (s *survey) lever(i int, p *specs.FrictionPack, pick func(specs.Table) float64) (lever float64, key string) {
	switch {
	case !p.Friction.Given():
		return 0, s.path(i, "friction")
	case !p.Faces.Given():
		return 0, s.path(i, "faces")
	}
	at := under(s.roots[i])
	if key := lacking(at(p.InnerRadius, "inner_radius"), at(p.OuterRadius, "outer_radius")); key != "" {
		return 0, key
	}
	contact := friction.UniformWear
	if p.Contact.Value == "uniform-pressure" {
		contact = friction.UniformPressure
	}
	lever, _, _ = friction.Torque(pick(p.Friction), p.Faces.Value, friction.Radius(contact, p.InnerRadius.SI, p.OuterRadius.SI), 1, 0, fullSlip)
	return lever, ""
}

// fullSlip is a slip (rad/s) at which the rounding of friction.Torque is past.
const fullSlip = 1e3

// residual is the highest pressure left in a cylinder that is to clamp.
func (s *survey) residual(cylinder int) facts.Fact {
	head, ok := s.graph.At(cylinder, "head")
	if !ok {
		return missing(s.path(cylinder, "head"))
	}
	if home, ok := s.restsAt(head); ok {
		rest := 0.0
		note := "at rest"
		if at, valve := s.joinedAt(head); valve != nil && at == heldAt {
			rest, note = valve.Rest.SI-s.air, valve.Name+" at rest"
		}
		pressure := s.reservoirPressure(&caseView{parts: s.spec.Parts}, home) - s.air
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

// torquePerBand is the torque left open by the band of the reducing valve that
// commands a pack:
//
//	ΔT = μ z R A · band, at the highest friction
func (s *survey) torquePerBand(i int, p *specs.FrictionPack, cylinder int, c *specs.Cylinder) facts.Fact {
	head, ok := s.graph.At(cylinder, "head")
	if !ok {
		return facts.Fact{}
	}
	for _, part := range s.graph.Sections[s.graph.Nodes[head].Section].Parts {
		valve, ok := s.spec.Parts[part].(*specs.ReducingValve)
		if !ok {
			continue
		}
		a, connected := s.graph.At(part, "a")
		if !connected || s.graph.Nodes[a].Section != s.graph.Nodes[head].Section {
			continue
		}
		lever, key := s.lever(i, p, highest)
		if key == "" {
			key = lacking(keyed{c.Bore, s.path(cylinder, "bore")}, keyed{valve.Band, s.path(part, "band")})
		}
		if key != "" {
			return missing(key)
		}
		area, _ := areas(c)
		return s.known(lever*area*valve.Band.SI, facts.Origin{
			At: valve.Band.At, Key: s.path(part, "band"),
			Note: fmt.Sprintf("band of %s, friction %.3g", valve.Name, highest(p.Friction)),
		})
	}
	return facts.Fact{}
}
