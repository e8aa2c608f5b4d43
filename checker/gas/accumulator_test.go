package gas

import (
	"math"
	"testing"
)

// Processes from 293.15 K, computed independently with the short equation;
// beside each the reference equation (Span et al. 2000), within 0.5 %.
func TestIsentropicProcesses(t *testing.T) {
	for _, row := range []struct {
		p1, p2                float64 // MPa
		ratio, T2, n          string  // short equation: V2/V1, K, exponent
		refRatio, refT2, refN float64
	}{
		{10, 20, "0.66323", "359.34", "1.6880", 0.66396, 359.31, 1.6925},
		{10, 30, "0.53137", "403.99", "", 0.53300, 403.99, 0},
		{20, 35, "0.76191", "343.60", "2.058", 0.76391, 343.70, 2.078},
		{1, 2, "0.61401", "", "1.421", 0.61383, 0, 1.420},
	} {
		rho1 := density(t, row.p1*1e6, 293.15)
		s := Entropy(rho1, 293.15)
		// Bisection on density along the isentrope.
		low, high := rho1, 3*rho1
		for high-low > 1e-11*rho1 {
			if rho := (low + high) / 2; Pressure(rho, temperatureAt(t, s, rho)) < row.p2*1e6 {
				low = rho
			} else {
				high = rho
			}
		}
		rho2 := (low + high) / 2
		asPrinted(t, "V2/V1", rho1/rho2, row.ratio)
		near(t, "V2/V1 against reference", rho1/rho2, row.refRatio, 0.005)
		if row.T2 != "" {
			T2 := temperatureAt(t, s, rho2)
			asPrinted(t, "T2", T2, row.T2)
			near(t, "T2 against reference", T2, row.refT2, 0.0005)
			charge := Charge{Mass: rho1 * 1e-3}
			V, T := charge.ToPressure(1e-3, 293.15, row.p2*1e6)
			near(t, "volume followed along", V, 1e-3*rho1/rho2, 1e-7)
			near(t, "temperature followed along", T, T2, 1e-7)
			near(t, "temperature at that volume", charge.ToVolume(1e-3, 293.15, V), T2, 1e-7)
			back, cold := charge.ToPressure(V, T, row.p1*1e6)
			near(t, "volume there and back", back, 1e-3, 1e-7)
			near(t, "temperature there and back", cold, 293.15, 1e-7)
		}
		if row.n != "" {
			n := math.Log(row.p2/row.p1) / math.Log(rho2/rho1)
			asPrinted(t, "exponent", n, row.n)
			near(t, "exponent against reference", n, row.refN, 0.01)
		}
	}
}

// Slow compression at 293.15 K and heating at constant volume from 20 to 60
// °C, computed independently; in the comment the reference equation.
func TestSlowProcesses(t *testing.T) {
	charge, err := NewCharge(10e6, 293.15, 10e-3)
	if err != nil {
		t.Fatal(err)
	}
	for p, want := range map[float64]string{20e6: "0.52465", 30e6: "0.37852"} { // 0.52548, 0.37972
		V, err := charge.Volume(p, 293.15)
		if err != nil {
			t.Fatal(err)
		}
		asPrinted(t, "V2/V1", V/10e-3, want)
	}
	for p, want := range map[float64]string{10e6: "11.6757", 20e6: "23.813"} { // 11.6755, 23.830
		hot, err := PrechargeAt(p, 293.15, 333.15)
		if err != nil {
			t.Fatal(err)
		}
		asPrinted(t, "hot precharge in MPa", hot/1e6, want)
		back, err := PrechargeAt(hot, 333.15, 293.15)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "back again", back, p, 1e-12)
	}
	// Precharge 9 MPa, 10 to 20 MPa: useful share of V0 (reference 0.42810).
	charge, err = NewCharge(9e6, 293.15, 1)
	if err != nil {
		t.Fatal(err)
	}
	low, _ := charge.Volume(10e6, 293.15)
	high, _ := charge.Volume(20e6, 293.15)
	asPrinted(t, "useful share", low-high, "0.42885")
	// The ideal gas says 0.45: its size is 5 % too small.
	near(t, "polytropic size of it", PolytropicSize(low-high, 9e6, 10e6, 20e6, 1), 0.42885/0.45, 1e-4)
}

func TestChargeErrors(t *testing.T) {
	if _, err := NewCharge(-1, 293.15, 1e-3); err == nil {
		t.Error("charge at negative pressure accepted")
	}
	if _, err := (Charge{Mass: 1}).Volume(1e12, 293.15); err == nil {
		t.Error("volume at 1e12 Pa found")
	}
	if _, err := PrechargeAt(1e7, 50, 293.15); err == nil {
		t.Error("precharge at 50 K accepted")
	}
}

