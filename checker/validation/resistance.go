package validation

import (
	"fmt"
	"math"

	"headroom/checker/resistance"
	"headroom/checker/strength"
)

const churchill = "Churchill, Chemical Engineering 84 (24) (1977) 91"

func frictionFactorRows() (rows []Row) {
	for _, e := range []struct {
		re, roughness        float64
		churchill, colebrook string
		within               float64 // of Colebrook–White
	}{
		{100, 0, "0.640000", "", 0}, {1000, 0, "0.064000", "", 0}, {2000, 0, "0.032043", "", 0}, {2300, 0, "0.030840", "", 0},
		{3000, 0, "0.042975", "", 0}, {4000, 0, "0.040590", "0.039907", 0.032}, {4000, 0.01, "0.050578", "0.049082", 0.032},
		{1e4, 0, "0.031002", "0.030883", 0.022}, {1e4, 0.001, "0.032690", "0.032382", 0.022},
		{1e5, 0, "0.017875", "0.017990", 0.015}, {1e5, 0.001, "0.022343", "0.022175", 0.015},
		{1e5, 0.01, "0.038734", "0.038504", 0.015}, {1e5, 0.05, "0.071950", "0.071781", 0.015},
		{1e6, 0, "0.011612", "0.011645", 0.015}, {1e6, 1e-4, "0.013508", "0.013441", 0.015}, {1e6, 0.001, "0.020022", "0.019943", 0.015},
		{1e7, 1e-4, "0.012210", "0.012166", 0.015},
		{1e8, 0.01, "0.037885", "0.037904", 0.015}, {1e8, 0.05, "0.071503", "0.071551", 0.015},
	} {
		what := fmt.Sprintf("f at Re %g, ε/D %g", e.re, e.roughness)
		rows = append(rows, Row{
			Laws: []string{"resistance.FrictionFactor"}, Sure: Computed, What: what,
			Source: churchill, Place: "the formula", Printed: e.churchill, Unit: "1",
			Ours: func() float64 { return resistance.FrictionFactor(e.re, e.roughness) },
		})
		if e.colebrook != "" {
			rows = append(rows, Row{
				Laws: []string{"resistance.FrictionFactor"}, Sure: Computed, What: what,
				Source: "Colebrook–White (1939)", Place: "solved", Printed: e.colebrook, Unit: "1", Within: share(e.within, "Churchill against Colebrook–White"),
				Ours: func() float64 { return resistance.FrictionFactor(e.re, e.roughness) },
			})
		}
	}
	return append(rows,
		Row{
			Laws: []string{"resistance.FrictionFactor"}, Sure: Seen, What: "f at Re 1e5, ε/D 1e-4, Churchill",
			Source: "fluids, open-source library", Place: "documentation of Churchill_1977", Printed: "0.018462625", Unit: "1", Within: share(3e-8, "all digits"),
			Ours: func() float64 { return resistance.FrictionFactor(1e5, 1e-4) },
		},
		Row{
			Laws: []string{"resistance.FrictionFactor"}, Sure: Seen, What: "f at Re 1e5, ε/D 1e-4, Colebrook",
			Source: "fluids, open-source library", Place: "documentation of Colebrook", Printed: "0.018513866", Unit: "1", Within: share(0.015, "Churchill against Colebrook–White"),
			Ours: func() float64 { return resistance.FrictionFactor(1e5, 1e-4) },
		},
		Row{
			Laws: []string{"resistance.FrictionFactor"}, Sure: Computed, What: "f at Re 5e4, ε/D 1e-3, Colebrook",
			Source: scipy, Place: "line.colebrook", Printed: byScipy("line.colebrook"), Unit: "1", Within: share(0.022, "Churchill against Colebrook–White"),
			Ours: func() float64 { return resistance.FrictionFactor(5e4, 1e-3) },
		})
}

// crane is the pipe, flow (m³/s), density and viscosity of Crane TP-410, example
// 7.17: 1900 US barrels an hour through 50 miles of 12 inch schedule 30 pipe.
func crane() (pipe resistance.Tube, flow, rho, mu float64) {
	const barrel, pound, mile = 42 * gallon, 0.45359237, 1609.344
	return resistance.Tube{Bore: 307.04 * mm, Length: 50 * mile, Roughness: 0.0022 * inch, Elevation: 2000 * foot},
		1900 * barrel / 3600, 54.64 * pound / (foot * foot * foot), 12.5e-3
}

