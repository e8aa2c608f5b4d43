package fluid

import (
	"fmt"
	"math"
)

// ViscosityIndex is the viscosity index of a petroleum product from its
// kinematic viscosities nu40 = U at 40 °C and nu100 = Y at 100 °C (m²/s).
//
//	U ≥ H:  VI = 100 (L − U)/(L − H)
//	U < H:  N = (lg H − lg U)/lg Y,  VI = (10^N − 1)/0.00715 + 100
//
// L and H are the viscosities at 40 °C of the oils of index 0 and 100 that
// have the same Y; see indexReferences.
//
// Domain: Y ≥ 2.0 mm²/s; below, the index is not defined and an error says so.
// Not rounded: the standard reports the nearest whole number, halves to even.
//
// Source: ASTM D2270-10 (ISO 2909), §5.2, eqs 3, 6, 7.
//
// Accuracy: L and H within 0.12 % of the standard's Table 1, the index within
// half a unit for indices from 0 to 200.
func ViscosityIndex(nu40, nu100 float64) (float64, error) {
	U, Y := nu40*perMM2, nu100*perMM2
	if !(Y >= indexEquations[0].from) {
		return 0, fmt.Errorf("viscosity index is not defined below %g mm2/s at 100 degC (have %g)", indexEquations[0].from, Y)
	}
	if !(U > Y) {
		return 0, fmt.Errorf("viscosity at 40 degC (%g mm2/s) must be above that at 100 degC (%g mm2/s)", U, Y)
	}
	L, H := indexReferences(Y)
	if U >= H {
		return 100 * (L - U) / (L - H), nil
	}
	N := math.Log(H/U) / math.Log(Y)
	return (math.Pow(10, N)-1)/0.00715 + 100, nil
}

// indexReferences gives L and H (mm²/s) at Y (mm²/s) by the quadratics of
// ASTM D2270-10, Appendix X2: L = a Y² + b Y + c, H = d Y² + e Y + f.
func indexReferences(Y float64) (L, H float64) {
	row := indexEquations[0]
	for _, r := range indexEquations[1:] {
		if Y >= r.from {
			row = r
		}
	}
	return (row.a*Y+row.b)*Y + row.c, (row.d*Y+row.e)*Y + row.f
}

// indexEquations is ASTM D2270-10, Table X2.1, each row from the given Y up to
// the next. Rows 1, 2 and 16 and the standard's example X2.5 (row 7) were read
// in a copy; the others are from memory. All were laid against the 311 rows
// of Table 1: none departs by more than 0.12 %.
var indexEquations = [16]struct{ from, a, b, c, d, e, f float64 }{
	{2.0, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077},
	{3.8, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183},
	{4.4, 2.5000, -7.2143, 13.812, 0.82143, 1.5679, 0.119},
	{5.0, 0.10100, 16.6350, -45.469, 0.04985, 9.1613, -18.557},
	{6.4, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656},
	{7.0, 0.01191, 21.4750, -72.870, 0.79762, -0.7321, 14.610},
	{7.7, 0.41858, 16.1558, -56.040, 0.05794, 10.5156, -28.240},
	{9.0, 0.88779, 7.5527, -16.600, 0.26665, 6.7015, -10.810},
	{12.0, 0.76720, 10.7972, -38.180, 0.20073, 8.4658, -22.490},
	{15.0, 0.97305, 5.3135, -2.200, 0.28889, 5.9741, -4.930},
	{18.0, 0.97256, 5.2500, -0.980, 0.24504, 7.4160, -16.730},
	{22.0, 0.91413, 7.4759, -21.820, 0.20323, 9.1267, -34.230},
	{28.0, 0.87031, 9.7157, -50.770, 0.18411, 10.1015, -46.750},
	{40.0, 0.84703, 12.6752, -133.310, 0.17029, 11.4866, -80.620},
	{55.0, 0.85921, 11.1009, -83.190, 0.17130, 11.3680, -76.940},
	{70.0, 0.83531, 14.6731, -216.246, 0.16841, 11.8493, -96.947},
}
