package network

import (
	"fmt"
	"math"
	"testing"

	"headroom/checker/fluid"
	"headroom/checker/gas"
	"headroom/checker/resistance"
)

// plainOil is a fluid of simple numbers for circuits with a closed answer.
const plainOil = `headroom: 1
circuit: closed-form
title: A circuit whose answer is known
fluid:
  family: HM
  density: 870 kg/m3
  expansion: 0.0007 1/K
  viscosity: [[40 degC, 32 mm2/s], [100 degC, 5.4 mm2/s]]
  bulk_modulus: {value: 1.6 GPa, at: {temperature: 40 degC, pressure: 0 bar}}
  specific_heat: 2 kJ/kg/K
  free_air: 0 %
  max_temperature: 90 degC
environment: {ambient: 20 degC, air_pressure: 1.01325 bar abs}
`

// simulateText simulates the only case of a spec, recording at even times.
func simulateText(t *testing.T, text string, every float64) (*Outcome, *history) {
	t.Helper()
	c := read(t, "closed-form.yaml", plainOil+text)
	h := &history{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: h.recorder(every)})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	return out, h
}

// history keeps what a recorder is given.
type history struct {
	channels []Channel
	times    []float64
	values   [][]float64
}

func (h *history) recorder(every float64) *Recorder {
	return &Recorder{
		Every: every,
		Begin: func(_ string, _ int, channels []Channel) { *h = history{channels: channels} },
		Sample: func(t float64, values []float64) {
			h.times = append(h.times, t)
			h.values = append(h.values, append([]float64(nil), values...))
		},
	}
}

// of is the history of one quantity.
func (h *history) of(t *testing.T, of, name string) []float64 {
	t.Helper()
	for i, c := range h.channels {
		if c.Of == of && c.Name == name {
			all := make([]float64, len(h.values))
			for k := range all {
				all[k] = h.values[k][i]
			}
			return all
		}
	}
	t.Fatalf("no %s of %s", name, of)
	return nil
}

func closeTo(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)) {
		t.Errorf("%s is %.8g, in closed form %.8g", what, got, want)
	}
}

