package resistance

import (
	"math"
	"testing"
)

func TestRoundedStep(t *testing.T) {
	for _, row := range []struct{ x, step, slope float64 }{
		{-0.5, 0, 0}, {0, 0, 0}, {0.25, 0.15625, 1.125}, {0.5, 0.5, 1.5}, {0.75, 0.84375, 1.125}, {1, 1, 0}, {1.01, 1, 0}, {1.5, 1, 0},
	} {
		step, slope := roundedStep(row.x)
		if step != row.step || slope != row.slope {
			t.Errorf("roundedStep(%g) = %g, %g; want %g, %g", row.x, step, slope, row.step, row.slope)
		}
	}
}

func TestCheckValve(t *testing.T) {
	k := RatedCoefficient(30*lpm, 2*bar, 860)
	for _, dp := range []float64{-300 * bar, -1, 0, 0.3 * bar} {
		if q, s := CheckValve(k, 0.3*bar, dp); q != 0 || s != 0 {
			t.Errorf("at %g Pa: %g, %g; want shut", dp, q, s)
		}
	}
	q, s := CheckValve(k, 0.3*bar, 2.3*bar)
	same, sameSlope := SquareLaw(k, 2*bar)
	near(t, "Q", q, same, 1e-12)
	near(t, "slope", s, sameSlope, 1e-12)
	near(t, "rated point above cracking", q, 30*lpm, 2e-4)
	q, _ = CheckValve(k, 0.3*bar, 0.3*bar+1e-3)
	within(t, "just open", q, 0, 1e-10)
}

func TestReliefValve(t *testing.T) {
	const cracking, override, rated = 60 * bar, 6 * bar, 25 * lpm
	for _, dp := range []float64{-100 * bar, 0, 60 * bar} {
		if q, s := ReliefValve(rated, override, cracking, dp); q != 0 || s != 0 {
			t.Errorf("at %g Pa: %g, %g; want shut", dp, q, s)
		}
	}
	for share, want := range map[float64]float64{0.5: 12.5, 1: 25, 1.5: 37.5} {
		q, s := ReliefValve(rated, override, cracking, cracking+share*override)
		near(t, "Q", q, want*lpm, 1e-12)
		near(t, "slope", s, rated/override, 1e-12)
	}
}

func TestFlowRegulator(t *testing.T) {
	const held, needs = 8 * lpm, 7 * bar
	for _, row := range []struct{ dp, litres, slope float64 }{
		{-20 * bar, 0, 0}, {0, 0, 0}, {0.5, 8 * 0.5 / needs, held / needs}, {1.75 * bar, 2, held / needs}, {3.5 * bar, 4, held / needs}, {7 * bar, 8, 0}, {200 * bar, 8, 0},
	} {
		q, s := FlowRegulator(held, needs, row.dp)
		near(t, "Q", q, row.litres*lpm, 1e-12)
		near(t, "slope", s, row.slope, 1e-12)
	}
}

func TestPilotCheckValve(t *testing.T) {
	const cracking, ratio = 1 * bar, 4.0
	k := RatedCoefficient(30*lpm, 2*bar, 860)

	forward := PilotCheckValve(k, cracking, ratio, 10*bar, 5*bar, 0)
	q, s := CheckValve(k, cracking, 5*bar)
	if forward != (PilotFlow{Flow: q, PerFrom: s, PerTo: -s}) {
		t.Errorf("forwards %+v, want a check valve", forward)
	}
	// Backwards 99 bar: the pilot must pass 100/4 = 25 bar above from.
	for _, pilot := range []float64{0, 20 * bar, 26 * bar} {
		if f := PilotCheckValve(k, cracking, ratio, 1*bar, 100*bar, pilot); f != (PilotFlow{}) {
			t.Errorf("pilot %g bar: %+v, want shut", pilot/bar, f)
		}
	}
	if f := PilotCheckValve(k, cracking, ratio, 5*bar, 5*bar-0.5, 100*bar); f != (PilotFlow{}) {
		t.Errorf("half a pascal forwards, piloted: %+v, want shut below cracking", f)
	}
	little, _ := SquareLaw(k, 0.5)
	near(t, "half a pascal backwards, piloted", PilotCheckValve(k, cracking, ratio, 5*bar, 5*bar+0.5, 100*bar).Flow, -little, 1e-12)
	full, _ := SquareLaw(k, 99*bar)
	near(t, "half open", PilotCheckValve(k, cracking, ratio, 1*bar, 100*bar, 26.5*bar).Flow, -full/2, 1e-12)
	near(t, "open", PilotCheckValve(k, cracking, ratio, 1*bar, 100*bar, 27*bar).Flow, -full, 1e-12)
}

