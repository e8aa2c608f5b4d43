package fluid

import "testing"

func oil(t testing.TB) Oil {
	return Oil{
		Density15:         875,
		Expansion15:       7e-4,
		Kinematic:         curve(t, 40, 32, 100, 5.4),
		Modulus:           Modulus{Value: 1.55e9, AtTemperature: kelvin(40), AtPressure: 101325, PerPressure: 9.5, PerKelvin: -7e6},
		SpecificHeat:      1950,
		FreeAir:           0.005,
		PressureViscosity: 2e-8,
	}
}

var states = []struct{ celsius, p float64 }{
	{-20, 5e4}, {0, 101325}, {40, 3e5}, {60, 5e6}, {95, 2e7}, {130, 3.5e7}, {20, 500},
}

// At gives what the single methods give, which are the laws put together.
func TestOilStateAgreesWithMethods(t *testing.T) {
	o := oil(t)
	for _, row := range states {
		T, p := kelvin(row.celsius), row.p
		s := o.At(T, p)
		near(t, "Viscosity", o.Viscosity(T), s.Kinematic, 1e-15)
		near(t, "DynamicViscosity", o.DynamicViscosity(T, p), s.Dynamic, 1e-14)
		near(t, "Density", o.Density(T, p), s.Density, 1e-14)
		near(t, "BulkModulus", o.BulkModulus(T, p), s.Bulk, 1e-15)
		near(t, "EffectiveModulus", o.EffectiveModulus(T, p), s.Effective, 1e-14)
		near(t, "Expansion", o.Expansion(T), s.Expansion, 1e-15)

		k := o.Modulus.At(T, p)
		near(t, "law of density", s.Density, Density(875, 7e-4, k, T, p), 1e-14)
		near(t, "law of viscosity", s.Dynamic, DynamicViscosity(s.Density, o.Kinematic.At(T), 2e-8, p), 1e-14)
		near(t, "law of free air", s.Effective, EffectiveModulus(k, 0.005, 1.4, p), 1e-14)
	}
}

func TestOilDerivatives(t *testing.T) {
	o := oil(t)
	for _, row := range states {
		T, p := kelvin(row.celsius), row.p
		s := o.At(T, p)
		step := 1e-3 * p
		along := func(pick func(State) float64) (perKelvin, perPascal float64) {
			return slope(func(T float64) float64 { return pick(o.At(T, p)) }, T, 0.05),
				slope(func(p float64) float64 { return pick(o.At(T, p)) }, p, step)
		}
		for _, q := range []struct {
			name     string
			pick     func(State) float64
			byT, byP float64
		}{
			{"kinematic", func(s State) float64 { return s.Kinematic }, s.KinematicT, 0},
			{"dynamic", func(s State) float64 { return s.Dynamic }, s.DynamicT, s.DynamicP},
			{"density", func(s State) float64 { return s.Density }, s.DensityT, s.DensityP},
			{"bulk", func(s State) float64 { return s.Bulk }, s.BulkT, s.BulkP},
			{"effective", func(s State) float64 { return s.Effective }, s.EffectiveT, s.EffectiveP},
			{"expansion", func(s State) float64 { return s.Expansion }, s.ExpansionT, 0},
		} {
			byT, byP := along(q.pick)
			value := q.pick(s)
			// Differences lose digits in proportion to the value over the step.
			nearDerivative(t, q.name+" per kelvin", q.byT, byT, 1e-6, 1e-11*value/0.05)
			nearDerivative(t, q.name+" per pascal", q.byP, byP, 1e-6, 1e-11*value/step)
		}
	}
}

func nearDerivative(t *testing.T, what string, got, want, rel, abs float64) {
	t.Helper()
	if d := got - want; d > rel*max(want, -want)+abs || -d > rel*max(want, -want)+abs {
		t.Errorf("%s = %.8g, central difference %.8g", what, got, want)
	}
}

// The floor of the modulus is flat.
func TestOilAtTheFloor(t *testing.T) {
	o := oil(t)
	s := o.At(kelvin(300), 101325)
	near(t, "bulk", s.Bulk, 0.155e9, 1e-12)
	if s.BulkT != 0 || s.BulkP != 0 {
		t.Errorf("slopes at the floor %g, %g, want 0", s.BulkT, s.BulkP)
	}
}

func BenchmarkOilState(b *testing.B) {
	o := oil(b)
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		sum += o.At(333.15, 5e6).Effective
	}
	sink = sum
}

// The laws an integrator calls millions of times make no garbage.
func TestOilAllocatesNothing(t *testing.T) {
	o := oil(t)
	if n := testing.AllocsPerRun(100, func() { sink += o.At(333, 5e6).Dynamic + o.DynamicViscosity(333, 5e6) + o.EffectiveModulus(333, 5e6) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
