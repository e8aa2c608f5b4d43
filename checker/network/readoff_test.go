package network

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"headroom/checker/resistance"
)

// A closure in 100 ms takes 80 ms from 90 to 10 % of the opening, the lag shifting
// both alike; as its first tenth stops next to nothing, it counts from 1/1.1 of the
// opening on: Michaud's 2 ρ L Δv/t with the velocity at 0.9/1.1 and t of 80/1.1 ms.
func TestClosureCountsFromNineTenths(t *testing.T) {
	s, v := surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 1 s, valve: valve, to: 0, over: 100 ms}")
	if len(s) != 1 {
		t.Fatalf("surges: %+v", s)
	}
	closeTo(t, "surge", s[0].Rise, 2*hammerDensity*20*v[1019]/(0.080/1.1), 0.04)
}

// Closures of up to 10 L/a make a surge, slower ones none: 20 m at 1330 m/s are
// 15.0 ms, and a ramp takes 0.8 of its time from 90 to 10 %; as above, a tenth more is
// let pass.
func TestClosuresOfTenTimes(t *testing.T) {
	tenTimes := 10 * 20 / hammerWave()
	for _, share := range []float64{0.97, 1.15} {
		s, _ := surgesOf(t, "1", "[[0 s, 0 L/min]]", "{at: 1 s, valve: valve, to: 0, over: "+inSeconds(share*tenTimes/0.8)+"}")
		if (len(s) == 1) != (share < 1) {
			t.Errorf("closed in %g times 10 L/a: %d surges", share, len(s))
		}
	}
}

// A valve stops what goes through it, not what a consumer beside it draws on: ρ a Δv
// with the valve's share of the line's velocity.
func TestSurgeStopsTheValvesShare(t *testing.T) {
	both, v := surgesOf(t, "1", "[[0 s, 10 L/min]]", "{at: 1 s, valve: valve, to: 0, over: 2 ms}")
	if len(both) != 1 {
		t.Fatalf("surges: %+v", both)
	}
	drawn := 10e-3 / 60 / resistance.CircleArea(10e-3)
	closeTo(t, "surge", both[0].Rise, hammerDensity*hammerWave()*(v[1000]-drawn), 0.1)
}

// Of two lines alike that feed a valve, each is stopped of what flows in it, half of
// what goes through the valve.
func TestSurgeStopsWhatEachLineCarries(t *testing.T) {
	const run = "  run: {kind: tube, from: rail, to: port, bore: 10 mm, length: 20 m, wall: 2 mm, material: E355}\n"
	c := read(t, "twin.yaml", strings.NewReplacer("OPENING", "1", "DEMAND", "[[0 s, 0 L/min]]", "COMMANDS", "{at: 1 s, valve: valve, to: 0, over: 2 ms}",
		"  valve:", strings.Replace(run, "run:", "twin:", 1)+"  valve:").Replace(hammer))
	h := &history{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: h.recorder(1e-3)})
	if err != nil || out.Failure != nil || len(out.Parts[2].Surges) != 1 {
		t.Fatal(err, out.Failure, out.Parts[2].Surges)
	}
	closeTo(t, "surge", out.Parts[2].Surges[0].Rise, hammerDensity*hammerWave()*h.of(t, "run", "velocity")[1000], 0.1)
}

// A piston stops on its rod side what its ring displaces, on its head side what all of
// it does.
func TestPistonStopsBySide(t *testing.T) {
	c := pistonCloser(0, &cylinder{head: 3, rod: 5, headArea: 2e-3, rodArea: 1.5e-3, velocity: 0})
	for node, want := range map[int]float64{3: 2e-3 * 0.4, 5: 1.5e-3 * 0.4} {
		closeTo(t, "flow stopped", c.flow(node, []float64{-0.4}), want, 1e-12)
	}
}

// A closed valve with 100 bar at p and nothing at a, b and t leaks to all three: three
// times its conductance.
func TestLeakageOfAClosedValve(t *testing.T) {
	out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 10 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 10 s, inlet: 30 mm}
  valve: {kind: directional-valve, p: rail, t: sump, a: left, b: right, flow: 30 L/min, drop: 5 bar, lag: 1 ms, rest: 0, leak: {flow: 0.1 L/min, pressure: 100 bar}}
  one: {kind: orifice, from: left, to: sump, diameter: 3 mm}
  other: {kind: orifice, from: right, to: sump, diameter: 3 mm}
