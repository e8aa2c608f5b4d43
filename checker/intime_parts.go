package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

func warmCase(v *caseView) bool { return !v.cold }

// fluidInPart tells how thick the fluid in a part is once warm.
func (s *survey) fluidInPart(i int, _ specs.Part, f *facts.Part) {
	var top extreme
	for _, port := range s.graph.Ports[i] {
		at := s.worst(search{from: s.partOrigin(i), warmth: true, only: warmCase}, func(r *run) (moment, bool) {
			n := r.nodes[port.Node]
			if n == nil {
				return moment{}, false
			}
			m := when(n.Viscosity.Highest)
			m.node = n.Node
			return m, true
		})
		top.add(or(at, "a case that begins warmer than cold start"))
	}
	f.ThickestViscosity = top.fact()
}

// flowInPart tells the highest flow through a part, and whether and how fast a
// motor turns.
func (s *survey) flowInPart(i int, part specs.Part, f *facts.Part) {
	var highest extreme
	for _, name := range flowNames {
		if q := s.worst(search{from: s.partOrigin(i)}, mostOf(i, name)); q.Known || q.Missing != "" {
			highest.add(q)
		}
	}
	f.HighestFlow = highest.fact()
	switch p := part.(type) {
	case *specs.Motor:
		f.HighestSpeed = s.worst(search{from: s.partOrigin(i)}, mostOf(i, "speed"))
		f.Exercised = s.turned(i, f.HighestSpeed)
	case *specs.ReducingValve:
		// One that a spring sets works wherever it is drawn from.
		if fed := s.worst(search{from: s.partOrigin(i)}, mostOf(i, "flow_pa")); !f.Exercised.Value && p.Rest.SI > s.air && fed.Known && fed.Value > reachedFlow {
			o := *fed.From
			o.Note = "it lets up to " + print(fed.Value, quantity.Flow) + " through, with no command"
			f.Exercised = s.holds(true, o)
		}
	}
}

// turned tells whether some case turns a motor, by its highest speed.
func (s *survey) turned(i int, speed facts.Fact) facts.Flag {
	if !speed.Known {
		return facts.Flag{Missing: or(speed, "cases").Missing}
	}
	o := *speed.From
	o.Note = "at up to " + print(speed.Value, quantity.RotationalSpeed)
	return s.holds(speed.Value > 1, o)
}

// filterInTime tells a filter's drop warm and cold.
func (s *survey) filterInTime(i int, part specs.Part, f *facts.Part) {
	filter, ok := part.(*specs.Filter)
	if !ok {
		return
	}
	o := s.partOrigin(i)
	f.FilterDrop = or(s.worst(search{from: o, only: warmCase}, mostOf(i, "drop")), "a case that begins warmer than cold start")
	f.FilterDropCold = or(s.worst(search{from: o, only: coldCase}, mostOf(i, "drop")), "a case that begins at cold start")
	if !f.CollapseDrop.Known && f.CollapseDrop.Missing == facts.Simulation && filter.Bypass.Given() {
		f.CollapseDrop = s.bypassDropAt(i, filter, f.HighestFlow)
	}
}

// bypassDropAt is the drop of the open bypass with the highest flow of any case.
func (s *survey) bypassDropAt(i int, filter *specs.Filter, flow facts.Fact) facts.Fact {
	if !flow.Known {
		return unknown(or(flow, "cases"))
	}
	for c := range s.cases {
		if in := &s.cases[c]; in.spec.Name == flow.From.Case {
			return s.openBypass(i, filter, flow.Value, in, *flow.From)
		}
	}
	return missing("cases")
}

// pumpInTime tells what a pump draws and takes.
func (s *survey) pumpInTime(i int, part specs.Part, f *facts.Part) {
	if _, ok := part.(*specs.Pump); !ok {
		return
	}
	o := s.partOrigin(i)
	f.InletLowest = s.worst(search{from: o, lowest: true}, lowestOf(i, "inlet_pressure_absolute"))
	f.HighestPower = s.worst(search{from: o}, highestOf(i, "power"))
	f.SuctionVelocity = s.suctionVelocityInTime(i, f.SuctionVelocity)
}

// suctionVelocityInTime is the highest velocity in the lines to a pump's inlet;
// a pump that draws straight from a reservoir keeps what is known of it.
func (s *survey) suctionVelocityInTime(i int, known facts.Fact) facts.Fact {
	inlet, ok := s.graph.At(i, "from")
	if !ok || s.graph.Nodes[inlet].Reservoir {
		return known
	}
	var top extreme
	for _, part := range s.graph.Sections[s.graph.Nodes[inlet].Section].Parts {
		if lineOf(s.spec.Parts[part]) == nil {
			continue
		}
		v := s.worst(search{from: s.partOrigin(part)}, highestOf(part, "velocity"))
		top.add(reckoned(or(v, "cases"), rising, func(v facts.Fact) facts.Fact {
			v.From.Note = "in " + s.graph.Name(part)
			return v
		}))
	}
	if f := top.fact(); f.Known || f.Missing != "" {
		return f
	}
	return known
}
