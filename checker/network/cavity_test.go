package network

import (
	"math"
	"strings"
	"testing"
)

// The state of a pressure is the pressure down to 1 kPa, and goes on smoothly below.
func TestPressureOfState(t *testing.T) {
	for _, k := range []struct{ state, pressure, slope float64 }{
		{2e5, 2e5, 1}, {1e3, 1e3, 1}, {0, 1e3 * math.Exp(-1), math.Exp(-1)}, {-4e3, 1e3 * math.Exp(-5), math.Exp(-5)}, {-1e9, 0, 0},
	} {
		if p, slope := pressureOf(k.state); math.Abs(p-k.pressure) > 1e-9*math.Abs(k.state) || math.Abs(slope-k.slope) > 1e-12 {
			t.Errorf("state %g: %g Pa, slope %g; want %g and %g", k.state, p, slope, k.pressure, k.slope)
		}
	}
}

// What a node holds changes by its state as the stiffness of its balance says, from
// 10 kPa down through the cavity: by integrating 1/K_eff numerically.
func TestCavityIsConsistent(t *testing.T) {
	c := load(t, "../../specs/demo/stonechat.yaml")
	m, y := startOf(t, c, &c.Cases[0])
	n := &m.nodes[1]
	if n.reservoir {
		t.Fatal("a reservoir")
	}
	held := func(s float64) float64 {
		y[n.row] = s
		n.load(m, y)
		return math.Log(n.dense)
	}
	if wet := math.Exp(held(tornBelow)) / n.oil.rho; math.Abs(wet-1) > 1e-12 {
		t.Errorf("at 10 kPa %g of the volume is oil", wet)
	}
	for _, span := range [][2]float64{{tornBelow, 5e3}, {5e3, 1e3}, {1e3, -3e4}, {tornBelow, -3e4}} {
		const steps = 20000
		want := 0.0
		for i := range steps {
			y[n.row] = span[0] + (span[1]-span[0])*(float64(i)+0.5)/steps
			n.load(m, y)
			want += n.oil.soft * (span[1] - span[0]) / steps
		}
		if got := held(span[1]) - held(span[0]); math.Abs(got/want-1) > 1e-5 {
			t.Errorf("from %g to %g Pa: ln of what it holds changes by %.8g, by its stiffness %.8g", span[0], span[1], got, want)
		}
	}
}

