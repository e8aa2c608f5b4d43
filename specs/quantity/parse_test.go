package quantity

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// TestParseSpellings goes through every way to write a quantity. The SI values follow from
// the definitions of the units; powers of ten are exact.
func TestParseSpellings(t *testing.T) {
	const litre, minute, rev = 1e-3, 60.0, 2 * math.Pi
	tests := []struct {
		text string
		want Dimension
		si   float64
	}{
		// forms of the number
		{"210 bar", Pressure, 210e5},
		{"210bar", Pressure, 210e5},
		{"  210  bar  ", Pressure, 210e5},
		{"210\u00a0bar", Pressure, 210e5},
		{"210\u202fbar\u2009", Pressure, 210e5},
		{"+2.5 bar", Pressure, 2.5e5},
		{"-0.3 bar", Pressure, -0.3e5},
		{"\u22120.3 bar", Pressure, -0.3e5},
		{"-10 degC", Temperature, 263.15},
		{".5 bar", Pressure, 0.5e5},
		{"5. bar", Pressure, 5e5},
		{"2.0e-8 1/Pa", PressureViscosity, 2e-8},
		{"2E+3 Pa", Pressure, 2000},
		{"1e5Pa", Pressure, 1e5},
		{"-0 bar", Pressure, 0},
		{"0.5", Number, 0.5},
		{"-7", Number, -7},
		{"92 %", Number, 0.92},
		{"92%", Number, 0.92},
		{"1 mm/m", Number, 1e-3},

		// pressures
		{"1 Pa", Pressure, 1},
		{"1 hPa", Pressure, 100},
		{"1 kPa", Pressure, 1e3},
		{"1 MPa", Pressure, 1e6},
		{"1 GPa", Pressure, 1e9},
		{"1 mbar", Pressure, 100},
		{"1 N/mm2", Pressure, 1e6},
		{"0.8 bar abs", Pressure, 0.8e5},
		{"0.8 bar abs", AbsolutePressure, 0.8e5},
		{"0.8 bar  abs ", AbsolutePressure, 0.8e5},
		{"1 N/mm2 abs", AbsolutePressure, 1e6},
		{"0 Pa abs", AbsolutePressure, 0},
		{"0.2 bar", PressureDifference, 0.2e5},
		{"0.2 bar diff", PressureDifference, 0.2e5},
		{"-1 bar", PressureDifference, -1e5},

		// temperatures
		{"62 degC", Temperature, 335.15},
		{"62 °C", Temperature, 335.15},
		{"62°C", Temperature, 335.15},
		{"212 degF", Temperature, 373.15},
		{"-40 °F", Temperature, 233.15},
		{"300 K", Temperature, 300},
		{"0 K", Temperature, 0},
		{"-5 K", TemperatureDifference, -5},

		// lengths, areas, volumes, times
		{"1 nm", Length, 1e-9},
		{"1 µm", Length, 1e-6}, // U+00B5
		{"1 μm", Length, 1e-6}, // U+03BC
		{"1 um", Length, 1e-6},
		{"1 mm", Length, 1e-3},
		{"1 cm", Length, 1e-2},
		{"1 dm", Length, 1e-1},
		{"1 m", Length, 1},
		{"1 km", Length, 1e3},
		{"1 in", Length, 0.0254},
		{"1 ft", Length, 0.3048},
		{"1 mm2", Area, 1e-6},
		{"1 mm^2", Area, 1e-6},
		{"1 mm²", Area, 1e-6},
		{"1 cm3", Volume, 1e-6},
		{"1 cm³", Volume, 1e-6},
		{"1 cc", Volume, 1e-6},
		{"1 L", Volume, litre},
		{"1 l", Volume, litre},
		{"1 mL", Volume, 1e-6},
		{"1 ml", Volume, 1e-6},
		{"1 cL", Volume, 1e-5},
		{"1 dl", Volume, 1e-4},
		{"1 µL", Volume, 1e-9},
		{"1 in3", Volume, 0.0254 * 0.0254 * 0.0254},
		{"1 gal", Volume, 3.785411784e-3},
		{"1 gal (US)", Volume, 3.785411784e-3},
		{"1 gal(US)", Volume, 3.785411784e-3},
		{"1 ns", Time, 1e-9},
		{"1 ms", Time, 1e-3},
		{"1 min", Time, 60},
		{"1 h", Time, 3600},
		{"1 d", Time, 86400},

		// rates and turns
		{"40 /h", Frequency, 40.0 / 3600},
		{"40/h", Frequency, 40.0 / 3600},
		{"40 1/h", Frequency, 40.0 / 3600},
		{"40 1 / h", Frequency, 40.0 / 3600},
		{"40 h-1", Frequency, 40.0 / 3600},
		{"40 h^-1", Frequency, 40.0 / 3600},
		{"40 h⁻¹", Frequency, 40.0 / 3600},
		{"2 Hz", Frequency, 2},
		{"2 kHz", Frequency, 2000},
		{"1 rad", Angle, 1},
		{"180 deg", Angle, math.Pi},
		{"180°", Angle, math.Pi},
		{"1 rev", Angle, rev},
		{"60 rpm", RotationalSpeed, rev},
		{"60 rev/min", RotationalSpeed, rev},
		{"1 rad/s", RotationalSpeed, 1},
		{"60 rpm/s", AngularAcceleration, rev},
		{"1 m/s", Velocity, 1},
		{"36 km/h", Velocity, 10},
		{"1 m/s2", Acceleration, 1},
		{"1 m/s/s", Acceleration, 1},
		{"1 m·s-2", Acceleration, 1},
		{"1 m s⁻²", Acceleration, 1},
		{"2 g0", Acceleration, 19.6133},

		// flows
		{"12 L/min", Flow, 12 * litre / minute},
		{"12 l/min", Flow, 12 * litre / minute},
		{"12 L / min", Flow, 12 * litre / minute},
		{"12 L min-1", Flow, 12 * litre / minute},
		{"12 lpm", Flow, 12 * litre / minute},
		{"1 gpm", Flow, 3.785411784e-3 / minute},
		{"1 gal (US)/min", Flow, 3.785411784e-3 / minute},
		{"1 cm3/s", Flow, 1e-6},
		{"16 cm3/rev", Displacement, 16e-6 / rev},
		{"16 cc/rev", Displacement, 16e-6 / rev},
		{"1 m3/rad", Displacement, 1},
		{"1 in3/rev", Displacement, 0.0254 * 0.0254 * 0.0254 / rev},

		// mass and what moves it
		{"1 kg", Mass, 1},
		{"1 g", Mass, 1e-3},
		{"1 mg", Mass, 1e-6},
		{"1 t", Mass, 1e3},
		{"1 lb", Mass, 0.45359237},
		{"875 kg/m3", Density, 875},
		{"0.875 g/cm3", Density, 875},
		{"1 N", Force, 1},
		{"1 mN", Force, 1e-3},
		{"1 kN", Force, 1e3},
		{"1 lbf", Force, 4.4482216152605},
		{"1 kgf", Force, 9.80665},
		{"1 N·m", Torque, 1},
		{"1 N⋅m", Torque, 1}, // the mathematical dot
		{"1 N*m", Torque, 1},
		{"1 N m", Torque, 1},
		{"1 Nm", Torque, 1},
		{"1 kNm", Torque, 1e3},
		{"1 mN·m", Torque, 1e-3},
		{"1 m·N", Torque, 1},
		{"1 J/rad", Torque, 1},
		{"1 lbf·ft", Torque, 4.4482216152605 * 0.3048},
		{"1 ft·lbf", Torque, 4.4482216152605 * 0.3048},
		{"1 kg·m2", Inertia, 1},
		{"1 kg m²", Inertia, 1},
		{"1 kg*cm2", Inertia, 1e-4},
		{"1 lb·ft2", Inertia, 0.45359237 * 0.3048 * 0.3048},
		{"1 J", Energy, 1},
		{"1 kJ", Energy, 1e3},
		{"1 kW·h", Energy, 3.6e6},
		{"1 kW h", Energy, 3.6e6},
		{"1 N·m·rad", Energy, 1},
		{"1 W/(N·m)", RotationalSpeed, 1},
		{"1 N·m·s/(kg·m2)", RotationalSpeed, 1},
		{"1 W", Power, 1},
		{"1 kW", Power, 1e3},
		{"1 J/s", Power, 1},
		{"1 hp", Power, 550 * 0.3048 * 4.4482216152605},
		{"1 kg/s", MassFlow, 1},

		// properties of fluids and solids
		{"32 mm2/s", KinematicViscosity, 32e-6},
		{"32 cSt", KinematicViscosity, 32e-6},
		{"1 St", KinematicViscosity, 1e-4},
		{"1 mPa·s", DynamicViscosity, 1e-3},
		{"1 Pa s", DynamicViscosity, 1},
		{"1 cP", DynamicViscosity, 1e-3},
		{"1 P", DynamicViscosity, 0.1},
		{"1.95 kJ/kg/K", SpecificHeat, 1950},
		{"1.95 kJ/(kg·K)", SpecificHeat, 1950},
		{"1.95 kJ/(kg K)", SpecificHeat, 1950},
		{"6 kJ/K", HeatCapacity, 6e3},
		{"12 W/K", Conductance, 12},
		{"0.0007 1/K", Expansion, 7e-4},
		{"0.0007 /K", Expansion, 7e-4},
		{"0.07 %/K", Expansion, 7e-4},
		{"20 1/GPa", PressureViscosity, 2e-8},
		{"1 1/bar", PressureViscosity, 1e-5},
		{"-7 MPa/K", ModulusPerKelvin, -7e6},
		{"2 cm3/m/bar", Stretch, 2e-11},
		{"2 cm3/(m·bar)", Stretch, 2e-11},

		// rates of springs, leaks and the like
		{"40 N/mm", SpringRate, 40e3},
		{"40 N·s/m", ViscousFriction, 40},
		{"1 L/min/bar", LeakConductance, 1e-3 / 60 / 1e5},
		{"1 m³/s/Pa", LeakConductance, 1},
		{"1 J/cm2", EnergyPerArea, 1e4},
		{"1 W/m2", PowerPerArea, 1},
		{"1 N·m/bar", TorquePerPressure, 1e-5},
		{"1 N·m·s", AngularMomentum, 1},
		{"1 N·s", Momentum, 1},
	}
	for _, test := range tests {
		v, err := Parse(test.text, test.want)
		if err != nil {
			t.Errorf("%q: %v", test.text, err)
			continue
		}
		if !near(v.SI, test.si) {
			t.Errorf("%q = %v in SI, want %v", test.text, v.SI, test.si)
		}
		if gauge := test.want == Pressure && v.SI != 0.8e5; v.Gauge != gauge {
			t.Errorf("%q: Gauge = %v", test.text, v.Gauge)
		}
	}
}

