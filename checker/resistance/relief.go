package resistance

// ReliefValve is the flow (m³/s) through a relief valve at the pressure drop
// dp (Pa) between its ports, and its derivative:
//
//	Q = Q_r (Δp − cracking)/override above cracking, else 0
//
// rated = Q_r is the flow at cracking + override (all Pa and m³/s).
//
// Domain: any dp; closed below cracking and backwards. Beyond the rated flow
// the line is continued.
//
// Source: common practice: a direct-acting valve's characteristic is nearly
// straight from cracking to full flow.
//
// Accuracy: that of the rated point; between, some per cent of override.
func ReliefValve(rated, override, cracking, dp float64) (flow, perPascal float64) {
	if !(dp > cracking) {
		return 0, 0
	}
	slope := rated / override
	return slope * (dp - cracking), slope
}