nodes: {rail: {role: pressure, volume: 10 cm3}}
cases: {rests: {lasts: 0.5 s, begins: {fluid: 20 degC, charge: 100 bar}}}
`, 0.1)
	closeTo(t, "leakage", out.Parts[2].Reading("leakage").Highest.Value, 3*0.1e-3/60, 0.005)
}

// Above a lowest working pressure at which it would be empty twice over, useful is all
// the oil there is: the size less the gas at 140 bar.
func TestUsefulIsNoMoreThanThereIs(t *testing.T) {
	const text = `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 80 bar}, gas: nitrogen, time_constant: 10 s, inlet: 12 mm, lowest_working: 40 bar}
  stop: {kind: check-valve, from: sump, to: rail, cracking: 1 bar, flow: 10 L/min, drop: 1 bar}
nodes: {rail: {role: pressure, volume: 10 cm3}}
cases: {holds: {lasts: 0.2 s, begins: {fluid: 20 degC, charge: 140 bar}}}
`
	out, _ := simulateText(t, text, 0.1)
	c := read(t, "useful.yaml", plainOil+text)
	gas, err := storeOf(t, c, "store").charge.Volume(140e5+101325, 293.15)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "useful", out.Parts[1].Reading("useful").Begin, 1e-3-gas, 1e-4)
	if a := storeOf(t, c, "store"); a.last != 1e-3*a.size {
		t.Errorf("the outflow fades over %g of its size, want 0.1 %%", a.last/a.size)
	}
}

// pulse is a consumer that draws for so long behind an orifice and a line: the node
// before it falls meanwhile, the line flows.
func pulse(t *testing.T, from, lasts float64) *Outcome {
	t.Helper()
	at := func(s float64) string { return "[" + inSeconds(s) + ", " }
	out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 10 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 10 s, inlet: 30 mm}
  jet: {kind: orifice, from: rail, to: port, diameter: 2 mm}
  line: {kind: tube, from: port, to: end, bore: 8 mm, length: 0.05 m, wall: 1 mm, material: E355}
  user: {kind: consumer, from: end, to: sump, min_pressure: 5 bar}
nodes: {rail: {role: pressure, volume: 10 cm3}, port: {role: pressure}, end: {role: pressure}}
cases:
  draws: {lasts: 3 s, begins: {fluid: 40 degC, charge: 100 bar}, demands: {user: [`+at(0)+`0 L/min], `+at(from)+`0 L/min], `+at(from+1e-4)+`10 L/min], `+at(from+lasts)+`10 L/min], `+at(from+lasts+1e-4)+`0 L/min]]}}
`, 0.1)
	return out
}

// inSeconds is a time as a spec has it.
func inSeconds(s float64) string { return fmt.Sprintf("%.6f s", s) }

// A dip counts as lasting from 10 ms on.
func TestDipsThatLast(t *testing.T) {
	for _, k := range []struct{ lasts, want float64 }{{9e-3, 100e5}, {11e-3, 70e5}} {
		lasting := pulse(t, 0.5, k.lasts).Nodes[2].Lasting.Value - 101325
		if math.Abs(lasting-k.want) > 10e5 {
			t.Errorf("a dip of %g s leaves %g Pa lasting, want about %g", k.lasts, lasting, k.want)
		}
	}
}

// A flow counts as lasting from 1 s on: 10 L/min in a bore of 8 mm are 3.3 m/s.
func TestFlowsThatLast(t *testing.T) {
	full := 10e-3 / 60 / resistance.CircleArea(8e-3)
	for _, k := range []struct{ lasts, want float64 }{{0.9, 0}, {1.05, full}} {
		lasting := pulse(t, 0.5, k.lasts).Parts[3].Lasting
		if lasting == nil || math.Abs(lasting.Value-k.want) > 0.02*full {
			t.Errorf("a flow of %g s leaves %+v lasting, want %g m/s", k.lasts, lasting, k.want)
		}
	}
}

