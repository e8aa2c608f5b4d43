package checker

import (
	"fmt"
	"math"
	"strings"

	"headroom/checker/fluid"
	"headroom/checker/resistance"
	"headroom/checker/topology"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// This file draws up the budget of a reservoir. It was filled (`fill`, at 15 °C)
// with the rest of the circuit full, cylinders retracted, and accumulators at
// the charge that cases begin with, the highest of them; empty where no case
// begins charged. From there
//
//	lowest  = fill and the rest at cold start − the rest − service loss
//	          − strokes − what accumulators take beyond their charge
//	highest = fill and the rest at the hottest − the rest + what accumulators give back
//
// The rest is what lines, nodes, chambers and accumulators hold.

// reservoir tells what a reservoir holds at least and at most.
func (s *survey) reservoir(i int, part specs.Part, f *facts.Part) {
	r, ok := part.(*specs.Reservoir)
	if !ok {
		return
	}
	f.Volume = s.given(r.Volume, s.path(i, "volume"))
	f.MinFill = s.given(r.MinFill, s.path(i, "min_fill"))
	f.LowestFill = s.lowestFill(i, r)
	f.HighestFill = s.highestFill(i, r)
	f.UncoversShare = s.uncovers(i, r)
	f.SlopeShare = s.slopeShare(i, r)
	s.burstHose(i, r, f)
}

// lowestFill is the fluid left at cold start, service loss taken, all cylinders
// out, all accumulators full.
func (s *survey) lowestFill(i int, r *specs.Reservoir) facts.Fact {
	start := s.given(s.spec.Environment.ColdStart, "environment.cold_start")
	if !start.Known {
		return start
	}
	switch {
	case !r.Fill.Given():
		return missing(s.path(i, "fill"))
	case !r.ServiceLoss.Given():
		return missing(s.path(i, "service_loss"))
	}
	b := s.budget()
	if b.lacks != "" {
		return missing(b.lacks)
	}
	shrunk := s.grows(start.Value) * (r.Fill.SI + b.rest + b.charged)
	left := r.Fill.SI + shrunk - r.ServiceLoss.SI - b.strokes - (b.full - b.charged)
	return s.known(left, facts.Origin{
		At: r.Fill.At, Key: s.path(i, "fill"),
		Note: fmt.Sprintf("filled with %s and %s elsewhere; %s at %s, service loss %s, strokes %s, accumulators %s",
			litres(r.Fill.SI), litres(b.rest+b.charged), litres(shrunk), print(start.Value, quantity.Temperature),
			litres(-r.ServiceLoss.SI), litres(-b.strokes), litres(b.charged-b.full)),
		Basis: "ASTM D1250; nitrogen by Span and Wagner 2003",
	})
}

// highestFill is the fluid when all is hot and returned.
func (s *survey) highestFill(i int, r *specs.Reservoir) facts.Fact {
	if !r.Fill.Given() {
		return missing(s.path(i, "fill"))
	}
	hot, of := s.hotLimit(specs.Quantity{})
	if math.IsNaN(hot) {
		return missing(of)
	}
	if w := s.warmest(s.reservoirNodes()); w.Known && w.Value > hot {
		hot, of = w.Value, "the hottest it gets, in "+w.From.Case
	}
	b := s.budget()
	if b.lacks != "" {
		return missing(b.lacks)
	}
	grown := s.grows(hot) * (r.Fill.SI + b.rest + b.charged)
	return s.known(r.Fill.SI+grown+b.charged, facts.Origin{
		At: r.Fill.At, Key: s.path(i, "fill"),
		Note: fmt.Sprintf("filled with %s and %s elsewhere; %s at %s (%s), accumulators %s",
			litres(r.Fill.SI), litres(b.rest+b.charged), litres(grown), print(hot, quantity.Temperature), of, litres(b.charged)),
		Basis: "ASTM D1250; nitrogen by Span and Wagner 2003",
	})
}

// litres is a volume in words, with its sign where it is lost.
func litres(v float64) string { return print(v, quantity.Volume) }

// grows is the share by which fluid filled in at 15 °C has grown at T (K):
//
//	ρ15/ρ(T) − 1
func (s *survey) grows(T float64) float64 {
	f := &s.spec.Fluid
	at15 := fluid.Density(1, f.Expansion.SI, math.Inf(1), fluid.ReferenceTemperature, fluid.ReferencePressure)
	return at15/fluid.Density(1, f.Expansion.SI, math.Inf(1), T, fluid.ReferencePressure) - 1
}

// A budget is what the circuit holds besides its reservoir, and what moves
// between the two (m³).
type budget struct {
	rest    float64 // nodes, lines, chambers
	strokes float64 // taken by all cylinders on their way out
	charged float64 // in accumulators at the charge they were filled with
	full    float64 // in accumulators at their highest pressure
	lacks   string  // key path of a value without which it cannot be drawn up
}

// budget adds up the circuit. With more than one reservoir it cannot tell which
// of them gives.
func (s *survey) budget() budget {
	b := budget{rest: s.lineVolume()}
	reservoirs := 0
	for i, p := range s.spec.Parts {
		switch part := p.(type) {
		case *specs.Reservoir:
			reservoirs++
		case *specs.Cylinder:
			b.strokes += stroked(part)
		case *specs.Accumulator:
			s.addStore(&b, i, part)
		}
		if key := s.unmeasured(i, p); key != "" && b.lacks == "" {
			b.lacks = key
		}
	}
	if !s.spec.Fluid.Expansion.Given() {
		b.lacks = "fluid.expansion"
	}
	if reservoirs > 1 {
		b.lacks = facts.Simulation
	}
	return b
}

// unmeasured is the key of a dimension without which a part's fluid is not known.
func (s *survey) unmeasured(i int, p specs.Part) string {
	at := under(s.roots[i])
	if l := lineOf(p); l != nil {
		return lacking(at(l.Bore, "bore"), at(l.Length, "length"))
	}
	if c, ok := p.(*specs.Cylinder); ok {
		if c.Rod.Given() {
			return lacking(at(c.Bore, "bore"), at(c.Stroke, "stroke"), at(c.RodDiameter, "rod_diameter"))
		}
		return lacking(at(c.Bore, "bore"), at(c.Stroke, "stroke"))
	}
	return ""
}

// addStore adds an accumulator: charged with its gas at ambient, full with it at
// cold start, where it holds most.
func (s *survey) addStore(b *budget, i int, a *specs.Accumulator) {
	ambient, start := s.spec.Environment.Ambient, s.spec.Environment.ColdStart
	at, connected := s.graph.At(i, "at")
	if !connected || !ambient.Given() {
		b.lacks = s.path(i, "at")
		return
	}
	cold := ambient.SI
	if start.Given() {
		cold = start.SI
	}
	if charge, ok := s.highestCharge(); ok {
		b.charged += s.stored(a, charge.SI, ambient.SI)
	}
	top := s.sees.pressure[at]
	if !top.Known {
		b.lacks = top.Missing
		return
	}
	b.full += s.stored(a, top.Value+s.air, cold)
	if math.IsNaN(b.charged + b.full) {
		b.lacks = s.path(i, "precharge.pressure")
	}
}

// uncovers is the highest acceleration of any case as a share of that at which
// the pickup uncovers. Along several axes at once the free surface tilts by
// their sum, so that shares add as squares.
func (s *survey) uncovers(i int, r *specs.Reservoir) facts.Fact {
	var top facts.Fact
	for c := range s.cases {
		v := &s.cases[c]
		if v.spec.Acceleration == nil {
			continue
		}
		f := s.uncoversIn(i, v)
		if !f.Known {
			return f
		}
		if !top.Known || f.Value > top.Value {
			top = f
		}
	}
	if !top.Known {
		return missing("cases.*.acceleration")
	}
	return top
}

func (s *survey) uncoversIn(i int, v *caseView) facts.Fact {
	a, limit := v.spec.Acceleration, &v.parts[i].(*specs.Reservoir).Uncovers
	axes := [...]struct {
		key       string
		is, holds specs.Quantity
	}{{"x", a.X, limit.X}, {"y", a.Y, limit.Y}, {"z", a.Z, limit.Z}}
	sum := 0.0
	var pieces []string
	for _, axis := range axes {
		if !axis.is.Given() || axis.is.SI == 0 {
			continue
		}
		if !axis.holds.Given() {
			return missing(s.path(i, "uncovers."+axis.key))
		}
		share := axis.is.SI / axis.holds.SI
		sum += share * share
		pieces = append(pieces, fmt.Sprintf("%s of %s along %s", print(axis.is.SI, quantity.Acceleration), print(axis.holds.SI, quantity.Acceleration), axis.key))
	}
	return s.known(math.Sqrt(sum), facts.Origin{At: a.At, Key: v.root + ".acceleration", Case: v.spec.Name, Note: strings.Join(pieces, ", ")})
}

// slopeShare is the steepest slope as a share of that at which the pickup
// uncovers. On a slope the surface stands to the reservoir as under an
// acceleration a with tan θ = a/g, whichever way the slope runs:
//
//	tan θ g / min(a_x, a_y)
func (s *survey) slopeShare(i int, r *specs.Reservoir) facts.Fact {
	slope := s.given(s.spec.Environment.Slope, "environment.slope")
	if !slope.Known {
		return slope
	}
	at := under(s.path(i, "uncovers"))
	if key := lacking(at(r.Uncovers.X, "x"), at(r.Uncovers.Y, "y")); key != "" {
		return missing(key)
	}
	axis, holds := "x", r.Uncovers.X
	if r.Uncovers.Y.SI < holds.SI {
		axis, holds = "y", r.Uncovers.Y
	}
	o := *slope.From
	o.Note = fmt.Sprintf("it pulls at the fluid like %s along %s", print(slope.Value*resistance.Gravity, quantity.Acceleration), axis)
	return s.known(slope.Value*resistance.Gravity/holds.SI, o)
}

// burstHose tells how long the pumps draw on after a hose has burst, until the
// pickup uncovers: what they give is lost, from when the service loss is due.
func (s *survey) burstHose(i int, r *specs.Reservoir, f *facts.Part) {
	pumps := s.drawing(i)
	hose := s.hosePastPumps()
	o := facts.Origin{At: r.At, Key: s.roots[i], Note: hose}
	f.FeedsHoses = s.holds(len(pumps) > 0 && hose != "", o)
	if !f.FeedsHoses.Value {
		return
	}
	at := under(s.roots[i])
	if key := lacking(at(r.Fill, "fill"), at(r.MinFill, "min_fill"), at(r.ServiceLoss, "service_loss")); key != "" {
		f.BurstTime = missing(key)
		return
	}
	most, in := 0.0, (*caseView)(nil)
	for c := range s.cases {
		v, flow := &s.cases[c], 0.0
		for _, pump := range pumps {
			flow += v.delivers(pump)
		}
		switch {
		case math.IsNaN(flow):
			f.BurstTime = missing(s.unknownDelivery(v))
			return
		case flow > most:
			most, in = flow, v
		}
	}
	if in == nil {
		f.BurstTime = missing("cases.*.drives")
		return
	}
	above := max(0, r.Fill.SI-r.ServiceLoss.SI-r.MinFill.SI)
	o.At, o.Key, o.Case = r.MinFill.At, s.path(i, "min_fill"), in.spec.Name
	o.Note = fmt.Sprintf("%s above the pickup, %s lost", litres(above), print(most, quantity.Flow))
	f.BurstTime = s.known(above/most, o)
}

// hosePastPumps is the first hose that does not stand before a pump.
func (s *survey) hosePastPumps() string {
	for i, part := range s.spec.Parts {
		if _, ok := part.(*specs.Hose); ok && s.graph.LineRole(i) != topology.Suction {
			return s.graph.Name(i)
		}
	}
	return ""
}
