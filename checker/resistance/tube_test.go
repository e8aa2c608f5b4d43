package resistance

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Crane TP-410, example 7.17: 1900 US barrels an hour through 50 miles of 12
// inch schedule 30 pipe (bore 307.04 mm) up 2000 ft, 12.5 cP, 54.64 lb/ft³,
// roughness 0.0022 in, efficiency 0.67. The book, with a shortcut: 3406.5 ft,
// 1496 hp, so 0.3 %; with Churchill's f 3413.0 ft, 1499.6 hp, Re 24 364 and
// Colebrook's f 0.025110, computed independently.
func TestCraneExample(t *testing.T) {
	const (
		barrel = 0.158987294928
		pound  = 0.45359237
		hp     = 745.699872
	)
	pipe := Tube{Bore: 307.04 * mm, Length: 50 * 1609.344, Roughness: 0.0022 * inch, Elevation: 2000 * foot}
	const q, rho, mu = 1900 * barrel / 3600, 54.64 * pound / (foot * foot * foot), 12.5e-3
	near(t, "Re", pipe.Reynolds(q, mu/rho), 24364, 3e-5)
	near(t, "f", FrictionFactor(24364, pipe.Roughness/pipe.Bore), 0.025097, 3e-5)
	near(t, "Colebrook's f", colebrook(24364, pipe.Roughness/pipe.Bore), 0.025110, 3e-5)
	head := pipe.Drop(q, rho, mu).Drop / (rho * Gravity)
	near(t, "head in ft", head/foot, 3413.0, 2e-5)
	near(t, "head in ft, the book", head/foot, 3406.5, 3e-3)
	power := pipe.Drop(q, rho, mu).Drop * q / 0.67
	near(t, "power in hp", power/hp, 1499.6, 5e-5)
	near(t, "power in hp, the book", power/hp, 1496, 3e-3)
}

// Esposito, Fluid Power with Applications, example 4-4: ν 1e-3 m²/s, 5 m/s in
// 50 m of 50 mm tube, γ 8800 N/m³ with g 9.8: Re 250, f 0.256, 326.5 m of oil,
// 2873 kPa (seen in a companion file, recomputed).
func TestEspositoLaminar(t *testing.T) {
	tube := Tube{Bore: 0.05, Length: 50}
	q := 5 * CircleArea(0.05)
	const rho = 8800 / 9.8
	near(t, "Re", tube.Reynolds(q, 1e-3), 250, 1e-12)
	near(t, "f", FrictionFactor(250, 0), 0.256, 1e-12)
	near(t, "drop", tube.Drop(q, rho, rho*1e-3).Drop, 2873e3, 3e-4)
	near(t, "head", tube.Drop(q, rho, rho*1e-3).Drop/8800, 326.5, 1e-4)
}

// Esposito, example 10-1: 30 gpm at 20 ft/s needs a bore of 0.783 in (0.7826
// with 449 gpm per ft³/s).
func TestEspositoVelocity(t *testing.T) {
	const q = 30. / 449 * foot * foot * foot
	tube := Tube{Bore: 0.7826 * inch}
	near(t, "v", tube.Velocity(q), 20*foot, 2e-4)
	near(t, "backwards", tube.Velocity(-q), -20*foot, 2e-4)
	near(t, "Re backwards", tube.Reynolds(-q, 1e-5), tube.Reynolds(q, 1e-5), 0)
}

func TestTubeVolume(t *testing.T) {
	tube := Tube{Bore: 0.02, Length: 3}
	near(t, "V", tube.Volume(), math.Pi*1e-4*3, 1e-12)
}

// Hagen–Poiseuille, Q = π D⁴ Δp/(128 μ L), about zero and in all laminar flow.
func TestLaminarConductance(t *testing.T) {
	tube := Tube{Bore: 0.01, Length: 2}
	const rho, mu = 870, 0.04
	conductance := math.Pi * math.Pow(0.01, 4) / (128 * mu * 2)
	for _, dp := range []float64{-2e4, -1, -1e-9, 1e-9, 1, 2e4} {
		f := tube.Flow(dp, rho, mu)
		near(t, "Q", f.Flow, conductance*dp, 1e-12)
		near(t, "dQ/dΔp", f.PerPascal, conductance, 1e-12)
	}
	rest := tube.Flow(0, rho, mu)
	if rest.Flow != 0 || rest.PerDensity != 0 || rest.PerViscosity != 0 {
		t.Errorf("at rest %+v", rest)
	}
	near(t, "slope at rest", rest.PerPascal, conductance, 1e-12)
	near(t, "drop at rest", tube.Drop(0, rho, mu).PerFlow, 1/conductance, 1e-12)
}

