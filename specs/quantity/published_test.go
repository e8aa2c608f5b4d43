package quantity

import (
	"math"
	"strconv"
	"testing"
)

// TestPublishedFactors compares with the conversion factors printed in NIST SP 811 (2008),
// appendix B.8, to the seven digits given there.
func TestPublishedFactors(t *testing.T) {
	tests := []struct {
		text string
		want Dimension
		si   string
	}{
		{"1 psi", PressureDifference, "6.894757e+03"},
		{"1 ksi", PressureDifference, "6.894757e+06"},
		{"1 lbf/ft2", PressureDifference, "4.788026e+01"},
		{"1 kgf/cm2", PressureDifference, "9.806650e+04"},
		{"1 bar", PressureDifference, "1.000000e+05"},
		{"1 in", Length, "2.540000e-02"},
		{"1 ft", Length, "3.048000e-01"},
		{"1 in2", Area, "6.451600e-04"},
		{"1 ft2", Area, "9.290304e-02"},
		{"1 in3", Volume, "1.638706e-05"},
		{"1 ft3", Volume, "2.831685e-02"},
		{"1 gal (US)", Volume, "3.785412e-03"},
		{"1 gal (US)/min", Flow, "6.309020e-05"},
		{"1 gpm", Flow, "6.309020e-05"},
		{"1 ft3/min", Flow, "4.719474e-04"},
		{"1 in3/min", Flow, "2.731177e-07"},
		{"1 ft/min", Velocity, "5.080000e-03"},
		{"1 rpm", RotationalSpeed, "1.047198e-01"},
		{"1 deg", Angle, "1.745329e-02"},
		{"1 lb", Mass, "4.535924e-01"},
		{"1 lb/s", MassFlow, "4.535924e-01"},
		{"1 lb/ft3", Density, "1.601846e+01"},
		{"1 lb/in3", Density, "2.767990e+04"},
		{"1 lb/gal", Density, "1.198264e+02"},
		{"1 lb·in2", Inertia, "2.926397e-04"},
		{"1 lb·ft2", Inertia, "4.214011e-02"},
		{"1 lbf", Force, "4.448222e+00"},
		{"1 kgf", Force, "9.806650e+00"},
		{"1 lbf·in", Torque, "1.129848e-01"},
		{"1 lbf·ft", Torque, "1.355818e+00"},
		{"1 kgf·m", Torque, "9.806650e+00"},
		{"1 lbf/in", SpringRate, "1.751268e+02"},
		{"1 lbf/ft", SpringRate, "1.459390e+01"},
		{"1 kW·h", Energy, "3.600000e+06"},
		{"1 hp", Power, "7.456999e+02"},
		{"1 cP", DynamicViscosity, "1.000000e-03"},
		{"1 cSt", KinematicViscosity, "1.000000e-06"},
		{"1 g0", Acceleration, "9.806650e+00"},
	}
	for _, test := range tests {
		v, err := Parse(test.text, test.want)
		if got := strconv.FormatFloat(v.SI, 'e', 6, 64); err != nil || got != test.si {
			t.Errorf("%s = %s in SI (%v), NIST SP 811 prints %s", test.text, got, err, test.si)
		}
	}
}

// TestAgainstGNUUnits compares with what the program GNU Units 2.22 gives to twelve digits;
// it too keeps the radian as a unit of its own, so the angles are checked as well.
func TestAgainstGNUUnits(t *testing.T) {
	tests := []struct {
		text string
		want Dimension
		si   float64
	}{
		{"1 psi", PressureDifference, 6894.75729317},
		{"1 gal/min", Flow, 6.30901964e-05},
		{"1 in3", Volume, 1.6387064e-05},
		{"1 in3/rev", Displacement, 2.60808223836e-06},
		{"1 cm3/rev", Displacement, 1.59154943092e-07},
		{"1 rpm", RotationalSpeed, 0.10471975512},
		{"1 deg", Angle, 0.0174532925199},
		{"1 hp", Power, 745.699871582},
		{"1 lbf", Force, 4.44822161526},
		{"1 lbf·in", Torque, 0.112984829028},
		{"1 lb·in2", Inertia, 0.000292639653429},
		{"1 lb·ft2", Inertia, 0.0421401100938},
		{"1 lbf/in", SpringRate, 175.126835246},
		{"1 lb/ft3", Density, 16.018463374},
		{"1 ft3/min", Flow, 0.0004719474432},
		{"1 lbf/ft2", PressureDifference, 47.8802589803},
		{"1 L/min/bar", LeakConductance, 1.66666666667e-10},
		{"1 cm3/m/bar", Stretch, 1e-11},
		{"1 N·m/bar", TorquePerPressure, 1e-05},
		{"1 kJ/kg/K", SpecificHeat, 1000},
		{"212 degF", Temperature, 373.15},
	}
	for _, test := range tests {
		v, err := Parse(test.text, test.want)
		if err != nil || math.Abs(v.SI-test.si) > 5e-12*test.si {
			t.Errorf("%s = %v in SI (%v), GNU Units %v", test.text, v.SI, err, test.si)
		}
	}
}

// TestFixedPoints: points of the Celsius and Fahrenheit scales that are exact by
// definition (SI brochure, 9th ed., 2.3.1; NIST SP 811, B.8), and −40, where they meet.
func TestFixedPoints(t *testing.T) {
	for text, kelvin := range map[string]float64{
		"0 degC": 273.15, "0.01 degC": 273.16, "32 degF": 273.15, "212 degF": 373.15,
		"-40 degC": 233.15, "-40 degF": 233.15, "-273.15 degC": 0, "-459.67 degF": 0,
	} {
		v, err := Parse(text, Temperature)
		if err != nil || math.Abs(v.SI-kelvin) > 1e-13 {
			t.Errorf("%s = %v K (%v), want %v", text, v.SI, err, kelvin)
		}
	}
}
