package validation

import (
	"fmt"
	"math"

	"headroom/checker/fluid"
)

// curve lays a viscosity curve through 40 and 100 °C (mm²/s).
func curve(nu40, nu100 float64) fluid.ViscosityCurve {
	c, err := fluid.NewViscosityCurve([]fluid.ViscosityPoint{{T: kelvin(40), Nu: nu40 * 1e-6}, {T: kelvin(100), Nu: nu100 * 1e-6}})
	if err != nil {
		panic(err)
	}
	return c
}

const d341 = "ASTM D341-93"

func viscosityRows() (rows []Row) {
	type at struct {
		celsius float64
		printed string
	}
	for _, o := range []struct {
		nu40, nu100 float64
		values      []at
	}{
		{32, 5.4, []at{{-20, "2291.5"}, {0, "336.00"}, {20, "86.28"}, {60, "15.186"}, {80, "8.533"}, {120, "3.724"}}},
		{46, 6.7604, []at{{-20, "4641.1"}, {0, "584.92"}, {20, "134.49"}, {60, "20.562"}, {80, "11.050"}, {120, "4.542"}}},
		{68, 8.6, []at{{-20, "9865.0"}, {0, "1060.4"}, {20, "216.86"}, {60, "28.492"}, {80, "14.586"}, {120, "5.615"}}},
		{13.2, 4.9, []at{{-40, "214.2"}, {0, "38.25"}, {60, "8.941"}, {120, "3.865"}}},
		{10, 2.65, []at{{-40, "1569.5"}, {0, "54.235"}, {60, "5.780"}, {120, "1.989"}, {150, "1.402"}}},
	} {
		for _, v := range o.values {
			rows = append(rows, Row{
				Laws: []string{"fluid.ViscosityCurve.At", "fluid.NewViscosityCurve"}, Sure: Computed,
				What:   fmt.Sprintf("%g and %g mm²/s at 40 and 100 °C: viscosity at %g °C", o.nu40, o.nu100, v.celsius),
				Source: d341, Place: "eq. 1, short form of Z", Printed: v.printed, Unit: "mm²/s",
				Ours: func() float64 { c := curve(o.nu40, o.nu100); return c.At(kelvin(v.celsius)) * 1e6 },
			})
		}
	}
	return append(rows,
		Row{
			Laws: []string{"fluid.ViscosityCurve.At"}, Sure: Seen,
			What:   "32 and 5.4 mm²/s at 40 and 100 °C, 0 °C taken as 273 K: viscosity at 80 °C",
			Source: "published worksheet of D341, author not stated", Place: "the example", Printed: "8.5", Unit: "mm²/s",
			Ours: func() float64 {
				c, err := fluid.NewViscosityCurve([]fluid.ViscosityPoint{{T: 313, Nu: 32e-6}, {T: 373, Nu: 5.4e-6}})
				return must(c.At(353)*1e6, err)
			},
		},
		Row{
			Laws: []string{"fluid.ViscosityCurve.WithSlope"}, Sure: Computed,
			What:   "32 and 5.4 mm²/s: slope of the viscosity at 65 °C",
			Source: scipy, Place: "oil.kinematic-slope", Printed: byScipy("oil.kinematic-slope"), Unit: "m²/s/K", Within: digits,
			Ours: func() float64 { c := curve(32, 5.4); _, slope := c.WithSlope(kelvin(65)); return slope },
		},
		Row{
			Laws: []string{"fluid.ViscosityCurve.Covers"}, Sure: Defined,
			What:   "whether points at 40 and 100 °C cover −40, 40, 100 and 101 °C",
			Source: "definition", Place: "between the points, ends included", Printed: "false true true false",
			Says: func() string {
				c := curve(13.2, 4.9)
				return fmt.Sprint(c.Covers(kelvin(-40)), c.Covers(kelvin(40)), c.Covers(kelvin(100)), c.Covers(kelvin(101)))
			},
		})
}

