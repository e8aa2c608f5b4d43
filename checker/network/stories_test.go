package network

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"headroom/checker/resistance"
	"headroom/specs"
)

// A clutch on a store: how often it can be released once the pump has failed
// follows from the oil above the release pressure, a stroke at a time.
func TestStrokesAfterLoss(t *testing.T) {
	c := read(t, "store.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  pump: {kind: pump, from: sump, to: press, displacement: 4 cm3/rev, delivers: {flow: 5.8 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  check: {kind: check-valve, from: press, to: rail, cracking: 0.5 bar, flow: 20 L/min, drop: 1 bar}
  store: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 0.2 s, inlet: 12 mm}
  valve: {kind: directional-valve, p: rail, t: sump, a: port, flow: 20 L/min, drop: 5 bar, lag: 10 ms, rest: -1}
  ram: {kind: cylinder, head: port, bore: 40 mm, stroke: 40 mm, moving_mass: 2 kg, spring: {preload: 10 kN, rate: 10 N/mm}, friction: {viscous: 1 kN·s/m}, dead_volume: {head: 2 cm3}}
nodes: {rail: {role: pressure, volume: 10 cm3}, press: {role: control}}
cases:
  drive:
    lasts: 2 s
    begins: {fluid: 20 degC, charge: 140 bar}
    commands: [{at: 0.1 s, valve: valve, to: 1}, {at: 1 s, valve: valve, to: -1}]
    expects: [{part: ram, reaches: 39 mm, from: 0.1 s, within: 500 ms}]
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	got, err := StrokesAfterLoss(c, &c.Cases[0], out, "ram", 20, Options{})
	if err != nil {
		t.Fatal(err)
	}
	// Held out, the ram needs (10 kN + 10 N/mm · 39 mm)/A = 82.7 bar; at ambient
	// temperature a stroke takes 50.3 cm³ and what its oil is squeezed by.
	area := resistance.CircleArea(40e-3)
	needed := (10e3+10e3*0.039)/area + 101325
	a := storeOf(t, c, "store")
	volume, err := a.charge.Volume(140e5+101325, 293.15)
	if err != nil {
		t.Fatal(err)
	}
	want := 0
	for {
		volume += area * 0.04
		if a.charge.At(volume, 293.15).Pressure < needed {
			break
		}
		want++
	}
	if got.FromFullest != want || got.FromEmptiest != want-1 {
		t.Errorf("%d strokes from the fullest instant and %d from the emptiest, reckoned %d and %d", got.FromFullest, got.FromEmptiest, want, want-1)
	}
	if fewer, _ := StrokesAfterLoss(c, &c.Cases[0], out, "ram", 2, Options{}); fewer.FromFullest != 2 {
		t.Errorf("asked for 2 strokes at most, %d counted", fewer.FromFullest)
	}
	// A load that stands on it when the pump fails stays: 8 kN more take the pressure
	// needed above all that is stored.
	c.Cases[0].Loads = []specs.Named[specs.Profile]{{Name: "ram", Value: specs.Profile{Points: []specs.Point{{X: 0, Y: 0}, {X: 0.05, Y: 8e3}}, Source: specs.FromSpec}}}
	out, err = Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	if got, err = StrokesAfterLoss(c, &c.Cases[0], out, "ram", 20, Options{}); err != nil || got.FromEmptiest != 0 {
		t.Errorf("under a load that nothing stored can lift: %+v (%v)", got, err)
	}
}

