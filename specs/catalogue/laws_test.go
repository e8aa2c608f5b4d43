package catalogue

import (
	"math"
	"testing"
)

// This file holds the laws that the data are held against, written apart from
// the program's own and first held against published values themselves.

// reducedZ is Z of ASTM D341, short form; viscosity in mm2/s.
func reducedZ(v float64) float64 { return v + 0.7 + math.Exp(-1.47-1.84*v-0.51*v*v) }

// walther fits lg lg Z = A - B lg T to two points; temperatures in K.
func walther(t1, v1, t2, v2 float64) (a, b float64) {
	w := func(v float64) float64 { return math.Log10(math.Log10(reducedZ(v))) }
	b = (w(v1) - w(v2)) / (math.Log10(t2) - math.Log10(t1))
	return w(v1) + b*math.Log10(t1), b
}

// viscosityAt is the viscosity in mm2/s at a temperature in K.
func viscosityAt(a, b, t float64) float64 {
	x := math.Pow(10, math.Pow(10, a-b*math.Log10(t))) - 0.7
	return x - math.Exp(-0.7487-3.295*x+0.6119*x*x-0.3193*x*x*x)
}

// viscosityIndex is ASTM D2270 for u at 40 °C and y at 100 °C, 2 <= y <= 20,
// with L and H between the rows of its Table 1 by a cubic in the logarithms.
func viscosityIndex(u, y float64) float64 {
	rows := [][3]float64{{2, 7.994, 6.394}, {4, 25.32, 19.56}, {5, 40.23, 28.49}, {7, 78.00, 48.57}, {8, 100.0, 59.60},
		{10, 147.7, 82.87}, {15, 296.5, 149.7}, {20, 493.2, 229.5}}
	first := 0
	for first < len(rows)-4 && rows[first+2][0] <= y {
		first++
	}
	at := func(column int) (sum float64) {
		for i := first; i < first+4; i++ {
			term := math.Log(rows[i][column])
			for j := first; j < first+4; j++ {
				if i != j {
					term *= math.Log(y/rows[j][0]) / math.Log(rows[i][0]/rows[j][0])
				}
			}
			sum += term
		}
		return math.Exp(sum)
	}
	l, h := at(1), at(2)
	if vi := 100 * (l - u) / (l - h); vi <= 100 {
		return vi
	}
	n := math.Log10(h/u) / math.Log10(y)
	return (math.Pow(10, n)-1)/0.00715 + 100
}

// hayward is the isentropic tangent modulus in GPa of an oil of v20 mm2/s at
// 20 °C, at t °C and p GPa gauge: Hayward's secant (coefficients from memory,
// within 2.2 % of the Tribology Handbook, table 25) plus the offset of another
// base fluid, made a tangent by K = Ks (Ks - p)/K0.
func hayward(v20, offset, t, p float64) float64 {
	k0 := (1.57+0.15*math.Log10(v20))*math.Pow(10, 0.0024*(20-t)) + offset
	ks := k0 + 5.6*p
	return ks * (ks - p) / k0
}

// cragoe is the specific heat in J/kg/K of a mineral oil of that density at
// 15 °C, at t °C (Cragoe, NBS 1929; formula from memory, trade texts 1966 at 50 °C).
func cragoe(density, t float64) float64 { return (1685 + 3.39*t) / math.Sqrt(density/999.1) }

func TestLawsAgainstPublishedValues(t *testing.T) {
	a, b := walther(313.15, 32, 373.15, 5.4)
	checks := []struct {
		what              string
		got, want, within float64
	}{
		{"D2270, example of section 5: 73.30 and 8.86", viscosityIndex(73.30, 8.86), 92.43, 0.5},
		{"D2270, example of section 6: 22.83 and 5.05", viscosityIndex(22.83, 5.05), 156.37, 0.5},
		{"D2270, 13.2 and 4.9 (computed)", viscosityIndex(13.2, 4.9), 365.85, 1},
		{"D341, A of 32 and 5.4 (computed)", a, 9.53082, 1e-4},
		{"D341, B of 32 and 5.4 (computed)", b, 3.74658, 1e-4},
		{"D341, 80 °C of 32 and 5.4 (published worksheet: 8.5)", viscosityAt(a, b, 353.15), 8.533, 1e-3},
		{"Hayward, 40 °C, 0 bar, v20 134.5 (computed)", hayward(134.5, 0, 40, 0), 1.692, 1e-3},
		{"Hayward as tangent, 60 °C, 350 bar (computed)", hayward(134.5, 0, 60, 0.035), 1.893, 2e-3},
		{"Cragoe, s 0.87, 50 °C (computed)", cragoe(0.87*999.1, 50), 1988, 1},
	}
	for _, c := range checks {
		if math.Abs(c.got-c.want) > c.within {
			t.Errorf("%s: got %g, want %g", c.what, c.got, c.want)
		}
	}
}
