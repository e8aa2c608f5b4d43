package strength

// BarlowOutside is the pressure (Pa) a tube holds at the stress s (Pa) by
// Barlow's formula on the outer diameter, with k = D_o/D_i:
//
//	p = 2 s t/D_o = s (1 − 1/k)
//
// Domain: k ≥ 1. Source: Barlow; e.g. pipeline codes. Accuracy: below the
// elastic stress of thick walls, safe for any wall.
func BarlowOutside(s, k float64) float64 {
	return s * (1 - 1/k)
}

// BarlowInside is the same on the inner diameter:
//
//	p = 2 s t/D_i = s (k − 1)
//
// Domain: thin walls, k to 1.1; thicker walls hold less than it says. Source:
// balance of a thin ring. Accuracy: high by about (k − 1)/2.
func BarlowInside(s, k float64) float64 {
	return s * (k - 1)
}