const d2270 = "ASTM D2270-10 (ISO 2909)"

func indexRows() (rows []Row) {
	index := func(u, y float64) float64 { return must(fluid.ViscosityIndex(u*1e-6, y*1e-6)) }
	const equations = "the program takes the equations of appendix X2 in place of table 1"
	for _, e := range []struct {
		u, y          float64
		printed       string
		source, place string
		sure          Surety
		within        Tolerance
	}{
		{73.30, 8.86, "92", d2270, "§5.2.3.1", Seen, Tolerance{}},
		{22.83, 5.05, "156", d2270, "§5.2.4.1", Seen, Tolerance{}},
		{53.47, 7.80, "111", d2270, "§5.2.4.2", Seen, Tolerance{}},
		{73.50, 8.86, "92", d2270, "X2.5", Seen, Tolerance{}},
		{73.50, 8.86, "92.0333", "chemicals, open-source library", "documentation of viscosity_index", Seen, Tolerance{Absolute: 0.04, Because: equations}},
		{1000, 100, "192.9975", "chemicals, open-source library", "documentation of viscosity_index", Seen, Tolerance{Absolute: 0.01, Because: equations}},
		{13.2, 4.9, "365.85", d2270, "table 1, L 38.5, H 27.53", Computed, Tolerance{Absolute: 0.3, Because: "far above 200 a per mille of H is 0.3"}},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.ViscosityIndex"}, Sure: e.sure,
			What:   fmt.Sprintf("index of an oil of %g and %g mm²/s", e.u, e.y),
			Source: e.source, Place: e.place, Printed: e.printed, Unit: "1", Within: e.within,
			Ours: func() float64 { return index(e.u, e.y) },
		})
	}
	for _, e := range []struct{ y, l, h float64 }{
		{2, 7.994, 6.394}, {4, 25.32, 19.56}, {5, 40.23, 28.49}, {7, 78.00, 48.57}, {8, 100.0, 59.60},
		{10, 147.7, 82.87}, {15, 296.5, 149.7}, {20, 493.2, 229.5}, {30, 1023, 421.7}, {70, 4905, 1558},
	} {
		for _, end := range []struct {
			name, printed string
			u             float64
		}{{"L", "0", e.l}, {"H", "100", e.h}} {
			rows = append(rows, Row{
				Laws: []string{"fluid.ViscosityIndex"}, Sure: Seen,
				What:   fmt.Sprintf("index at %s = %g mm²/s of Y = %g mm²/s", end.name, end.u, e.y),
				Source: d2270, Place: "table 1, read in chemicals, open-source library", Printed: end.printed, Unit: "1",
				Ours: func() float64 { return index(end.u, e.y) },
			})
		}
	}
	for _, g := range []struct{ nu40, nu100, vi float64 }{
		{22, 4.2536, 95}, {22, 4.8590, 150}, {32, 5.3619, 100}, {46, 6.6450, 95}, {46, 6.7604, 100}, {46, 8.0983, 150},
		{68, 8.5304, 95}, {68, 10.853, 150}, {100, 11.384, 100},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.ViscosityIndex"}, Sure: Computed,
			What:   fmt.Sprintf("index of VG %g with %g mm²/s at 100 °C", g.nu40, g.nu100),
			Source: d2270, Place: "table 1, interpolated", Printed: fmt.Sprint(g.vi), Unit: "1", Within: Tolerance{Absolute: 0.25, Because: equations},
			Ours: func() float64 { return index(g.nu40, g.nu100) },
		})
	}
	return rows
}

const iso3448 = "ISO 3448:1992 (ASTM D2422)"