func tubeRows() []Row {
	const (
		tp410    = "Crane, Technical Paper 410"
		esposito = "Esposito, Fluid Power with Applications, companion file"
		shortcut = "the book's shortcut"
	)
	head := func() float64 {
		pipe, q, rho, mu := crane()
		return pipe.Drop(q, rho, mu).Drop / (rho * resistance.Gravity) / foot
	}
	laminar := resistance.Tube{Bore: 50 * mm, Length: 50}
	const rho = 8800 / 9.8
	return []Row{
		{
			Laws: []string{"resistance.Tube.Drop"}, Sure: Seen, What: "oil pipeline, 50 miles: head",
			Source: tp410, Place: "example 7.17", Printed: "3406.5", Unit: "ft", Within: share(0.003, shortcut), Ours: func() float64 { return head() },
		},
		{
			Laws: []string{"resistance.Tube.Drop"}, Sure: Computed, What: "oil pipeline, 50 miles: head without the shortcut, f by Churchill",
			Source: tp410, Place: "example 7.17", Printed: "3413.0", Unit: "ft", Ours: func() float64 { return head() },
		},
		{
			Laws: []string{"resistance.Tube.Drop"}, Sure: Seen, What: "oil pipeline, 50 miles: power at an efficiency of 0.67",
			Source: tp410, Place: "example 7.17", Printed: "1496", Unit: "hp", Within: share(0.003, shortcut),
			Ours: func() float64 {
				pipe, q, rho, mu := crane()
				return pipe.Drop(q, rho, mu).Drop * q / 0.67 / (550 * foot * psi * inch * inch)
			},
		},
		{
			Laws: []string{"resistance.Tube.Reynolds"}, Sure: Computed, What: "oil pipeline, 50 miles: Reynolds number",
			Source: tp410, Place: "example 7.17", Printed: "24364", Unit: "1",
			Ours: func() float64 { pipe, q, rho, mu := crane(); return pipe.Reynolds(q, mu/rho) },
		},
		{
			Laws: []string{"resistance.Tube.Reynolds", "resistance.CircleArea"}, Sure: Seen, What: "1000 mm²/s at 5 m/s in 50 mm: Reynolds number",
			Source: esposito, Place: "example 4-4", Printed: "250", Unit: "1",
			Ours: func() float64 { return laminar.Reynolds(5*resistance.CircleArea(50*mm), 1e-3) },
		},
		{
			Laws: []string{"resistance.FrictionFactor"}, Sure: Seen, What: "f of 1000 mm²/s at 5 m/s in 50 mm",
			Source: esposito, Place: "example 4-4", Printed: "0.256", Unit: "1", Ours: func() float64 { return resistance.FrictionFactor(250, 0) },
		},
		{
			Laws: []string{"resistance.Tube.Drop"}, Sure: Seen, What: "1000 mm²/s at 5 m/s in 50 m of 50 mm, 8800 N/m³, g 9.8 m/s²: drop",
			Source: esposito, Place: "example 4-4", Printed: "2873", Unit: "kPa", Within: share(3e-4, "the head was rounded on the way"),
			Ours: func() float64 { return laminar.Drop(5*resistance.CircleArea(50*mm), rho, rho*1e-3).Drop / 1e3 },
		},
		{
			Laws: []string{"resistance.Tube.Drop"}, Sure: Computed, What: "1000 mm²/s at 5 m/s in 50 m of 50 mm, 8800 N/m³, g 9.8 m/s²: head",
			Source: esposito, Place: "example 4-4", Printed: "326.5", Unit: "m",
			Ours: func() float64 { return laminar.Drop(5*resistance.CircleArea(50*mm), rho, rho*1e-3).Drop / 8800 },
		},
		{
			Laws: []string{"resistance.Tube.Velocity"}, Sure: Seen, What: "30 gpm (449 gpm per ft³/s) in 0.7826 in: velocity",
			Source: esposito, Place: "example 10-1", Printed: "20.0", Unit: "ft/s",
			Ours: func() float64 {
				line := resistance.Tube{Bore: 0.7826 * inch}
				return line.Velocity(30./449*foot*foot*foot) / foot
			},
		},
		{
			Laws: []string{"resistance.Tube.Flow"}, Sure: Computed, What: "laminar, by its profile: 9 mm, 9 m, 40 mPa s, 60 kPa",
			Source: scipy, Place: "line.laminar", Printed: byScipy("line.laminar"), Unit: "m³/s", Within: digits,
			Ours: func() float64 {
				line := resistance.Tube{Bore: 9 * mm, Length: 9}
				return line.Flow(6e4, 870, 0.04).Flow
			},
		},
		{
			Laws: []string{"resistance.Tube.Flow"}, Sure: Computed, What: "turbulent: 9 mm, 9 m, ε 1.5 µm, losses 6, 850 kg/m³, 12 mPa s, 3 MPa",
			Source: scipy, Place: "line.turbulent", Printed: byScipy("line.turbulent"), Unit: "m³/s", Within: digits,
			Ours: func() float64 {
				line := resistance.Tube{Bore: 9 * mm, Length: 9, Roughness: 1.5e-6, Losses: 6}
				return line.Flow(3e6, 850, 0.012).Flow
			},
		},
		{
			Laws: []string{"resistance.Tube.Volume"}, Sure: Defined, What: "what 10 m of 20 mm bore hold",
			Source: "definition", Place: "π D² L/4", Printed: "3.14159", Unit: "L",
			Ours: func() float64 { line := resistance.Tube{Bore: 20 * mm, Length: 10}; return line.Volume() / litre },
		},
		{
			Laws: []string{"resistance.CircleArea"}, Sure: Computed, What: "ring from 100 to 200 mm",
			Source: scipy, Place: "pack.area", Printed: byScipy("pack.area"), Unit: "m²", Within: digits,
			Ours: func() float64 { return resistance.CircleArea(0.2) - resistance.CircleArea(0.1) },
		},
	}
}