// near allows for the rounding of the few operations between two ways to the same number.
func near(a, b float64) bool { return math.Abs(a-b) <= 4e-16*math.Abs(b) }

// TestParseAny: the dimension is that of the unit.
func TestParseAny(t *testing.T) {
	tests := []struct {
		text string
		want Dimension
		v    Value
	}{
		{"210 bar", Pressure, Value{210e5, true}},
		{"0.2 bar diff", PressureDifference, Value{0.2e5, false}},
		{"0.8 bar abs", AbsolutePressure, Value{0.8e5, false}},
		{"1 N/mm2", Pressure, Value{1e6, true}},
		{"1 J/cm3 diff", PressureDifference, Value{1e6, false}},
		{"5 K", TemperatureDifference, Value{5, false}},
		{"95 degC", Temperature, Value{368.15, false}},
		{"4", Number, Value{4, false}},
		{"50 %", Number, Value{0.5, false}},
		{"3 N·m", Torque, Value{3, false}},
		{"3 Nm", Torque, Value{3, false}},
		{"3 J", Energy, Value{3, false}},
		{"3 N/mm", SpringRate, Value{3000, false}},
		{"3 J/m2", EnergyPerArea, Value{3, false}},
		{"3 kg/s", MassFlow, Value{3, false}},
		{"3 N·s/m", ViscousFriction, Value{3, false}},
		{"3 m3/rad", Displacement, Value{3, false}},
		{"3 N·m/Pa", TorquePerPressure, Value{3, false}},
		{"3 1/Pa", PressureViscosity, Value{3, false}},
		{"3 kg/m2/s", MassFlux, Value{3, false}},
		{"3 J/kg", SpecificEnergy, Value{3, false}},
	}
	for _, test := range tests {
		v, d, err := ParseAny(test.text)
		if err != nil || v != test.v || d != test.want {
			t.Errorf("ParseAny(%q) = %v, %v, %v; want %v, %v", test.text, v, d, err, test.v, test.want)
		}
	}
}

