package checker

import (
	"fmt"
	"math"
	"os"
	"runtime"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// simulateText reads a small circuit of plain oil and simulates its cases.
func simulateText(t testing.TB, text string, asked Asked) *facts.Circuit {
	t.Helper()
	c := specs.Read("small.yaml", []byte(plain+text))
	for _, p := range c.Problems {
		if p.Rule != "spec.missing" {
			t.Fatalf("%v", p)
		}
	}
	return SimulatedFacts(c, asked)
}

func caseNamed(t testing.TB, f *facts.Circuit, name string) *facts.Case {
	t.Helper()
	for _, k := range f.Cases {
		if k.Name.Value == name {
			return k
		}
	}
	t.Fatalf("no case %s", name)
	return nil
}

func hereOf(t testing.TB, f *facts.Circuit, part, in string) *facts.Here {
	t.Helper()
	for _, p := range f.PartsInCase {
		if p.Part.Name.Value == part && p.Case.Name.Value == in {
			return &p.Here
		}
	}
	t.Fatalf("no part %s in %s", part, in)
	return nil
}

// near checks a fact against a number reckoned by hand, in SI.
func near(t testing.TB, what string, f facts.Fact, want, tolerance float64) {
	t.Helper()
	switch {
	case !f.Known:
		t.Errorf("%s is missing (%s), reckoned %g", what, f.Missing, want)
	case math.Abs(f.Value-want) > tolerance:
		t.Errorf("%s is %g, reckoned %g", what, f.Value, want)
	case f.From == nil:
		t.Errorf("%s does not say where it comes from", what)
	}
}

// press is a pump without slip that presses 10 L/min through an orifice, twice
// as much in its second case.
const press = `
environment: {ambient: 40 degC, cold_start: 0 degC, service_interval: 100 h}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L, service_loss: 1 L}
  pump: {kind: pump, from: inlet, to: press, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %, inlet_min: 0.7 bar abs}
  intake: {kind: tube, from: sump, to: inlet, bore: 20 mm, length: 0.2 m, wall: 2 mm}
  hose: {kind: hose, from: press, to: jet, bore: 10 mm, length: 1 m}
  nozzle: {kind: orifice, from: jet, to: back, diameter: 2 mm}
  home: {kind: tube, from: back, to: sump, bore: 20 mm, length: 0.2 m, wall: 2 mm}
cases:
  slow: {lasts: 4 s, begins: {fluid: 40 degC}, drives: {pump: 1000 rpm}, weight: 60 /h}
  fast: {lasts: 4 s, begins: {fluid: 40 degC}, drives: {pump: 2000 rpm}, weight: 120 /h, expects: [{node: press, at_least: 100 bar, from: 1 s}, {node: press, at_most: 300 bar, name: not too high}]}
  cold: {lasts: 4 s, begins: {fluid: 0 degC}, drives: {pump: 500 rpm}}
`

// The orifice: Δp = ρ/2 (Q/(C_d A))². 20 L/min through 2 mm: 2 × 10⁻² m³/60 s.
func TestFactsOfAPumpAndAnOrifice(t *testing.T) {
	f := simulateText(t, press, Asked{})
	Q := 20e-3 / 60
	area := math.Pi / 4 * 2e-3 * 2e-3
	rho := 870 * math.Exp(-0.0007216*25*(1+0.8*0.0007216*25))
	q := Q / (1 + 127.5e5/1.5e9) // as the oil is pressed together
	drop := rho * (1 + 64e5/1.5e9) / 2 * math.Pow(q/(0.61*area), 2)
	hose := lineNamed(t, f, "hose")
	velocity := q / (math.Pi / 4 * 1e-4)
	near(t, "velocity in the hose", hose.Velocity, velocity, 0.001*velocity)
	near(t, "flow in the hose", hose.Flow, q, 0.001*q)
	near(t, "velocity that lasts", hose.LastingVelocity, velocity, 0.001*velocity)
	near(t, "highest pressure before the nozzle", nodeOf(t, f, "jet").HighestPressure, drop, 0.002*drop)
	if from := nodeOf(t, f, "jet").HighestPressure.From; from.Case != "fast" || !from.Timed || from.At.Line == 0 {
		t.Errorf("the highest pressure occurs %+v", from)
	}
	pump := partOf(t, f, "pump")
	press := nodeOf(t, f, "press").HighestPressure.Value
	power := Q * press
	near(t, "shaft power", pump.HighestPower, power, 0.01*power)
	near(t, "mean supply", caseNamed(t, f, "fast").MeanSupply, Q, 0.004*Q)
	near(t, "mean demand", caseNamed(t, f, "fast").MeanDemand, Q, 0.01*Q)
	near(t, "flow of the nozzle", partOf(t, f, "nozzle").HighestFlow, q, 0.001*q)
	// At 0 °C the hose is laminar: 128 μ L Q/(π d⁴) and the rest in the nozzle.
	Q /= 4
	mu := partOf(t, f, "pump").StartViscosity.Value * 870 * math.Exp(0.0007216*15)
	lost, kept := 128*mu*Q/(math.Pi*1e-8), rho*1.026/2*math.Pow(Q/(0.61*area), 2)
	near(t, "drop share of the hose", hose.DropShare, lost/(lost+kept), 0.03*lost/(lost+kept))
	Q *= 4

	// 10 L less what the lines took in, through at 20 L/min.
	near(t, "dwell", f.Fluid.Dwell, 10e-3/Q, 0.05*10e-3/Q)
	// Laminar at 0 °C; the drop warm is that of the fast case.
	if !(hose.DropCold.From.Case == "cold" && hose.DropWarm.From.Case == "fast") {
		t.Errorf("drops occur in %s cold and %s warm", hose.DropCold.From.Case, hose.DropWarm.From.Case)
	}
	if e := f.Expectations; e[0].Lowest.Value < 0.99*drop || !e[0].CameAbout.Value || e[1].Highest.Value < 0.999*drop || e[1].Name.Value != "not too high" {
		t.Errorf("expectations: %+v, %+v", e[0].Lowest, e[1].Highest)
	}
	if note := f.Expectations[0].Lowest.From.Note; note != "while pump gave 20.0 L/min" {
		t.Errorf("the lowest pressure is told as %q", note)
	}
	for _, k := range f.Cases {
		if !k.Finished.Value || k.BalanceEnergy.Value > 1e-3 || k.BalanceMass.Value > 1e-3 || k.BalanceNode.Value > 1e-3 {
			t.Errorf("%s: finished %v, balances %g %g %g", k.Name.Value, k.Finished.Value, k.BalanceNode.Value, k.BalanceMass.Value, k.BalanceEnergy.Value)
		}
	}
}

// Fluid life halves per 10 K: two cases of equal length at 40 °C and thereabouts,
// one twice as often, and one without a weight that does not count.
func TestFluidLifeOverCases(t *testing.T) {
	text := replaced(press, "environment:", "fluid_life:")
	text = replaced(text, "fluid_life:", "environment:")
	f := simulateText(t, text, Asked{})
	lacks(t, "life without figures", f.Fluid.LifeUsed, "fluid.life")

	c := specs.Read("small.yaml", []byte(replaced(plain, "  max_temperature: 80 degC\n", "  max_temperature: 80 degC\n  life: {hours: 1000 h, at: 60 degC}\n")+press))
	f = SimulatedFacts(c, Asked{})
	T := 0.0 // mean of the reservoir, by hand from both cases' heat
	for _, r := range f.Records[:2] {
		for _, n := range r.Nodes {
			if n.Name == "sump" {
				T += (n.Temperature.Lowest.Value + n.Temperature.Highest.Value) / 4
			}
		}
	}
	want := 1000 * 3600 * math.Exp2((60+273.15-T)/10)
	near(t, "life", f.Fluid.LifeUsed, want, 0.03*want)

	c = specs.Read("small.yaml", []byte(replaced(replaced(replaced(plain, "  max_temperature: 80 degC\n", "  max_temperature: 80 degC\n  life: {hours: 1000 h, at: 60 degC}\n")+press, ", weight: 60 /h", ""), ", weight: 120 /h", "")))
	lacks(t, "life without weights", SimulatedFacts(c, Asked{}).Fluid.LifeUsed, "cases.*.weight")
}

// Rainflow and Miner: each case presses once from nothing to its pressure.
func TestMinerSumOverCases(t *testing.T) {
	text := replaced(press, "bore: 10 mm, length: 1 m}", "bore: 10 mm, length: 1 m, rated: {cycles: {count: 1e6, at: 200 bar, exponent: 5}}}")
	f := simulateText(t, text, Asked{})
	want := 0.0
	for i, perHour := range []float64{60, 120} {
		top := 0.0
		for _, n := range f.Records[i].Nodes {
			if n.Name == "press" {
				top = n.Pressure.Highest.Value
			}
		}
		want += perHour * 100 * math.Pow(top/200e5, 5) / 1e6
	}
	near(t, "Miner sum of the hose", partOf(t, f, "hose").MinerSum, want, 0.01*want)
	if from := partOf(t, f, "hose").MinerSum.From; from.Case != "fast" || !strings.Contains(from.Note, "100 h") {
		t.Errorf("it comes from %+v", from)
	}
}

// A case that cannot be simulated leaves the worst over cases unknown, and says
// what it lacks; the others are told.
func TestCaseThatLacksAValue(t *testing.T) {
	f := simulateText(t, replaced(press, "diameter: 2 mm", "discharge: 0.6"), Asked{})
	lacks(t, "highest pressure", nodeOf(t, f, "press").HighestPressure, "parts.nozzle.diameter")
	lacks(t, "shaft power", partOf(t, f, "pump").HighestPower, "parts.nozzle.diameter")
	if k := f.Cases[0]; k.Finished.Known || k.Finished.Missing != "parts.nozzle.diameter" {
		t.Errorf("finished: %+v", k.Finished)
	}
	if len(f.Records) > 0 {
		t.Errorf("%d records of cases that were not begun", len(f.Records))
	}

	c := specs.Read("small.yaml", []byte(plain+replaced(press, "drives: {pump: 500 rpm}", "drives: {pump: 500 bar}")))
	f = SimulatedFacts(c, Asked{})
	if len(f.Records) != 2 || f.Cases[0].Finished.Value != true || f.Cases[2].Finished.Known {
		t.Errorf("a mistake in one case: %d records, %+v", len(f.Records), f.Cases[2].Finished)
	}
	lacks(t, "highest pressure", nodeOf(t, f, "press").HighestPressure, "cases.cold.drives.pump")
	near(t, "here", hereOf(t, f, "hose", "fast").LowestPressure, 0, 1e3)

	// What no equation reads keeps nothing from being simulated.
	c = specs.Read("small.yaml", []byte(plain+replaced(press, "inlet_min: 0.7 bar abs", "inlet_min: 3 mm")))
	if f = SimulatedFacts(c, Asked{}); len(f.Records) != 3 {
		t.Errorf("%d records with a mistake in inlet_min", len(f.Records))
	}
}

// A circuit without cases says so.
func TestNoCases(t *testing.T) {
	f := simulateText(t, press[:strings.Index(press, "cases:")], Asked{})
	lacks(t, "highest pressure", nodeOf(t, f, "press").HighestPressure, "cases")
	lacks(t, "hottest fluid", f.Fluid.HottestUsed, "cases")
	if r := partOf(t, f, "hose").Reached; r.Known || r.Missing != "cases" {
		t.Errorf("reached: %+v", r)
	}
}

// However many cores there are, the same comes out to the byte.
func TestSameOnAnyNumberOfCores(t *testing.T) {
	text, err := os.ReadFile("../specs/demo/ptarmigan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var first string
	for _, cores := range []int{1, 2, 5} {
		runtime.GOMAXPROCS(cores)
		f := SimulatedFacts(specs.Read("ptarmigan.yaml", text), Asked{InARow: 3, Strokes: map[string]int{"caliper": 3}})
		var all strings.Builder
		for _, p := range f.Parts {
			for _, f := range []facts.Fact{p.HighestPressure, p.StrokesAfterLoss, p.HottestTemperature, p.HighestFlow, p.MinerSum, p.TorqueCapacity} {
				fmt.Fprintln(&all, f.Value, f.Missing)
				if f.Known {
					fmt.Fprintln(&all, *f.From)
				}
			}
		}
		fmt.Fprintf(&all, "%+v\n", f.Records)
		if first == "" {
			first = all.String()
		}
		if all.String() != first {
			t.Errorf("on %d cores something else comes out", cores)
		}
	}
}

// What is shut in warms to the hottest that its nodes come to where that is past
// the fluid's limit, and the reservoir's budget likewise.
func TestWarmestPastTheLimit(t *testing.T) {
	text := replaced(press, "begins: {fluid: 40 degC}, drives: {pump: 2000 rpm}", "begins: {fluid: 90 degC}, drives: {pump: 2000 rpm}")
	f := simulateText(t, text, Asked{})
	if note := partOf(t, f, "tank").HighestFill.From.Note; !strings.Contains(note, "90.") || !strings.Contains(note, "the hottest it gets, in fast") {
		t.Errorf("the highest fill is told as %q", note)
	}
}

// A chamber that is drawn out while nothing comes in is at no pressure, not at
// less than none.
func TestChamberDrawnOut(t *testing.T) {
	f := simulateText(t, `
environment: {ambient: 20 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 2 L, fill: 1 L}
  valve: {kind: directional-valve, p: sump, t: sump, a: head, b: rod, flow: 5 L/min, drop: 5 bar, lag: 5 ms, rest: 0}
  ram: {kind: cylinder, head: head, rod: rod, bore: 30 mm, rod_diameter: 15 mm, stroke: 200 mm, moving_mass: 5 kg, load: -400 N, friction: {viscous: 300 N·s/m}, dead_volume: {head: 1 cm3, rod: 1 cm3}}
cases:
  pulls: {lasts: 1 s, begins: {fluid: 20 degC}, commands: [{at: 0.1 s, valve: valve, to: 1}]}
`, Asked{})
	head := nodeOf(t, f, "head").LowestAbsolute
	near(t, "lowest in the head chamber", head, 0, 0.1e5)
	if head.Value < 0 || f.NodesInCase[1].Here.LowestPressure.Value < -101325 {
		t.Errorf("lowest %+v", head)
	}
	lowest := 0.0
	for _, n := range f.Records[0].Nodes {
		lowest = min(lowest, n.Pressure.Lowest.Value)
	}
	if lowest != -101325 {
		t.Errorf("the lowest pressure on record is %g Pa, want none absolute", lowest)
	}
}