// Pressures count as settled from 20 ms on.
func TestSettledPressures(t *testing.T) {
	early, late := pulse(t, 0.012, 0.006).Nodes[2].Settled.Lowest, pulse(t, 0.021, 0.006).Nodes[2].Settled.Lowest
	if early.Value < 95e5 || late.Value > 75e5 {
		t.Errorf("a dip from 12 to 18 ms leaves %g Pa, from 21 to 27 ms %g Pa; want about 100 and 70 bar", early.Value, late.Value)
	}
}

// An engagement counts from 100 J on. Bringing 0.5 kg·m² to ω against nothing heats by
// J ω²/2, but for the last hundredth of the speed: 0.9999 of it.
func TestEngagementsFrom100J(t *testing.T) {
	for _, k := range []struct {
		heat  float64
		count int
	}{{92, 0}, {112, 1}} {
		speed := math.Sqrt(2 * k.heat / 0.5)
		out, _ := simulateText(t, fmt.Sprintf(`
parts:
  tank: {kind: reservoir, at: sump, volume: 4 L, fill: 2 L}
  valve: {kind: directional-valve, p: sump, t: sump, a: port, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  release: {kind: cylinder, head: port, bore: 40 mm, stroke: 3 mm, moving_mass: 0.5 kg, spring: {preload: 4 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
  clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 40 mm, outer_radius: 60 mm, friction: 0.1, plates: {mass: 1 kg, specific_heat: 500 J/kg/K, max_temperature: 150 degC}, driven: {inertia: 0.5 kg·m2, load: 0 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
cases:
  launch: {lasts: 1 s, begins: {fluid: 20 degC}, drives: {clutch: %.6f rpm}}
`, speed*30/math.Pi), 0.1)
		all := out.Parts[3].Engagements
		if len(all) != k.count {
			t.Errorf("%g J: %d engagements, want %d", k.heat, len(all), k.count)
		} else if k.count > 0 {
			closeTo(t, "heat", all[0].Energy, k.heat, 0.01)
		}
	}
}

// Rising from 0 to 6 in one interval of 3 s, the level of the last second is 4.
func TestLastingWithinOneInterval(t *testing.T) {
	l := lasting{window: 1}
	l.start(0, 0)
	l.add(3, 6)
	if !l.known || math.Abs(l.best.Value-4) > 1e-12 {
		t.Errorf("the level is %+v, want 4", l.best)
	}
}

// Against all windows of a fine comb, on samples at any times: the window may begin and
// end between samples, and what it cuts off of an interval counts.
func TestLastingBetweenSamples(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for trial := range 300 {
		times, values := []float64{0}, []float64{r.Float64()}
		for times[len(times)-1] < 4 {
			times, values = append(times, times[len(times)-1]+math.Pow(10, -2*r.Float64())), append(values, 5*r.Float64())
		}
		l := lasting{window: 1}
		l.start(times[0], values[0])
		for i := 1; i < len(times); i++ {
			l.add(times[i], values[i])
		}
		at := func(x float64) float64 {
			i, _ := slices.BinarySearch(times, x)
			i = max(1, min(i, len(times)-1))
			return values[i-1] + (x-times[i-1])/(times[i]-times[i-1])*(values[i]-values[i-1])
		}
		best := math.Inf(-1)
		for from := 0.0; from+1 <= times[len(times)-1]; from += 1e-3 {
			low := min(at(from), at(from+1))
			for i, x := range times {
				if x > from && x < from+1 {
					low = min(low, values[i])
				}
			}
			best = max(best, low)
		}
		if !l.known || l.best.Value < best-1e-9 || l.best.Value > best+0.5 {
			t.Errorf("trial %d: the level is %.4f, by a comb %.4f", trial, l.best.Value, best)
		}
	}
	// A rise of 0.9 s, a moment's rest, and a fall: no second at 2.5.
	l := lasting{window: 1}
	l.start(0, 0)
	for _, s := range [][2]float64{{0.45, 2.5}, {0.9, 5}, {1.01, 5}, {1.05, 0}} {
		l.add(s[0], s[1])
	}
	if want := 5.0 / 0.9 * (1.05 - 1) / (1 + 0.04/0.9); math.Abs(l.best.Value-want) > 1e-9 {
		t.Errorf("the level is %g, want %g", l.best.Value, want)
	}
}

