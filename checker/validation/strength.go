package validation

import (
	"fmt"
	"math"

	"headroom/checker/fluid"
	"headroom/checker/strength"
)

const bhandari = "Bhandari, Design of Machine Elements, companion file"

func stressRows() []Row {
	const lame = "Lamé (1852)"
	return []Row{
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "closed tube, k 2 under 100: hoop stress at the bore", Source: lame, Place: "p(k² + 1)/(k² − 1)", Printed: "166.667", Unit: "MPa", Ours: func() float64 { return strength.Lame(2, 100).BoreHoop }},
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "the same: hoop stress outside", Source: lame, Place: "2p/(k² − 1)", Printed: "66.667", Unit: "MPa", Ours: func() float64 { return strength.Lame(2, 100).OuterHoop }},
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "the same: axial stress", Source: lame, Place: "p/(k² − 1)", Printed: "33.333", Unit: "MPa", Ours: func() float64 { return strength.Lame(2, 100).Axial }},
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "the same: von Mises at the bore", Source: lame, Place: "√3pk²/(k² − 1)", Printed: "230.940", Unit: "MPa", Ours: func() float64 { return strength.Lame(2, 100).BoreVonMises }},
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "closed tube, k 2 under 1, from the equilibrium of its wall: hoop stress at the bore", Source: scipy, Place: "lame.hoop-bore", Printed: byScipy("lame.hoop-bore"), Unit: "1", Within: share(1e-7, "boundary values solved"), Ours: func() float64 { return strength.Lame(2, 1).BoreHoop }},
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "the same: hoop stress outside", Source: scipy, Place: "lame.hoop-outside", Printed: byScipy("lame.hoop-outside"), Unit: "1", Within: share(1e-7, "boundary values solved"), Ours: func() float64 { return strength.Lame(2, 1).OuterHoop }},
		{Laws: []string{"strength.Lame"}, Sure: Computed, What: "the same: von Mises at the bore", Source: scipy, Place: "lame.von-mises", Printed: byScipy("lame.von-mises"), Unit: "1", Within: share(1e-7, "boundary values solved"), Ours: func() float64 { return strength.Lame(2, 1).BoreVonMises }},
		{Laws: []string{"strength.LameBurst"}, Sure: Seen, What: "40 mm under 10 MPa at a hoop stress of 40 MPa: wall that holds it", Source: bhandari, Place: "example 22.3", Printed: "5.820", Unit: "mm", Ours: func() float64 {
			// p = S (k² − 1)/(k² + 1) the other way round, by bisection.
			thin, thick := 0.1, 40.0
			for range 100 {
				if t := (thin + thick) / 2; strength.LameBurst(40e6, (40+2*t)/40) < 10e6 {
					thin = t
				} else {
					thick = t
				}
			}
			return thin
		}},
		{Laws: []string{"strength.BarlowInside"}, Sure: Seen, What: "vessel of 492.372511 mm by 14.481544 mm, 340 MPa, factor 4: pressure", Source: bhandari, Place: "example 22.2", Printed: "5.000000", Unit: "MPa", Ours: func() float64 { return strength.BarlowInside(340./4, (492.372511+2*14.481544)/492.372511) }},
		{Laws: []string{"strength.BarlowInside"}, Sure: Seen, What: "its hemispherical ends of 7.240772 mm, which hold twice as much: pressure", Source: bhandari, Place: "example 22.2", Printed: "5.000000", Unit: "MPa", Ours: func() float64 { return 2 * strength.BarlowInside(340./4, (492.372511+2*7.240772)/492.372511) }},
		{Laws: []string{"strength.BarlowInside"}, Sure: Seen, What: "0.902 in by 0.049 in, 55 000 psi, factor 8", Source: "Esposito, Fluid Power with Applications, companion file", Place: "example 10-4", Printed: "747", Unit: "psi", Ours: func() float64 { return strength.BarlowInside(55000./8, 1/0.902) }},
		{Laws: []string{"strength.BarlowInside"}, Sure: Seen, What: "0.870 in by 0.065 in, 55 000 psi, factor 8", Source: "Esposito, Fluid Power with Applications, companion file", Place: "example 10-4", Printed: "1027", Unit: "psi", Ours: func() float64 { return strength.BarlowInside(55000./8, 1/0.870) }},
		{Laws: []string{"strength.Intensified"}, Sure: Defined, What: "rod side blocked, bore 40, rod 28 mm, 210 bar on the head side", Source: "balance of forces", Place: "210 · 1600/816", Printed: "411.765", Unit: "bar", Ours: func() float64 { return strength.Intensified(210, 0, 1600, 1600-784) }},
		{Laws: []string{"strength.Intensified"}, Sure: Defined, What: "the same against 10 kN", Source: "balance of forces", Place: "(21 MPa · 400π mm² − 10 kN)/204π mm²", Printed: "255.730", Unit: "bar", Ours: func() float64 {
			return strength.Intensified(21e6, 10e3, 400e-6*math.Pi, 204e-6*math.Pi) / 1e5
		}},
	}
}

