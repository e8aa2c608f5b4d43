package validation

import (
	"fmt"
	"math"

	"headroom/checker/friction"
)

func torqueRows() (rows []Row) {
	const bhandari = "Bhandari, Design of Machine Elements, companion file"
	const inner, outer, omega = 0.05, 0.1, 750 * math.Pi / 30
	for _, e := range []struct {
		contact              friction.Contact
		name, place          string
		force, torque, power string
		forceValue           float64
	}{
		{friction.UniformWear, "uniform wear", "example 11.1", "15707.963", "235.619", "18.5055", 15707.963},
		{friction.UniformPressure, "uniform pressure", "example 11.2", "23561.945", "366.519", "28.7863", 23561.945},
	} {
		what := "plate clutch 100/200 mm, f 0.2, 1 MPa, " + e.name + ": "
		torque := func() float64 {
			T, _, _ := friction.Torque(0.2, 1, friction.Radius(e.contact, inner, outer), e.forceValue, 0, omega)
			return T
		}
		rows = append(rows,
			Row{
				Laws: []string{"friction.FacePressure"}, Sure: Seen, What: what + "force",
				Source: bhandari, Place: e.place, Printed: e.force, Unit: "N",
				Ours: func() float64 { return 1e6 / friction.FacePressure(e.contact, 1, inner, outer) },
			},
			Row{
				Laws: []string{"friction.Torque", "friction.Radius"}, Sure: Seen, What: what + "torque of a face",
				Source: bhandari, Place: e.place, Printed: e.torque, Unit: "N·m",
				Ours: func() float64 {
					T, _, _ := friction.Torque(0.2, 1, friction.Radius(e.contact, inner, outer), e.forceValue, 0, omega)
					return T
				},
			},
			Row{
				Laws: []string{"friction.Torque"}, Sure: Seen, What: what + "power at 750 rpm",
				Source: bhandari, Place: e.place, Printed: e.power, Unit: "kW", Ours: func() float64 { return torque() * omega / 1e3 },
			})
	}
	const shigley = "Shigley, Mechanical Engineering Design, 8th ed., solutions"
	alpha := math.Atan(12. / 60)
	cone := func(c friction.Contact) float64 {
		return 200 * math.Sin(alpha) / (0.26 * friction.Radius(c, 0.153, 0.165))
	}
	for _, e := range []struct {
		contact         friction.Contact
		name            string
		force, pressure string
		sure            Surety
	}{{friction.UniformWear, "wear", "0.949", "82.2", Seen}, {friction.UniformPressure, "pressure", "0.948", "79.1", Computed}} {
		rows = append(rows,
			Row{
				Laws: []string{"friction.Radius"}, Sure: e.sure, What: "cone of 306/330 mm, 60 mm wide, f 0.26, 200 N·m, uniform " + e.name + ": force",
				Source: shigley, Place: "problem 16-19", Printed: e.force, Unit: "kN", Ours: func() float64 { return cone(e.contact) / 1e3 },
			},
			Row{
				Laws: []string{"friction.FacePressure"}, Sure: e.sure, What: "cone of 306/330 mm, 60 mm wide, f 0.26, 200 N·m, uniform " + e.name + ": pressure",
				Source: shigley, Place: "problem 16-19", Printed: e.pressure, Unit: "kPa",
				Within: Tolerance{Absolute: 0.06, Because: "the force was rounded on the way"},
				Ours:   func() float64 { return friction.FacePressure(e.contact, cone(e.contact), 0.153, 0.165) / 1e3 },
			})
	}
	for _, e := range []struct {
		k       float64
		printed string
	}{{0.5, "0.96429"}, {0.577, "0.97658"}, {0.8, "0.99590"}} {
		rows = append(rows, Row{
			Laws: []string{"friction.Radius"}, Sure: Computed, What: fmt.Sprintf("torque with uniform wear over that with uniform pressure, d/D %g", e.k),
			Source: "the two theories of disc clutches", Place: "¾(1 + k)(1 − k²)/(1 − k³)", Printed: e.printed, Unit: "1",
			Ours: func() float64 {
				return friction.Radius(friction.UniformWear, e.k, 1) / friction.Radius(friction.UniformPressure, e.k, 1)
			},
		})
	}
	return append(rows,
		Row{
			Laws: []string{"friction.Radius"}, Sure: Computed, What: "radius of a face 100/200 mm by integrating r² over r, uniform pressure",
			Source: scipy, Place: "pack.radius", Printed: byScipy("pack.radius"), Unit: "m", Within: digits,
			Ours: func() float64 { return friction.Radius(friction.UniformPressure, 0.05, 0.1) },
		},
		Row{
			Laws: []string{"friction.FaceArea"}, Sure: Computed, What: "area of a face 100/200 mm, integrated",
			Source: scipy, Place: "pack.area", Printed: byScipy("pack.area"), Unit: "m²", Within: digits,
			Ours: func() float64 { return friction.FaceArea(0.05, 0.1) },
		},
		Row{
			Laws: []string{"friction.Rounded"}, Sure: Computed, What: "share of the torque left at a slip of 0.2 rad/s",
			Source: scipy, Place: "pack.tanh", Printed: byScipy("pack.tanh"), Unit: "1", Within: digits,
			Ours: func() float64 { sign, _ := friction.Rounded(0.2, friction.SlipRounding); return sign },
		})
}