func gradeRows() (rows []Row) {
	sure := map[int]Surety{2200: Memory, 3200: Memory}
	for _, g := range []struct {
		vg       int
		midpoint string
	}{
		{2, "2.2"}, {3, "3.2"}, {5, "4.6"}, {7, "6.8"}, {10, "10"}, {15, "15"}, {22, "22"}, {32, "32"}, {46, "46"}, {68, "68"}, {100, "100"}, {150, "150"},
		{220, "220"}, {320, "320"}, {460, "460"}, {680, "680"}, {1000, "1000"}, {1500, "1500"}, {2200, "2200"}, {3200, "3200"},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.GradeOf"}, Sure: sure[g.vg],
			What:   fmt.Sprintf("midpoint at 40 °C of VG %d", g.vg),
			Source: iso3448, Place: "table 1", Printed: g.midpoint, Unit: "mm²/s", Within: share(1e-12, exact),
			Ours: func() float64 {
				for _, grade := range fluid.Grades {
					if found, ok := fluid.GradeOf(grade.Midpoint); ok && found.VG == g.vg {
						return found.Midpoint * 1e6
					}
				}
				return -1
			},
		})
	}
	vg2, _ := fluid.GradeOf(2.2e-6)
	vg46, _ := fluid.GradeOf(46e-6)
	return append(rows,
		Row{
			Laws: []string{"fluid.Grade.Limits"}, Sure: Seen, What: "least viscosity of VG 2",
			Source: iso3448, Place: "table 1", Printed: "1.98", Unit: "mm²/s", Within: share(1e-12, exact),
			Ours: func() float64 { least, _ := vg2.Limits(); return least * 1e6 },
		},
		Row{
			Laws: []string{"fluid.Grade.Limits"}, Sure: Seen, What: "greatest viscosity of VG 2",
			Source: iso3448, Place: "table 1", Printed: "2.42", Unit: "mm²/s", Within: share(1e-12, exact),
			Ours: func() float64 { _, greatest := vg2.Limits(); return greatest * 1e6 },
		},
		Row{
			Laws: []string{"fluid.Grade.Limits"}, Sure: Seen, What: "least viscosity of VG 46",
			Source: iso3448, Place: "table 1", Printed: "41.4", Unit: "mm²/s", Within: share(1e-12, exact),
			Ours: func() float64 { least, _ := vg46.Limits(); return least * 1e6 },
		},
		Row{
			Laws: []string{"fluid.Grade.Limits"}, Sure: Seen, What: "greatest viscosity of VG 46",
			Source: iso3448, Place: "table 1", Printed: "50.6", Unit: "mm²/s", Within: share(1e-12, exact),
			Ours: func() float64 { _, greatest := vg46.Limits(); return greatest * 1e6 },
		})
}

const d1250 = "ASTM D1250-04 (API MPMS 11.1)"

func densityRows() (rows []Row) {
	for _, e := range []struct {
		celsius float64
		printed string
	}{{-20, "891.80"}, {0, "879.39"}, {20, "866.86"}, {40, "854.22"}, {60, "841.49"}, {80, "828.68"}, {100, "815.78"}} {
		rows = append(rows, Row{
			Laws: []string{"fluid.Density", "fluid.LubricantExpansion"}, Sure: Computed,
			What:   fmt.Sprintf("lubricating oil of 870 kg/m³ at 15 °C: density at %g °C", e.celsius),
			Source: d1250, Place: "volume correction, lubricating oils", Printed: e.printed, Unit: "kg/m³",
			Ours: func() float64 {
				return fluid.Density(870, fluid.LubricantExpansion(870), 1.5e9, kelvin(e.celsius), fluid.ReferencePressure)
			},
		})
	}
	for _, e := range []struct {
		rho     float64
		printed string
	}{{850, "7.386e-4"}, {870, "7.216e-4"}, {890, "7.054e-4"}} {
		rows = append(rows, Row{
			Laws: []string{"fluid.LubricantExpansion"}, Sure: Computed,
			What:   fmt.Sprintf("expansion at 15 °C of lubricating oil of %g kg/m³, K1 0.6278 (seen)", e.rho),
			Source: d1250, Place: "constants of lubricating oils", Printed: e.printed, Unit: "1/K",
			Ours: func() float64 { return fluid.LubricantExpansion(e.rho) },
		})
	}
	return append(rows,
		Row{
			Laws: []string{"fluid.Density"}, Sure: Seen,
			What:   "10 in³ of oil of 250 000 psi pressed from 100 to 2000 psi: volume lost",
			Source: "Esposito, Fluid Power with Applications, companion file", Place: "example 2-11", Printed: "0.076", Unit: "in³",
			Ours: func() float64 {
				rho := func(p float64) float64 {
					return fluid.Density(870, 7e-4, 250000*psi, fluid.ReferenceTemperature, fluid.ReferencePressure+p)
				}
				return 10 * (rho(2000*psi) - rho(100*psi)) / rho(0)
			},
		},
		Row{
			Laws: []string{"fluid.Expansion"}, Sure: Computed,
			What:   "expansion at 65 °C of an oil of 7e-4 1/K at 15 °C",
			Source: scipy, Place: "oil.expansion", Printed: byScipy("oil.expansion"), Unit: "1/K", Within: digits,
			Ours: func() float64 { return fluid.Expansion(7e-4, kelvin(65)) },
		})
}