func burstRows() (rows []Row) {
	const trade = "common practice: trade tables of SAE J524 and J525 tube, 12 500 psi"
	for _, e := range []struct {
		sy, su, k                                           float64
		faupel, full, first, plastic, lame, outside, inside string
	}{
		{800, 950, 2, "741.40", "640.30", "346.41", "658.49", "570.0", "475.0", "950.0"},
		{355, 490, 1.25, "116.67", "91.47", "73.79", "109.34", "107.56", "98.00", "122.5"},
	} {
		what := fmt.Sprintf("S_y %g, S_u %g MPa, k %g: ", e.sy, e.su, e.k)
		for _, f := range []struct {
			row Row
		}{
			{Row{Laws: []string{"strength.Faupel"}, What: "burst", Source: "Faupel, Trans. ASME 78 (1956) 1031 (citation from memory)", Place: "(2S_y/√3) ln k (2 − S_y/S_u)", Printed: e.faupel, Ours: func() float64 { return strength.Faupel(e.sy, e.su, e.k) }}},
			{Row{Laws: []string{"strength.FullYield"}, What: "full yield", Source: "Hill, The Mathematical Theory of Plasticity", Place: "(2S_y/√3) ln k", Printed: e.full, Ours: func() float64 { return strength.FullYield(e.sy, e.k) }}},
			{Row{Laws: []string{"strength.FirstYield"}, What: "first yield", Source: "Lamé with von Mises", Place: "S_y(k² − 1)/(√3k²)", Printed: e.first, Ours: func() float64 { return strength.FirstYield(e.sy, e.k) }}},
			{Row{Laws: []string{"strength.LameBurst"}, What: "Lamé's burst", Source: "SAE J1065, appendix A", Place: "S_u(k² − 1)/(k² + 1)", Printed: e.lame, Ours: func() float64 { return strength.LameBurst(e.su, e.k) }}},
			{Row{Laws: []string{"strength.BarlowOutside"}, What: "Barlow, outer diameter", Source: "Barlow", Place: "S_u(1 − 1/k)", Printed: e.outside, Ours: func() float64 { return strength.BarlowOutside(e.su, e.k) }}},
			{Row{Laws: []string{"strength.BarlowInside"}, What: "Barlow, inner diameter", Source: "Barlow", Place: "S_u(k − 1)", Printed: e.inside, Ours: func() float64 { return strength.BarlowInside(e.su, e.k) }}},
			{Row{Laws: []string{"strength.TubeBurst"}, What: "burst that is taken", Source: "SAE J1065, appendix A", Place: "Lamé, the lower here", Printed: e.lame, Ours: func() float64 { return strength.TubeBurst(e.sy, e.su, e.k) }}},
		} {
			f.row.What, f.row.Unit, f.row.Sure = what+f.row.What, "MPa", Computed
			rows = append(rows, f.row)
		}
	}
	for _, e := range []struct {
		outside, wall float64
		printed       string
	}{
		{0.125, 0.028, "6650"}, {0.125, 0.035, "8450"}, {0.250, 0.028, "3100"}, {0.250, 0.035, "3950"}, {0.250, 0.049, "5750"}, {0.250, 0.065, "7800"},
		{0.375, 0.035, "2550"}, {0.375, 0.065, "5000"}, {0.500, 0.035, "1850"}, {0.500, 0.049, "2700"}, {0.500, 0.083, "4800"}, {0.500, 0.120, "7200"},
		{0.625, 0.120, "5600"}, {0.750, 0.109, "4150"}, {1.000, 0.120, "3350"},
	} {
		rows = append(rows, Row{
			Laws: []string{"strength.LameBurst"}, Sure: Seen, What: fmt.Sprintf("tube %g by %g in: working pressure, a quarter of its burst", e.outside, e.wall),
			Source: trade, Place: "Lamé's formula", Printed: e.printed, Unit: "psi", Within: Tolerance{Absolute: 26, Because: "the tables round to 50 psi"},
			Ours: func() float64 { return strength.LameBurst(12500, e.outside/(e.outside-2*e.wall)) },
		})
	}
	return append(rows,
		Row{Laws: []string{"strength.FullYield"}, Sure: Computed, What: "k 2, S_y 800 MPa: the whole wall yielded, integrated over it", Source: scipy, Place: "tube.full-yield", Printed: byScipy("tube.full-yield"), Unit: "MPa", Within: digits, Ours: func() float64 { return strength.FullYield(800, 2) }},
		Row{Laws: []string{"strength.FirstYield"}, Sure: Computed, What: "k 2, S_y 800 MPa: the bore begins to yield, from the equilibrium of the wall", Source: scipy, Place: "tube.first-yield", Printed: byScipy("tube.first-yield"), Unit: "MPa", Within: digits, Ours: func() float64 { return strength.FirstYield(800, 2) }})
}