func TestShuttleValve(t *testing.T) {
	k := RatedCoefficient(30*lpm, 2*bar, 860)
	full := func(dp float64) float64 { q, _ := SquareLaw(k, dp); return q }

	f := ShuttleValve(k, 50*bar, 10*bar, 45*bar)
	near(t, "higher inlet", f.A, full(5*bar), 1e-12)
	if f.B != 0 {
		t.Errorf("lower inlet lets %g through", f.B)
	}
	f = ShuttleValve(k, 10*bar, 50*bar, 45*bar)
	near(t, "the other way round", f.B, full(5*bar), 1e-12)
	if f.A != 0 {
		t.Errorf("lower inlet lets %g through", f.A)
	}
	f = ShuttleValve(k, 50*bar, 10*bar, 60*bar)
	near(t, "back through the higher", f.A, full(-10*bar), 1e-12)
	f = ShuttleValve(k, 50*bar, 50*bar, 40*bar)
	near(t, "equal inlets", f.A, full(10*bar)/2, 1e-12)
	near(t, "equal inlets", f.B, f.A, 1e-12)
	f = ShuttleValve(k, 50.5*bar, 50*bar, 40*bar)
	near(t, "half a bar apart", f.A, full(10.5*bar), 1e-12)
}

// Every partial derivative against central differences, in all positions.
func TestThreePortDerivatives(t *testing.T) {
	k := RatedCoefficient(30*lpm, 2*bar, 860)
	compare := func(what string, got, want float64) {
		t.Helper()
		within(t, what, got, want, 1e-6*math.Abs(want)+1e-15)
	}
	for _, p := range [][3]float64{
		{10e5, 5e5, 0}, {1e5, 100e5, 26.3e5}, {1e5, 100e5, 26.8e5}, {1e5, 100e5, 60e5}, {1e5, 100e5, 3e5},
		{50e5, 49.9e5, 40e5}, {50e5, 50.3e5, 40e5}, {50e5, 50.1e5, 60e5}, {50e5, 10e5, 20e5}, {10e5, 50e5, 20e5},
	} {
		pilot := PilotCheckValve(k, 1e5, 4, p[0], p[1], p[2])
		shuttle := ShuttleValve(k, p[0], p[1], p[2])
		for i, want := range []struct{ pilot, a, b float64 }{
			{pilot.PerFrom, shuttle.APerA, shuttle.BPerA},
			{pilot.PerTo, shuttle.APerB, shuttle.BPerB},
			{pilot.PerPilot, shuttle.APerTo, shuttle.BPerTo},
		} {
			at := func(x float64) [3]float64 { q := p; q[i] = x; return q }
			compare("pilot", want.pilot, slope(func(x float64) float64 {
				q := at(x)
				return PilotCheckValve(k, 1e5, 4, q[0], q[1], q[2]).Flow
			}, p[i], 50))
			compare("shuttle a", want.a, slope(func(x float64) float64 {
				q := at(x)
				return ShuttleValve(k, q[0], q[1], q[2]).A
			}, p[i], 50))
			compare("shuttle b", want.b, slope(func(x float64) float64 {
				q := at(x)
				return ShuttleValve(k, q[0], q[1], q[2]).B
			}, p[i], 50))
		}
	}
}