func orificeRows() (rows []Row) {
	for _, e := range []struct {
		diameter, drop, cd float64
		printed            string
	}{{1, 100, 0.62, "4.4298"}, {1, 100, 0.611, "4.3655"}, {0.5, 50, 0.7, "0.88414"}} {
		rows = append(rows, Row{
			Laws: []string{"resistance.OrificeCoefficient", "resistance.SquareLaw"}, Sure: Computed,
			What:   fmt.Sprintf("orifice of %g mm, C_d %g, %g bar, 870 kg/m³: flow", e.diameter, e.cd, e.drop),
			Source: "Bernoulli with a discharge coefficient", Place: "C_d A √(2Δp/ρ)", Printed: e.printed, Unit: "L/min",
			Ours: func() float64 {
				q, _ := resistance.SquareLaw(resistance.OrificeCoefficient(e.cd, resistance.CircleArea(e.diameter*mm), 870), e.drop*bar)
				return q / lpm
			},
		})
	}
	flow := func(q, _ float64) float64 { return q / lpm }
	return append(rows,
		Row{
			Laws: []string{"resistance.RatedCoefficient", "resistance.SquareLaw"}, Sure: Defined, What: "40 L/min at 50 bar and 860 kg/m³: flow at 200 bar",
			Source: "definition", Place: "twice the flow at four times the drop", Printed: "80.000", Unit: "L/min",
			Ours: func() float64 {
				return flow(resistance.SquareLaw(resistance.RatedCoefficient(40*lpm, 50*bar, 860), 200*bar))
			},
		},
		Row{
			Laws: []string{"resistance.RatedCoefficient"}, Sure: Defined, What: "the same at four times the density and 50 bar",
			Source: "definition", Place: "half the flow", Printed: "20.000", Unit: "L/min",
			Ours: func() float64 {
				return flow(resistance.SquareLaw(resistance.RatedCoefficient(40*lpm, 50*bar, 4*860), 50*bar))
			},
		},
		Row{
			Laws: []string{"resistance.TransitionReynolds"}, Sure: Computed, What: "Re_t of a round orifice, C_d 0.611 and δ 0.2 (δ of Merritt, from memory)",
			Source: "Merritt, Hydraulic Control Systems (1967)", Place: "(C_d/δ)²", Printed: "9.33", Unit: "1",
			Ours: func() float64 { return resistance.TransitionReynolds(0.611, 0.2) },
		},
		Row{
			Laws: []string{"resistance.TransitionReynolds"}, Sure: Computed, What: "Re_t of a slot, C_d 0.611 and δ 0.157 (δ of Merritt, from memory)",
			Source: "Merritt, Hydraulic Control Systems (1967)", Place: "(C_d/δ)²", Printed: "15.15", Unit: "1", Within: Tolerance{Absolute: 0.006, Because: "half a last digit"},
			Ours: func() float64 { return resistance.TransitionReynolds(0.611, 0.157) },
		},
		Row{
			Laws: []string{"resistance.LaminarDischarge"}, Sure: Computed, What: "C_d at a quarter of Re_t",
			Source: "Merritt, Hydraulic Control Systems (1967)", Place: "δ√Re", Printed: "0.3055", Unit: "1",
			Ours: func() float64 { return resistance.LaminarDischarge(0.611, 0.2, 9.331/4) },
		},
		Row{
			Laws: []string{"resistance.LaminarDischarge"}, Sure: Computed, What: "C_d of a free streamline, far above Re_t",
			Source: "Kirchhoff's free streamline", Place: "π/(π + 2)", Printed: "0.61102", Unit: "1",
			Ours: func() float64 { return resistance.LaminarDischarge(math.Pi/(math.Pi+2), 0.2, 1e5) },
		})
}