func rodRows() []Row {
	stress := func(d, l float64) float64 { return strength.RodBuckling(d, l) / (math.Pi / 4 * d * d) / 1e6 }
	return []Row{
		{Laws: []string{"strength.RodBuckling"}, Sure: Computed, What: "steel rod of 40 mm by 1.2 m between pins: least eigenvalue of the bent rod", Source: scipy, Place: "rod.euler", Printed: byScipy("rod.euler"), Unit: "N", Within: share(1e-7, "extrapolated from 400 and 800 pieces"), Ours: func() float64 { return strength.RodBuckling(0.040, 1.2) }},
		{Laws: []string{"strength.RodBuckling"}, Sure: Computed, What: "steel rod of 56 mm by 2.8 m: buckling stress at λ 200", Source: "Euler (1744), E 210 GPa of EN 1993-1-1:2005, 3.2.6", Place: "π²E/λ²", Printed: "51.815", Unit: "MPa", Ours: func() float64 { return stress(0.056, 2.8) }},
		{Laws: []string{"strength.RodBuckling"}, Sure: Computed, What: "steel rod of 40 mm by 1.0 m: buckling stress at λ 100", Source: "Euler (1744), E 210 GPa of EN 1993-1-1:2005, 3.2.6", Place: "π²E/λ²", Printed: "207.262", Unit: "MPa", Ours: func() float64 { return stress(0.040, 1.0) }},
		{Laws: []string{"strength.RodBuckling"}, Sure: Memory, What: "steel rod of 40 mm by 0.6 m: buckling stress at λ 60", Source: "Tetmajer (1886), steel of 335 MPa", Place: "335 − 0.62 λ", Printed: "297.8", Unit: "MPa", Ours: func() float64 { return stress(0.040, 0.6) }},
		{Laws: []string{"strength.RodBuckling"}, Sure: Memory, What: "steel rod of 40 mm by 0.2 m: buckling stress at λ 20", Source: "Tetmajer (1886), steel of 335 MPa", Place: "335 − 0.62 λ", Printed: "322.6", Unit: "MPa", Ours: func() float64 { return stress(0.040, 0.2) }},
	}
}

