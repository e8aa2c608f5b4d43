package validation

import (
	"fmt"
	"math"

	"headroom/checker/fluid"
	"headroom/checker/gas"
)

const (
	span2000 = "Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361"
	span2003 = "Span & Wagner, Int. J. Thermophys. 24 (2003) 41–109, part II"
)

// isentropicOfNitrogen is ρ w² by way of the isothermal modulus, expansion and c_p.
func isentropicOfNitrogen(p, T float64) float64 {
	rho := must(gas.Density(p, T))
	s := gas.At(rho, T)
	return fluid.IsentropicModulus(rho*s.PressureRho, s.PressureT/(rho*s.PressureRho), T, rho, gas.Cp(rho, T))
}

func nitrogenRows() []Row {
	const check = "table III, check of an implementation"
	rows := []Row{
		{
			Laws: []string{"gas.Pressure"}, Sure: Seen, What: "nitrogen at 700 K, 200 kg/m³: pressure",
			Source: span2003, Place: check, Printed: "51.268", Unit: "MPa",
			Ours: func() float64 { return gas.Pressure(200, 700) / 1e6 },
		},
		{
			Laws: []string{"gas.IdealCp"}, Sure: Seen, What: "nitrogen at 700 K and no pressure: c_p",
			Source: span2003, Place: check, Printed: "1.0979", Unit: "kJ/kg/K",
			Ours: func() float64 { return gas.IdealCp(700) / 1e3 },
		},
		{
			Laws: []string{"gas.Cp"}, Sure: Seen, What: "nitrogen at 700 K, 200 kg/m³: c_p",
			Source: span2003, Place: check, Printed: "1.1719", Unit: "kJ/kg/K",
			Ours: func() float64 { return gas.Cp(200, 700) / 1e3 },
		},
		{
			Laws: []string{"gas.Enthalpy"}, Sure: Seen, What: "nitrogen from 700 K, 200 kg/m³ to 750 K, 100 kg/m³: change of enthalpy",
			Source: span2003, Place: check, Printed: "41.82", Unit: "kJ/kg",
			Ours: func() float64 { return (gas.Enthalpy(100, 750) - gas.Enthalpy(200, 700)) / 1e3 },
		},
		{
			Laws: []string{"gas.Entropy"}, Sure: Seen, What: "nitrogen from 700 K, 200 kg/m³ to 750 K, 100 kg/m³: change of entropy",
			Source: span2003, Place: check, Printed: "0.31053", Unit: "kJ/kg/K",
			Ours: func() float64 { return (gas.Entropy(100, 750) - gas.Entropy(200, 700)) / 1e3 },
		},
		{
			Laws: []string{"gas.SoundSpeed"}, Sure: Computed, What: "nitrogen at 300 K, 150 kg/m³: speed of sound along the isentrope",
			Source: scipy, Place: "nitrogen.sound", Printed: byScipy("nitrogen.sound"), Unit: "m/s", Within: share(1e-5, "difference of 0.1 % in density"),
			Ours: func() float64 { return gas.SoundSpeed(150, 300) },
		},
		{
			Laws: []string{"gas.Pressure"}, Sure: Computed, What: "nitrogen at 175 K, 0.00375 m³/kg: pressure",
			Source: span2000, Place: "the reference equation", Printed: "10001.1", Unit: "kPa", Within: share(0.001, "short equation against reference"),
			Ours: func() float64 { return gas.Pressure(1/0.00375, 175) / 1e3 },
		},
	}
	return append(rows, referenceRows()...)
}