func valveRows() []Row {
	const definition, rated = "definition", "the rated point"
	flow := func(q, _ float64) float64 { return q / lpm }
	k := resistance.RatedCoefficient(30*lpm, 2*bar, 860)
	return []Row{
		{
			Laws: []string{"resistance.CheckValve"}, Sure: Defined, What: "check valve of 30 L/min at 2 bar above 0.3 bar, at 2.3 bar",
			Source: definition, Place: rated, Printed: "30.00", Unit: "L/min", Within: share(2e-4, "rounding about zero, (5 kPa/2 bar)²/4"),
			Ours: func() float64 { return flow(resistance.CheckValve(k, 0.3*bar, 2.3*bar)) },
		},
		{
			Laws: []string{"resistance.ReliefValve"}, Sure: Defined, What: "relief valve of 25 L/min at 6 bar above 60 bar, at 63 bar",
			Source: definition, Place: "half of the rated flow at half of the override", Printed: "12.5", Unit: "L/min", Within: share(1e-12, exact),
			Ours: func() float64 { return flow(resistance.ReliefValve(25*lpm, 6*bar, 60*bar, 63*bar)) },
		},
		{
			Laws: []string{"resistance.FlowRegulator"}, Sure: Defined, What: "regulator set to 8 L/min that needs 7 bar, at 3.5 and at 200 bar",
			Source: definition, Place: "half, and all of the set flow", Printed: "4 and 8 L/min",
			Says: func() string {
				held := func(dp float64) float64 {
					return math.Round(flow(resistance.FlowRegulator(8*lpm, 7*bar, dp))*1e9) / 1e9
				}
				return fmt.Sprintf("%g and %g L/min", held(3.5*bar), held(200*bar))
			},
		},
		{
			Laws: []string{"resistance.FilterConductance"}, Sure: Defined, What: "element of 40 L/min at 0.5 bar and 32 mm²/s, at 1 bar and 320 mm²/s",
			Source: "Darcy's law", Place: "flow as drop over viscosity", Printed: "8", Unit: "L/min", Within: share(1e-12, exact),
			Ours: func() float64 { return resistance.FilterConductance(40*lpm, 0.5*bar, 32e-6, 320e-6) * bar / lpm },
		},
		{
			Laws: []string{"resistance.FilterBypass"}, Sure: Defined, What: "bypass of 2.5 bar of an element of 40 L/min at 0.5 bar, at 4.5 bar",
			Source: definition, Place: "twice the rated flow at four times the rated drop", Printed: "80.0", Unit: "L/min",
			Ours: func() float64 { return flow(resistance.FilterBypass(40*lpm, 0.5*bar, 2.5*bar, 4.5*bar)) },
		},
		{
			Laws: []string{"resistance.LeakConductance"}, Sure: Defined, What: "0.1 L/min at 200 bar: leakage at 50 bar",
			Source: definition, Place: "a straight line", Printed: "0.025", Unit: "L/min", Within: share(1e-12, exact),
			Ours: func() float64 { return resistance.LeakConductance(0.1*lpm, 200*bar) * 50 * bar / lpm },
		},
		{
			Laws: []string{"resistance.PilotCheckValve"}, Sure: Computed, What: "piloted at 26.3 bar, from 1, to 100 bar, ratio 4, cracking 1 bar: backwards",
			Source: scipy, Place: "valve.pilot", Printed: byScipy("valve.pilot"), Unit: "m³/s", Within: digits,
			Ours: func() float64 { return resistance.PilotCheckValve(k, 1*bar, 4, 1*bar, 100*bar, 26.3*bar).Flow },
		},
		{
			Laws: []string{"resistance.ShuttleValve"}, Sure: Computed, What: "50 and 49.8 bar to 40 bar: from the higher",
			Source: scipy, Place: "valve.shuttle-a", Printed: byScipy("valve.shuttle-a"), Unit: "m³/s", Within: digits,
			Ours: func() float64 { return resistance.ShuttleValve(k, 50*bar, 49.8*bar, 40*bar).A },
		},
		{
			Laws: []string{"resistance.ShuttleValve"}, Sure: Computed, What: "50 and 49.8 bar to 40 bar: from the lower",
			Source: scipy, Place: "valve.shuttle-b", Printed: byScipy("valve.shuttle-b"), Unit: "m³/s", Within: digits,
			Ours: func() float64 { return resistance.ShuttleValve(k, 50*bar, 49.8*bar, 40*bar).B },
		},
		{
			Laws: []string{"resistance.CoolerHeat"}, Sure: Computed, What: "700 W/K of oil 23 K warmer than the coolant past 90 W/K",
			Source: scipy, Place: "cooler.heat", Printed: byScipy("cooler.heat"), Unit: "W", Within: digits,
			Ours: func() float64 { heat, _, _ := resistance.CoolerHeat(90, 700, 23); return heat },
		},
		{
			Laws: []string{"resistance.ClosureTime"}, Sure: Computed, What: "ramp of 20 ms, lag of 8 ms: from 90 to 10 % open",
			Source: scipy, Place: "valve.closure", Printed: byScipy("valve.closure"), Unit: "s", Within: share(1e-6, "event of a step by step solution"),
			Ours: func() float64 { return resistance.ClosureTime(0.02, 0.008) },
		},
	}
}

