package network

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// The steady loop of testdata for ten seconds at a time, as often as asked.
func loopRepeating(t *testing.T, how string) *Outcome {
	t.Helper()
	c := load(t, "testdata/millrace-loop.yaml")
	text := string(c.Source)
	text = strings.Replace(text, "lasts: 4 h", "lasts: 120 s", 1)
	text = strings.Replace(text, "drives: {pump: [[0 s, 0 rpm], [1 s, 1500 rpm]]}", "drives: {pump: 1500 rpm}\n    repeats: "+how, 1)
	c = read(t, "loop.yaml", text)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	return out
}

// Settling in a few passes must come to what brute repetition comes to.
func TestSettleAgainstRepetition(t *testing.T) {
	settled, brute := loopRepeating(t, "settle"), loopRepeating(t, "100")
	if !settled.Repeats.Settled || settled.Repeats.Done > mostPasses {
		t.Fatalf("not settled: %+v", settled.Repeats)
	}
	t.Logf("%d passes instead of %d", settled.Repeats.Done, brute.Repeats.Done)
	for i, n := range settled.Nodes {
		ours, theirs := n.Temperature.End, brute.Nodes[i].Temperature.End
		if math.Abs(ours-theirs) > settledWithin {
			t.Errorf("%s settles at %.3f K, after a hundred repeats it is at %.3f K", n.Node, ours, theirs)
		}
	}
}

// A case far shorter than the time that its reservoir takes to warm must still
// settle where the pump's power leaves through the walls: by hand, by one long run,
// and by plain repetition where that gets there.
func TestSettleOfShortCases(t *testing.T) {
	const cooling = 120.0
	long := reliefLoop(t, 200, "400 h", "1", "14 L/min", cooling)
	rests, shaft := long.node("sump"), 0.0
	for _, n := range long.Nodes {
		if n.Node == "press" { // Δp D n/η
			shaft = (n.Pressure.End - 1.013e5) * 10e-6 * 25 / 0.9
		}
	}
	near := func(what string, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 0.5) {
			t.Errorf("%s: %.2f K, want %.2f K", what, got, want)
		}
	}
	near("the long run, by hand", rests, 313.15+shaft/cooling)
	near("200 repeats", reliefLoop(t, 15, "10 s", "200", "14 L/min", cooling).node("sump"), rests)
	for _, litres := range []int{15, 50, 200, 1000} {
		for _, lasts := range []string{"0.2 s", "1 s", "2 s", "5 s", "20 s"} {
			out := reliefLoop(t, litres, lasts, "settle", "14 L/min", cooling)
			what := fmt.Sprintf("%d L, %s, %d passes", litres, lasts, out.Repeats.Done)
			near(what, out.node("sump"), rests)
			if !out.Repeats.Settled || out.Repeats.Done > mostPasses {
				t.Errorf("%s: told settled %v", what, out.Repeats.Settled)
			}
		}
	}
}

// A pump that slips so much when hot that its pressure falls comes to rest far
// below where its first passes point to, which is past all limits: that it was
// sought there must not be told as running away.
func TestSettleOfBentTrends(t *testing.T) {
	for _, cooling := range []float64{40, 30, 25, 15} {
		rests := reliefLoop(t, 200, "4000 h", "1", "11 L/min", cooling).node("sump")
		for _, litres := range []int{15, 200} {
			for _, lasts := range []string{"1 s", "20 s", "300 s"} {
				out := reliefLoop(t, litres, lasts, "settle", "11 L/min", cooling)
				if ends := out.node("sump"); !out.Repeats.Settled || !(math.Abs(ends-rests) <= 0.5) {
					t.Errorf("%g W/K, %d L, %s: told settled %v at %.2f K after %d passes; it comes to rest at %.2f K",
						cooling, litres, lasts, out.Repeats.Settled, ends, out.Repeats.Done, rests)
				}
			}
		}
	}
}

