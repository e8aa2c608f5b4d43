package resistance

// ShuttleFlow is the flow from each inlet of a shuttle valve to its outlet
// (m³/s), and the derivatives of both along the three pressures.
type ShuttleFlow struct {
	A, APerA, APerB, APerTo float64
	B, BPerA, BPerB, BPerTo float64
}

// ShuttleValve is the flow through a shuttle valve, whose higher inlet feeds
// the outlet and whose lower inlet is shut:
//
//	Q_a = o · square law in p_a − p_to,  Q_b = (1 − o) · square law in p_b − p_to
//
// the opening o rising from 0 to 1 over 1 bar, half at p_a = p_b. Pressures in
// Pa on one datum, k of RatedCoefficient.
//
// Domain: any pressures. Flow back from the outlet leaves by the higher inlet.
//
// Source: SquareLaw; the rounding is ours.
//
// Accuracy: that of the rating; within half a bar of equal inlets both are
// partly open.
func ShuttleValve(k, a, b, to float64) ShuttleFlow {
	open, widening := roundedStep((a-b)/openingRange + 0.5)
	widening /= openingRange
	fullA, slopeA := SquareLaw(k, a-to)
	fullB, slopeB := SquareLaw(k, b-to)
	shut := 1 - open
	return ShuttleFlow{
		A:      open * fullA,
		APerA:  open*slopeA + widening*fullA,
		APerB:  -widening * fullA,
		APerTo: -open * slopeA,
		B:      shut * fullB,
		BPerA:  -widening * fullB,
		BPerB:  shut*slopeB + widening*fullB,
		BPerTo: -shut * slopeB,
	}
}