func modulusRows() (rows []Row) {
	for _, e := range []struct {
		celsius, k0, pressure float64
		printed               string
	}{
		{20, 1.889e9, 100, "1.992"}, {20, 1.889e9, 200, "2.098"}, {20, 1.889e9, 350, "2.263"},
		{60, 1.515e9, 100, "1.619"}, {60, 1.515e9, 200, "1.726"}, {60, 1.515e9, 350, "1.893"},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.TangentFromSecant"}, Sure: Computed,
			What:   fmt.Sprintf("tangent modulus at %g bar of a secant of %g GPa + 5.6 p (VG 46 at %g °C)", e.pressure, e.k0/1e9, e.celsius),
			Source: "K = −V dp/dV of K_s = p V_0/(V_0 − V)", Place: "differentiated", Printed: e.printed, Unit: "GPa",
			Within: Tolerance{Absolute: 0.0008, Because: "the secant is printed to 0.0005"},
			Ours:   func() float64 { return fluid.TangentFromSecant(e.k0, 5.6, e.pressure*bar) / 1e9 },
		})
	}
	return append(rows,
		Row{
			Laws: []string{"fluid.Modulus.At"}, Sure: Computed,
			What:   "1.55 GPa at 40 °C, 9.5 per pressure, −7 MPa/K: modulus at 65 °C, 200 bar absolute",
			Source: scipy, Place: "oil.bulk", Printed: byScipy("oil.bulk"), Unit: "Pa", Within: digits,
			Ours: func() float64 { o := exampleOil(); return o.Modulus.At(kelvin(65), 2e7) },
		},
		Row{
			Laws: []string{"fluid.IsentropicModulus", "gas.At", "gas.Cp", "gas.Density"}, Sure: Computed,
			What:   "isentropic modulus ρw² of nitrogen at 300 K, 20 MPa, from its isothermal one: 212.5372 kg/m³, 425.96 m/s",
			Source: span2000, Place: "the reference equation", Printed: "38.563", Unit: "MPa", Within: share(0.02, "twice 0.8 % in w of the short equation"),
			Ours: func() float64 { return isentropicOfNitrogen(20e6, 300) / 1e6 },
		})
}