// referenceRows lay the short equation beside the reference equation: rows printed
// in its paper, per mole, and a table computed from it.
func referenceRows() (rows []Row) {
	type state struct {
		p, T                                 float64
		rho, cv, cp, w                       string
		rhoUnit, heatUnit                    string
		perRho, perHeat                      float64
		rhoShare, cvShare, cpShare, sndShare float64
		sure                                 Surety
		place                                string
	}
	const M = 28.013
	states := []state{
		{2, 1000, "0.23889", "24.40", "32.75", "635.5", "mol/dm³", "J/mol/K", M, M / 1e3, 0.001, 0.01, 0.01, 0.01, Seen, "table of check values, 1000 K"},
		{50, 1000, "5.1051", "24.79", "33.68", "748.9", "mol/dm³", "J/mol/K", M, M / 1e3, 0.0035, 0.01, 0.01, 0.01, Seen, "table of check values, 1000 K"},
	}
	for _, s := range []struct {
		T, p           float64
		rho, cv, cp, w string
	}{
		{293.15, 10, "114.8417", "765.98", "1204.95", "375.16"}, {293.15, 20, "218.5444", "782.88", "1317.91", "422.81"},
		{300, 0.1, "1.1233", "743.16", "1041.33", "353.16"}, {300, 5, "56.3445", "754.66", "1120.34", "363.42"},
		{300, 20, "212.5372", "781.13", "1302.06", "425.96"}, {300, 35, "329.1842", "799.25", "1363.69", "513.06"},
		{400, 5, "41.4399", "753.58", "1083.58", "420.44"}, {400, 20, "154.1737", "769.59", "1174.86", "472.92"},
		{400, 35, "245.8994", "782.71", "1225.17", "536.60"},
	} {
		rhoShare := 0.001
		if s.p > 20 {
			rhoShare = 0.0035
		}
		states = append(states, state{s.p, s.T, s.rho, s.cv, s.cp, s.w, "kg/m³", "J/kg/K", 1, 1, rhoShare, 0.007, 0.003, 0.008, Computed, "the reference equation"})
	}
	for _, s := range states {
		at := fmt.Sprintf("nitrogen at %g K, %g MPa: ", s.T, s.p)
		rho := func() float64 { return must(gas.Density(s.p*1e6, s.T)) }
		const because = "short equation against reference"
		rows = append(rows,
			Row{
				Laws: []string{"gas.Density"}, Sure: s.sure, What: at + "density", Source: span2000, Place: s.place,
				Printed: s.rho, Unit: s.rhoUnit, Within: share(s.rhoShare, because),
				Ours: func() float64 { return must(gas.Density(s.p*1e6, s.T)) / s.perRho },
			},
			Row{
				Laws: []string{"gas.At"}, Sure: s.sure, What: at + "c_v", Source: span2000, Place: s.place,
				Printed: s.cv, Unit: s.heatUnit, Within: share(s.cvShare, because),
				Ours: func() float64 { return gas.At(rho(), s.T).Cv * s.perHeat },
			},
			Row{
				Laws: []string{"gas.Cp"}, Sure: s.sure, What: at + "c_p", Source: span2000, Place: s.place,
				Printed: s.cp, Unit: s.heatUnit, Within: share(s.cpShare, because),
				Ours: func() float64 { return gas.Cp(rho(), s.T) * s.perHeat },
			},
			Row{
				Laws: []string{"gas.SoundSpeed"}, Sure: s.sure, What: at + "speed of sound", Source: span2000, Place: s.place,
				Printed: s.w, Unit: "m/s", Within: share(s.sndShare, because),
				Ours: func() float64 { return gas.SoundSpeed(rho(), s.T) },
			})
	}
	return rows
}

// charged is 10 L of nitrogen at 293.15 K and a pressure in MPa.
func charged(mpa float64) gas.Charge {
	c, err := gas.NewCharge(mpa*1e6, 293.15, 10*litre)
	if err != nil {
		panic(err)
	}
	return c
}

