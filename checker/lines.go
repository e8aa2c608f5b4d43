package checker

import (
	"fmt"
	"math"

	"headroom/checker/network"
	"headroom/checker/resistance"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// lineFacts are the facts of all tubes and hoses. What a line's pressure with
// surge comes to is told of its part too.
func (s *survey) lineFacts(parts []*facts.Part) []*facts.Line {
	var lines []*facts.Line
	for i, part := range s.spec.Parts {
		if l := lineOf(part); l != nil {
			f := s.line(i, part, l, parts[i])
			parts[i].HighestSurge = f.StaticSurge
			lines = append(lines, f)
		}
	}
	return lines
}

func (s *survey) line(i int, part specs.Part, l *specs.Line, of *facts.Part) *facts.Line {
	common := part.Base()
	f := &facts.Line{Part: of, At: common.At, Name: of.Name, RatedPressure: of.RatedPressure}
	f.Role = s.word(string(s.graph.LineRole(i)), facts.Origin{At: common.At, Key: s.roots[i]})
	f.Flow, _ = s.flowIn(i, anyCase)
	f.Velocity = s.velocity(i)
	f.Pressure = of.HighestPressure
	f.DropWarm = s.lineDrop(i, part, f.Flow, s.warm())
	f.DropCold = s.lineDrop(i, part, s.coldFlow(i, f.Flow), s.given(s.spec.Environment.ColdStart, "environment.cold_start"))
	f.Surge = s.surge(i, part, l, f)
	f.StaticSurge = sum(f.Pressure, f.Surge)
	return f
}

// velocity is the mean velocity in a line at its highest flow.
func (s *survey) velocity(i int) facts.Fact {
	flow, _ := s.flowIn(i, anyCase)
	if !flow.Known {
		return flow
	}
	l := lineOf(s.spec.Parts[i])
	if !l.Bore.Given() {
		return missing(s.path(i, "bore"))
	}
	o := *flow.From
	o.Note = print(flow.Value, quantity.Flow) + ", " + o.Note
	return s.known(flow.Value/bore(l), o)
}

// coldFlow is the flow at cold start: that of cases which begin so, else the
// highest.
func (s *survey) coldFlow(i int, highest facts.Fact) facts.Fact {
	for c := range s.cases {
		if s.cases[c].cold {
			flow, _ := s.flowIn(i, coldCase)
			return flow
		}
	}
	return highest
}

// lineDrop is what friction and losses of a line take from a flow at a
// temperature.
func (s *survey) lineDrop(i int, part specs.Part, flow, temperature facts.Fact) facts.Fact {
	switch {
	case !temperature.Known:
		return unknown(temperature)
	case !flow.Known:
		return unknown(flow)
	}
	drop, key := s.loss(i, part, flow.Value, temperature.Value, s.air)
	if key != "" {
		return missing(key)
	}
	o := *flow.From
	o.Note = fmt.Sprintf("%s at %s", print(flow.Value, quantity.Flow), print(temperature.Value, quantity.Temperature))
	o.Basis = "Darcy–Weisbach with Churchill 1977; ASTM D341"
	return s.known(drop, o)
}

// sum adds two facts where both are known.
func sum(pressure, rise facts.Fact) facts.Fact {
	if !pressure.Known {
		return pressure
	}
	if !rise.Known {
		return rise
	}
	return facts.Fact{Value: pressure.Value + rise.Value, Known: true, From: pressure.From}
}

// surge is the pressure rise when the highest flow of a line is stopped by the
// fastest valve on its way that is joined with it past nothing that can be shut.
func (s *survey) surge(i int, part specs.Part, l *specs.Line, f *facts.Line) facts.Fact {
	switch {
	case !f.Velocity.Known:
		return unknown(f.Velocity)
	case !f.Pressure.Known:
		return unknown(f.Pressure)
	case s.oil == nil:
		return missing(s.oilKey)
	}
	_, in := s.flowIn(i, anyCase)
	closer, ok := s.fastest(i, in)
	if !ok {
		return s.known(0, facts.Origin{At: f.At, Key: s.roots[i], Note: "no valve stops its flow"})
	}
	p := f.Pressure.Value + s.air
	wave, key := s.wave(i, part, l, in.fluid, p, f.Velocity.Value)
	if key != "" {
		return missing(key)
	}
	o := facts.Origin{At: closer.at, Key: closer.key, Case: in.spec.Name, Basis: "Korteweg 1878; Joukowsky 1898; Michaud 1878"}
	o.Note = fmt.Sprintf("%s shuts in %s, the wave takes %s there and back", closer.name,
		print(closer.time, quantity.Time), print(2*l.Length.SI/wave, quantity.Time))
	if closer.time >= slowClosure*l.Length.SI/wave {
		return s.known(0, o)
	}
	rho := s.oil.Density(in.fluid, p)
	return s.known(resistance.Surge(rho, wave, f.Velocity.Value, l.Length.SI, closer.time), o)
}

// slowClosure is the closure time, in L/a, from which no surge is reckoned.
const slowClosure = 10

// A closer is what stops a line's flow, and how fast.
type closer struct {
	name string
	time float64 // s, from 90 to 10 % of the opening
	at   specs.Span
	key  string
}

// fastest is the fastest valve, or consumer, to which a line's flow goes in a
// case, among the nodes that nothing divides from the line.
func (s *survey) fastest(line int, v *caseView) (fast closer, ok bool) {
	first, _ := s.graph.Of(line)
	goes := s.flower.goesTo(first, v)
	last := -1
	for _, end := range s.graph.Ports[line] {
		section := s.graph.Nodes[end.Node].Section
		if section == last {
			continue
		}
		last = section
		for _, n := range s.graph.Sections[section].Nodes {
			if !goes(n) {
				continue
			}
			for _, port := range s.graph.Nodes[n].Ports {
				if c, shuts := s.closing(port.Part); shuts && (!ok || c.time < fast.time) {
					fast, ok = c, true
				}
			}
		}
	}
	return fast, ok
}

// closing is how fast a part can shut: a valve by its lag and the fastest ramp
// of its commands (a step where no case commands it), a consumer by the steepest
// fall of its demand.
func (s *survey) closing(part int) (closer, bool) {
	c := closer{name: s.graph.Name(part), at: s.spec.Parts[part].Base().At, key: s.roots[part]}
	switch p := s.spec.Parts[part].(type) {
	case *specs.DirectionalValve:
		c.time = resistance.ClosureTime(s.ramp(p.Name), p.Lag.SI)
	case *specs.ReducingValve:
		c.time = resistance.ClosureTime(s.ramp(p.Name), p.Lag.SI)
	case *specs.Consumer:
		fall := s.steepestFall(p.Name)
		c.time = 0.8 * fall
		return c, !math.IsInf(fall, 1)
	default:
		return closer{}, false
	}
	return c, true
}

// ramp is the shortest ramp by which a case commands a valve (s).
func (s *survey) ramp(valve string) float64 {
	shortest := math.Inf(1)
	for c := range s.spec.Cases {
		for _, command := range s.spec.Cases[c].Commands {
			if command.Valve.Value == valve {
				shortest = min(shortest, command.Over.SI)
			}
		}
	}
	if math.IsInf(shortest, 1) {
		return 0
	}
	return shortest
}

// steepestFall is the shortest time in which a case takes a consumer's demand
// back (s); +Inf where none does.
func (s *survey) steepestFall(consumer string) float64 {
	shortest := math.Inf(1)
	for c := range s.spec.Cases {
		for _, d := range s.spec.Cases[c].Demands {
			if d.Name != consumer {
				continue
			}
			for k := 1; k < len(d.Value.Points); k++ {
				from, to := d.Value.Points[k-1], d.Value.Points[k]
				if to.Y < from.Y {
					shortest = min(shortest, to.X-from.X)
				}
			}
		}
	}
	return shortest
}

// wave is the mean speed (m/s) of the pressure waves in a line that take the velocity
// dv (m/s) off its fluid, at T (K), from p (Pa absolute) on. A tube whose material is
// not given counts as rigid, which is the safe side.
func (s *survey) wave(i int, part specs.Part, l *specs.Line, T, p, dv float64) (speed float64, key string) {
	if key := lacking(keyed{l.Bore, s.path(i, "bore")}, keyed{l.Length, s.path(i, "length")}); key != "" {
		return 0, key
	}
	return resistance.MeanWaveSpeed(p, dv, network.WallCompliance(part), func(p float64) (k, rho float64) {
		return s.oil.EffectiveModulus(T, p), s.oil.Density(T, p)
	}), ""
}