func airRows() (rows []Row) {
	const source, place = "Rabie, Fluid Power Engineering (2009), fraction at 101 325 Pa", "eqs 2.49–2.57"
	for _, e := range []struct {
		percent, n, pressure float64
		printed              string
	}{
		{0.5, 1.4, 0.5, "338.1"}, {0.5, 1.4, 1, "732.7"}, {0.5, 1.4, 2, "1137.2"}, {0.5, 1.4, 5, "1406.9"}, {0.5, 1.4, 10, "1470.5"}, {0.5, 1.4, 20, "1491.0"},
		{1, 1.4, 0.5, "190.0"}, {1, 1.4, 1, "483.4"}, {1, 1.4, 2, "914.2"}, {1, 1.4, 5, "1324.0"}, {1, 1.4, 10, "1441.9"}, {1, 1.4, 20, "1482.0"},
		{5, 1.4, 0.5, "41.2"}, {5, 1.4, 1, "126.4"}, {5, 1.4, 2, "347.0"}, {5, 1.4, 5, "887.2"}, {5, 1.4, 10, "1239.9"}, {5, 1.4, 20, "1410.6"},
		{1, 1, 0.5, "210.5"}, {1, 1, 1, "592.3"}, {1, 1, 2, "1084.5"}, {1, 1, 5, "1413.5"}, {1, 1, 10, "1477.5"}, {1, 1, 20, "1494.3"},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.EffectiveModulus"}, Sure: Computed,
			What:   fmt.Sprintf("oil of 1.5 GPa with %g %% of air, n %g, at %g MPa", e.percent, e.n, e.pressure),
			Source: source, Place: place, Printed: e.printed, Unit: "MPa",
			Ours: func() float64 { return fluid.EffectiveModulus(1.5e9, e.percent/100, e.n, e.pressure*1e6) / 1e6 },
		})
	}
	return rows
}

func vapourRows() []Row {
	water := func() fluid.VapourCurve {
		c, err := fluid.NewVapourCurve([]fluid.VapourPoint{{T: kelvin(100), P: 1.0132 * bar}, {T: kelvin(150), P: 4.7572 * bar}, {T: kelvin(200), P: 15.537 * bar}})
		if err != nil {
			panic(err)
		}
		return c
	}
	return []Row{
		{
			Laws: []string{"fluid.VapourCurve.At", "fluid.NewVapourCurve"}, Sure: Seen,
			What:   "water at 125 °C, from 1.0132 bar at 100 and 4.7572 bar at 150 °C",
			Source: "NBS/NRC Steam Tables (Haar, Gallagher, Kell, 1984)", Place: "saturation", Printed: "2.3201", Unit: "bar",
			Within: share(0.01, "one heat of vaporisation over 50 K"),
			Ours:   func() float64 { c := water(); return c.At(kelvin(125)) / bar },
		},
		{
			Laws: []string{"fluid.VapourCurve.At"}, Sure: Computed,
			What:   "a fluid of 1 kPa at 300 K and L/R 5200 K, laid through 290 and 350 K: at 330 K",
			Source: scipy, Place: "vapour.330K", Printed: byScipy("vapour.330K"), Unit: "Pa", Within: digits,
			Ours: func() float64 {
				p := func(T float64) float64 { return 1e3 * math.Exp(5200*(1./300-1/T)) }
				c, err := fluid.NewVapourCurve([]fluid.VapourPoint{{T: 290, P: p(290)}, {T: 350, P: p(350)}})
				return must(c.At(330), err)
			},
		},
		{
			Laws: []string{"fluid.VapourCurve.Covers"}, Sure: Defined,
			What:   "whether points from 100 to 200 °C cover 99, 100, 200 and 201 °C",
			Source: "definition", Place: "between the points, ends included", Printed: "false true true false",
			Says: func() string {
				c := water()
				return fmt.Sprint(c.Covers(kelvin(99)), c.Covers(kelvin(100)), c.Covers(kelvin(200)), c.Covers(kelvin(201)))
			},
		},
	}
}