func TestFilter(t *testing.T) {
	g := FilterConductance(40*lpm, 0.5*bar, 32e-6, 32e-6)
	near(t, "rated point", g*0.5*bar, 40*lpm, 1e-12)
	near(t, "ten times as thick", FilterConductance(40*lpm, 0.5*bar, 32e-6, 320e-6), g/10, 1e-12)

	for _, dp := range []float64{-10 * bar, 0, 2.5 * bar} {
		if q, s := FilterBypass(40*lpm, 0.5*bar, 2.5*bar, dp); q != 0 || s != 0 {
			t.Errorf("bypass at %g Pa: %g, %g; want shut", dp, q, s)
		}
	}
	q, _ := FilterBypass(40*lpm, 0.5*bar, 2.5*bar, 3*bar)
	near(t, "bypass at its rated drop", q, 40*lpm, 3e-3) // rounding (5/50)²/4
	q, _ = FilterBypass(40*lpm, 0.5*bar, 2.5*bar, 4.5*bar)
	near(t, "bypass at four times", q, 80*lpm, 2e-4)
}

func TestLeakConductance(t *testing.T) {
	near(t, "G", LeakConductance(0.1*lpm, 200*bar)*100*bar, 0.05*lpm, 1e-12)
}

// ε-NTU: at low flow the oil leaves at the coolant's temperature, at high flow
// the heat is G times the excess; never more than either. ε at NTU 1 and 2 is
// 0.63212 and 0.86466.
func TestCoolerHeat(t *testing.T) {
	const G, excess = 90.0, 23.0
	for ntu, effectiveness := range map[float64]float64{1: 0.63212, 2: 0.86466} {
		heat, _, _ := CoolerHeat(G, G/ntu, excess)
		near(t, "effectiveness", heat/(G/ntu*excess), effectiveness, 1e-5)
	}
	heat, _, _ := CoolerHeat(G, 1e-3, excess)
	near(t, "low flow", heat, 1e-3*excess, 1e-12)
	heat, _, _ = CoolerHeat(G, 1e9, excess)
	near(t, "high flow", heat, G*excess, 1e-6)
	heat, perRate, perKelvin := CoolerHeat(G, 0, excess)
	if heat != 0 || perRate != excess || perKelvin != 0 {
		t.Errorf("no flow: %g, %g, %g", heat, perRate, perKelvin)
	}
	// What an empty node still lets out is next to no number at all.
	const trickle = 1e-307
	heat, perRate, perKelvin = CoolerHeat(G, trickle, excess)
	if heat != trickle*excess || perRate != excess || perKelvin != trickle {
		t.Errorf("next to no flow: %g, %g, %g", heat, perRate, perKelvin)
	}
	heat, _, _ = CoolerHeat(G, 700, -5)
	if heat >= 0 {
		t.Errorf("oil colder than the coolant gives off %g W", heat)
	}
	for _, w := range []float64{1e-3, 5, 90, 700, 1e5} {
		_, perRate, perKelvin := CoolerHeat(G, w, excess)
		within(t, "dH/dw", perRate, slope(func(w float64) float64 { h, _, _ := CoolerHeat(G, w, excess); return h }, w, 1e-3*w), 1e-8*excess)
		near(t, "dH/dT", perKelvin, slope(func(x float64) float64 { h, _, _ := CoolerHeat(G, w, x); return h }, excess, 1), 1e-9)
	}
}

func BenchmarkPilotCheckValve(b *testing.B) {
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		sum += PilotCheckValve(1e-6, 1e5, 4, 1e5, 100e5, 26.5e5).Flow
	}
	sink = sum
}

func BenchmarkCoolerHeat(b *testing.B) {
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		h, _, _ := CoolerHeat(90, 700, 23)
		sum += h
	}
	sink = sum
}