// TestUsualUnitsFit: every unit that a message or an output names can be read back as
// that dimension, and every dimension can be told by one of its units alone.
func TestUsualUnitsFit(t *testing.T) {
	for _, d := range Dimensions() {
		for _, unit := range d.Units() {
			if _, err := Parse("1 "+unit, d); err != nil {
				t.Errorf("%v: %v", d, err)
			}
		}
		value, unit := d.Display(350)
		if _, err := Parse(strconv.FormatFloat(value, 'g', -1, 64)+" "+unit, d); err != nil {
			t.Errorf("%v: %v", d, err)
		}
		if _, told, err := ParseAny("1 " + unit); err != nil || told != d {
			t.Errorf("ParseAny(1 %s) is a %v, want a %v (%v)", unit, told, d, err)
		}
	}
}

// TestShortCutsAreShortCuts: a unit found in the table of usual ones is what reading it gives.
func TestShortCutsAreShortCuts(t *testing.T) {
	for text, short := range known {
		long, err := readUnit(text, 0, nameless)
		if err != nil || long != short {
			t.Errorf("%s: short cut %v, read %v, %v", text, short, long, err)
		}
	}
}

// TestSymbolsAreUnambiguous: no spelling, with whatever prefix, stands for two units.
func TestSymbolsAreUnambiguous(t *testing.T) {
	spellings := 0
	for _, s := range symbols {
		forms := 1
		for _, p := range s.prefixes {
			forms += 1 + len([]rune(prefixes[p].also))
		}
		spellings += forms * (1 + len(s.also))
	}
	if spellings != len(spelled) {
		t.Errorf("%d spellings for %d units: some collide", spellings, len(spelled))
	}
}