func ageingRows() (rows []Row) {
	for _, e := range []struct {
		celsius float64
		printed string
	}{{50, "2"}, {65, "0.7071"}, {70, "0.5"}, {80, "0.25"}, {90, "0.125"}} {
		rows = append(rows, Row{
			Laws: []string{"fluid.LifeFactor"}, Sure: Seen,
			What:   fmt.Sprintf("life at %g °C as a multiple of that at 60 °C", e.celsius),
			Source: "common practice: every 10 K halves the life of an oil", Place: "base 60 °C", Printed: e.printed, Unit: "1", Within: share(2e-5, "rounding of 0.7071"),
			Ours: func() float64 { return fluid.LifeFactor(kelvin(e.celsius), kelvin(60)) },
		})
	}
	return append(rows, Row{
		Laws: []string{"fluid.DynamicViscosity"}, Sure: Computed,
		What:   "light paraffinic oil at 30 °C, 2.2e-8 1/Pa: pressure that doubles its viscosity",
		Source: "Neale, Tribology Handbook", Place: "table 25 (coefficient), ln 2/β", Printed: "2", Unit: "1", Within: share(2e-4, "315.07 bar rounded to 315"),
		Ours: func() float64 {
			const rho, nu, beta, p0 = 870, 46e-6, 2.2e-8, 101325
			return fluid.DynamicViscosity(rho, nu, beta, p0+315*bar) / fluid.DynamicViscosity(rho, nu, beta, p0)
		},
	})
}

const iso4406 = "ISO 4406:1999"

func cleanlinessRows() (rows []Row) {
	for _, e := range []struct {
		n       int
		printed string
	}{
		{0, "0.01"}, {1, "0.02"}, {2, "0.04"}, {3, "0.08"}, {4, "0.16"}, {5, "0.32"}, {6, "0.64"}, {7, "1.3"}, {8, "2.5"}, {9, "5"}, {10, "10"},
		{11, "20"}, {12, "40"}, {13, "80"}, {14, "160"}, {15, "320"}, {16, "640"}, {17, "1300"}, {18, "2500"}, {19, "5000"},
		{20, "10000"}, {21, "20000"}, {22, "40000"}, {23, "80000"}, {24, "160000"},
		{25, "320000"}, {26, "640000"}, {27, "1300000"}, {28, "2500000"},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.ScaleLimits", "fluid.ScaleNumber"}, Sure: Seen,
			What:   fmt.Sprintf("most particles in a millilitre of scale number %d", e.n),
			Source: iso4406, Place: "table 1", Printed: e.printed, Unit: "1/mL", Within: share(1e-12, exact),
			Ours: func() float64 {
				_, upTo, _ := fluid.ScaleLimits(e.n)
				if n, ok := fluid.ScaleNumber(upTo); !ok || n != e.n {
					return -1
				}
				return upTo
			},
		})
	}
	for _, e := range []struct {
		size        string
		number      func(fluid.Cleanliness) int
		above, upTo string
	}{
		{"4 µm", func(c fluid.Cleanliness) int { return c.Over4 }, "2500", "5000"},
		{"6 µm", func(c fluid.Cleanliness) int { return c.Over6 }, "320", "640"},
		{"14 µm", func(c fluid.Cleanliness) int { return c.Over14 }, "40", "80"},
	} {
		rows = append(rows, Row{
			Laws: []string{"fluid.ParseCleanliness", "fluid.ScaleLimits"}, Sure: Seen,
			What:   "19/16/13: particles in a millilitre above " + e.size,
			Source: iso4406, Place: "the example of a code", Printed: e.above + " to " + e.upTo, Unit: "1/mL",
			Says: func() string {
				c, err := fluid.ParseCleanliness("19/16/13")
				above, upTo, ok := fluid.ScaleLimits(e.number(c))
				return fmt.Sprintf("%g to %g%s", above, upTo, map[bool]string{false: " and an error"}[err == nil && ok])
			},
		})
	}
	return append(rows,
		Row{
			Laws: []string{"fluid.Cleanliness.String"}, Sure: Seen,
			What:   "code of 3000, 500 and 50 particles above 4, 6 and 14 µm",
			Source: iso4406, Place: "clause 4 and table 1", Printed: "19/16/13",
			Says: func() string {
				var n [3]int
				for i, count := range []float64{3000, 500, 50} {
					n[i], _ = fluid.ScaleNumber(count)
				}
				return fluid.Cleanliness{Over4: n[0], Over6: n[1], Over14: n[2]}.String()
			},
		},
		Row{
			Laws: []string{"fluid.Cleanliness.Over"}, Sure: Seen,
			What:   "steps by which a gear pump's target to 138 bar, 20/18/15, is dirtier than that to 207 bar, 19/17/14",
			Source: "common practice: table of target codes", Place: "row of gear pumps", Printed: "1", Unit: "1",
			Ours: func() float64 {
				low, err := fluid.ParseCleanliness("20/18/15")
				high, wrong := fluid.ParseCleanliness("19/17/14")
				over, ok := low.Over(high)
				if err != nil || wrong != nil || !ok {
					return -1
				}
				return float64(over)
			},
		})
}