// Losses alone: K ρ v²/2. With a tube so short that friction vanishes.
func TestLosses(t *testing.T) {
	tube := Tube{Bore: 0.01, Length: 1e-9, Losses: 1.5}
	const v, rho = 4.0, 870.0
	q := v * CircleArea(0.01)
	near(t, "drop", tube.Drop(q, rho, 0.01).Drop, 1.5*rho*v*v/2, 1e-5)
	near(t, "back", tube.Flow(1.5*rho*v*v/2, rho, 0.01).Flow, q, 1e-5)
}

// Elevation alone: at rest the lower end has ρ g h more.
func TestElevation(t *testing.T) {
	tube := Tube{Bore: 0.01, Length: 2, Elevation: 0.5}
	const rho, mu = 870, 0.04
	head := rho * 9.80665 * 0.5
	near(t, "drop at rest", tube.Drop(0, rho, mu).Drop, head, 1e-12)
	within(t, "flow at that drop", tube.Flow(head, rho, mu).Flow, 0, 1e-18)
	if q := tube.Flow(0, rho, mu).Flow; q >= 0 {
		t.Errorf("without pressure difference oil must run down, flow %g", q)
	}
}

// drawn is a tube, a fluid and a flow.
type drawn struct {
	Tube
	rho, mu, flow float64
}

// draw makes the same tubes every time, from all that a circuit may hold.
func draw(n int) []drawn {
	r := rand.New(rand.NewPCG(1977, 64))
	logUniform := func(low, high float64) float64 { return low * math.Pow(high/low, r.Float64()) }
	one := func(values ...float64) float64 { return values[r.IntN(len(values))] }
	var all []drawn
	for range n {
		d := drawn{Tube: Tube{
			Bore:      logUniform(2e-3, 60e-3),
			Length:    logUniform(0.02, 100),
			Losses:    one(0, 0.5, 3, 20),
			Elevation: one(0, -2, 3),
		}}
		d.Roughness = d.Bore * one(0, 1e-5, 1e-3, 0.05)
		d.rho = 750 + 450*r.Float64()
		d.mu = d.rho * logUniform(1e-6, 1e-2)
		re := one(-1, 1) * one(logUniform(1e-3, 1e6), logUniform(1e3, 1e4))
		d.flow = re * d.mu / (d.rho * d.Bore) * CircleArea(d.Bore)
		all = append(all, d)
	}
	return all
}

func TestFlowIsDropTheOtherWayRound(t *testing.T) {
	for _, d := range draw(5000) {
		drop := d.Drop(d.flow, d.rho, d.mu)
		back := d.Flow(drop.Drop, d.rho, d.mu)
		// What elevation adds to the drop costs digits of the rest.
		lost := 1e-14 * math.Abs(d.rho*Gravity*d.Elevation) / drop.PerFlow
		if math.Abs(back.Flow-d.flow) > 1e-11*math.Abs(d.flow)+lost {
			t.Fatalf("%+v: flow came back %g (off by %g)", d, back.Flow, back.Flow/d.flow-1)
		}
		if math.Abs(back.PerPascal*drop.PerFlow-1) > 2e-6 {
			t.Fatalf("%+v: slopes %g and %g are not reciprocal", d, back.PerPascal, drop.PerFlow)
		}
	}
}

func TestTubeDerivatives(t *testing.T) {
	for _, d := range draw(3000) {
		drop := d.Drop(d.flow, d.rho, d.mu)
		back := d.Flow(drop.Drop, d.rho, d.mu)
		head := d.rho * Gravity * d.Elevation
		compare := func(what string, got float64, f func(float64) float64, x, step, noise float64) {
			want := slope(f, x, step)
			if math.Abs(got-want) > 2e-5*math.Abs(want)+noise/step {
				t.Fatalf("%+v: %s = %g, central difference %g", d, what, got, want)
			}
		}
		noise := 1e-13 * (math.Abs(drop.Drop) + math.Abs(head))
		compare("dΔp/dQ", drop.PerFlow, func(q float64) float64 { return d.Drop(q, d.rho, d.mu).Drop }, d.flow, 2e-4*math.Abs(d.flow), noise)
		compare("dΔp/dρ", drop.PerDensity, func(rho float64) float64 { return d.Drop(d.flow, rho, d.mu).Drop }, d.rho, 2e-4*d.rho, noise)
		compare("dΔp/dμ", drop.PerViscosity, func(mu float64) float64 { return d.Drop(d.flow, d.rho, mu).Drop }, d.mu, 2e-4*d.mu, noise)
		noise = 1e-11*math.Abs(d.flow) + noise*back.PerPascal
		driving := drop.Drop - head
		compare("dQ/dΔp", back.PerPascal, func(dp float64) float64 { return d.Flow(dp, d.rho, d.mu).Flow }, drop.Drop, 2e-4*math.Abs(driving), noise)
		step := 2e-4 * d.rho * math.Min(1, math.Abs(driving/head)) // keeps the direction of flow
		compare("dQ/dρ", back.PerDensity, func(rho float64) float64 { return d.Flow(drop.Drop, rho, d.mu).Flow }, d.rho, step, noise)
		compare("dQ/dμ", back.PerViscosity, func(mu float64) float64 { return d.Flow(drop.Drop, d.rho, mu).Flow }, d.mu, 2e-4*d.mu, noise)
	}
}

