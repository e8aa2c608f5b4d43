package resistance

// FlowRegulator is the flow (m³/s) through a pressure-compensated flow
// regulator at the pressure drop dp (Pa), and its derivative:
//
//	Q = held · clamp(Δp/needs, 0, 1)
//
// held is the set flow (m³/s), needs the least drop (Pa) that holds it. A
// consumer known by its demand alone obeys the same law with needs of 1 bar.
//
// Domain: any dp, needs > 0; no flow backwards. The slope jumps at 0 and at
// needs.
//
// Source: common practice: constant flow above the least drop.
//
// Accuracy: that of the setting.
func FlowRegulator(held, needs, dp float64) (flow, perPascal float64) {
	switch {
	case !(dp > 0):
		return 0, 0
	case dp >= needs:
		return held, 0
	}
	slope := held / needs
	return slope * dp, slope
}