// A load draws a cylinder in faster than the pump can follow: the rod side tears.
// Filling it again takes the volume of the chamber, no more and no less, and the
// reservoir ends where geometry says.
func TestTornChamberFillsAgain(t *testing.T) {
	const bore, rod, stroke = 0.050, 0.028, 0.300
	area := func(d float64) float64 { return math.Pi / 4 * d * d }
	ring := area(bore) - area(rod)
	c := read(t, "lowering.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 6 cm3/rev, delivers: {flow: 8.1 L/min, at: {pressure: 160 bar, speed: 1450 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 140 bar, flow: 10 L/min, override: 10 bar}
  valve: {kind: directional-valve, p: rail, t: sump, a: head, b: rod, flow: 20 L/min, drop: 5 bar, lag: 15 ms, rest: 0}
  lift: {kind: cylinder, head: head, rod: rod, bore: 50 mm, rod_diameter: 28 mm, stroke: 300 mm, moving_mass: 100 kg, load: 9 kN}
cases:
  lower:
    lasts: 8 s
    begins: {fluid: 45 degC, positions: {lift: 300 mm}}
    drives: {pump: 1450 rpm}
    commands: [{at: 1 s, valve: valve, to: -1}]
`)
	var times, rodSide, flow, level []float64
	at := map[string]int{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: &Recorder{
		Every: 2e-3,
		Begin: func(_ string, _ int, channels []Channel) {
			for i, ch := range channels {
				at[ch.Of+" "+ch.Name] = i
			}
		},
		Sample: func(t float64, v []float64) {
			times, rodSide = append(times, t), append(rodSide, v[at["rod pressure"]])
			flow, level = append(flow, v[at["pump flow"]]), append(level, v[at["tank level"]])
		},
	}})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	for i := range out.Nodes {
		if low := out.Nodes[i].Pressure.Lowest; low.Value < 0 {
			t.Errorf("%s falls to %.3g bar absolute", out.Nodes[i].Node, low.Value/1e5)
		}
	}
	pumped, filled := 0.0, 0.0
	for i := 1; i < len(times); i++ {
		if times[i] > 1 {
			pumped += (flow[i] + flow[i-1]) / 2 * (times[i] - times[i-1])
		}
		if filled == 0 && times[i] > 2 && rodSide[i] > 1e5 {
			filled = pumped
		}
	}
	// What free air takes up above 10 kPa is taken for oil: 4 φ of the chamber.
	if want := ring * stroke; math.Abs(filled/want-1) > 0.04 {
		t.Errorf("filling the chamber of %.4g cm³ took %.4g cm³", want*1e6, filled*1e6)
	}
	if moved, want := level[len(level)-1]-level[0], area(rod)*stroke; math.Abs(moved-want) > 0.04*ring*stroke {
		t.Errorf("the reservoir gained %.4g cm³; by geometry %.4g", moved*1e6, want*1e6)
	}
	if b := out.Balance; math.Abs(b.Mass) > 2e-3 || math.Abs(b.Energy) > 1e-2 || b.Node > booksClose {
		t.Errorf("balances: mass %.2g, energy %.2g, books %.2g", b.Mass, b.Energy, b.Node)
	}
}

// A case repeated is the case written out as often: the gas of an accumulator gets no
// heat by being put back. Cycles of 6 s with the gas at its pressure at both ends.
func TestRepeatsAddNoHeatToGas(t *testing.T) {
	text := plainOil + `
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 15 L}
  pump: {kind: pump, from: sump, to: out, displacement: 6 cm3/rev, delivers: {flow: 8.1 L/min, at: {pressure: 160 bar, speed: 1450 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  relief: {kind: relief-valve, from: out, to: sump, cracking: 150 bar, flow: 10 L/min, override: 10 bar}
  back: {kind: check-valve, from: out, to: rail, cracking: 0.5 bar, flow: 10 L/min, drop: 1 bar}
  store: {kind: accumulator, at: rail, size: 0.3 L, precharge: {pressure: 40 bar}, gas: nitrogen, time_constant: 10 s, inlet: 10 mm}
  valve: {kind: directional-valve, p: rail, t: sump, a: A, flow: 6 L/min, drop: 7 bar, lag: 15 ms, rest: -1}
  ram: {kind: cylinder, head: A, bore: 40 mm, stroke: 50 mm, moving_mass: 5 kg, friction: {coulomb: 100 N}, spring: {preload: 2 kN, rate: 60 N/mm}}
cases:
  work:
    lasts: LASTS
    begins: {fluid: 40 degC, charge: 90 bar}
    drives: {pump: 300 rpm}
    commands: [COMMANDS]
    REPEATS
`
	gas := func(text string) Range {
		c := read(t, "cycles.yaml", text)
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(err, out.Failure)
		}
		return out.part("store").Reading("gas_temperature").Range
	}
	once := "{at: 1 s, valve: valve, to: 1}, {at: 3 s, valve: valve, to: -1}"
	repeated := gas(strings.NewReplacer("LASTS", "6 s", "COMMANDS", once, "REPEATS", "repeats: 20").Replace(text))
	var all []string
	for i := range 20 {
		all = append(all, strings.NewReplacer("1 s", seconds(6*i+1), "3 s", seconds(6*i+3)).Replace(once))
	}
	written := gas(strings.NewReplacer("LASTS", "120 s", "COMMANDS", strings.Join(all, ", "), "REPEATS", "").Replace(text))
	t.Logf("the gas ends at %.1f K repeated, %.1f K written out", repeated.End, written.End)
	if off := math.Abs(repeated.End - written.End); off > 15 {
		t.Errorf("after 20 repeats the gas ends at %.1f K; in 20 cycles written out at %.1f K", repeated.End, written.End)
	}
	if repeated.Highest.Value > 273.15+120 {
		t.Errorf("the gas gets as hot as %.1f K", repeated.Highest.Value)
	}
}