// Flow rises steadily with the pressure difference through all regimes, with
// no step where the closed form ends, and is odd about the rest.
func TestFlowIsSteadyAndOdd(t *testing.T) {
	for _, tube := range []Tube{
		{Bore: 9 * mm, Length: 9, Roughness: 1.5e-6, Losses: 6},
		{Bore: 20 * mm, Length: 0.5, Roughness: 1e-3},
		{Bore: 12 * mm, Length: 3},
	} {
		const rho, mu = 850, 0.012
		last := TubeFlow{}
		for dp := 1.0; dp < 3e7; dp *= 1.002 {
			f := tube.Flow(dp, rho, mu)
			if f.Flow <= last.Flow {
				t.Fatalf("flow falls at %g Pa", dp)
			}
			if grown := f.Flow / last.Flow; last.Flow > 0 && grown > 1.0021 {
				t.Fatalf("flow jumps by %g at %g Pa", grown-1, dp)
			}
			if back := tube.Flow(-dp, rho, mu); back != (TubeFlow{-f.Flow, f.PerPascal, -f.PerDensity, -f.PerViscosity}) {
				t.Fatalf("not odd at %g Pa", dp)
			}
			last = f
		}
	}
}

// Where Newton starts in turbulent flow: without losses, Colebrook–White.
func TestRoughSpeedIsColebrook(t *testing.T) {
	for _, tube := range []Tube{{Bore: 9 * mm, Length: 9, Roughness: 1.5e-6}, {Bore: 20 * mm, Length: 0.5, Roughness: 1e-3}} {
		const rho, mu = 850, 0.012
		for _, driving := range []float64{1e5, 1e6, 2e7} {
			v := tube.roughSpeed(driving, rho, mu)
			f := colebrook(rho*v*tube.Bore/mu, tube.Roughness/tube.Bore)
			near(t, "drop", f*tube.Length/tube.Bore*rho*v*v/2, driving, 1e-12)
			lossy := tube
			lossy.Losses = f * tube.Length / tube.Bore
			near(t, "as much again in losses", lossy.roughSpeed(driving, rho, mu), v/math.Sqrt2, 1e-12)
		}
	}
}

func TestFlowOfNothingSensible(t *testing.T) {
	tube := Tube{Bore: 0.01, Length: 1, Losses: 1}
	for _, dp := range []float64{math.NaN(), math.Inf(1)} {
		if f := tube.Flow(dp, 870, 0.04); !math.IsNaN(f.Flow) {
			t.Errorf("flow at %g Pa = %g, want NaN", dp, f.Flow)
		}
	}
}

func benchmarkTube(b *testing.B, dp float64) {
	tube := Tube{Bore: 9 * mm, Length: 9, Roughness: 1.5e-6, Losses: 6}
	b.ReportAllocs()
	var sum float64
	for b.Loop() {
		sum += tube.Flow(dp, 850, 0.012).Flow
	}
	sink = sum
}

func BenchmarkTubeLaminar(b *testing.B)    { benchmarkTube(b, 6e4) }
func BenchmarkTubeTransition(b *testing.B) { benchmarkTube(b, 6e5) }
func BenchmarkTubeTurbulent(b *testing.B)  { benchmarkTube(b, 3e6) }

// The laws an integrator calls millions of times make no garbage.
func TestTubeAllocatesNothing(t *testing.T) {
	tube := Tube{Bore: 9 * mm, Length: 9, Roughness: 1.5e-6, Losses: 6}
	if n := testing.AllocsPerRun(100, func() { sink += tube.Flow(6e5, 850, 0.012).Flow + tube.Drop(1e-4, 850, 0.012).Drop }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}