func waveRows() []Row {
	const (
		korteweg  = "Korteweg (1878)"
		streeter  = "Wylie & Streeter, Fluid Transients"
		joukowsky = "Joukowsky (1898)"
		K, rho    = 1.5e9, 870
		D, e, E   = 16 * mm, 2 * mm, 206e9
	)
	in := func(c1 float64) float64 {
		return resistance.WaveSpeed(K, rho, resistance.TubeCompliance(D, e, E, c1))
	}
	thick := func(a resistance.Anchorage) float64 { return in(resistance.ThickWall(D, e, 0.3, a)) }
	water := resistance.Tube{Bore: 150 * mm, Length: 500}
	return []Row{
		{
			Laws: []string{"resistance.WaveSpeed"}, Sure: Computed, What: "oil of 1.5 GPa, 870 kg/m³ in a rigid wall",
			Source: korteweg, Place: "√(K/ρ)", Printed: "1313.06", Unit: "m/s", Ours: func() float64 { return resistance.WaveSpeed(K, rho, 0) },
		},
		{
			Laws: []string{"resistance.WaveSpeed", "resistance.TubeCompliance"}, Sure: Computed, What: "oil of 1.5 GPa, 870 kg/m³ in steel tube of bore 16, wall 2 mm, thin",
			Source: korteweg, Place: "c1 = 1", Printed: "1276.41", Unit: "m/s", Ours: func() float64 { return in(1) },
		},
		{
			Laws: []string{"resistance.ThickWall"}, Sure: Computed, What: "wave in oil of 1.5 GPa, 870 kg/m³ in steel tube of bore 16, wall 2 mm, anchored upstream",
			Source: streeter, Place: "c1 (from memory)", Printed: "1273.59", Unit: "m/s", Ours: func() float64 { return thick(resistance.AnchoredUpstream) },
		},
		{
			Laws: []string{"resistance.ThickWall"}, Sure: Computed, What: "wave in the same, anchored throughout",
			Source: streeter, Place: "c1 (from memory)", Printed: "1271.74", Unit: "m/s", Ours: func() float64 { return thick(resistance.AnchoredThroughout) },
		},
		{
			Laws: []string{"resistance.ThickWall"}, Sure: Computed, What: "wave in the same, with expansion joints",
			Source: streeter, Place: "c1 (from memory)", Printed: "1268.97", Unit: "m/s", Ours: func() float64 { return thick(resistance.ExpansionJoints) },
		},
		{
			Laws: []string{"resistance.ThickWall"}, Sure: Computed, What: "c1 of that tube anchored upstream, from the equilibrium of its wall",
			Source: scipy, Place: "tube.thick-wall", Printed: byScipy("tube.thick-wall"), Unit: "1", Within: share(1e-6, "boundary values solved"),
			Ours: func() float64 { return resistance.ThickWall(D, e, 0.3, resistance.AnchoredUpstream) },
		},
		{
			Laws: []string{"resistance.WaveSpeed"}, Sure: Computed, What: "water of 2.19 GPa, 998 kg/m³, rigid",
			Source: korteweg, Place: "√(K/ρ)", Printed: "1481.3", Unit: "m/s", Ours: func() float64 { return resistance.WaveSpeed(2.19e9, 998, 0) },
		},
		{
			Laws: []string{"resistance.WaveSpeed", "resistance.TubeCompliance"}, Sure: Computed, What: "the same in steel pipe of 0.5 m by 10 mm, 207 GPa",
			Source: korteweg, Place: "c1 = 1", Printed: "1198.0", Unit: "m/s",
			Ours: func() float64 {
				return resistance.WaveSpeed(2.19e9, 998, resistance.TubeCompliance(0.5, 0.01, 207e9, 1))
			},
		},
		{
			Laws: []string{"resistance.MeanWaveSpeed"}, Sure: Computed, What: "mean wave as oil with 0.5 % of air at 40 °C is stopped from 3 m/s, from 5 bar on, in a wall that gives way by 4.54e-11 1/Pa",
			Source: scipy, Place: "surge.mean-wave", Printed: byScipy("surge.mean-wave"), Unit: "m/s", Within: share(1e-5, "accuracy of the law"),
			Ours: func() float64 {
				o := exampleOil()
				return resistance.MeanWaveSpeed(101325+5*bar, 3, strength.TubeVolumeCompliance(1.25, 206e9, 0.3), func(p float64) (k, rho float64) {
					return o.EffectiveModulus(kelvin(40), p), o.Density(kelvin(40), p)
				})
			},
		},
		{
			Laws: []string{"resistance.HoseCompliance"}, Sure: Defined, What: "hose of 10 mm that takes in 1 cm³/m/MPa",
			Source: "definition", Place: "stretch over area", Printed: "1.2732e-8", Unit: "1/Pa",
			Ours: func() float64 { return resistance.HoseCompliance(1e-12, 10*mm) },
		},
		{
			Laws: []string{"resistance.Surge"}, Sure: Seen, What: "800 kg/m³, 1200 m/s, 2 m/s stopped at once",
			Source: "common practice: surge example of the trade", Place: "Joukowsky", Printed: "1.9", Unit: "MPa", Ours: func() float64 { return resistance.Surge(800, 1200, 2, 1, 0) / 1e6 },
		},
		{
			Laws: []string{"resistance.Surge"}, Sure: Computed, What: "the same",
			Source: joukowsky, Place: "ρ a Δv", Printed: "1.92", Unit: "MPa", Ours: func() float64 { return resistance.Surge(800, 1200, 2, 1, 0) / 1e6 },
		},
		{
			Laws: []string{"resistance.Surge"}, Sure: Computed, What: "870 kg/m³, 1276.41 m/s, 5 m/s over 10 m, within 2L/a",
			Source: joukowsky, Place: "ρ a Δv", Printed: "55.52", Unit: "bar", Ours: func() float64 { return resistance.Surge(870, 1276.41, 5, 10, 15.668e-3) / bar },
		},
		{
			Laws: []string{"resistance.Surge"}, Sure: Computed, What: "the same in 16 ms, barely slower than 2L/a",
			Source: "Michaud (1878)", Place: "2ρLΔv/t", Printed: "54.375", Unit: "bar", Ours: func() float64 { return resistance.Surge(870, 1276.41, 5, 10, 16e-3) / bar },
		},
		{
			Laws: []string{"resistance.Surge"}, Sure: Computed, What: "the same in 50 ms",
			Source: "Michaud (1878)", Place: "2ρLΔv/t", Printed: "17.40", Unit: "bar", Ours: func() float64 { return resistance.Surge(870, 1276.41, 5, 10, 50e-3) / bar },
		},
		{
			Laws: []string{"resistance.Surge", "resistance.Tube.Velocity"}, Sure: Seen, What: "40 L/s of water in 500 m of 150 mm stopped in 0.5 s, a rigid column: half of Michaud",
			Source: "Choudhary & Om Prakash, companion file", Place: "example 7.19", Printed: "2.2635", Unit: "MPa",
			Ours: func() float64 { return resistance.Surge(1000, 1e4, water.Velocity(0.04), 500, 0.5) / 2 / 1e6 },
		},
		{
			Laws: []string{"resistance.Tube.Velocity"}, Sure: Seen, What: "40 L/s of water in 150 mm: velocity",
			Source: "Choudhary & Om Prakash, companion file", Place: "example 7.19", Printed: "2.2635", Unit: "m/s", Ours: func() float64 { return water.Velocity(0.04) },
		},
	}
}
