package resistance

// CheckValve is the flow (m³/s) through a check valve at the pressure drop dp
// (Pa, from less to), and its derivative:
//
//	Q = square law in (Δp − cracking) above cracking, else 0
//
// k is of RatedCoefficient with the drop counted above cracking (Pa).
//
// Domain: any dp; closed below cracking and backwards. The slope jumps at
// cracking.
//
// Source: SquareLaw; a poppet held shut by its spring.
//
// Accuracy: that of the rating.
func CheckValve(k, cracking, dp float64) (flow, perPascal float64) {
	if !(dp > cracking) {
		return 0, 0
	}
	return SquareLaw(k, dp-cracking)
}