func chargeRows() (rows []Row) {
	const reference, because = "the reference equation", "short equation against reference"
	for _, e := range []struct {
		from, to    float64
		volume, hot string
	}{{10, 20, "0.66396", "359.31"}, {10, 30, "0.53300", "403.99"}, {20, 35, "0.76391", "343.70"}, {1, 2, "0.61383", ""}} {
		what := fmt.Sprintf("nitrogen pressed without heat from %g to %g MPa from 293.15 K: ", e.from, e.to)
		rows = append(rows, Row{
			Laws: []string{"gas.Charge.ToPressure", "gas.NewCharge"}, Sure: Computed, What: what + "V2/V1",
			Source: span2000, Place: reference, Printed: e.volume, Unit: "1", Within: share(0.005, because),
			Ours: func() float64 {
				V, _ := charged(e.from).ToPressure(10*litre, 293.15, e.to*1e6)
				return V / (10 * litre)
			},
		})
		if e.hot != "" {
			rows = append(rows, Row{
				Laws: []string{"gas.Charge.ToVolume", "gas.Charge.ToPressure"}, Sure: Computed, What: what + "T2",
				Source: span2000, Place: reference, Printed: e.hot, Unit: "K", Within: share(0.0005, because),
				Ours: func() float64 {
					V, _ := charged(e.from).ToPressure(10*litre, 293.15, e.to*1e6)
					return charged(e.from).ToVolume(10*litre, 293.15, V)
				},
			})
		}
	}
	for _, e := range []struct {
		to      float64
		printed string
	}{{20, "0.52548"}, {30, "0.37972"}} {
		rows = append(rows, Row{
			Laws: []string{"gas.Charge.Volume"}, Sure: Computed, What: fmt.Sprintf("nitrogen pressed at 293.15 K from 10 to %g MPa: V2/V1", e.to),
			Source: span2000, Place: reference, Printed: e.printed, Unit: "1", Within: share(0.005, because),
			Ours: func() float64 { return must(charged(10).Volume(e.to*1e6, 293.15)) / (10 * litre) },
		})
	}
	for _, e := range []struct {
		cold    float64
		printed string
	}{{10, "11.6755"}, {20, "23.830"}} {
		rows = append(rows, Row{
			Laws: []string{"gas.PrechargeAt"}, Sure: Computed, What: fmt.Sprintf("precharge of %g MPa at 20 °C, warmed to 60 °C", e.cold),
			Source: span2000, Place: reference, Printed: e.printed, Unit: "MPa", Within: share(0.001, because),
			Ours: func() float64 { return must(gas.PrechargeAt(e.cold*1e6, 293.15, 333.15)) / 1e6 },
		})
	}
	return append(rows,
		Row{
			Laws: []string{"gas.Charge.Volume"}, Sure: Computed, What: "precharge 9 MPa, at 20 °C from 10 to 20 MPa: useful share of the volume",
			Source: span2000, Place: reference, Printed: "0.42810", Unit: "1", Within: share(0.005, because),
			Ours: func() float64 {
				c := charged(9)
				return (must(c.Volume(10e6, 293.15)) - must(c.Volume(20e6, 293.15))) / (10 * litre)
			},
		},
		Row{
			Laws: []string{"gas.Charge.ToVolume"}, Sure: Computed, What: "10 L at 10 MPa and 293.15 K pressed to 7 L without heat: temperature",
			Source: span2000, Place: reference, Printed: "349.645", Unit: "K", Within: share(0.0005, because),
			Ours: func() float64 { return charged(10).ToVolume(10*litre, 293.15, 7*litre) },
		},
		Row{
			Laws: []string{"gas.Charge.At"}, Sure: Computed, What: "10 L at 10 MPa and 293.15 K pressed to 7 L without heat: pressure",
			Source: span2000, Place: reference, Printed: "18.214", Unit: "MPa", Within: share(0.002, because),
			Ours: func() float64 {
				c := charged(10)
				return c.At(7*litre, c.ToVolume(10*litre, 293.15, 7*litre)).Pressure / 1e6
			},
		},
		Row{
			Laws: []string{"gas.TemperatureRate", "gas.Charge.At"}, Sure: Computed, What: "10 L at 10 MPa and 293.15 K pressed to 7 L in 1 s, time constant 8 s: temperature",
			Source: scipy, Place: "charge.temperature", Printed: byScipy("charge.temperature"), Unit: "K", Within: digits,
			Ours: func() float64 { T, _ := pressed(8); return T },
		},
		Row{
			Laws: []string{"gas.Charge.At", "gas.TemperatureRate"}, Sure: Computed, What: "10 L at 10 MPa and 293.15 K pressed to 7 L in 1 s, time constant 8 s: pressure",
			Source: scipy, Place: "charge.pressure", Printed: byScipy("charge.pressure"), Unit: "Pa", Within: digits,
			Ours: func() float64 { _, p := pressed(8); return p },
		},
		Row{
			Laws: []string{"gas.Charge.At"}, Sure: Computed, What: "0.2 kg in 1 L at 320 K: warming per volume taken away",
			Source: scipy, Place: "charge.warming", Printed: byScipy("charge.warming"), Unit: "K/m³", Within: digits,
			Ours: func() float64 { return gas.Charge{Mass: 0.2}.At(1*litre, 320).Warming },
		},
		Row{
			Laws: []string{"gas.PolytropicSize"}, Sure: Seen, What: "to give 5 L between 80 and 180 bar, precharge 72 bar, n 1",
			Source: "common practice: sizing example of the trade", Place: "isothermal", Printed: "10.0", Unit: "L",
			Ours: func() float64 { return gas.PolytropicSize(5, 72, 80, 180, 1) },
		},
		Row{
			Laws: []string{"gas.PolytropicSize"}, Sure: Computed, What: "the same with n 1.4",
			Source: "V0 = ΔV/[(p0/p1)^(1/n) − (p0/p2)^(1/n)]", Place: "worked out again", Printed: "12.261", Unit: "L",
			Ours: func() float64 { return gas.PolytropicSize(5, 72, 80, 180, 1.4) },
		},
		Row{
			Laws: []string{"gas.PolytropicSize"}, Sure: Seen, What: "10 gal at 1000 psi, between 3000 and 1200 psi by Boyle: what it gives",
			Source: "common practice: sizing example of the trade", Place: "Boyle, gauge pressures as printed", Printed: "5.0", Unit: "gal",
			Ours: func() float64 { return 10 / gas.PolytropicSize(1, 1000, 1200, 3000, 1) },
		})
}

