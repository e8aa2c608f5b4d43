package quantity

import "testing"

func TestSmoke(t *testing.T) {
	for _, c := range []struct {
		text string
		want Dimension
		si   float64
	}{
		{"210 bar", Pressure, 210e5}, {"12 L/min", Flow, 12.0 / 60000}, {"0.5 %", Number, 0.005},
		{"1.95 kJ/kg/K", SpecificHeat, 1950}, {"40 /h", Frequency, 40.0 / 3600}, {"2.0e-8 1/Pa", PressureViscosity, 2e-8},
		{"10 N·m", Torque, 10}, {"10 Nm", Torque, 10}, {"10 N m", Torque, 10}, {"2 kg·m2", Inertia, 2}, {"-10 °C", Temperature, 263.15},
		{"1 gal (US)/min", Flow, 6.30901964e-05}, {"95 K", Temperature, 95}, {"1 m³/s/Pa", LeakConductance, 1},
	} {
		v, err := Parse(c.text, c.want)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
		} else if r := v.SI / c.si; r < 1-1e-9 || r > 1+1e-9 {
			t.Errorf("%s: %v, want %v", c.text, v.SI, c.si)
		}
		t.Log(c.text, c.want.Format(v.SI))
	}
	for _, c := range []struct {
		text string
		want Dimension
	}{
		{"210 baar", Pressure}, {"210 L/min", Pressure}, {"210", Pressure}, {"3 cm3", Displacement}, {"3 1/min", RotationalSpeed}, {"3 bar abs", PressureDifference},
		{"3 bar", AbsolutePressure}, {"1,5 bar", Pressure}, {"", Pressure}, {"5 degC", TemperatureDifference}, {"5 N·m", Energy}, {"5 J", Torque}, {"5 J/kg·K", SpecificHeat},
	} {
		_, err := Parse(c.text, c.want)
		t.Log(c.text, "->", err)
	}
}
