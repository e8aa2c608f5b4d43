package quantity

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	tests := []struct {
		d    Dimension
		si   float64
		want string
	}{
		{Pressure, 214e5, "214 bar"},
		{Pressure, 0, "0 bar"},
		{Pressure, math.Copysign(0, -1), "0 bar"},
		{Pressure, 0.79e5, "0.790 bar"},
		{Pressure, -0.3e5, "-0.300 bar"},
		{Pressure, 2346, "23.5 mbar"},
		{Pressure, 30, "30.0 Pa"},
		{Pressure, 99.96, "1.00 mbar"},
		{AbsolutePressure, 0.8e5, "0.800 bar abs"},
		{PressureDifference, 1.55e9, "1.55 GPa"},
		{PressureDifference, 0.5e5, "0.500 bar"},
		{PressureDifference, 0, "0 bar"},
		{Temperature, 335.15, "62.0 degC"},
		{Temperature, 395.15, "122 degC"},
		{Temperature, 263.15, "-10.0 degC"},
		{Temperature, 273.1499, "0 degC"},
		{Temperature, 273.65, "0.5 degC"},
		{TemperatureDifference, 7.94, "7.94 K"},
		{Time, 2.314, "2.31 s"},
		{Time, 0.0312, "31.2 ms"},
		{Time, 0.99949, "999 ms"},
		{Time, 0.99951, "1.00 s"},
		{Time, 119.4, "119 s"},
		{Time, 119.6, "2.00 min"},
		{Time, 1500, "25.0 min"},
		{Time, 14400, "4.00 h"},
		{Time, 0, "0 s"},
		{Length, 1.5e-6, "1.50 µm"},
		{Length, 32e-3, "32.0 mm"},
		{Length, 0.8, "800 mm"},
		{Length, 9, "9.00 m"},
		{Length, 2000, "2000 m"},
		{Volume, 30e-6, "30.0 cm3"},
		{Volume, 40e-3, "40.0 L"},
		{Flow, 12e-3 / 60, "12.0 L/min"},
		{Displacement, 16e-6 / (2 * math.Pi), "16.0 cm3/rev"},
		{RotationalSpeed, 12345.6 * math.Pi / 30, "12346 rpm"},
		{Mass, 0.36, "360 g"},
		{Mass, 9.5, "9.50 kg"},
		{Energy, 82300, "82.3 kJ"},
		{Power, 745, "745 W"},
		{Power, 18505.5, "18.5 kW"},
		{Torque, 235.619, "236 N·m"},
		{Force, 15707.963, "15.7 kN"},
		{Number, 2.8972, "2.90"},
		{Number, 0.005, "0.00500"},
		{Number, 131, "131"},
		{Number, 123456789, "123456789"},
		{Number, 1234567890, "1.23e9"},
		{Number, 9.99e-5, "9.99e-5"},
		{Number, 0.0001, "0.000100"},
		{Number, 1000, "1000"}, // the common logarithm of 1000 is not 3 in float64
		{Expansion, 7e-4, "0.000700 1/K"},
		{PressureViscosity, 2e-8, "20.0 1/GPa"},
		{Frequency, 40.0 / 3600, "40.0 /h"},
		{EnergyPerArea, 4.2e5, "420 kJ/m2"},
		{Pressure, math.NaN(), "not a number"},
		{Pressure, math.Inf(1), "infinite"},
		{Pressure, math.Inf(-1), "minus infinite"},
		{nameless, 4, "4.00"},
	}
	for _, test := range tests {
		if got := test.d.Format(test.si); got != test.want {
			t.Errorf("%v of %v: %q, want %q", test.d, test.si, got, test.want)
		}
	}
}

// TestFormatReadsBack: what is printed for people is, read again, the value to three
// digits (temperatures: to a tenth of a degree), and prints the same once more.
func TestFormatReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dimension(rapid.IntRange(0, int(dimensions)-1).Draw(t, "dimension"))
		si := rapid.Float64Range(1, 10).Draw(t, "mantissa") * math.Pow(10, float64(rapid.IntRange(-15, 15).Draw(t, "exponent")))
		if !d.isLevel() || d == Pressure {
			si *= rapid.SampledFrom([]float64{-1, 1}).Draw(t, "sign")
		}
		text := d.Format(si)
		v, err := Parse(text, d)
		if err != nil {
			t.Fatalf("%v of %v prints %q: %v", d, si, text, err)
		}
		tolerance := 0.0051 * math.Abs(si)
		if d == Temperature {
			tolerance = 0.0051*math.Abs(si-273.15) + 0.051
		}
		if math.Abs(v.SI-si) > tolerance {
			t.Fatalf("%v of %v prints %q, which is %v", d, si, text, v.SI)
		}
		if again := d.Format(v.SI); again != text {
			t.Fatalf("%v of %v prints %q, read back it prints %q", d, si, text, again)
		}
	})
}

