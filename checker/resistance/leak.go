package resistance

// LeakConductance is the leakage per pressure difference (m³/s/Pa) of a part
// that leaks flow (m³/s) at the given pressure difference (Pa):
//
//	G = Q/Δp
//
// whatever the viscosity: the figure is taken as it stands. Leakage is G Δp,
// both directions alike.
//
// Domain: pressure > 0.
//
// Source: laminar flow in narrow gaps.
//
// Accuracy: that of the figure at its viscosity; cold oil leaks less.
func LeakConductance(flow, pressure float64) float64 {
	return flow / pressure
}