// A large reservoir and a chamber that hardly changes its oil both need many repeats,
// each in its own time: that neither shows in the differences of a few passes must not
// be told as settled, near to where the case began, and rest is found all the same. By
// hand: the shaft's mean power on the reservoir's walls.
func TestTwoSlowPartsSettle(t *testing.T) {
	c := read(t, "press.yaml", `headroom: 1
circuit: press
title: A press whose rod side stands still
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 32 L, to_ambient: 60 W/K}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev, delivers: {flow: 14 L/min, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 46 mm2/s}}, mechanical_efficiency: 90 %, compensator: {set: 150 bar, band: 10 bar, lag: 20 ms}}
  valve: {kind: directional-valve, p: rail, t: back, a: out, b: rod-side, flow: 40 L/min, drop: 4 bar, lag: 10 ms, rest: -1, leak: {flow: 0.05 L/min, pressure: 150 bar}}
  ram: {kind: cylinder, head: out, rod: rod-side, bore: 50 mm, rod_diameter: 36 mm, stroke: 30 mm, moving_mass: 15 kg, friction: {coulomb: 200 N, viscous: 500 N·s/m}, load: 5 kN}
  comb: {kind: consumer, from: rail, to: back, min_pressure: 60 bar}
  return: {kind: hose, from: back, to: sump, bore: 19 mm, length: 600 mm}
cases:
  work:
    lasts: 1 s
    begins: {fluid: 45 degC}
    drives: {pump: 1500 rpm}
    commands: [{at: 0.1 s, valve: valve, to: 1}]
    demands: {comb: [[0 s, 0 L/min], [0.6 s, 0 L/min], [0.7 s, 4 L/min]]}
    repeats: settle
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	power := 0.0
	for _, p := range out.Parts {
		if r := p.Reading("power"); p.Part == "pump" && r != nil {
			power = r.Mean
		}
	}
	rests := 313.15 + power/60
	if power < 400 {
		t.Fatalf("the shaft takes %.0f W on the average", power)
	}
	ends := out.node("sump")
	t.Logf("settled %v at %.2f K after %d passes; %.0f W come to rest at %.2f K", out.Repeats.Settled, ends, out.Repeats.Done, power, rests)
	if !out.Repeats.Settled || !(math.Abs(ends-rests) <= 2) {
		t.Errorf("told settled %v at %.1f K after %d passes; %.0f W come to rest at %.1f K", out.Repeats.Settled, ends, out.Repeats.Done, power, rests)
	}
}

// The gas of an accumulator changes far more in a repeat, and comes to rest far sooner,
// than a large reservoir that warms by thousandths of a kelvin: that the gas is at rest
// must not be told as the circuit at rest. A reservoir of 10 L comes to the same end, and
// gets there by plain repetition.
func TestSlowBesideQuickSettles(t *testing.T) {
	breathing := func(litres int, constant string, displacement float64, repeats string) *Outcome {
		t.Helper()
		c := read(t, "breathing.yaml", fmt.Sprintf(`headroom: 1
circuit: breathing
title: An accumulator that breathes over a large reservoir
fluid: {like: hm-46}
environment: {ambient: 30 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: %d L, fill: %d L, to_ambient: 5 W/K}
  pump: {kind: pump, from: sump, to: rail, displacement: %g cm3/rev, delivers: {flow: %g L/min, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 46 mm2/s}}, mechanical_efficiency: 90 %%}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 120 bar, flow: 20 L/min, override: 10 bar}
  store: {kind: accumulator, at: rail, gas: nitrogen, size: 1 L, precharge: {pressure: 60 bar, temperature: 20 degC}, time_constant: %s, inlet: 15 mm}
  draw: {kind: consumer, from: rail, to: sump, min_pressure: 60 bar}
cases:
  work:
    lasts: 20 s
    begins: {fluid: 40 degC, charge: 122 bar}
    drives: {pump: 1500 rpm}
    demands: {draw: [[1 s, 0 L/min], [1.1 s, 3 L/min], [3 s, 3 L/min], [3.1 s, 0 L/min]]}
    repeats: %s