func TestFormatAlike(t *testing.T) {
	tests := []struct {
		d    Dimension
		si   []float64
		want []string
	}{
		{Pressure, []float64{214e5, 210e5}, []string{"214 bar", "210 bar"}},
		{Pressure, []float64{210.2e5, 210e5}, []string{"210.2 bar", "210.0 bar"}},
		{Pressure, []float64{0.05e5, 210e5}, []string{"0.0500 bar", "210 bar"}},
		{Number, []float64{3.999999, 4}, []string{"3.999999", "4.000000"}},
		{Number, []float64{3.99999999, 4}, []string{"3.99999999", "4.00000000"}},
		{Number, []float64{3.999999999, 4}, []string{"4.00", "4.00"}},
		{Number, []float64{math.Nextafter(4, 3), 4}, []string{"4.00", "4.00"}},
		{Number, []float64{math.Nextafter(4, 3), 4, 4.001}, []string{"4.000", "4.000", "4.001"}},
		{Flow, []float64{0.595802110341703 / 60000, 0.595802110341697 / 60000}, []string{"0.596 L/min", "0.596 L/min"}},
		{Number, []float64{4, 4}, []string{"4.00", "4.00"}},
		{Temperature, []float64{353.15, 353.16}, []string{"80.00 degC", "80.01 degC"}},
		{Temperature, []float64{273.15, 273.16}, []string{"0 degC", "0.01 degC"}},
		{Time, []float64{0.06, 1.2}, []string{"0.0600 s", "1.20 s"}},
		{Pressure, nil, []string{}},
		{Pressure, []float64{math.Inf(1), 1}, []string{"infinite", "1.00e-5 bar"}},
	}
	for _, test := range tests {
		if got := test.d.FormatAlike(test.si...); fmt.Sprint(got) != fmt.Sprint(test.want) {
			t.Errorf("%v of %v: %q, want %q", test.d, test.si, got, test.want)
		}
	}
}

// TestFormatAlikeTellsApart: two values that differ in their first nine digits never read
// the same (temperatures on a scale with a zero of its own, as far as that leaves their
// difference).
func TestFormatAlikeTellsApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := Dimension(rapid.IntRange(0, int(dimensions)-1).Draw(t, "dimension"))
		least, apart := 1e-9, -7
		if d == Temperature {
			least, apart = 1, -5
		}
		a := rapid.Float64Range(least, 1e9).Draw(t, "a")
		b := a * (1 + math.Pow(10, float64(rapid.IntRange(apart, 2).Draw(t, "apart"))))
		if texts := d.FormatAlike(a, b); texts[0] == texts[1] {
			t.Fatalf("%v and %v both print %q", a, b, texts[0])
		}
	})
}

func TestDisplay(t *testing.T) {
	tests := []struct {
		d    Dimension
		si   float64
		want string
	}{
		{Pressure, 214e5, "214 bar"},
		{AbsolutePressure, 0.79e5, "0.79 bar abs"},
		{PressureDifference, 0.2e5, "0.2 bar diff"},
		{Temperature, 62 + 273.15, "62 degC"},
		{Temperature, 273.16, "0.01 degC"},
		{Temperature, 273.15 - 1e-12, "0 degC"},
		{TemperatureDifference, 5, "5 K"},
		{Flow, 12.0 / 60000, "12 L/min"},
		{Time, 0.0312, "0.0312 s"},
		{Length, 0.0009, "0.9 mm"},
		{Energy, 82300, "82.3 kJ"},
		{Torque, 3, "3 N·m"},
		{RotationalSpeed, 3000 * 2 * math.Pi / 60, "3000 rpm"},
		{Displacement, 16e-6 / (2 * math.Pi), "16 cm3/rev"},
		{Number, math.Copysign(0, -1), "0 "},
	}
	for _, test := range tests {
		value, unit := test.d.Display(test.si)
		if got := fmt.Sprint(value, " ", unit); got != test.want {
			t.Errorf("%v of %v: %q, want %q", test.d, test.si, got, test.want)
		}
		if math.Signbit(value) {
			t.Errorf("%v of %v: minus zero", test.d, test.si)
		}
	}
}