func sealRows() (rows []Row) {
	const source = "common practice: clearance table of O-ring catalogues"
	for _, e := range []struct {
		hardness   float64
		inches, mm [5]string
	}{
		{70, [5]string{"0.016", "0.010", "0.006", "0.004", "0.002"}, [5]string{"0.406", "0.254", "0.152", "0.102", "0.051"}},
		{90, [5]string{"0.028", "0.024", "0.020", "0.016", "0.010"}, [5]string{"0.711", "0.610", "0.508", "0.406", "0.254"}},
	} {
		for i, at := range []float64{500, 1000, 1500, 2000, 3000} {
			what := fmt.Sprintf("O-ring of %g Shore A at %g psi: diametral clearance", e.hardness, at)
			gap := func() float64 {
				if gap, ok := strength.ExtrusionGap(at*psi*(1-1e-12), e.hardness); ok {
					return gap
				}
				return -1
			}
			rows = append(rows,
				Row{Laws: []string{"strength.ExtrusionGap"}, Sure: Seen, What: what, Source: source, Place: "up to each pressure", Printed: e.inches[i], Unit: "in", Within: share(1e-9, exact), Ours: func() float64 { return gap() / inch }},
				Row{Laws: []string{"strength.ExtrusionGap"}, Sure: Seen, What: what, Source: source, Place: "metric column", Printed: e.mm[i], Unit: "mm", Ours: func() float64 { return gap() / mm }})
		}
	}
	return append(rows, Row{
		Laws: []string{"strength.BackedGap"}, Sure: Seen, What: "O-ring with a backup ring at 1000 psi: the clearance of one of 90 Shore A",
		Source: source, Place: "row of 90 Shore A; that it stands for backup rings is our reading", Printed: "0.024", Unit: "in", Within: share(1e-9, exact),
		Ours: func() float64 {
			if gap, ok := strength.BackedGap(1000 * psi); ok {
				return gap / inch
			}
			return -1
		},
	})
}

func trappedRows() []Row {
	const thin = 16. / (206e9 * 2) * (5./4 - 0.3)
	const lee, balance = "Lee Company technical handbook, fluid of MIL-PRF-5606", "conservation of mass"
	return []Row{
		{Laws: []string{"strength.TrappedRate"}, Sure: Seen, What: "260 000 psi and 0.00046 1/°F in a rigid space", Source: lee, Place: "modulus and expansion, multiplied", Printed: "119.6", Unit: "psi/°F", Ours: func() float64 { return strength.TrappedRate(0.00046, 0, 260000, 0) }},
		{Laws: []string{"strength.TrappedRate"}, Sure: Seen, What: "the same in metric units", Source: lee, Place: "modulus and expansion, multiplied", Printed: "14.84", Unit: "bar/K", Ours: func() float64 { return strength.TrappedRate(0.00046*1.8, 0, 260000*psi, 0) / bar }},
		{Laws: []string{"strength.TrappedRate"}, Sure: Computed, What: "7e-4 1/K, 1.5 GPa in a rigid space", Source: balance, Place: "αK", Printed: "10.5", Unit: "bar/K", Ours: func() float64 { return strength.TrappedRate(7e-4, 0, 1.5e9, 0) / bar }},
		{Laws: []string{"strength.TrappedRate"}, Sure: Computed, What: "the same in steel tube 20 by 2 mm, thin", Source: balance, Place: "(α − 3α_w)/(1/K + (D/Ee)(5/4 − µ))", Printed: "9.44", Unit: "bar/K", Ours: func() float64 { return strength.TrappedRate(7e-4, 12e-6, 1.5e9, thin) / bar }},
		{Laws: []string{"strength.TrappedRate"}, Sure: Computed, What: "the same with 1.8 GPa", Source: balance, Place: "(α − 3α_w)/(1/K + (D/Ee)(5/4 − µ))", Printed: "11.21", Unit: "bar/K", Ours: func() float64 { return strength.TrappedRate(7e-4, 12e-6, 1.8e9, thin) / bar }},
		{Laws: []string{"strength.TubeVolumeCompliance"}, Sure: Computed, What: "steel tube 20 by 2 mm from the equilibrium of its wall: share of volume per pascal", Source: scipy, Place: "tube.volume-compliance", Printed: byScipy("tube.volume-compliance"), Unit: "1/Pa", Within: share(1e-6, "boundary values solved"), Ours: func() float64 { return strength.TubeVolumeCompliance(1.25, 206e9, 0.3) }},
		{Laws: []string{"strength.TrappedPressure", "strength.TrappedRate"}, Sure: Computed, What: "oil with 0.5 % of air shut in at 1.5 bar absolute, warmed in steel tube 20 by 2 mm from 20 to 40 °C", Source: scipy, Place: "trapped.pressure", Printed: byScipy("trapped.pressure"), Unit: "Pa", Within: share(1e-6, "accuracy of the law"), Ours: func() float64 {
			o := exampleOil()
			give := strength.TubeVolumeCompliance(1.25, 206e9, 0.3)
			return strength.TrappedPressure(1.5*bar, 293.15, 313.15, func(T, p float64) float64 {
				return strength.TrappedRate(fluid.Expansion(o.Expansion15, T), 1.2e-5, o.EffectiveModulus(T, p), give)
			})
		}},
	}
}

