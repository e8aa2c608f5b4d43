package friction

import (
	"math"
	"testing"
)

// 6 kN on 30 cm²: the clamp is gone at 20 bar; half of it at 10.
func TestClamp(t *testing.T) {
	const preload, area, takeUp = 6000, 30e-4, 0.02e-3
	for _, row := range []struct{ pressure, lift, force float64 }{
		{0, 0, 6000},
		{0, -1e-6, 6000}, // pressed into its stop
		{10e5, 0, 3000},
		{20e5, 0, 0},
		{6000.5 / area, 0, 0},
		{5999.5 / area, 0, 0.5},
		{30e5, 0, 0},
		{0, 0.005e-3, 4500},
		{10e5, 0.01e-3, 1500},
		{0, 0.02e-3, 0},
		{0, 1e-3, 0},
		{-1e5, 0, 6300}, // suction presses harder
	} {
		force, perPascal, perLift := Clamp(preload, row.pressure, area, row.lift, takeUp)
		near(t, "N", force, row.force, 1e-10)
		if row.pressure == 20e5 || row.lift == 0 || row.lift == takeUp {
			continue // at a kink
		}
		near(t, "dN/dp", perPascal, slope(func(p float64) float64 { f, _, _ := Clamp(preload, p, area, row.lift, takeUp); return f }, row.pressure, 1e3), 1e-9)
		near(t, "dN/dlift", perLift, slope(func(x float64) float64 { f, _, _ := Clamp(preload, row.pressure, area, x, takeUp); return f }, row.lift, 1e-7), 1e-9)
	}
	if _, perPascal, _ := Clamp(preload, 10e5, area, 0, takeUp); perPascal != -area {
		t.Errorf("dN/dp clamped = %g", perPascal)
	}
}

// Eight faces of 0.1 mm and 0.02 mm take-up lift 0.82 mm; a spring of 500 N/mm
// then asks 6410 N.
func TestRelease(t *testing.T) {
	lift := FullLift(0.02e-3, 8, 0.1e-3)
	near(t, "lift", lift, 0.82e-3, 1e-12)
	near(t, "clamp gone", ReleasePressure(6000, 500e3, 0, 30e-4), 20e5, 1e-12)
	near(t, "full release", ReleasePressure(6000, 500e3, lift, 30e-4), 6410/30e-4, 1e-12)
	force, _, _ := Clamp(6000, ReleasePressure(6000, 500e3, 0, 30e-4), 30e-4, 0, 0.02e-3)
	near(t, "clamp at release pressure", force, 0, 1e-9)
}

func TestTorque(t *testing.T) {
	torque, perSlip, perNewton := Torque(0.3, 8, 0.075, 6000, 2, 500)
	near(t, "T", torque, 0.3*8*0.075*6000+2, 1e-12)
	near(t, "dT/dΔω far from lock", perSlip, 0, 1e-12)
	near(t, "dT/dN", perNewton, 0.3*8*0.075, 1e-12)
	for _, slip := range []float64{-0.3, -0.05, 0, 0.02, 0.1, 0.4} {
		at := func(slip float64) float64 { torque, _, _ := Torque(0.3, 8, 0.075, 6000, 2, slip); return torque }
		_, perSlip, perNewton := Torque(0.3, 8, 0.075, 6000, 2, slip)
		near(t, "dT/dΔω", perSlip, slope(at, slip, 1e-4), 1e-8)
		near(t, "dT/dN", perNewton, slope(func(n float64) float64 { torque, _, _ := Torque(0.3, 8, 0.075, n, 2, slip); return torque }, 6000, 1), 1e-8)
		near(t, "odd", at(-slip), -at(slip), 1e-15)
	}
}

