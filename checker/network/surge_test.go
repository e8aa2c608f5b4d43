package network

import (
	"math"
	"strings"
	"testing"

	"headroom/checker/resistance"
)

// hammer is a long tube between an accumulator and a valve, with its wave speed.
const hammer = plainOil + `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 10 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 10 s, inlet: 30 mm}
  run: {kind: tube, from: rail, to: port, bore: 10 mm, length: 20 m, wall: 2 mm, material: E355}
  valve: {kind: directional-valve, p: port, t: sump, a: out, flow: 30 L/min, drop: 5 bar, lag: 1 ms, rest: 0}
  load: {kind: orifice, from: out, to: sump, diameter: 2 mm}
  user: {kind: consumer, from: port, to: sump, min_pressure: 5 bar}
nodes: {rail: {role: pressure, volume: 10 cm3}, port: {role: pressure}}
cases:
  shut: {lasts: 3 s, begins: {fluid: 20 degC, charge: 100 bar, spools: {valve: OPENING}}, demands: {user: DEMAND}, commands: [COMMANDS]}
`

const hammerDensity = 867.0

func hammerWave() float64 {
	wall := 1.6e9 * 10 / (206e9 * 2) * resistance.ThickWall(10e-3, 2e-3, 0.3, resistance.AnchoredUpstream)
	return math.Sqrt(1.6e9 / hammerDensity / (1 + wall))
}

// surges are those of the tube, and its velocity every millisecond.
func surgesOf(t *testing.T, opening, demand, commands string) (all []Surge, velocity []float64) {
	t.Helper()
	c := read(t, "hammer.yaml", strings.NewReplacer("OPENING", opening, "DEMAND", demand, "COMMANDS", commands).Replace(hammer))
	h := &history{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: h.recorder(1e-3)})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	return out.Parts[2].Surges, h.of(t, "run", "velocity")
}

// A valve that was throttled before it shuts stops what still flows: ρ a Δv.
func TestSurgeOfPartialClosure(t *testing.T) {
	s, v := surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 1 s, valve: valve, to: 0.05, over: 300 ms}, {at: 2 s, valve: valve, to: 0, over: 2 ms}")
	if len(s) != 1 {
		t.Fatalf("surges: %+v", s)
	}
	closeTo(t, "surge", s[0].Rise, hammerDensity*hammerWave()*v[1999], 0.1)
	if s[0].Time < 2 || s[0].Time > 2.01 {
		t.Errorf("surge at %g s", s[0].Time)
	}
}

// A closure slower than 2L/a is Michaud's 2 ρ L Δv/t, t from 90 to 10 % of the
// opening; one slower than 10 L/a is none, nor is its end.
func TestSurgeOfSlowClosure(t *testing.T) {
	s, v := surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 1 s, valve: valve, to: 0, over: 100 ms}")
	if len(s) != 1 {
		t.Fatalf("surges: %+v", s)
	}
	closeTo(t, "surge", s[0].Rise, 2*hammerDensity*20*v[1010]/0.080, 0.1) // the last nine tenths of the opening count as well
	for _, over := range []string{"250 ms", "1.5 s"} {
		if s, _ := surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 1 s, valve: valve, to: 0, over: "+over+"}"); len(s) != 0 {
			t.Errorf("over %s: %+v", over, s)
		}
	}
	// Slow first, then at once: what flows at the turn is stopped.
	s, v = surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 1 s, valve: valve, to: 0.05, over: 900 ms}, {at: 1.9 s, valve: valve, to: 0, over: 2 ms}")
	if len(s) != 1 {
		t.Fatalf("slow, then at once: %+v", s)
	}
	closeTo(t, "surge at the turn", s[0].Rise, hammerDensity*hammerWave()*v[1899], 0.15)
}

// A consumer whose demand ends at once stops its flow as a valve does.
func TestSurgeOfConsumer(t *testing.T) {
	s, v := surgesOf(t, "0", "[[0 s, 10 L/min], [2 s, 10 L/min], [2.002 s, 0 L/min]]", "")
	if len(s) != 1 || s[0].By != "user" {
		t.Fatalf("surges: %+v", s)
	}
	closeTo(t, "surge", s[0].Rise, hammerDensity*hammerWave()*v[1999], 0.1)
	closeTo(t, "velocity", v[1999], 10e-3/60/resistance.CircleArea(10e-3), 0.02)
}

// A surge squeezes the free air it runs through: from 4 bar with 0.5 % of air it comes
// to dp = ρ a dv, of which ρ a Δv with the wave speed before it is two thirds.
func TestSurgeSqueezesFreeAir(t *testing.T) {
	aired := strings.NewReplacer("free_air: 0 %", "free_air: 0.5 %", "60 bar", "4 bar", "100 bar", "8 bar", "length: 20 m", "length: 8 m", "min_pressure: 5 bar", "min_pressure: 0.5 bar",
		"OPENING", "0", "DEMAND", "[[0 s, 10 L/min], [2 s, 10 L/min], [2.002 s, 0 L/min]]", "COMMANDS", "").Replace(hammer)
	c := read(t, "hammer.yaml", aired)
	h := &history{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: h.recorder(1e-3)})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	s := out.Parts[2].Surges
	if len(s) != 1 {
		t.Fatalf("surges: %+v", s)
	}
	const K, air, p0, n = 1.6e9, 0.005, 101325, 1.4
	wall := 10 / (206e9 * 2) * resistance.ThickWall(10e-3, 2e-3, 0.3, resistance.AnchoredUpstream)
	slope := func(p float64) float64 { // ρ a
		g := air * math.Pow(p0/p, 1/n)
		k := (1 - air + g) / ((1-air)/K + g/(n*p))
		return math.Sqrt(hammerDensity * k / (1 + k*wall))
	}
	p, v := s[0].Pressure, h.of(t, "run", "velocity")[1999]
	const steps = 10000
	for range steps {
		p += v / steps * slope(p+v/steps/2*slope(p))
	}
	closeTo(t, "surge", s[0].Rise, p-s[0].Pressure, 0.12) // counted from 90 % of the demand on
	if first := v * slope(s[0].Pressure); s[0].Rise < 1.2*first {
		t.Errorf("surge %.2f bar, by the wave speed before it %.2f bar", s[0].Rise/1e5, first/1e5)
	}
}