// TestDecimalUnitsAreExact: a whole number of a decimal multiple is the float64 nearest to
// its SI value, which strconv finds by its own means.
func TestDecimalUnitsAreExact(t *testing.T) {
	decimals := map[string]int{"mm": -3, "µm": -6, "bar": 5, "MPa": 6, "mbar": 2, "cm3": -6, "L": -3, "mm2/s": -6, "cSt": -6, "ms": -3, "kN": 3, "g": -3, "%": -2}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom([]string{"mm", "µm", "bar", "MPa", "mbar", "cm3", "L", "mm2/s", "cSt", "ms", "kN", "g", "%"}).Draw(t, "unit")
		n := strconv.Itoa(rapid.IntRange(-1e9, 1e9).Draw(t, "n"))
		want, _ := strconv.ParseFloat(n+"e"+strconv.Itoa(decimals[unit]), 64)
		got, _, err := ParseAny(n + " " + unit)
		if err != nil || got.SI != want {
			t.Fatalf("%s %s = %v (%v), want %v", n, unit, got.SI, err, want)
		}
	})
}

// TestProductsOfUnits: a product or quotient of two units is that of their values, whatever
// the units, and its dimension that of the algebra where both have a name.
func TestProductsOfUnits(t *testing.T) {
	plain := make([]string, 0, len(allTexts))
	for _, text := range allTexts {
		if d := spelled[text].dimension; d != Temperature && text != "gal (US)" {
			plain = append(plain, text)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.SampledFrom(plain).Draw(t, "a"), rapid.SampledFrom(plain).Draw(t, "b")
		sign := rapid.SampledFrom([]string{"·", "*", " ", "/"}).Draw(t, "sign")
		combine := Multiply
		want := spelled[a].si(1) * spelled[b].si(1)
		if sign == "/" {
			combine = Divide
			want = spelled[a].si(1) / spelled[b].si(1)
		}
		u, err := readUnit(a+sign+b, 0, nameless)
		if err != nil || math.Abs(u.si(1)-want) > 1e-15*want {
			t.Fatalf("1 %s%s%s = %v (%v), want %v", a, sign, b, u.si(1), err, want)
		}
		d, ok := combine(spelled[a].dimension, spelled[b].dimension)
		if ok && !akin(d, u.dimension) && !isLever(spelled[a].dimension, spelled[b].dimension) {
			t.Fatalf("%s%s%s is a %v, want a %v", a, sign, b, u.dimension, d)
		}
	})
}

// isLever: force times length, which as a unit is a torque.
func isLever(a, b Dimension) bool {
	return a == Force && b == Length || a == Length && b == Force
}