`, 2*litres, litres, displacement, 1.4*displacement, constant, repeats))
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(err, out.Failure)
		}
		return out
	}
	for _, k := range []struct {
		constant     string
		displacement float64 // cm³/rev
	}{{"2 s", 0.3}, {"20 s", 1}} {
		rests := breathing(10, k.constant, k.displacement, "1000").node("sump")
		for _, litres := range []int{100, 400} {
			out := breathing(litres, k.constant, k.displacement, "settle")
			if ends := out.node("sump"); !out.Repeats.Settled || !(math.Abs(ends-rests) <= 0.5) {
				t.Errorf("gas of %s, %g cm³/rev, %d L: told settled %v at %.2f K after %d passes; by repetition %.2f K",
					k.constant, k.displacement, litres, out.Repeats.Settled, ends, out.Repeats.Done, rests)
			}
		}
	}
}

// A cold shift of many chambers that hardly change their oil, each next to others like
// it, settles, and further repeats show nothing still to come.
func TestManySlowPartsSettle(t *testing.T) {
	c := load(t, "independent/circuits/hazel-shift.yaml")
	k := *c.Case("shifts-cold")
	k.Repeats.Settle = true
	m, _ := startOf(t, c, &k)
	r, err := newRunner(m, 1, DefaultSteps)
	if err != nil {
		t.Fatal(err)
	}
	out := &Outcome{}
	r.settle(out)
	if out.Failure != nil || !out.Repeats.Settled || out.Repeats.Done <= refineTo {
		t.Fatal(out.Failure, out.Repeats)
	}
	rests, keep := out.node("sump"), append([]float64(nil), r.end...)
	const repeats, constant = 40, 400.0 // passes; the latter that of the reservoir, by a thousand
	for range repeats {
		r.pass(1, keep, out)
		keep = append(keep[:0], r.end...)
	}
	if left := (out.node("sump") - rests) * constant / repeats; math.Abs(left) > 1 {
		t.Errorf("told settled at %.2f K after %d passes, with %.2f K still to come", rests, out.Repeats.Done, left)
	}
}

// A pump that holds its pressure on a long line drives more oil through it the warmer
// that is. Where that nearly outweighs the cooling on the way, what is still to come by
// the last slope is not; and what is sought far below where any pass led, where the cold
// oil blocks the line, must not end the case. A rest that it leaves, begun half a kelvin
// to either side, is none: from about 9.11 °C it goes to 7 or 10 °C within 150 repeats,
// from about 44.1 °C to 41 or 50 °C.
func TestSettleOfThinningOil(t *testing.T) {
	for _, k := range []struct {
		length, cooling, ambient, begins float64
		settled                          bool
		rests                            float64 // °C, by a thousand repeats
	}{{2, 40, 10, -15, true, -3.58}, {1, 40, 10, -15, false, 5.82}, {2, 20, 10, -15, false, 77.91}, {1, 38, -15, -3, false, 9.11}, {1.5, 52, 0, 12, false, 44.1}} {
		c := read(t, "thinning.yaml", fmt.Sprintf(`headroom: 1
circuit: thinning
title: A pump that holds its pressure on a long line
fluid: {like: hm-46}
environment: {ambient: %g degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 80 L, fill: 40 L, to_ambient: %g W/K}
  pump: {kind: pump, from: sump, to: rail, drain: sump, displacement: 10 cm3/rev, delivers: {flow: 14 L/min, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 46 mm2/s}}, mechanical_efficiency: 90 %%, compensator: {set: 100 bar, band: 5 bar, lag: 20 ms}}
  line: {kind: tube, from: rail, to: sump, bore: 3 mm, wall: 1 mm, length: %g m}
cases:
  work: {lasts: 20 s, begins: {fluid: %g degC}, drives: {pump: 1500 rpm}, repeats: settle}