// A swing of 0.15 bar counts, one of 0.05 bar does not; where there are too many points
// the dead band doubles, once: then those of 0.3 bar are left.
func TestSwingsThatCount(t *testing.T) {
	var s turns
	s.start(0)
	for _, v := range []float64{1.5e4, 0, 0.5e4, 0, 1.5e4} {
		s.add(v)
	}
	if got := s.all(); len(got) != 4 {
		t.Errorf("turns at %v, want 4 of them", got)
	}
	s.start(0)
	for range mostTurns/4 - 1 {
		for _, v := range []float64{3e4, 0, 1.5e4, 0} {
			s.add(v)
		}
	}
	for _, v := range []float64{3e4, 0, 3e4, 0, 3e4, 0} {
		s.add(v)
	}
	if s.band != 2*leastSwing {
		t.Fatalf("the dead band is %g Pa, want it doubled once", s.band)
	}
	if got, want := len(s.all()), mostTurns/2; got < want || got > want+10 {
		t.Errorf("%d turns are left, want the %d of 0.3 bar and the last", got, want)
	}
}

// stroking is a ram that two commands of a reducing valve stroke, without saying how
// far.
const stroking = plainOil + `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 0.2 s, inlet: 12 mm}
  valve: {kind: reducing-valve, p: rail, a: port, t: sump, flow: 20 L/min, drop: 5 bar, band: 2 bar, lag: 10 ms, rest: 0 bar}
  other: {kind: reducing-valve, p: rail, a: side, t: sump, flow: 20 L/min, drop: 5 bar, band: 2 bar, lag: 10 ms, rest: 10 bar}
  ram: {kind: cylinder, head: port, bore: 40 mm, stroke: 40 mm, moving_mass: 2 kg, spring: {preload: 1 kN, rate: 10 N/mm}, dead_volume: {head: 2 cm3}}
  plug: {kind: cylinder, head: side, bore: 10 mm, stroke: 10 mm, moving_mass: 1 kg, spring: {preload: 1 kN, rate: 10 N/mm}, dead_volume: {head: 2 cm3}}
nodes: {rail: {role: pressure, volume: 10 cm3}}
cases:
  run: {lasts: 2 s, begins: {fluid: 20 degC, charge: 140 bar}, commands: [COMMANDS]}
`

// Strokes follow each other at the least gap of the case's own commands, else at one a
// second; a full one is 99 % of the stroke where nothing else says; other valves stay
// where they stand.
func TestStrokePlan(t *testing.T) {
	plan := func(commands string) (*strokePlan, *model, []float64) {
		c := read(t, "stroking.yaml", strings.Replace(stroking, "COMMANDS", commands, 1))
		m, y := startOf(t, c, &c.Cases[0])
		p, err := m.strokePlan("ram")
		if err != nil {
			t.Fatal(err)
		}
		return p, m, y
	}
	p, m, y := plan("{at: 0.1 s, valve: valve, to: 60 bar}")
	if p.pace != 1 || math.Abs(p.full-0.99*40e-3) > 1e-12 {
		t.Errorf("a pace of %g s and a full stroke of %g m, want 1 s and 39.6 mm", p.pace, p.full)
	}
	other := m.byPart["other"].(*reducingValve)
	y[other.row] = 47e5
	m.holdOthers("valve", y)
	if other.want.rest != 47e5 || m.byPart["valve"].(*reducingValve).want.rest == y[other.row] {
		t.Errorf("the other valve stays at %g Pa, want 47 bar", other.want.rest)
	}
	p, _, _ = plan("{at: 0.1 s, valve: valve, to: 60 bar}, {at: 0.9 s, valve: valve, to: 0 bar}, {at: 1.2 s, valve: valve, to: 60 bar}, {at: 1.9 s, valve: valve, to: 0 bar}")
	closeTo(t, "pace", p.pace, 0.3, 1e-12)
}

// Where less moves than warms the charge by 0.1 K, the energy balance is told as a
// share of that.
func TestEnergyWorthJudging(t *testing.T) {
	out := pulse(t, 0.5, 0.1)
	b := &out.Balance
	least := 0.1 * 2000 * b.Charge
	moved := math.Abs(b.Terms.gap(1e-300))
	if b.Energy == 0 || moved <= math.Abs(b.Energy) {
		t.Fatalf("a gap of %g, of what moved %g", b.Energy, moved)
	}
	closeTo(t, "gap", b.Energy, b.Terms.gap(least), 1e-9)
}
