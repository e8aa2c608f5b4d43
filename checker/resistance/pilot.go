package resistance

// PilotFlow is the flow through a pilot-operated check valve (m³/s), positive
// from from to to, and its derivatives along the three pressures.
type PilotFlow struct {
	Flow, PerFrom, PerTo, PerPilot float64
}

// PilotCheckValve is the flow through a check valve that a pilot pressure
// opens backwards:
//
//	forwards:  CheckValve in p_from − p_to
//	backwards: o · square law in p_to − p_from, opening o rising from 0 to 1
//	           over 1 bar as p_pilot − p_from passes
//	           (p_to − p_from + cracking)/ratio
//
// ratio is pilot area over seat area, k of RatedCoefficient, cracking and the
// pressures in Pa on one datum.
//
// Domain: any pressures, ratio > 0. Forwards the pilot changes nothing.
//
// Source: balance of forces on poppet and pilot piston; the rounding is ours.
//
// Accuracy: opening pressure that of ratio and cracking; friction left out.
func PilotCheckValve(k, cracking, ratio, from, to, pilot float64) PilotFlow {
	back := to - from
	if back <= 0 {
		flow, slope := CheckValve(k, cracking, -back)
		return PilotFlow{Flow: flow, PerFrom: slope, PerTo: -slope}
	}
	opening, widening := roundedStep((pilot - from - (back+cracking)/ratio) / openingRange)
	if opening == 0 {
		return PilotFlow{}
	}
	widening /= openingRange
	full, slope := SquareLaw(k, back)
	return PilotFlow{
		Flow:     -opening * full,
		PerFrom:  opening*slope - full*widening*(1/ratio-1),
		PerTo:    -opening*slope + full*widening/ratio,
		PerPilot: -full * widening,
	}
}