`, k.ambient, k.cooling, k.length, k.begins))
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Error(err, out.Failure)
			continue
		}
		ends := out.node("sump") - 273.15
		if out.Repeats.Settled != k.settled || k.settled && !(math.Abs(ends-k.rests) <= 2*settledWithin) {
			t.Errorf("%g m, %g W/K: told settled %v at %.2f °C after %d passes; a thousand repeats come to %.2f °C",
				k.length, k.cooling, out.Repeats.Settled, ends, out.Repeats.Done, k.rests)
		}
	}
}

// A chamber that a case only draws from, and fills again as it begins, stays as warm as
// it began, as by plain repetition: the search for rest elsewhere must not drag it along,
// for what is drawn from it cools all the rest.
func TestSettleLeavesStillPartsAlone(t *testing.T) {
	c := load(t, "../../specs/demo/dipper.yaml")
	ends := map[string]float64{}
	for _, settle := range []bool{false, true} {
		k := *c.Case("open-gate")
		k.Repeats.Settle, k.Repeats.Count = settle, 100
		out, err := Simulate(c, &k, Options{})
		if err != nil || out.Failure != nil || out.Repeats.Settled != settle {
			t.Fatal(err, out.Failure, out.Repeats)
		}
		for _, n := range []string{"sump", "gate-rod"} {
			if settle && !(math.Abs(out.node(n)-ends[n]) <= settledWithin) {
				t.Errorf("%s settles at %.2f K, after a hundred repeats it is at %.2f K", n, out.node(n), ends[n])
			}
			ends[n] = out.node(n)
		}
	}
}

// Too little cooling never settles, however short the case; the change per repeat
// that is told is that of the circuit, not of the search.
func TestRunawayOfShortCases(t *testing.T) {
	for _, cooling := range []float64{5, 20} {
		for _, c := range []struct {
			lasts   string
			seconds float64
		}{{"0.2 s", 0.2}, {"1 s", 1}, {"10 s", 10}} {
			out := reliefLoop(t, 15, c.lasts, "settle", "14 L/min", cooling)
			u := out.Repeats.Unsettled
			if out.Repeats.Settled || u == nil {
				t.Fatalf("%g W/K, %s: told settled at %.2f K", cooling, c.lasts, out.node("sump"))
			}
			// What the pump puts in is less than 4.5 kW and what leaves is cooling·110 K,
			// on 15 L of oil of some 800 kg/m³ and 2 kJ/kg/K.
			most, least := 4500*c.seconds/24e3, (3500-cooling*115)*c.seconds/30e3
			if u.PerRepeat > most || u.PerRepeat < least {
				t.Errorf("%g W/K, %s: %s is told to change by %.3g K a repeat, reckoned %.3g to %.3g", cooling, c.lasts, u.Where, u.PerRepeat, least, most)
			}
		}
	}
}

// reliefLoop is a pump that turns all of its power into heat over a relief valve.
func reliefLoop(t *testing.T, litres int, lasts, repeats, flow string, cooling float64) *Outcome {
	t.Helper()
	c := read(t, "relief.yaml", fmt.Sprintf(`headroom: 1
