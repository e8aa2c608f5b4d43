package quantity

import "testing"

// TestLawsOfHydraulics: the dimensions of everyday formulas, as any textbook writes them.
func TestLawsOfHydraulics(t *testing.T) {
	products := []struct{ a, b, want Dimension }{
		{Pressure, Area, Force},
		{PressureDifference, Area, Force},
		{PressureDifference, Flow, Power},
		{PressureDifference, Volume, Energy},
		{PressureDifference, Displacement, Torque},
		{Pressure, Displacement, Torque},
		{TorquePerPressure, PressureDifference, Torque},
		{Displacement, RotationalSpeed, Flow},
		{Displacement, Angle, Volume},
		{Torque, RotationalSpeed, Power},
		{Torque, Angle, Energy},
		{RotationalSpeed, Time, Angle},
		{Inertia, AngularAcceleration, Torque},
		{Inertia, RotationalSpeed, AngularMomentum},
		{AngularMomentum, RotationalSpeed, Energy},
		{Force, Velocity, Power},
		{Force, Length, Energy},
		{Mass, Acceleration, Force},
		{Mass, Velocity, Momentum},
		{Momentum, Velocity, Energy},
		{SpringRate, Length, Force},
		{ViscousFriction, Velocity, Force},
		{Velocity, Area, Flow},
		{Flow, Time, Volume},
		{Volume, Frequency, Flow},
		{Energy, Frequency, Power},
		{Density, Volume, Mass},
		{Density, Flow, MassFlow},
		{Density, Velocity, MassFlux},
		{MassFlux, Velocity, PressureDifference},
		{MassFlux, Length, DynamicViscosity}, // Reynolds number: ρ v D / μ
		{Velocity, Length, KinematicViscosity},
		{Density, KinematicViscosity, DynamicViscosity},
		{Density, Acceleration, PressurePerLength},
		{PressurePerLength, Length, PressureDifference},
		{Mass, SpecificHeat, HeatCapacity},
		{MassFlow, SpecificHeat, Conductance},
		{HeatCapacity, TemperatureDifference, Energy},
		{HeatCapacity, TemperatureRate, Power},
		{Conductance, TemperatureDifference, Power},
		{SpecificHeat, TemperatureDifference, SpecificEnergy},
		{Density, SpecificHeat, ModulusPerKelvin}, // throttling: ΔT = Δp/(ρ c)
		{Expansion, PressureDifference, ModulusPerKelvin},
		{ModulusPerKelvin, TemperatureDifference, PressureDifference},
		{Expansion, TemperatureDifference, Number},
		{Volume, Expansion, VolumePerKelvin},
		{VolumePerKelvin, TemperatureDifference, Volume},
		{VolumePerPressure, PressureDifference, Volume},
		{Stretch, Length, VolumePerPressure},
		{LeakConductance, PressureDifference, Flow},
		{PressureViscosity, PressureDifference, Number},
		{PressureRate, Time, PressureDifference},
		{PowerPerArea, Area, Power},
		{PowerPerArea, Time, EnergyPerArea},
		{PressureDifference, Velocity, PowerPerArea},
		{Number, Pressure, Pressure},
		{Number, AbsolutePressure, AbsolutePressure},
		{Number, Flow, Flow},
		{Pressure, Pressure, nameless},
		{AbsolutePressure, Area, nameless},
		{AbsolutePressure, AbsolutePressure, nameless},
		{Temperature, Number, nameless},
		{Temperature, HeatCapacity, nameless},
		{Angle, Angle, nameless},
		{nameless, Number, nameless},
	}
	for _, test := range products {
		check(t, "·", Multiply, test.a, test.b, test.want)
		check(t, "·", Multiply, test.b, test.a, test.want)
	}
	quotients := []struct{ a, b, want Dimension }{
		{Pressure, Pressure, Number},
		{Pressure, PressureDifference, Number},
		{AbsolutePressure, AbsolutePressure, Number},
		{AbsolutePressure, Pressure, nameless},
		{Pressure, AbsolutePressure, nameless},
		{AbsolutePressure, Number, AbsolutePressure},
		{Number, AbsolutePressure, nameless},
		{Temperature, Temperature, nameless},
		{Temperature, Number, nameless},
		{TemperatureDifference, TemperatureDifference, Number},
		{Force, Area, PressureDifference},
		{Force, Length, SpringRate},
		{Energy, Area, EnergyPerArea},
		{Force, Velocity, ViscousFriction},
		{Mass, Time, MassFlow},
		{Torque, PressureDifference, TorquePerPressure},
		{Volume, Angle, Displacement},
		{Torque, Displacement, PressureDifference},
		{Energy, Angle, Torque},
		{Flow, RotationalSpeed, Displacement},
		{Power, Flow, PressureDifference},
		{Number, Time, Frequency},
		{Number, PressureDifference, PressureViscosity},
		{Number, TemperatureDifference, Expansion},
		{Volume, PressureDifference, VolumePerPressure},
		{Volume, Area, Length},
		{Flow, Area, Velocity},
		{Number, Length, nameless},
	}
	for _, test := range quotients {
		check(t, "/", Divide, test.a, test.b, test.want)
	}
}