// A piston that meets its stop stops the oil behind it, however fast it was before: the
// speed at the stop times both areas' ratio, by ρ a Δv. A spring slows it on its way.
func TestSurgeOfPiston(t *testing.T) {
	c := read(t, "stop.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 10 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 10 s, inlet: 30 mm}
  valve: {kind: directional-valve, p: rail, t: sump, a: port, flow: 30 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  feed: {kind: tube, from: port, to: head, bore: 8 mm, length: 3 m, wall: 2 mm}
  ram: {kind: cylinder, head: head, bore: 40 mm, stroke: 200 mm, moving_mass: 10 kg, spring: {preload: 500 N, rate: 30 N/mm}}
nodes: {rail: {role: pressure}}
cases:
  out: {lasts: 2 s, begins: {fluid: 20 degC, charge: 100 bar}, commands: [{at: 0.2 s, valve: valve, to: 1}]}
`)
	h := &history{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: h.recorder(1e-3)})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	position, speed := h.of(t, "ram", "position"), h.of(t, "ram", "speed")
	fastest, met := 0.0, 0
	for i, x := range position {
		if x >= 200e-3 {
			met = i
			break
		}
		fastest = max(fastest, speed[i])
	}
	if met == 0 || speed[met-1] > 0.9*fastest {
		t.Fatalf("the piston meets its stop at %g m/s, fastest %g", speed[met-1], fastest)
	}
	most := Surge{}
	for _, s := range out.Parts[3].Surges {
		if s.Rise > most.Rise {
			most = s
		}
	}
	wall := 1.6e9 * 8 / (206e9 * 2) * resistance.ThickWall(8e-3, 2e-3, 0.3, resistance.AnchoredUpstream)
	a := math.Sqrt(1.6e9 / hammerDensity / (1 + wall))
	line := speed[met-1] * (40 * 40) / (8 * 8)
	closeTo(t, "surge", most.Rise, hammerDensity*a*line, 0.15)
	if most.By != "ram" || math.Abs(most.Time-float64(met)*1e-3) > 3e-3 {
		t.Errorf("%s at %g s; it meets the stop at %g s", most.By, most.Time, float64(met)*1e-3)
	}
}

// A valve or a consumer that comes to rest part open stops a part of the flow: ρ a Δv of
// what it takes off, and Michaud's where that is slower than 2L/a.
func TestSurgeOfThrottling(t *testing.T) {
	s, v := surgesOf(t, "0", "[[0 s, 10 L/min], [2 s, 10 L/min], [2.002 s, 2 L/min]]", "")
	if len(s) != 1 || s[0].By != "user" {
		t.Fatalf("surges: %+v", s)
	}
	closeTo(t, "demand", s[0].Rise, hammerDensity*hammerWave()*(v[1990]-v[2100]), 0.1)
	if s[0].Time < 2 || s[0].Time > 2.01 {
		t.Errorf("surge at %g s", s[0].Time)
	}
	for over, closure := range map[string]float64{"2 ms": 0, "80 ms": 0.064} {
		s, v = surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 2 s, valve: valve, to: 0.12, over: "+over+"}")
		if len(s) != 1 || s[0].By != "valve" {
			t.Fatalf("over %s: %+v", over, s)
		}
		want := hammerDensity * hammerWave() * (v[1990] - v[2200])
		if closure > 0 {
			want = 2 * hammerDensity * 20 * (v[1990] - v[2200]) / closure
		}
		closeTo(t, "over "+over, s[0].Rise, want, 0.1)
	}
	// One that has opened again since makes one of its own, where it comes to the same.
	s, v = surgesOf(t, "0", "[[0 s, 3 L/min], [1.5 s, 3 L/min], [1.502 s, 2 L/min], [1.7 s, 2 L/min], [2 s, 10 L/min], [2.4 s, 10 L/min], [2.402 s, 2 L/min]]", "")
	if len(s) != 1 || s[0].Time < 2.4 {
		t.Fatalf("opened again: %+v", s)
	}
	closeTo(t, "opened again", s[0].Rise, hammerDensity*hammerWave()*(v[2390]-v[2500]), 0.1)
	// One that goes on, or opens, or takes its time makes none.
	for _, commands := range []string{
		"{at: 2 s, valve: valve, to: 0.12, over: 400 ms}",
		"{at: 1 s, valve: valve, to: 0.12, over: 900 ms}, {at: 1.9 s, valve: valve, to: 1, over: 2 ms}",
	} {
		if s, _ := surgesOf(t, "1", "[[0 s, 0 L/min]]", commands); len(s) != 0 {
			t.Errorf("%s: %+v", commands, s)
		}
	}
}
