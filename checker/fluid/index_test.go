package fluid

import (
	"math"
	"testing"
)

// ASTM D2270-10: the worked examples of §5.2 and of appendix X2, and rows of
// table 1, where the index is 0 and 100 by definition.
func TestViscosityIndexPublished(t *testing.T) {
	for _, row := range []struct {
		U, Y float64
		want float64 // as reported: whole, halves to even
		from string
	}{
		{73.30, 8.86, 92, "D2270 §5.2.3.1"},
		{22.83, 5.05, 156, "D2270 §5.2.4.1"},
		{53.47, 7.80, 111, "D2270 §5.2.4.2"},
		{73.50, 8.86, 92, "D2270 X2.5"},
		{100.0, 8.00, 0, "D2270 table 1, L at Y = 8"},
		{59.60, 8.00, 100, "D2270 table 1, H at Y = 8"},
		{1000, 100, 193, "computed from D2270 table X2.1, last row"},
		{13.2, 4.9, 366, "computed from D2270 table 1 (L 38.5, H 27.53)"},
	} {
		got, err := ViscosityIndex(row.U*1e-6, row.Y*1e-6)
		if err != nil {
			t.Errorf("%s: %v", row.from, err)
		}
		if math.RoundToEven(got) != row.want {
			t.Errorf("%s: VI(%g, %g) = %.3f, reported %g", row.from, row.U, row.Y, got, row.want)
		}
	}
}

// Unrounded values by D2270 table 1 with linear interpolation, computed
// independently; the equations of appendix X2 follow within 0.05.
func TestViscosityIndexUnrounded(t *testing.T) {
	for _, row := range []struct{ U, Y, want, tolerance float64 }{
		{73.30, 8.86, 92.43, 0.04},
		{22.83, 5.05, 156.42, 0.05}, // H 28.975 in the standard
		{73.5, 8.86, 92.0333, 0.04},
		{1000, 100, 192.9975, 0.01},
		{13.2, 4.9, 365.85, 0.3}, // far above 200 a per mille of H is 0.3
	} {
		got, err := ViscosityIndex(row.U*1e-6, row.Y*1e-6)
		if err != nil || math.Abs(got-row.want) > row.tolerance {
			t.Errorf("VI(%g, %g) = %.4f, %v; want %g ± %g", row.U, row.Y, got, err, row.want, row.tolerance)
		}
	}
}

// Viscosity at 100 °C of ISO 3448 grades at three indices, computed
// independently from D2270 table 1.
func TestViscosityIndexOfGrades(t *testing.T) {
	for _, g := range []struct{ nu40, vi95, vi100, vi150 float64 }{
		{22, 4.2536, 4.2940, 4.8590},
		{32, 5.2895, 5.3619, 6.2693},
		{46, 6.6450, 6.7604, 8.0983},
		{68, 8.5304, 8.7313, 10.853},
		{100, 11.066, 11.384, 14.516},
	} {
		for want, nu100 := range map[float64]float64{95: g.vi95, 100: g.vi100, 150: g.vi150} {
			got, err := ViscosityIndex(g.nu40*1e-6, nu100*1e-6)
			if err != nil || math.Abs(got-want) > 0.25 {
				t.Errorf("VI(%g, %g) = %.3f, %v; want %g", g.nu40, nu100, got, err, want)
			}
		}
	}
}

// The two procedures meet at 100: N = 0 where U = H.
func TestViscosityIndexProceduresMeet(t *testing.T) {
	for _, Y := range []float64{2, 3, 5, 9, 20, 60, 90} {
		_, H := indexReferences(Y)
		above, _ := ViscosityIndex(H*(1+1e-9)*1e-6, Y*1e-6)
		below, _ := ViscosityIndex(H*(1-1e-9)*1e-6, Y*1e-6)
		near(t, "VI just above H", above, 100, 1e-6)
		near(t, "VI just below H", below, 100, 1e-6)
	}
}

func TestViscosityIndexUndefined(t *testing.T) {
	for _, pair := range [][2]float64{{10, 1.99}, {5, 5}, {5, 6}, {10, math.NaN()}, {math.NaN(), 5}} {
		if vi, err := ViscosityIndex(pair[0]*1e-6, pair[1]*1e-6); err == nil {
			t.Errorf("VI(%g, %g) = %g, want an error", pair[0], pair[1], vi)
		}
	}
	if _, err := ViscosityIndex(7e-6, 2.0000001e-6); err != nil {
		t.Error(err)
	}
}