circuit: relief-loop
title: A pump over a relief valve
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: %d L, fill: %d L, to_ambient: %g W/K}
  pump: {kind: pump, from: sump, to: press, displacement: 10 cm3/rev, delivers: {flow: %s, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %%}
  relief: {kind: relief-valve, from: press, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}
cases:
  warm: {lasts: %s, begins: {fluid: 40 degC}, drives: {pump: 1500 rpm}, repeats: %s}
`, 2*litres, litres, cooling, flow, lasts, repeats))
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	return out
}

// node is the temperature at which a node ends.
func (o *Outcome) node(name string) float64 {
	for i := range o.Nodes {
		if o.Nodes[i].Node == name {
			return o.Nodes[i].Temperature.End
		}
	}
	return math.NaN()
}

// Of chambers that follow (I − M)(F − θ) = Mθ all of θ is still to come, wherever a pass
// begins; by hand for two of them.
func TestExchangeToCome(t *testing.T) {
	x := exchange{matrix: [][]float64{{-0.1, 0.1}, {0.5, -2}}}
	for _, theta := range [][]float64{{1, 0}, {0, 1}, {3, -5}} {
		h := [...]float64{-0.1*theta[0] + 0.1*theta[1], 0.5*theta[0] - 2*theta[1]}
		const det = 1.1*3 - 0.1*0.5
		g := []float64{(3*h[0] + 0.1*h[1]) / det, (0.5*h[0] + 1.1*h[1]) / det}
		for i, r := range x.toCome(g) {
			if math.Abs(r+theta[i]) > 1e-12 {
				t.Errorf("from %v: %g of %d is still to come, not %g", theta, r, i, -theta[i])
			}
		}
	}
}

// A brake that stops a drum every half a minute warms its plates, the cylinder beside
// them and the oil in it, each in its own time: in one pass that shows little.
func TestSettleOfPlatesAndCylinder(t *testing.T) {
	c := read(t, "brake.yaml", `headroom: 1
circuit: brake-duty
title: A brake that stops a drum again and again
fluid: {like: hm-32}
environment: {ambient: 20 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 30 L, fill: 20 L, to_ambient: 25 W/K, heat_capacity: 4 kJ/K}
  pump: {kind: pump, from: sump, to: rail, displacement: 6 cm3/rev, delivers: {flow: 8.4 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %, compensator: {set: 60 bar, band: 6 bar, lag: 40 ms}}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 80 bar, flow: 20 L/min, override: 8 bar}
  brake-valve: {kind: directional-valve, p: rail, t: sump, a: port, flow: 10 L/min, drop: 5 bar, lag: 20 ms, rest: -1}
  piston: {kind: cylinder, head: port, bore: 60 mm, stroke: 3 mm, moving_mass: 1.5 kg, spring: {preload: 8 kN, rate: 600 N/mm}, dead_volume: {head: 4 cm3}, heat_capacity: 2 kJ/K}
  brake: {kind: friction-pack, released_by: piston, faces: 6, inner_radius: 60 mm, outer_radius: 85 mm, friction: 0.12, plates: {mass: 3 kg, specific_heat: 0.48 kJ/kg/K, max_temperature: 250 degC}, driven: {inertia: 2 kg·m2, load: 0 N·m}, to_cylinder: 5 W/K, to_air: 6 W/K}
cases:
  stops:
    lasts: 30 s
    begins: {fluid: 20 degC, output: 600 rpm, spools: {brake-valve: 1}, charge: 60 bar}
    drives: {pump: 1500 rpm, brake: 0 rpm}
    commands: [{at: 5 s, valve: brake-valve, to: -1}]
`)
	plates := func(repeats int) float64 {
		k := c.Cases[0]
		k.Repeats.Settle, k.Repeats.Count = repeats == 0, repeats
		out, err := Simulate(c, &k, Options{})
		if err != nil || out.Failure != nil || out.Repeats.Settled != (repeats == 0) {
			t.Fatal(err, out.Failure, out.Repeats)
		}
		return out.part("brake").Reading("plate_temperature").End
	}
	if told, rests := plates(0), plates(200); math.Abs(told-rests) > carriedWithin {
		t.Errorf("settled plates end at %.2f K, after 200 repeats at %.2f K", told, rests)
	}
}

// A latch that is stuck keeps a shift rod's oil where it is: it warms by a fiftieth of a
// kelvin a pass, for hundreds of passes, and is not told as settled; what is told is
// where the passes led, not where the search ended.
func TestSettleOfWhatHardlyWarms(t *testing.T) {
	c := load(t, "independent/circuits/hazel-shift.yaml")
	k := *c.Case("latch-stuck")
	k.Repeats.Settle = true
	out, err := Simulate(c, &k, Options{})
	if err != nil || out.Failure != nil || out.Repeats.Settled {
		t.Fatal(err, out.Failure, out.Repeats)
	}
	if u := out.Repeats.Unsettled; math.Abs(out.node(u.Where)-u.Temperature) > 1 {
		t.Errorf("%s is told at %.1f K, and in the words of what did not settle at %.1f K", u.Where, out.node(u.Where), u.Temperature)
	}
}
