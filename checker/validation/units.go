package validation

import (
	"fmt"
	"math"

	"headroom/checker/resistance"
	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

func unitRows() (rows []Row) {
	si := func(text string, d quantity.Dimension) float64 {
		v, err := quantity.Parse(text, d)
		return must(v.SI, err)
	}
	for _, e := range []struct {
		text    string
		d       quantity.Dimension
		printed string
		unit    string
	}{
		{"1 psi", quantity.PressureDifference, "6.894757e+03", "Pa"},
		{"1 ksi", quantity.PressureDifference, "6.894757e+06", "Pa"},
		{"1 lbf/ft2", quantity.PressureDifference, "4.788026e+01", "Pa"},
		{"1 kgf/cm2", quantity.PressureDifference, "9.806650e+04", "Pa"},
		{"1 in3", quantity.Volume, "1.638706e-05", "m³"},
		{"1 ft3", quantity.Volume, "2.831685e-02", "m³"},
		{"1 gal (US)", quantity.Volume, "3.785412e-03", "m³"},
		{"1 gpm", quantity.Flow, "6.309020e-05", "m³/s"},
		{"1 ft3/min", quantity.Flow, "4.719474e-04", "m³/s"},
		{"1 rpm", quantity.RotationalSpeed, "1.047198e-01", "rad/s"},
		{"1 deg", quantity.Angle, "1.745329e-02", "rad"},
		{"1 lb", quantity.Mass, "4.535924e-01", "kg"},
		{"1 lb/ft3", quantity.Density, "1.601846e+01", "kg/m³"},
		{"1 lb/gal", quantity.Density, "1.198264e+02", "kg/m³"},
		{"1 lb·in2", quantity.Inertia, "2.926397e-04", "kg m²"},
		{"1 lb·ft2", quantity.Inertia, "4.214011e-02", "kg m²"},
		{"1 lbf", quantity.Force, "4.448222e+00", "N"},
		{"1 lbf·in", quantity.Torque, "1.129848e-01", "N m"},
		{"1 lbf·ft", quantity.Torque, "1.355818e+00", "N m"},
		{"1 lbf/in", quantity.SpringRate, "1.751268e+02", "N/m"},
		{"1 kW·h", quantity.Energy, "3.600000e+06", "J"},
		{"1 hp", quantity.Power, "7.456999e+02", "W"},
		{"1 cP", quantity.DynamicViscosity, "1.000000e-03", "Pa s"},
		{"1 cSt", quantity.KinematicViscosity, "1.000000e-06", "m²/s"},
	} {
		rows = append(rows, Row{
			Laws: []string{"quantity.Parse"}, Sure: Seen, What: e.text, Source: "NIST SP 811 (2008)", Place: "B.8", Printed: e.printed, Unit: e.unit,
			Ours: func() float64 { return si(e.text, e.d) },
		})
	}
	for _, e := range []struct {
		text, printed, place string
		d                    quantity.Dimension
		unit                 string
	}{
		{"1 in", "0.0254", "exact: NIST SP 811 (2008), B.8", quantity.Length, "m"},
		{"1 ft", "0.3048", "exact: NIST SP 811 (2008), B.8", quantity.Length, "m"},
		{"1 lb", "0.45359237", "exact: NIST SP 811 (2008), B.8", quantity.Mass, "kg"},
		{"1 kgf", "9.80665", "exact: 3rd CGPM (1901)", quantity.Force, "N"},
		{"1 bar", "100000", "exact: NIST SP 811 (2008), B.8", quantity.PressureDifference, "Pa"},
		{"0 degC", "273.15", "exact: SI brochure, 9th ed., 2.3.1", quantity.Temperature, "K"},
		{"32 degF", "273.15", "exact: NIST SP 811 (2008), B.8", quantity.Temperature, "K"},
		{"212 degF", "373.15", "exact: NIST SP 811 (2008), B.8", quantity.Temperature, "K"},
		{"-40 degF", "233.15", "where both scales meet", quantity.Temperature, "K"},
	} {
		rows = append(rows, Row{
			Laws: []string{"quantity.Parse"}, Sure: Defined, What: e.text, Source: "definition", Place: e.place, Printed: e.printed, Unit: e.unit, Within: share(1e-15, exact),
			Ours: func() float64 { return si(e.text, e.d) },
		})
	}
	for _, e := range []struct {
		text, printed, unit string
		d                   quantity.Dimension
	}{
		{"1 in3/rev", "2.60808223836e-06", "m³/rad", quantity.Displacement},
		{"1 cm3/rev", "1.59154943092e-07", "m³/rad", quantity.Displacement},
		{"1 L/min/bar", "1.66666666667e-10", "m³/s/Pa", quantity.LeakConductance},
		{"1 cm3/m/bar", "1e-11", "m²/Pa", quantity.Stretch},
		{"1 kJ/kg/K", "1000", "J/kg/K", quantity.SpecificHeat},
	} {
		rows = append(rows, Row{
			Laws: []string{"quantity.Parse"}, Sure: Computed, What: e.text, Source: "GNU Units 2.22", Place: "twelve digits", Printed: e.printed, Unit: e.unit, Within: share(5e-12, "twelve digits"),
			Ours: func() float64 { return si(e.text, e.d) },
		})
	}
	return append(rows, Row{
		Laws: []string{"quantity.Parse"}, Sure: Defined, What: "standard gravity g0, as the lines' heights take it", Source: "definition", Place: "exact: 3rd CGPM (1901)", Printed: "9.80665", Unit: "m/s²",
		Within: share(1e-15, exact),
		Ours: func() float64 {
			if resistance.Gravity != si("1 g0", quantity.Acceleration) {
				return math.NaN()
			}
			return resistance.Gravity
		},
	})
}

func catalogueRows() (rows []Row) {
	const trade = "common practice: seal trade table of standard compounds"
	for _, e := range []struct{ symbol, least, most string }{
		{"NBR", "-30", "100"}, {"HNBR", "-30", "150"}, {"FKM", "-15", "200"}, {"EPDM", "-45", "130"}, {"VMQ", "-55", "200"}, {"FVMQ", "-55", "175"},
		{"AU", "-40", "100"}, {"EU", "-40", "100"}, {"CR", "-40", "100"}, {"FFKM", "-15", "260"},
	} {
		rows = append(rows, Row{
			Laws: []string{"catalogue.Seal"}, Sure: Seen, What: e.symbol + " of the catalogue: temperatures of a standard compound", Source: trade, Place: "row of " + e.symbol,
			Printed: e.least + " to " + e.most, Unit: "°C",
			Says: func() string {
				s, _ := catalogue.Seal(e.symbol)
				return fmt.Sprintf("%.6g to %.6g", s.MinTemperature-273.15, s.MaxTemperature-273.15)
			},
		})
	}
	for _, g := range []struct {
		vg     int
		middle string
	}{{22, "22"}, {32, "32"}, {46, "46"}, {68, "68"}, {100, "100"}, {150, "150"}} {
		rows = append(rows, Row{
			Laws: []string{"catalogue.GradeOf"}, Sure: Seen, What: fmt.Sprintf("VG %d of the catalogue: midpoint", g.vg), Source: iso3448, Place: "table 1", Printed: g.middle, Unit: "mm²/s", Within: share(1e-12, exact),
			Ours: func() float64 {
				grade, ok := catalogue.GradeOf(float64(g.vg))
				if !ok || grade.VG != g.vg {
					return -1
				}
				return grade.Midpoint
			},
		})
	}
	for _, e := range []struct {
		fluid, key, group string
		d                 quantity.Dimension
		printed, unit     string
		per               float64
		spec              string
		within            Tolerance
	}{
		{"mineral-aerospace", "value", "bulk_modulus", quantity.PressureDifference, "260000", "psi", psi, "MIL-PRF-5606", share(0.002, "the catalogue gives three digits")},
		{"mineral-aerospace", "expansion", "", quantity.Expansion, "0.00046", "1/°F", 1.8, "MIL-PRF-5606", Tolerance{}},
		{"pao-aerospace", "expansion", "", quantity.Expansion, "0.00046", "1/°F", 1.8, "MIL-PRF-83282", Tolerance{}},
	} {
		rows = append(rows, Row{
			Laws: []string{"catalogue.Fluid", "quantity.Parse"}, Sure: Seen, What: e.fluid + " of the catalogue: " + map[string]string{"value": "bulk modulus", "expansion": "expansion"}[e.key],
			Source: "Lee Company technical handbook", Place: "fluid of " + e.spec, Printed: e.printed, Unit: e.unit, Within: e.within,
			Ours: func() float64 {
				entry, _ := catalogue.Fluid(e.fluid)
				v, err := quantity.Parse(valueOf(entry, e.group, e.key), e.d)
				return must(v.SI/e.per, err)
			},
		})
	}
	return rows
}

// valueOf is the text of a key of a catalogue entry, or of a key within a group.
func valueOf(e catalogue.Entry, group, key string) string {
	at := e.Values
	for _, name := range []string{group, key} {
		if name == "" {
			continue
		}
		found := false
		for i := 0; i+1 < len(at.Content) && !found; i += 2 {
			if found = at.Content[i].Value == name; found {
				at = at.Content[i+1]
			}
		}
		if !found {
			return ""
		}
	}
	return at.Value
}