// A pump without slip against an orifice: Q = C_d A √(2 Δp/ρ).
func TestPumpAgainstOrifice(t *testing.T) {
	out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 400 L, fill: 300 L}
  pump: {kind: pump, from: sump, to: press, displacement: 10 cm3/rev, delivers: {flow: 15 L/min, at: {pressure: 200 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  hole: {kind: orifice, from: press, to: sump, diameter: 1.6 mm, discharge: 0.7}
cases:
  steady: {lasts: 5 s, begins: {fluid: 15 degC}, drives: {pump: 1500 rpm}}
`, 1)
	press := out.Nodes[1]
	p := press.Pressure.End - 101325
	rho := 870 * (1 + p/1.6e9) // the oil at 40 °C's modulus, at 15 °C
	mean := (870 + rho) / 2
	q := 15.0 / 60e3 * 870 / rho // what the pump takes in is thinner
	area := resistance.CircleArea(1.6e-3)
	closeTo(t, "pressure", p, mean/2*math.Pow(q/(0.7*area), 2), 1e-3)
}

// A loop that loses heat from its reservoir alone: T − T_amb = P/G.
func TestLoopHeating(t *testing.T) {
	out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L, to_ambient: 25 W/K}
  pump: {kind: pump, from: sump, to: press, displacement: 4 cm3/rev, delivers: {flow: 5.8 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 85 %}
  hole: {kind: orifice, from: press, to: sump, diameter: 1 mm}
cases:
  steady: {lasts: 20 h, begins: {fluid: 20 degC}, drives: {pump: 1500 rpm}}
`, 3600)
	power := out.Parts[1].Reading("power").End
	rise := out.Nodes[0].Temperature.End - (20 + fluid.Celsius)
	// The orifice passes less volume than the pump takes in, by Δp/K; that share of
	// the power is the work of compression, whose heat is left out.
	squeezed := (out.Nodes[1].Pressure.End - 101325) / 1.6e9
	closeTo(t, "rise of temperature", rise, power/25*(1-squeezed), 3e-3)
	if math.Abs(out.Balance.Energy) > 1e-4 {
		t.Errorf("energy is out of balance by %.2g", out.Balance.Energy)
	}
}

// blowDown empties an accumulator through an orifice, its gas in heat exchange
// with the surroundings by a time constant.
func blowDown(t *testing.T, constant string) *history {
	_, h := simulateText(t, fmt.Sprintf(`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 4 L, precharge: {pressure: 50 bar, temperature: 20 degC}, gas: nitrogen, time_constant: %s, inlet: 40 mm}
  hole: {kind: orifice, from: rail, to: sump, diameter: 3 mm}
nodes: {rail: {role: pressure, volume: 10 cm3}}
cases:
  empty: {lasts: 1.5 s, begins: {fluid: 20 degC, charge: 200 bar}}
`, constant), 0.05)
	return h
}

// dischargeTime is ∫ dV/Q between two gas volumes along a path of states:
// C_d A √(2 Δp/ρ), by the midpoint rule.
func dischargeTime(from, to float64, pressure func(v float64) float64) float64 {
	const n = 2000
	k := 0.61 * resistance.CircleArea(3e-3)
	rho := 870 * math.Exp(-0.0007*5*(1+0.8*0.0007*5))
	sum := 0.0
	for i := range n {
		v := from + (to-from)*(float64(i)+0.5)/n
		over := pressure(v) - 101325
		mean := rho * (1 + over/1.6e9/2) // of rail and sump
		sum += (to - from) / n / (k * math.Sqrt(2*over/mean))
	}
	return sum
}

// Blow-down at the isothermal limit: the gas stays at ambient temperature.
func TestBlowDownIsothermal(t *testing.T) {
	h := blowDown(t, "1 ms")
	volume, pressure := h.of(t, "store", "gas_volume"), h.of(t, "store", "gas_pressure")
	charge, err := gas.NewCharge(50e5+101325, 293.15, 4e-3)
	if err != nil {
		t.Fatal(err)
	}
	along := func(v float64) float64 { return charge.At(v, 293.15).Pressure }
	last := len(volume) - 1
	closeTo(t, "pressure", pressure[last], along(volume[last]), 2e-3)
	closeTo(t, "time", h.times[last]-h.times[1], dischargeTime(volume[1], volume[last], along), 5e-3)
}

// Blow-down at the adiabatic limit: the gas keeps its entropy.
func TestBlowDownAdiabatic(t *testing.T) {
	h := blowDown(t, "1000 h")
	volume, warmth := h.of(t, "store", "gas_volume"), h.of(t, "store", "gas_temperature")
	charge, _ := gas.NewCharge(50e5+101325, 293.15, 4e-3)
	last := len(volume) - 1
	rho := func(v float64) float64 { return charge.Mass / v }
	first := gas.Entropy(rho(volume[0]), warmth[0])
	end := gas.Entropy(rho(volume[last]), warmth[last])
	if cv := gas.At(rho(volume[0]), warmth[0]).Cv; math.Abs(end-first) > 1e-4*cv {
		t.Errorf("entropy changes by %g J/kg/K", end-first)
	}
	if warmth[last] > warmth[0]-40 {
		t.Errorf("the gas cools from %.1f to %.1f K alone", warmth[0], warmth[last])
	}
	along := func(v float64) float64 { // solved for the temperature of the same entropy
		T := warmth[0]
		for range 50 {
			T -= (gas.Entropy(rho(v), T) - first) * T / gas.At(rho(v), T).Cv
		}
		return charge.At(v, T).Pressure
	}
	closeTo(t, "time", h.times[last]-h.times[1], dischargeTime(volume[1], volume[last], along), 5e-3)
}

// The gas of an accumulator that holds its volume: T − T_amb falls as exp(−t/τ).
func TestGasTimeConstant(t *testing.T) {
	_, h := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  pump: {kind: pump, from: sump, to: press, displacement: 20 cm3/rev, delivers: {flow: 30 L/min, at: {pressure: 200 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  check: {kind: check-valve, from: press, to: rail, cracking: 0.5 bar, flow: 60 L/min, drop: 1 bar}
  store: {kind: accumulator, at: rail, size: 2 L, precharge: {pressure: 50 bar, temperature: 20 degC}, gas: nitrogen, time_constant: 8 s, inlet: 30 mm}
nodes: {rail: {role: pressure, volume: 10 cm3}, press: {role: control, volume: 50 cm3}}
cases:
  charge: {lasts: 20 s, begins: {fluid: 20 degC, charge: 60 bar}, drives: {pump: [[0 s, 1500 rpm], [1 s, 1500 rpm], [1.01 s, 0 rpm]]}}
`, 0.5)
	warmth := h.of(t, "store", "gas_temperature")
	over := func(at float64) float64 { return warmth[int(math.Round(at/0.5))] - 293.15 }
	if over(4) < 10 {
		t.Fatalf("the gas is warmed by %.1f K alone", over(4))
	}
	closeTo(t, "share of the warmth left after 12 s", over(16)/over(4), math.Exp(-12./8), 2e-2)
}

// A mass on a column of oil: f = √(A² K/(V m))/2π.
func TestOilColumn(t *testing.T) {
	_, h := simulateText(t, `
parts:
  ram: {kind: cylinder, head: below, bore: 50 mm, stroke: 400 mm, moving_mass: 900 kg, load: 19634.954 N, dead_volume: {head: 10 cm3}}
  tank: {kind: reservoir, at: sump, volume: 4 L, fill: 2 L}
nodes: {below: {role: pressure}}
cases:
  knock: {lasts: 0.5 s, begins: {fluid: 15 degC, charge: 100 bar, positions: {ram: 200 mm}}, loads: {ram: [[0 s, 19634.954 N], [0.01 s, 19634.954 N], [0.0101 s, 20000 N]]}}
`, 1e-4)
	x := h.of(t, "ram", "position")
	mean := 0.0
	for _, v := range x[1000:] {
		mean += v / float64(len(x)-1000)
	}
	var crossings []float64
	for i := 1001; i < len(x); i++ {
		if x[i-1] < mean && x[i] >= mean {
			crossings = append(crossings, h.times[i-1]+1e-4*(mean-x[i-1])/(x[i]-x[i-1]))
		}
	}
	if len(crossings) < 5 {
		t.Fatalf("the mass swings %d times alone", len(crossings))
	}
	period := (crossings[len(crossings)-1] - crossings[0]) / float64(len(crossings)-1)
	area := resistance.CircleArea(50e-3)
	volume := area*0.2 + 10e-6
	closeTo(t, "period", period, 2*math.Pi*math.Sqrt(900*volume/(area*area*1.6e9)), 5e-3)
}

// A pack with a constant torque brings an inertia up to speed: t = J Δω/T, and
// half of the energy, ½ J ω², becomes heat.
func TestEngagement(t *testing.T) {
	out, _ := simulateText(t, `
parts:
  tank: {kind: reservoir, at: sump, volume: 4 L, fill: 2 L}
  valve: {kind: directional-valve, p: sump, t: sump, a: port, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  release: {kind: cylinder, head: port, bore: 40 mm, stroke: 3 mm, moving_mass: 0.5 kg, spring: {preload: 4 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
  clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 40 mm, outer_radius: 60 mm, friction: 0.1, plates: {mass: 1 kg, specific_heat: 500 J/kg/K, max_temperature: 300 degC}, driven: {inertia: 0.5 kg·m2, load: 0 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
cases:
  launch: {lasts: 2 s, begins: {fluid: 20 degC}, drives: {clutch: 2000 rpm}}
`, 1)
	e := out.Parts[3].Engagements
	if len(e) != 1 || !e[0].Locked {
		t.Fatalf("engagements: %+v", e)
	}
	torque := 0.1 * 6 * 0.05 * 4000
	speed := 2000 * math.Pi / 30
	closeTo(t, "time to lock", e[0].Locks-e[0].Starts, 0.5*0.99*speed/torque, 2e-3)
	closeTo(t, "energy", e[0].Energy, 0.5*0.5*speed*speed*(1-1e-4), 2e-3)
	closeTo(t, "highest power", e[0].Power.Value, torque*(speed-torque/0.5*startTransient), 1e-3)
	plates := out.Parts[3].Reading("plate_temperature")
	closeTo(t, "rise of the plates", plates.End-plates.Begin, 0.5*0.5*speed*speed/500, 2e-3)
}