// pressed is the temperature and pressure of 10 L at 10 MPa pressed to 7 L in 1 s,
// by the classical method of order 4.
func pressed(constant float64) (T, p float64) {
	c, T := charged(10), 293.15
	rate := func(t, T float64) float64 {
		return gas.TemperatureRate(T, 293.15, constant, c.At((10-3*t)*litre, T).Warming, -3*litre)
	}
	const steps = 500
	const h = 1. / steps
	for i := range steps {
		t := float64(i) * h
		k1 := rate(t, T)
		k2 := rate(t+h/2, T+h/2*k1)
		k3 := rate(t+h/2, T+h/2*k2)
		k4 := rate(t+h, T+h*k3)
		T += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return T, c.At(7*litre, T).Pressure
}

func atmosphereRows() (rows []Row) {
	for _, e := range []struct {
		feet    float64
		printed string
	}{{-5000, "17.554"}, {5000, "12.228"}, {10000, "10.108"}, {15000, "8.297"}, {20000, "6.759"}, {25000, "5.461"}, {30000, "4.373"}, {35000, "3.468"}} {
		rows = append(rows, Row{
			Laws: []string{"gas.AirPressure"}, Sure: Seen, What: fmt.Sprintf("air at %g ft", e.feet),
			Source: "U.S. Standard Atmosphere 1976, the same as ISO 2533:1975 in this layer", Place: "table over feet, psi", Printed: e.printed, Unit: "psi",
			Ours: func() float64 { return must(gas.AirPressure(e.feet*foot)) / psi },
		})
	}
	rows = append(rows, Row{
		Laws: []string{"gas.AirPressure"}, Sure: Seen, What: "air at 11 000 m geopotential, the top of the layer",
		Source: "U.S. Standard Atmosphere 1976, the same as ISO 2533:1975 in this layer", Place: "base of the second layer", Printed: "22632.10", Unit: "Pa",
		Within: share(5e-6, "digits of R"),
		Ours: func() float64 {
			const r = 6356766
			return must(gas.AirPressure(math.Nextafter(r*11000./(r-11000), 0)))
		},
	})
	for _, h := range []float64{1500, 3000, 8000} {
		name := fmt.Sprintf("air.%gm", h)
		rows = append(rows, Row{
			Laws: []string{"gas.AirPressure"}, Sure: Computed, What: fmt.Sprintf("air at %g m", h),
			Source: scipy, Place: name, Printed: byScipy(name), Unit: "Pa", Within: digits,
			Ours: func() float64 { return must(gas.AirPressure(h)) },
		})
	}
	return rows
}