// exampleOil is the oil of independent.py.
func exampleOil() fluid.Oil {
	return fluid.Oil{
		Density15: 875, Expansion15: 7e-4, Kinematic: curve(32, 5.4), SpecificHeat: 1950, FreeAir: 0.005, PressureViscosity: 2e-8,
		Modulus: fluid.Modulus{Value: 1.55e9, AtTemperature: kelvin(40), AtPressure: 101325, PerPressure: 9.5, PerKelvin: -7e6},
	}
}

func oilRows() (rows []Row) {
	const T, p = 338.15, 2e7
	for _, e := range []struct {
		row   Row
		state func(fluid.State) float64
	}{
		{Row{
			Laws: []string{"fluid.Oil.Viscosity"}, What: "kinematic viscosity at 65 °C", Place: "oil.kinematic", Unit: "m²/s",
			Ours: func() float64 { o := exampleOil(); return o.Viscosity(T) },
		}, func(s fluid.State) float64 { return s.Kinematic }},
		{Row{
			Laws: []string{"fluid.Oil.DynamicViscosity"}, What: "dynamic viscosity at 65 °C, 200 bar", Place: "oil.dynamic", Unit: "Pa s",
			Ours: func() float64 { o := exampleOil(); return o.DynamicViscosity(T, p) },
		}, func(s fluid.State) float64 { return s.Dynamic }},
		{Row{
			Laws: []string{"fluid.Oil.Density"}, What: "density at 65 °C, 200 bar", Place: "oil.density", Unit: "kg/m³",
			Ours: func() float64 { o := exampleOil(); return o.Density(T, p) },
		}, func(s fluid.State) float64 { return s.Density }},
		{Row{
			Laws: []string{"fluid.Oil.BulkModulus"}, What: "modulus without air at 65 °C, 200 bar", Place: "oil.bulk", Unit: "Pa",
			Ours: func() float64 { o := exampleOil(); return o.BulkModulus(T, p) },
		}, func(s fluid.State) float64 { return s.Bulk }},
		{Row{
			Laws: []string{"fluid.Oil.Expansion"}, What: "expansion at 65 °C", Place: "oil.expansion", Unit: "1/K",
			Ours: func() float64 { o := exampleOil(); return o.Expansion(T) },
		}, func(s fluid.State) float64 { return s.Expansion }},
	} {
		single, state := e.row, e.row
		single.Printed = byScipy(e.row.Place)
		single.Source, single.Sure, single.Within = scipy, Computed, digits
		state.Laws = []string{"fluid.Oil.At"}
		state.Printed, state.Source, state.Sure, state.Within = single.Printed, scipy, Computed, digits
		state.What += ", all in one pass"
		state.Ours = func() float64 { o := exampleOil(); return e.state(o.At(T, p)) }
		rows = append(rows, single, state)
	}
	return append(rows, Row{
		Laws: []string{"fluid.Oil.EffectiveModulus"}, Sure: Computed, What: "modulus with 0.5 % of air at 65 °C, 30 bar",
		Source: scipy, Place: "oil.effective", Printed: byScipy("oil.effective"), Unit: "Pa", Within: digits,
		Ours: func() float64 { o := exampleOil(); return o.EffectiveModulus(T, 3e6) },
	})
}