// run integrates the gas temperature of a charge through V(t) by the classical
// fourth-order method.
func run(charge Charge, T, wall, constant, until float64, volume, rate func(float64) float64) float64 {
	f := func(t, T float64) float64 {
		return TemperatureRate(T, wall, constant, charge.At(volume(t), T).Warming, rate(t))
	}
	const steps = 2000
	h := until / steps
	for i := range steps {
		t := float64(i) * h
		k1 := f(t, T)
		k2 := f(t+h/2, T+h/2*k1)
		k3 := f(t+h/2, T+h/2*k2)
		k4 := f(t+h, T+h*k3)
		T += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return T
}

// Compression from rest, 10 L at 10 MPa, gas and wall 293.15 K, linear to 7 L
// in 1 s; computed independently (in the comment the reference equation).
func TestCompressionFromRest(t *testing.T) {
	const T0 = 293.15
	charge, err := NewCharge(10e6, T0, 10e-3)
	if err != nil {
		t.Fatal(err)
	}
	volume := func(t float64) float64 { return 10e-3 - 3e-3*t }
	rate := func(float64) float64 { return -3e-3 }

	T1 := run(charge, T0, T0, math.Inf(1), 1, volume, rate)
	asPrinted(t, "no heat lost, K", T1, "349.534")                                // 349.645
	asPrinted(t, "no heat lost, MPa", charge.At(7e-3, T1).Pressure/1e6, "18.189") // 18.214
	near(t, "entropy kept", Entropy(charge.Mass/7e-3, T1), Entropy(charge.Mass/10e-3, T0), 1e-9)
	asPrinted(t, "all heat lost, MPa", charge.At(7e-3, T0).Pressure/1e6, "14.527") // 14.534

	// A quick wall keeps the gas near its own temperature.
	if T := run(charge, T0, T0, 0.01, 1, volume, rate); T-T0 < 0.1 || T-T0 > 2 {
		t.Errorf("with τ 10 ms the gas ends %g K warmer", T-T0)
	}
}

// While held, the model is exactly T = T_w + (T1 − T_w) e^(−Δt/τ), whatever
// the gas law.
func TestHeldGasDecays(t *testing.T) {
	charge := Charge{Mass: 1.1}
	T := run(charge, 349.5, 293.15, 8, 12, func(float64) float64 { return 7e-3 }, func(float64) float64 { return 0 })
	near(t, "T", T, 293.15+(349.5-293.15)*math.Exp(-12./8), 1e-10)
}

// A thin charge warms as an ideal gas: T V^(R/cv) stays, so dT/dV = −T R/(cv V).
// With cv 743 and R 296.8 J/kg/K, from 10 to 7 L: 338.039 K.
func TestWarmingOfIdealGas(t *testing.T) {
	charge := Charge{Mass: 1e-6}
	s := charge.At(10e-3, 293.15)
	cv := At(1e-4, 293.15).Cv
	near(t, "warming", s.Warming, 293.15*GasConstant/(cv*10e-3), 1e-5)
	near(t, "T2", 293.15*math.Pow(10./7, 296.8/743), 338.039, 2e-6)
	T := run(charge, 293.15, 293.15, math.Inf(1), 1, func(t float64) float64 { return 10e-3 - 3e-3*t }, func(float64) float64 { return -3e-3 })
	near(t, "T2 of a thin charge", T, 338.039, 5e-4)
}

func TestChargeDerivatives(t *testing.T) {
	charge, err := NewCharge(8e6, 293.15, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	for _, V := range []float64{0.25e-3, 0.5e-3, 0.9e-3} {
		for _, T := range []float64{250, 300, 380} {
			s := charge.At(V, T)
			near(t, "p", s.Pressure, Pressure(charge.Mass/V, T), 1e-15)
			near(t, "∂p/∂V", s.PressureV, slope(func(V float64) float64 { return charge.At(V, T).Pressure }, V, 1e-3*V), 1e-7)
			near(t, "∂p/∂T", s.PressureT, slope(func(T float64) float64 { return charge.At(V, T).Pressure }, T, 0.1), 1e-8)
			near(t, "∂w/∂V", s.WarmingV, slope(func(V float64) float64 { return charge.At(V, T).Warming }, V, 1e-3*V), 1e-7)
			near(t, "∂w/∂T", s.WarmingT, slope(func(T float64) float64 { return charge.At(V, T).Warming }, T, 0.1), 1e-7)
		}
	}
}

// Published sizing examples (common practice), recomputed: ΔV 5 with 72, 80,
// 180 bar gives 10.0 (n 1) and 12.261 (n 1.4); 10 gal at 1000 psi between 3000
// and 1200 psi gives 5.0 gal by Boyle, 4.988 once gauge is made absolute.
func TestPolytropicSize(t *testing.T) {
	near(t, "n 1", PolytropicSize(5, 72, 80, 180, 1), 10, 1e-12)
	asPrinted(t, "n 1.4", PolytropicSize(5, 72, 80, 180, 1.4), "12.261")
	near(t, "Boyle", PolytropicSize(5, 1000, 1200, 3000, 1), 10, 1e-12)
	const air = 14.696
	asPrinted(t, "absolute", 10/PolytropicSize(1, 1000+air, 1200+air, 3000+air, 1), "4.988")
}

func BenchmarkCharge(b *testing.B) {
	charge := Charge{Mass: 0.1}
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		s := charge.At(0.6e-3, 320)
		sum += s.Pressure + s.Warming
	}
	sink = sum
}

// The laws an integrator calls millions of times make no garbage.
func TestChargeAllocatesNothing(t *testing.T) {
	charge := Charge{Mass: 0.1}
	if n := testing.AllocsPerRun(100, func() { sink += charge.At(0.6e-3, 320).Warming }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