// A case that begins with its store empty fills it first: the pump is lost with it
// full at the earliest.
func TestStrokesOfFirstCharge(t *testing.T) {
	c := read(t, "first.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  pump: {kind: pump, from: sump, to: press, displacement: 4 cm3/rev, delivers: {flow: 5.8 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  check: {kind: check-valve, from: press, to: rail, cracking: 0.5 bar, flow: 20 L/min, drop: 1 bar}
  relief: {kind: relief-valve, from: press, to: sump, cracking: 140 bar, flow: 20 L/min, override: 10 bar}
  store: {kind: accumulator, at: rail, size: 1 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 0.2 s, inlet: 12 mm}
  valve: {kind: directional-valve, p: rail, t: sump, a: port, flow: 20 L/min, drop: 5 bar, lag: 10 ms, rest: -1}
  ram: {kind: cylinder, head: port, bore: 40 mm, stroke: 40 mm, moving_mass: 2 kg, spring: {preload: 5 kN, rate: 10 N/mm}, friction: {viscous: 1 kN·s/m}, dead_volume: {head: 2 cm3}}
cases:
  first: {lasts: 20 s, begins: {fluid: 20 degC}, drives: {pump: 1500 rpm}, commands: [{at: 15 s, valve: valve, to: 1}, {at: 16 s, valve: valve, to: -1}], expects: [{part: ram, reaches: 39 mm, from: 15 s, within: 500 ms}]}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	got, err := StrokesAfterLoss(c, &c.Cases[0], out, "ram", 5, Options{})
	if err != nil || got.FromEmptiest < 2 || got.Emptiest < got.Fullest && got.Emptiest < 10 {
		t.Errorf("%+v (%v)", got, err)
	}
}

// Plates that lose no heat warm by the same step each launch: the count follows.
func TestInARow(t *testing.T) {
	c := read(t, "launches.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 4 L, fill: 2 L}
  valve: {kind: directional-valve, p: sump, t: sump, a: port, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  release: {kind: cylinder, head: port, bore: 40 mm, stroke: 3 mm, moving_mass: 0.5 kg, spring: {preload: 4 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
  clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 40 mm, outer_radius: 60 mm, friction: 0.1, plates: {mass: 1 kg, specific_heat: 500 J/kg/K, max_temperature: 150 degC}, driven: {inertia: 0.5 kg·m2, load: 0 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
cases:
  launch: {lasts: 1 s, begins: {fluid: 20 degC}, drives: {clutch: 2000 rpm}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil {
		t.Fatal(err)
	}
	got, open, err := InARow(c, &c.Cases[0], out, "clutch", 20, Options{})
	speed := 2000 * math.Pi / 30
	want := int(130 / (0.5 * 0.5 * speed * speed / 500))
	if err != nil || open || got != want {
		t.Errorf("%d engagements in a row (%v, %v), reckoned %d", got, open, err, want)
	}
	// The same case repeated: what is told is its last pass, what is counted begins with
	// its first.
	c.Cases[0].Repeats = specs.Repeats{Count: 2}
	if out, err = Simulate(c, &c.Cases[0], Options{}); err != nil {
		t.Fatal(err)
	}
	if got, _, err = InARow(c, &c.Cases[0], out, "clutch", 20, Options{}); err != nil || got != want {
		t.Errorf("%d engagements in a row of a repeated case (%v), reckoned %d", got, err, want)
	}
}

// A pack of which both sides stand has not locked: it does once the input has turned
// and the slip has ended. One that never slips is locked from the first.
func TestLockAfterStanding(t *testing.T) {
	spec := plainOil + `
parts:
  tank: {kind: reservoir, at: sump, volume: 4 L, fill: 2 L}
  valve: {kind: directional-valve, p: sump, t: sump, a: port, flow: 10 L/min, drop: 5 bar, lag: 5 ms, rest: -1}
  release: {kind: cylinder, head: port, bore: 40 mm, stroke: 3 mm, moving_mass: 0.5 kg, spring: {preload: 4 kN, rate: 100 N/mm}, dead_volume: {head: 5 cm3}}
  clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 40 mm, outer_radius: 60 mm, friction: 0.1, plates: {mass: 1 kg, specific_heat: 500 J/kg/K, max_temperature: 350 degC}, driven: {inertia: INERTIA, load: 0 N·m}, to_cylinder: 0 W/K, to_air: 0 W/K}
cases:
  launch: {lasts: 3 s, begins: {fluid: 20 degC}, drives: {clutch: [[1 s, 0 rpm], [1.001 s, 2000 rpm]]}, expects: [{pack: clutch, locks_within: 2 s, from: 0.5 s}]}
`
	locks := func(inertia string) ExpectationOutcome {
		c := read(t, "standing.yaml", strings.Replace(spec, "INERTIA", inertia, 1))
		out, err := Simulate(c, &c.Cases[0], Options{})
		if err != nil || out.Failure != nil {
			t.Fatal(err, out.Failure)
		}
		return out.Expectations[0]
	}
	// 6 · 4 kN · 0.1 · 50 mm = 120 N·m on 0.5 kg·m² for 99 % of 2000 rpm.
	want := 0.5 + 0.99*2000*math.Pi/30*0.5/120
	if got := locks("0.5 kg·m2"); !got.Came || math.Abs(got.Measure-want) > 0.02 {
		t.Errorf("locks after %g s (%v), reckoned %g", got.Measure, got.Came, want)
	}
	if got := locks("1e-6 kg·m2"); !got.Came || got.Measure > 0.51 {
		t.Errorf("without inertia it locks after %g s (%v)", got.Measure, got.Came)
	}
}

// A pump whose slip heats the oil that then slips more, on a reservoir that
// loses next to nothing, runs away: it is found out, and the node named.
func TestRunsAway(t *testing.T) {
	c := load(t, "testdata/millrace-loop.yaml")
	text := strings.NewReplacer("lasts: 4 h", "lasts: 600 s", "conductance: 90 W/K", "conductance: 0.1 W/K", "to_ambient: 12 W/K", "to_ambient: 0.5 W/K",
		"begins: {fluid: 55 degC}", "begins: {fluid: 55 degC}\n    repeats: settle").Replace(string(c.Source))
	c = read(t, "away.yaml", text)
	out, err := Simulate(c, &c.Cases[0], Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	u := out.Repeats.Unsettled
	if out.Repeats.Settled || u == nil || u.Where == "" || u.Temperature < 80+273.15+50 || out.Repeats.Done > mostPasses {
		t.Errorf("repeats: %+v, unsettled: %+v", out.Repeats, u)
	}
}

// A directional valve that shuts within 2L/a stops the oil in the line before
// it: Joukowsky's ρ a Δv, on the pressure of that instant.
func TestSurge(t *testing.T) {
	c := read(t, "hammer.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  store: {kind: accumulator, at: rail, size: 10 L, precharge: {pressure: 60 bar}, gas: nitrogen, time_constant: 10 s, inlet: 30 mm}
  run: {kind: tube, from: rail, to: port, bore: 10 mm, length: 20 m, wall: 2 mm}
  valve: {kind: directional-valve, p: port, t: sump, a: out, flow: 30 L/min, drop: 5 bar, lag: 1 ms, rest: 0}
  load: {kind: orifice, from: out, to: sump, diameter: 2 mm}
nodes: {rail: {role: pressure, volume: 10 cm3}, port: {role: pressure}}
cases:
  shut: {lasts: 2 s, begins: {fluid: 20 degC, charge: 100 bar, spools: {valve: 1}}, commands: [{at: 1 s, valve: valve, to: 0, over: 2 ms}]}
`)
	h := &history{}
	out, err := Simulate(c, &c.Cases[0], Options{Record: h.recorder(1e-3)})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	s := out.Parts[2].Surges
	if len(s) != 1 || s[0].By != "valve" {
		t.Fatalf("surges: %+v", s)
	}
	v := h.of(t, "run", "velocity")[1000]
	rho := 867.0
	a := math.Sqrt(1.6e9 / rho / (1 + 1.6e9*10/(206e9*2)*resistance.ThickWall(10e-3, 2e-3, 0.3, resistance.AnchoredUpstream)))
	closeTo(t, "surge", s[0].Rise, rho*a*v, 0.1) // the velocity at 90 % of the opening is a little less
	closeTo(t, "closed", s[0].Time, 1+2e-3+1e-3*math.Log((1-math.Exp(-2))/2/0.1), 1e-5)
	if s[0].Pressure < 75e5 || s[0].Pressure > 100e5 {
		t.Errorf("surge at %g s on %g Pa", s[0].Time, s[0].Pressure)
	}
}

// storeOf is an accumulator as the equations have it.
func storeOf(t *testing.T, c *specs.Circuit, name string) *accumulator {
	t.Helper()
	m, _ := startOf(t, c, &c.Cases[0])
	return m.byPart[name].(*accumulator)
}

// A recorder gets every pass of a repeated case from its start to its end, at
// even times or at the integrator's own, and changes nothing by listening.
func TestRecorder(t *testing.T) {
	c := independentCircuits(t)[0] // three launches
	k := &c.Cases[0]
	quiet, err := Simulate(c, k, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, every := range []float64{0, 0.01} {
		passes, samples, last := 0, 0, 0.0
		out, err := Simulate(c, k, Options{Record: &Recorder{
			Every: every,
			Begin: func(name string, repeat int, channels []Channel) {
				if passes++; name != k.Name || repeat != passes || len(channels) == 0 || channels[0].Of == "" || channels[0].Dimension == "" {
					t.Errorf("begins %s, repeat %d, %+v", name, repeat, channels[0])
				}
				samples, last = 0, -1
			},
			Sample: func(at float64, _ []float64) {
				if at <= last {
					t.Fatalf("a sample at %g s after one at %g s", at, last)
				}
				samples, last = samples+1, at
			},
		}})
		if err != nil || passes != 3 || math.Abs(last-k.Lasts.SI) > 1e-9 {
			t.Fatalf("%v, %d passes, the last sample at %g s", err, passes, last)
		}
		if every > 0 && samples != 501 {
			t.Errorf("%d samples every %g s", samples, every)
		}
		if !reflect.DeepEqual(out, quiet) {
			t.Error("recording changes the outcome")
		}
	}
}