func engagementRows() []Row {
	return []Row{
		{
			Laws: []string{"friction.EngagementTime"}, Sure: Computed, What: "0.4 and 1.3 kg m² that differ by 500 rad/s under 250 N·m: time",
			Source: scipy, Place: "pack.time", Printed: byScipy("pack.time"), Unit: "s", Within: digits,
			Ours: func() float64 { return friction.EngagementTime(0.4, 1.3, 500, 250) },
		},
		{
			Laws: []string{"friction.EngagementEnergy"}, Sure: Computed, What: "0.4 and 1.3 kg m² that differ by 500 rad/s: heat of their engagement",
			Source: scipy, Place: "pack.energy", Printed: byScipy("pack.energy"), Unit: "J", Within: digits,
			Ours: func() float64 { return friction.EngagementEnergy(0.4, 1.3, 500) },
		},
		{
			Laws: []string{"friction.Clamp", "friction.ReleasePressure"}, Sure: Defined, What: "6 kN on 30 cm²: force left at half of the pressure that takes it all",
			Source: "balance of forces", Place: "half", Printed: "3000", Unit: "N", Within: share(1e-12, exact),
			Ours: func() float64 {
				force, _, _ := friction.Clamp(6000, friction.ReleasePressure(6000, 500e3, 0, 30e-4)/2, 30e-4, 0, 0.02e-3)
				return force
			},
		},
		{
			Laws: []string{"friction.ReleasePressure", "friction.FullLift"}, Sure: Defined,
			What:   "6 kN and 500 N/mm on 30 cm², 8 faces of 0.1 mm, take-up 0.02 mm: pressure of full release",
			Source: "balance of forces", Place: "6410 N over 30 cm²", Printed: "21.3667", Unit: "bar",
			Ours: func() float64 {
				return friction.ReleasePressure(6000, 500e3, friction.FullLift(0.02e-3, 8, 0.1e-3), 30e-4) / bar
			},
		},
	}
}

func graphiteRows() (rows []Row) {
	for _, e := range []struct {
		T                float64
		reactor, webBook string
	}{{300, "712.8", "712.8"}, {500, "1217.6", "1227.3"}, {800, "1619.4", "1643.6"}, {1000, "1759.2", "1793.0"}, {1500, "1939.0", "1996.9"}, {2000, "2021.6", "2103.6"}} {
		what := fmt.Sprintf("specific heat of graphite at %g K", e.T)
		rows = append(rows,
			Row{
				Laws: []string{"friction.Graphite.HeatCapacity"}, Sure: Computed, What: what,
				Source: "Butland & Maddison, J. Nucl. Mater. 49 (1973/74) 45", Place: "constants of an open-source reactor code", Printed: e.reactor, Unit: "J/kg/K",
				Ours: func() float64 { return friction.ReactorGraphite.HeatCapacity(e.T) },
			},
			Row{
				Laws: []string{"friction.Graphite.HeatCapacity"}, Sure: Computed, What: what,
				Source: "Butland & Maddison, J. Nucl. Mater. 49 (1973/74) 45", Place: "constants of the NIST Chemistry WebBook", Printed: e.webBook, Unit: "J/kg/K",
				Ours: func() float64 { return friction.WebBookGraphite.HeatCapacity(e.T) },
			})
	}
	return append(rows, Row{
		Laws: []string{"friction.Graphite.HeatCapacity"}, Sure: Computed, What: "specific heat of graphite at 600 K",
		Source: scipy, Place: "pack.graphite-600K, constants of the NIST Chemistry WebBook", Printed: byScipy("pack.graphite-600K"), Unit: "J/kg/K", Within: digits,
		Ours: func() float64 { return friction.WebBookGraphite.HeatCapacity(600) },
	})
}