func check(t *testing.T, sign string, combine func(a, b Dimension) (Dimension, bool), a, b, want Dimension) {
	t.Helper()
	if got, ok := combine(a, b); got != want || ok != (want != nameless) {
		t.Errorf("%v %s %v is a %v (%v), want a %v", a, sign, b, got, ok, want)
	}
}

// TestLevels: sums, differences and comparisons of levels.
func TestLevels(t *testing.T) {
	sums := []struct{ a, b, plus, minus Dimension }{
		{Temperature, Temperature, nameless, TemperatureDifference},
		{Temperature, TemperatureDifference, Temperature, Temperature},
		{TemperatureDifference, Temperature, Temperature, nameless},
		{TemperatureDifference, TemperatureDifference, TemperatureDifference, TemperatureDifference},
		{Pressure, Pressure, nameless, PressureDifference},
		{Pressure, PressureDifference, Pressure, Pressure},
		{PressureDifference, Pressure, Pressure, nameless},
		{AbsolutePressure, AbsolutePressure, nameless, PressureDifference},
		{AbsolutePressure, PressureDifference, AbsolutePressure, AbsolutePressure},
		{PressureDifference, AbsolutePressure, AbsolutePressure, nameless},
		{Pressure, AbsolutePressure, nameless, nameless},
		{AbsolutePressure, Pressure, nameless, nameless},
		{Pressure, Temperature, nameless, nameless},
		{Pressure, TemperatureDifference, nameless, nameless},
		{Temperature, PressureDifference, nameless, nameless},
		{Pressure, Number, nameless, nameless},
		{Flow, Flow, Flow, Flow},
		{Flow, Volume, nameless, nameless},
		{Number, Number, Number, Number},
		{Torque, Energy, nameless, nameless},
		{Displacement, TorquePerPressure, Displacement, Displacement},
		{nameless, nameless, nameless, nameless},
	}
	for _, test := range sums {
		check(t, "+", Add, test.a, test.b, test.plus)
		check(t, "−", Subtract, test.a, test.b, test.minus)
	}
	comparisons := []struct {
		a, b Dimension
		want bool
	}{
		{Pressure, Pressure, true},
		{Temperature, Temperature, true},
		{AbsolutePressure, AbsolutePressure, true},
		{Pressure, AbsolutePressure, false},
		{Pressure, PressureDifference, false},
		{AbsolutePressure, PressureDifference, false},
		{Temperature, TemperatureDifference, false},
		{Torque, Energy, false},
		{Frequency, RotationalSpeed, false},
		{Volume, Displacement, false},
		{SpringRate, EnergyPerArea, true},
		{MassFlow, ViscousFriction, true},
		{Number, Number, true},
		{Number, Angle, false},
		{nameless, nameless, false},
	}
	for _, test := range comparisons {
		if got := Comparable(test.a, test.b); got != test.want {
			t.Errorf("Comparable(%v, %v) = %v", test.a, test.b, got)
		}
		if got := Comparable(test.b, test.a); got != test.want {
			t.Errorf("Comparable(%v, %v) = %v", test.b, test.a, got)
		}
	}
}