func cycleRows() (rows []Row) {
	const e1049 = "ASTM E1049-85"
	history := []float64{-2, 1, -3, 5, -1, 3, -4, 4, -2}
	counted := func(cycles []strength.Cycle, span float64) (n float64) {
		for _, c := range cycles {
			if c.Range == span {
				n += c.Count
			}
		}
		return n
	}
	for _, e := range []struct {
		span    float64
		printed string
	}{{3, "0.5"}, {4, "1.5"}, {5, "0"}, {6, "0.5"}, {7, "0"}, {8, "1.0"}, {9, "0.5"}} {
		rows = append(rows, Row{
			Laws: []string{"strength.Rainflow"}, Sure: Seen, What: fmt.Sprintf("cycles of range %g in the history A to I", e.span),
			Source: e1049, Place: "§5.4.4, figure 6", Printed: e.printed, Unit: "1", Within: Tolerance{Absolute: 1e-12, Because: exact},
			Ours: func() float64 { return counted(strength.Rainflow(history), e.span) },
		})
	}
	rows = append(rows, Row{
		Laws: []string{"strength.Rainflow"}, Sure: Seen, What: "means of the counted ranges of the history A to I, in their order",
		Source: e1049, Place: "figure 6, as the documentation of a general signal library prints it", Printed: "[-0.5 -1 1 1 0.5 0 1]",
		Says: func() string {
			var means []float64
			for _, c := range strength.Rainflow(history) {
				means = append(means, c.Mean)
			}
			return fmt.Sprint(means)
		},
	})
	for _, span := range []float64{3, 4, 7, 9} {
		rows = append(rows, Row{
			Laws: []string{"strength.RainflowRepeating"}, Sure: Computed, What: fmt.Sprintf("cycles of range %g in the history A to I, repeated", span),
			Source: e1049, Place: "§5.4.5, counted by hand after its rules", Printed: "1", Unit: "1", Within: Tolerance{Absolute: 1e-12, Because: exact},
			Ours: func() float64 { return counted(strength.RainflowRepeating(history), span) },
		})
	}
	e := strength.Endurance{Count: 1e6, At: 200, Exponent: 5}
	return append(rows,
		Row{Laws: []string{"strength.Endurance.Cycles"}, Sure: Computed, What: "good for 1e6 cycles of 200 bar, exponent 5: cycles of 100 bar", Source: "Basquin (1910)", Place: "2⁵ as many", Printed: "32e6", Unit: "1", Within: share(1e-12, exact), Ours: func() float64 { return e.Cycles(100) }},
		Row{Laws: []string{"strength.Endurance.Damage"}, Sure: Computed, What: "damage of 1e5 cycles of 200 bar and 1.6e6 of 100 bar", Source: "Palmgren (1924), Miner (1945)", Place: "0.1 + 0.05", Printed: "0.15", Unit: "1", Within: share(1e-12, exact), Ours: func() float64 {
			return e.Damage([]strength.Cycle{{Range: 200, Count: 1e5}, {Range: 100, Count: 1.6e6}})
		}})
}

func vesselRows() (rows []Row) {
	const ped = "Directive 2014/68/EU"
	for _, e := range []struct {
		pressure, volume float64
		printed          string
		place            string
		sure             Surety
	}{
		{0.5, 1000, "not covered", "article 1: above 0.5 bar", Seen},
		{1000, 0.1, "sound engineering practice", "article 4(1)(a)(i), second indent, in guideline A-05", Seen},
		{350, 10, "IV", "annex II, table 2", Memory}, {210, 4, "II", "annex II, table 2", Memory},
		{330, 0.75, "sound engineering practice", "annex II, table 2", Memory}, {330, 32, "IV", "annex II, table 2", Memory},
		{50, 1.001, "I", "annex II, table 2", Memory}, {100, 30, "III", "annex II, table 2", Memory},
	} {
		rows = append(rows, Row{
			Laws: []string{"strength.VesselCategory", "strength.Category.String"}, Sure: e.sure, What: fmt.Sprintf("vessel of %g L for a gas of group 2, PS %g bar", e.volume, e.pressure),
			Source: ped, Place: e.place, Printed: e.printed,
			Says: func() string { return strength.VesselCategory(e.pressure*bar, e.volume*litre).String() },
		})
	}
	return rows
}
