package checker

import (
	"math"

	"headroom/checker/resistance"
	"headroom/specs"
)

// loss is the pressure (Pa) that a flow (m³/s) costs in a part that always lets
// it pass, with the fluid at T (K) and p (Pa absolute): without what height
// adds. The key of a value that is lacking is told instead.
func (s *survey) loss(i int, part specs.Part, flow, T, p float64) (drop float64, lacks string) {
	if flow == 0 {
		return 0, ""
	}
	if s.oil == nil {
		return 0, s.oilKey
	}
	at := under(s.roots[i])
	rho := s.oil.Density(T, p)
	switch r := part.(type) {
	case *specs.Tube:
		return s.lineLoss(&r.Line, at, flow, T, p)
	case *specs.Hose:
		return s.lineLoss(&r.Line, at, flow, T, p)
	case *specs.Orifice:
		lacks = lacking(at(r.Diameter, "diameter"), at(r.Discharge, "discharge"))
		k := resistance.OrificeCoefficient(r.Discharge.SI, resistance.CircleArea(r.Diameter.SI), rho)
		return squareDrop(k, flow), lacks
	case *specs.Cooler:
		lacks = lacking(at(r.Flow, "flow"), at(r.Drop, "drop"))
		return squareDrop(resistance.RatedCoefficient(r.Flow.SI, r.Drop.SI, rho), flow), lacks
	case *specs.CheckValve:
		return crackingLoss(at, r.Cracking, r.Flow, r.Drop, flow, rho)
	case *specs.PilotCheckValve:
		return crackingLoss(at, r.Cracking, r.Flow, r.Drop, flow, rho)
	case *specs.Filter:
		return s.filterLoss(r, at, flow, s.oil.DynamicViscosity(T, p)/rho, rho)
	}
	return math.NaN(), ""
}

func (s *survey) lineLoss(l *specs.Line, at func(specs.Quantity, string) keyed, flow, T, p float64) (drop float64, lacks string) {
	if lacks := lacking(at(l.Bore, "bore"), at(l.Length, "length"), at(l.Roughness, "roughness"), at(l.Losses, "losses")); lacks != "" {
		return 0, lacks
	}
	tube := tubeOf(l)
	tube.Elevation = 0
	return tube.Drop(flow, s.oil.Density(T, p), s.oil.DynamicViscosity(T, p)).Drop, ""
}

// tubeOf is a line for the law of tubes.
func tubeOf(l *specs.Line) resistance.Tube {
	return resistance.Tube{Bore: l.Bore.SI, Length: l.Length.SI, Roughness: l.Roughness.SI, Losses: l.Losses.SI, Elevation: l.Elevation.SI}
}

func crackingLoss(at func(specs.Quantity, string) keyed, cracking, rated, drop specs.Quantity, flow, rho float64) (float64, string) {
	lacks := lacking(at(cracking, "cracking"), at(rated, "flow"), at(drop, "drop"))
	return cracking.SI + squareDrop(resistance.RatedCoefficient(rated.SI, drop.SI, rho), flow), lacks
}

// filterLoss is the most that a filter holds back: what its element takes, or
// where it has a bypass what that takes with the whole flow in it.
func (s *survey) filterLoss(f *specs.Filter, at func(specs.Quantity, string) keyed, flow, nu, rho float64) (drop float64, lacks string) {
	if lacks := lacking(at(f.Flow, "flow"), at(f.Drop, "drop"), at(f.RatedAt, "viscosity")); lacks != "" {
		return 0, lacks
	}
	drop = flow / resistance.FilterConductance(f.Flow.SI, f.Drop.SI, f.RatedAt.SI, nu)
	if f.Bypass.Given() {
		drop = min(drop, bypassLoss(f, flow, rho))
	}
	return drop, ""
}

// bypassLoss is what the open bypass of a filter takes from a flow: as
// resistance.FilterBypass has it at the density of ratings, scaled to that of the
// fluid like every rated point.
func bypassLoss(f *specs.Filter, flow, rho float64) float64 {
	return f.Bypass.SI + squareDrop(resistance.RatedCoefficient(f.Flow.SI, f.Drop.SI, rho), flow)
}

// squareDrop is resistance.SquareLaw solved for the drop: with q = Q/k,
//
//	Δp² = q² (q² + √(q⁴ + 4 Δ²))/2
func squareDrop(k, flow float64) float64 {
	q2 := flow / k * flow / k
	const r2 = resistance.Rounding * resistance.Rounding
	return math.Sqrt(q2 * (q2 + math.Sqrt(q2*q2+4*r2)) / 2)
}