// TestAlgebra goes through all pairs and triples: products commute and associate, division
// undoes them, sums commute and subtraction undoes them, and no result is a level that no
// operand was.
func TestAlgebra(t *testing.T) {
	all := Dimensions()
	for _, a := range all {
		for _, b := range all {
			ab, ok := Multiply(a, b)
			if ba, too := Multiply(b, a); ok != too || !ok && ab != ba || ok && !akin(ab, ba) {
				t.Errorf("%v · %v is a %v, the other way round a %v", a, b, ab, ba)
			}
			if ok {
				if ab.isLevel() && ab != a && ab != b {
					t.Errorf("%v · %v is a level, a %v", a, b, ab)
				}
				if back, ok := Divide(ab, b); b != AbsolutePressure && (!ok || !akin(back, a)) {
					t.Errorf("%v · %v / %v is a %v (%v)", a, b, b, back, ok)
				}
				if declared[ab].vector != declared[a].vector.times(declared[b].vector) {
					t.Errorf("%v · %v is a %v", a, b, ab)
				}
			}
			if q, ok := Divide(a, b); ok && declared[q].vector != declared[a].vector.over(declared[b].vector) {
				t.Errorf("%v / %v is a %v", a, b, q)
			}
			sum, ok := Add(a, b)
			if other, too := Add(b, a); ok != too || ok && !Comparable(sum, other) {
				t.Errorf("%v + %v is a %v, the other way round a %v", a, b, sum, other)
			}
			if back, fine := Subtract(sum, b); ok && !(fine && Comparable(back, a)) && !b.isLevel() {
				t.Errorf("%v + %v − %v is a %v", a, b, b, back)
			}
			if difference, ok := Subtract(a, b); ok {
				if back, fine := Add(difference, b); !fine || !Comparable(back, a) {
					t.Errorf("%v − %v + %v is a %v", a, b, b, back)
				}
			}
			for _, c := range all {
				associates(t, a, b, c)
			}
		}
		if a.isLevel() && !akin(a, a.difference()) {
			t.Errorf("%v has other exponents than %v", a, a.difference())
		}
	}
}

// associates checks (a·b)·c against a·(b·c) where both can be said.
func associates(t *testing.T, a, b, c Dimension) {
	ab, ok1 := Multiply(a, b)
	left, ok2 := Multiply(ab, c)
	bc, ok3 := Multiply(b, c)
	right, ok4 := Multiply(a, bc)
	if ok1 && ok2 && ok3 && ok4 && !akin(left, right) {
		t.Errorf("(%v · %v) · %v is a %v, otherwise a %v", a, b, c, left, right)
	}
}

// TestNames: keys and words are unique and lead back.
func TestNames(t *testing.T) {
	words := make(map[string]bool)
	for _, d := range Dimensions() {
		if back, ok := DimensionNamed(d.Key()); !ok || back != d {
			t.Errorf("DimensionNamed(%q) = %v, %v", d.Key(), back, ok)
		}
		if words[d.String()] {
			t.Errorf("two dimensions are called %q", d)
		}
		words[d.String()] = true
	}
	if _, ok := DimensionNamed("charm"); ok {
		t.Error("a dimension named charm")
	}
	for d, want := range map[Dimension]string{Pressure: "a pressure", AbsolutePressure: "an absolute pressure", Energy: "an energy", nameless: "a quantity without a name"} {
		if got := d.WithArticle(); got != want {
			t.Errorf("WithArticle: %q, want %q", got, want)
		}
	}
}