// tanh: 0.76159 at one width, 0.96403 at two.
func TestRounded(t *testing.T) {
	for _, around := range []float64{SlipRounding, SlidingRounding} {
		for v, want := range map[float64]float64{0: 0, 1: 0.761594, 2: 0.964028, -2: -0.964028, 100: 1} {
			sign, slopeThere := Rounded(v*around, around)
			near(t, "sign", sign, want, 1e-6)
			near(t, "slope", slopeThere*around, 1-want*want, 3e-5)
		}
	}
	near(t, "a pack turns within 0.1 rad/s", SlipRounding, 0.1, 0)
	near(t, "a seal within 1 mm/s", SlidingRounding, 1e-3, 0)
}

// Two inertias at constant torque: t = I1 I2 Δω/(T (I1 + I2)),
// E = I1 I2 Δω²/(2 (I1 + I2)); against a step by step run, by momentum and by
// energy.
func TestEngagement(t *testing.T) {
	const I1, I2, torque = 0.4, 1.3, 250.0
	w1, w2, heat, h, steps := 600.0, 100.0, 0.0, 1e-5, 0
	for ; w1 > w2; steps++ {
		slip := w1 - w2
		w1 -= torque / I1 * h
		w2 += torque / I2 * h
		heat += torque * (slip + (w1 - w2)) / 2 * h
	}
	near(t, "time", EngagementTime(I1, I2, 500, torque), float64(steps)*h, 1e-4)
	near(t, "energy", EngagementEnergy(I1, I2, 500), heat, 1e-4)
	common := (I1*600 + I2*100) / (I1 + I2)
	near(t, "momentum", common, w2, 1e-4)
	near(t, "energy balance", EngagementEnergy(I1, I2, 500), (I1*600*600+I2*100*100-(I1+I2)*common*common)/2, 1e-12)
	near(t, "driven side alone", EngagementEnergy(math.Inf(1), I2, 500), I2*500*500/2, 1e-12)
	near(t, "driven side alone", EngagementTime(math.Inf(1), I2, 500, torque), I2*500/torque, 1e-12)
}

// Butland & Maddison by both published sets, computed independently, half a
// last digit, and the mean from 300 to 1000 K.
func TestGraphite(t *testing.T) {
	for _, row := range []struct{ T, reactor, webBook float64 }{
		{300, 712.8, 712.8}, {500, 1217.6, 1227.3}, {800, 1619.4, 1643.6},
		{1000, 1759.2, 1793.0}, {1500, 1939.0, 1996.9}, {2000, 2021.6, 2103.6},
	} {
		near(t, "set 1", ReactorGraphite.HeatCapacity(row.T), row.reactor, 0.051/row.reactor)
		near(t, "set 2", WebBookGraphite.HeatCapacity(row.T), row.webBook, 0.051/row.webBook)
	}
	mean := func(g Graphite) float64 { // Simpson
		const n = 70
		sum := g.HeatCapacity(300) + g.HeatCapacity(1000)
		for i := 1; i < n; i++ {
			sum += float64(2+2*(i%2)) * g.HeatCapacity(300+700*float64(i)/n)
		}
		return sum / (3 * n)
	}
	near(t, "mean 300–1000 K, set 1", mean(ReactorGraphite), 1384, 4e-4)
	near(t, "mean 300–1000 K, set 2", mean(WebBookGraphite), 1401, 4e-4)
	near(t, "below the range", ReactorGraphite.HeatCapacity(100), ReactorGraphite.HeatCapacity(250), 0)
	near(t, "above the range", WebBookGraphite.HeatCapacity(4000), WebBookGraphite.HeatCapacity(3000), 0)
	if g := WebBookGraphite; g.HeatCapacity(2990) >= g.HeatCapacity(3000) || g.HeatCapacity(250.5) <= g.HeatCapacity(250) {
		t.Error("flat inside the range")
	}
}

var sink float64

func BenchmarkPack(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		clamp, _, _ := Clamp(6000, 10e5, 30e-4, 0.01e-3, 0.02e-3)
		torque, _, _ := Torque(0.3, 8, 0.075, clamp, 0, 3)
		sink += torque
	}
}