// L and H of table X2.1 in the middle of each row and just above its beginning,
// computed independently; the row at 8.86 is the standard's own example X2.5.
func TestIndexEquations(t *testing.T) {
	for _, row := range []struct{ Y, L, H float64 }{
		{2.9, 14.632039, 11.501525}, {4.1, 26.499449, 20.375675},
		{4.7, 35.12979, 25.633519}, {5.7, 52.63199, 35.282037},
		{6.7, 71.287205, 45.334899}, {7.35, 85.614658, 52.318491},
		{8.35, 108.04537, 63.604982}, {8.86, 119.9588, 69.4765},
		{10.5, 160.5822, 88.953913}, {13.5, 247.4044, 128.38134},
		{16.5, 350.38561, 172.29295}, {20, 493.044, 229.606},
		{25, 736.40875, 320.95625}, {34, 1285.6422, 509.53216},
		{47.5, 2379.8734, 849.21031}, {62.5, 3966.9053, 1302.7006},
		{100, 9604.164, 2772.083},

		{2.002, 8.0058136, 6.40324}, {3.8038, 23.173967, 18.005188},
		{4.4044, 30.534185, 22.959365}, {5.005, 40.319228, 28.54405},
		{6.4064, 65.287277, 42.192957}, {7.007, 78.190083, 48.641761},
		{7.7077, 93.351328, 56.253227}, {9.009, 123.49716, 71.205682},
		{12.012, 202.21383, 108.16415}, {15.015, 296.95654, 149.90143},
		{18.018, 409.35447, 196.44331}, {22.022, 586.13851, 265.31833},
		{28.028, 905.23001, 381.00591}, {40.04, 1732.1649, 652.31266},
		{55.055, 3132.2811, 1068.1446}, {70.07, 4913.1072, 1560.1937},
	} {
		L, H := indexReferences(row.Y)
		near(t, "L", L, row.L, 5e-7)
		near(t, "H", H, row.H, 5e-7)
	}
}

// Rows of ASTM D2270, table 1, as Y, L, H.
func TestIndexEquationsAgainstTable1(t *testing.T) {
	for _, row := range table1 {
		L, H := indexReferences(row.Y)
		near(t, "L", L, row.L, 0.0012)
		near(t, "H", H, row.H, 0.0012)
	}
}

var table1 = []struct{ Y, L, H float64 }{
	{2, 7.994, 6.394}, {2.2, 9.309, 7.41}, {2.4, 10.71, 8.496}, {2.6, 12.21, 9.647}, {2.8, 13.8, 10.87}, {3, 15.49, 12.15},
	{3.2, 17.26, 13.51}, {3.4, 19.12, 14.93}, {3.6, 21.08, 16.42}, {3.8, 23.13, 17.97}, {4, 25.32, 19.56}, {4.2, 27.75, 21.21},
	{4.4, 30.48, 22.92}, {4.6, 33.52, 24.71}, {4.8, 36.79, 26.57}, {5, 40.23, 28.49}, {5.2, 43.76, 30.43}, {5.4, 47.31, 32.37},
	{5.6, 50.87, 34.32}, {5.8, 54.42, 36.26}, {6, 57.97, 38.19}, {6.2, 61.52, 40.15}, {6.4, 65.18, 42.14}, {6.6, 69.16, 44.24},
	{6.8, 73.48, 46.44}, {7, 78, 48.57}, {7.2, 82.39, 50.69}, {7.4, 86.66, 52.88}, {7.6, 91.04, 55.09}, {7.8, 95.43, 57.31},
	{8, 100, 59.6}, {8.2, 104.6, 61.89}, {8.4, 109.2, 64.18}, {8.6, 113.9, 66.48}, {8.8, 118.5, 68.79}, {9, 123.3, 71.1},
	{9.5, 135.3, 76.91}, {10, 147.7, 82.87}, {10.5, 160.6, 88.95}, {11, 173.9, 95.19}, {11.5, 187.6, 101.5}, {12, 201.9, 108},
	{12.5, 216.6, 114.7}, {13, 231.9, 121.5}, {13.5, 247.4, 128.4}, {14, 263.3, 135.4}, {14.5, 279.6, 142.4}, {15, 296.5, 149.7},
	{15.5, 313.9, 157}, {16, 331.9, 164.6}, {16.5, 350.3, 172.3}, {17, 369.4, 180.2}, {17.5, 388.9, 188.1}, {18, 408.6, 196.2},
	{18.5, 429, 204.3}, {19, 449.9, 212.7}, {19.5, 471.3, 221.1}, {20, 493.2, 229.5}, {21, 538.4, 247.1}, {22, 585.2, 264.9},
	{23, 633.6, 283.3}, {24, 683.9, 301.8}, {25, 736.5, 320.9}, {26, 790.4, 340.5}, {27, 847, 360.5}, {28, 904.1, 380.6},
	{29, 963.4, 401.1}, {30, 1023, 421.7}, {32.5, 1184, 475.9}, {35, 1356, 532.5}, {37.5, 1538, 591.3}, {40, 1730, 651.8},
	{42.5, 1935, 714.9}, {45, 2152, 780.9}, {47.5, 2380, 849.2}, {50, 2618, 919.6}, {52.5, 2867, 992.1}, {55, 3126, 1066},
	{57.5, 3396, 1143}, {60, 3676, 1222}, {62.5, 3966, 1303}, {65, 4268, 1386}, {67.5, 4580, 1471}, {70, 4905, 1558},
}
