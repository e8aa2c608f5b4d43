package checker

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"

	"headroom/checker/network"
	"headroom/rules"
	"headroom/specs"
	"headroom/specs/quantity"
)

// circuitsAsked is the environment variable that asks for more circuits drawn by chance
// than the few of an ordinary run.
const circuitsAsked = "HEADROOM_CIRCUITS"

const fewCircuits = 24

// eachCircuit draws circuits, the same in every run.
func eachCircuit(t *testing.T, test func(t *testing.T, c *randomCircuit)) {
	t.Helper()
	count := fewCircuits
	if text := os.Getenv(circuitsAsked); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			t.Fatalf("%s=%s is no number of circuits", circuitsAsked, text)
		}
		count = n
	}
	for seed := range uint64(count) {
		t.Run(strconv.FormatUint(seed, 10), func(t *testing.T) { test(t, draw(seed)) })
	}
}

// workOf is the case in which all functions work.
func workOf(t *testing.T, c *specs.Circuit, o network.Options) *workedCase {
	t.Helper()
	var columns []network.Channel
	var latest, before []float64
	var at, step float64
	o.Record = &network.Recorder{
		Begin: func(_ string, _ int, channels []network.Channel) { columns = channels },
		Sample: func(t float64, values []float64) {
			before, latest = latest, append([]float64(nil), values...)
			step, at = t-at, t
		},
	}
	out, err := network.Simulate(c, c.Case("work"), o)
	if err != nil {
		t.Fatal(err)
	}
	if out.Failure != nil {
		t.Fatalf("%s\n%s", out.Failure, c.Source)
	}
	w := &workedCase{Outcome: out, steep: map[string]float64{}}
	for i, k := range columns {
		if k.Name == "pressure" && step > 0 {
			w.steep[k.Of] = math.Abs(latest[i]-before[i]) / step
		}
	}
	return w
}

// A workedCase is the outcome of a case, and how steep the pressures of its nodes are as it ends
// (Pa/s): a chamber that was torn fills again within a hundredth of a second, and what
// is told of it at an instant hangs on when that is.
type workedCase struct {
	*network.Outcome
	steep map[string]float64
}

// A told value is one of an outcome, and how much it may be off by: the accuracy that
// is asked of pressures (0.5 % or 0.1 bar), temperatures (0.5 K) and times (1 % or 1 ms).
type toldValue struct{ value, allowed float64 }

// valuesOf are the values of an outcome that are compared, by name. The times of a
// case that is shifted count from the shift.
func valuesOf(out *workedCase) map[string]toldValue {
	all := map[string]toldValue{}
	for i := range out.Nodes {
		n := &out.Nodes[i]
		pressure := func(name string, e network.Extreme) {
			allowed := max(0.005*e.Value, 0.1e5)
			if late := 0.01 * out.Lasts; e.Time >= out.Lasts-late {
				allowed += late * out.steep[n.Node] // it may come 1 % sooner or later
			}
			all[n.Node+name] = toldValue{e.Value, allowed}
		}
		if n.Pressure.Lowest.Value >= emptyNode { // else how long it takes to fill again hangs on next to nothing
			pressure(" settled lowest", n.Settled.Lowest)
			pressure(" settled highest", n.Settled.Highest)
			pressure(" at the end", network.Extreme{Value: n.Pressure.End, Time: out.Lasts})
		}
		all[n.Node+" temperature"] = toldValue{n.Temperature.End, 0.5}
	}
	for i, e := range out.Expectations {
		name := fmt.Sprintf("expectation %d", i)
		all[name+" came"] = toldValue{map[bool]float64{true: 1}[e.Came], 0.5}
		if e.Came {
			all[name] = toldValue{e.Measure, max(0.01*e.Measure, 1e-3)}
		}
	}
	return all
}

// apart is the largest difference of two outcomes as a share of the accuracy asked, and
// of what it is; infinite where they tell of different things.
func apart(a, b map[string]toldValue) (share float64, what string) {
	for name := range b {
		if _, both := a[name]; !both {
			return math.Inf(1), "the second alone tells of " + name
		}
	}
	for _, name := range slices.Sorted(maps.Keys(a)) {
		if _, both := b[name]; !both {
			return math.Inf(1), "the first alone tells of " + name
		}
		if s := math.Abs(a[name].value-b[name].value) / a[name].allowed; s > share || math.IsNaN(s) {
			share, what = s, fmt.Sprintf("%s: %g and %g", name, a[name].value, b[name].value)
		}
	}
	return share, what
}

// emptyNode is the absolute pressure (Pa) below which a node is as good as empty.
const emptyNode = 1e3

// Mass and energy are closed within what run.balance allows, and what stands in the spec
// of a case (rules/packs/run.yaml): 0.1 % of a node's turnover, 0.5 % of the charge, 1 %
// of the energy.
func TestBalancesOfRandomCircuits(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		out := workOf(t, c.read(t, &metric, nil), network.Options{})
		b, node := out.Balance, 1e-3
		for i := range out.Nodes {
			if out.Nodes[i].Pressure.Lowest.Value < emptyNode {
				node = 5e-3 // a chamber is torn empty, and hardly anything flows in
			}
		}
		if !(b.Node <= node) || !(math.Abs(b.Mass) <= 5e-3) || !(math.Abs(b.Energy) <= 1e-2) {
			t.Errorf("node %g (%s), mass %g, energy %g of %+v\n%s", b.Node, b.NodeName, b.Mass, b.Energy, b.Terms, c.write(&metric, nil))
		}
	})
}

// No pressure is below absolute zero, no accumulator holds less than no oil, nor more
// than its shell, and no piston leaves its cylinder by more than stops give way: a stop
// is a spring, which a heavy piston at speed presses in by some hundredths of its stroke.
func TestBoundsOfRandomCircuits(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		read := c.read(t, &metric, nil)
		out := workOf(t, read, network.Options{})
		for i := range out.Nodes {
			if n := &out.Nodes[i]; !(n.Pressure.Lowest.Value >= 0) || !(n.Temperature.Lowest.Value > 250) {
				t.Errorf("%s: %g Pa, %g K", n.Node, n.Pressure.Lowest.Value, n.Temperature.Lowest.Value)
			}
		}
		within := func(part, reading string, most, give float64) {
			r := out.Parts[slices.IndexFunc(out.Parts, func(p network.PartOutcome) bool { return p.Part == part })].Reading(reading)
			if r == nil || !(r.Lowest.Value >= -give*most) || !(r.Highest.Value <= (1+give)*most) {
				t.Errorf("%s of %s is %+v, of %g", reading, part, r, most)
			}
		}
		for _, p := range read.Parts {
			switch p := p.(type) {
			case *specs.Accumulator:
				within(p.Name, "oil", p.Size.SI, 1e-3)
			case *specs.Cylinder:
				within(p.Name, "position", p.Stroke.SI, 0.03)
			}
		}
	})
}

// What is alike does alike: two functions of the same make and commands, on the same
// node, have the same pressures and times.
func TestSymmetryOfRandomCircuits(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		f := c.functions[0]
		f.orifice = 0
		c.functions = []function{f, f}
		out := workOf(t, c.read(t, &metric, nil), network.Options{})
		all := valuesOf(out)
		one, other := map[string]toldValue{}, map[string]toldValue{}
		for _, node := range []string{"a", "b", "head"} {
			for _, value := range []string{" settled lowest", " settled highest", " at the end", " temperature"} {
				for i, of := range []map[string]toldValue{one, other} {
					if told, is := all[fmt.Sprint(node, i, value)]; is {
						of[node+value] = told
					}
				}
			}
		}
		one["came"], other["came"] = all["expectation 0 came"], all["expectation 1 came"]
		if one["came"].value > 0 {
			one["arrives"], other["arrives"] = all["expectation 0"], all["expectation 1"]
		}
		if share, what := apart(one, other); !(share <= 0.01) {
			t.Errorf("%s\n%s", what, c.write(&metric, nil))
		}
	})
}

// The same circuit in units of the inch system comes to the same outcome.
func TestUnitSystemsOfRandomCircuits(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		ours := workOf(t, c.read(t, &metric, nil), network.Options{})
		theirs := workOf(t, c.read(t, &inches, nil), network.Options{})
		if share, what := apart(valuesOf(ours), valuesOf(theirs)); !(share <= 0.5) {
			t.Errorf("%s\n%s", what, c.write(&inches, nil))
		}
	})
}

// judged is what a circuit comes to by the rules: its verdict, and of each rule and
// subject the measure, or what is missing; without places in the text. How well the
// books of a run were kept is the integrator's own, and not compared.
func judged(c *specs.Circuit, book *rules.Rulebook) (verdict rules.Verdict, told map[string]toldValue) {
	j := book.Judge(SimulatedFacts(c, Asked{}), rules.Settings{})
	told = map[string]toldValue{}
	for _, a := range j.Assessments {
		name := a.Rule.ID + " " + a.Subject.String()
		told[name+" is told"] = toldValue{map[bool]float64{true: float64(a.Grade) + 1}[a.Finding], 0.5}
		if a.Measure != nil && a.Rule.ID != "run.balance" && a.Rule.ID != "run.balance-mass" && a.Rule.ID != "run.balance-energy" {
			told[name] = toldValue{a.Measure.SI, allowedOf(a)}
		}
	}
	for _, u := range j.NotAssessed {
		told[u.Rule.ID+" "+u.Subject.String()+" is not assessed"] = toldValue{0, 1}
	}
	return j.Verdict, told
}

// allowedOf is the accuracy asked of a measure: 0.5 % of it or of its limit, and of a
// pressure and a temperature what is asked of these.
func allowedOf(a *rules.Assessment) float64 {
	of := math.Abs(a.Measure.SI)
	if a.Limit != nil {
		of = max(of, math.Abs(a.Limit.Value.SI))
	}
	switch a.Measure.Dimension {
	case quantity.Pressure, quantity.AbsolutePressure, quantity.PressureDifference:
		return max(0.005*of, 0.1e5)
	case quantity.Temperature, quantity.TemperatureDifference:
		return 0.5
	}
	return max(0.005*of, 1e-9)
}

// Neither the units of a spec nor the order of its parts and cases change what rules
// make of it: verdict, findings, grades and measures.
func TestJudgementsOfRandomCircuits(t *testing.T) {
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	var shares []float64
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		plain := c.read(t, &metric, nil)
		verdict, told := judged(plain, book)
		if len(told) < 50 {
			t.Errorf("only %d rules and subjects", len(told))
		}
		for name, other := range map[string]*specs.Circuit{
			"in inches": c.read(t, &inches, nil), "in another order": c.read(t, &metric, rand.New(rand.NewPCG(c.seed, 1))),
		} {
			v, theirs := judged(other, book)
			share, what := apart(told, theirs)
			if v != verdict || !(share <= chanceExtreme) {
				t.Errorf("%s: %s, not %s; %g of the accuracy asked: %s\n%s", name, v, verdict, share, what, c.write(&metric, nil))
			}
			shares = append(shares, share)
		}
	})
	slices.Sort(shares)
	if most := shares[len(shares)*9/10]; !(most <= 1) {
		t.Errorf("one judgement of ten is off by %g of the accuracy asked", most)
	}
}

// chanceExtreme is what the extreme of a single circuit may be off by, as a share of the
// accuracy asked: the depth of a dip of milliseconds and what a shut chamber is left with
// hang on the last digits.
const chanceExtreme = 8

// Tighter tolerances come closer to the answer of the tightest.
func TestConvergenceOfRandomCircuits(t *testing.T) {
	var loose, tight []float64
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		read := c.read(t, &metric, nil)
		best := valuesOf(workOf(t, read, network.Options{Tolerance: 0.003}))
		first, _ := apart(best, valuesOf(workOf(t, read, network.Options{Tolerance: 3})))
		second, what := apart(best, valuesOf(workOf(t, read, network.Options{Tolerance: 0.1})))
		if !(second <= chanceExtreme) {
			t.Errorf("a tenth of the tolerance is off by %g of the accuracy asked: %s", second, what)
		}
		loose, tight = append(loose, first), append(tight, second)
	})
	slices.Sort(loose)
	slices.Sort(tight)
	if l, s := loose[len(loose)/2], tight[len(tight)/2]; !(s < 0.5*l) {
		t.Errorf("in the middle, off by %g of the accuracy asked with three times the tolerance, by %g with a tenth", l, s)
	}
}

// All that happens later happens the same: commands and drives shifted in time shift the
// events by as much.
func TestShiftOfRandomCircuits(t *testing.T) {
	eachCircuit(t, func(t *testing.T, c *randomCircuit) {
		if c.store > 0 { // what is stored runs out through the bleed while nothing happens
			c.store, c.charge = 0, 0
		}
		now := workOf(t, c.read(t, &metric, nil), network.Options{})
		c.shift = 0.731
		later := workOf(t, c.read(t, &metric, nil), network.Options{})
		before, after := valuesOf(now), valuesOf(later)
		for i := range now.Nodes { // until something happens, pressures are as they begin
			delete(before, now.Nodes[i].Node+" settled lowest")
			delete(after, now.Nodes[i].Node+" settled lowest")
		}
		if share, what := apart(before, after); !(share <= 1) {
			t.Errorf("%s\n%s", what, c.write(&metric, nil))
		}
		for i := range now.Expectations {
			a, b := now.Expectations[i], later.Expectations[i]
			if a.Came && b.Came && math.Abs(b.Time-a.Time-c.shift) > max(1e-3, 0.01*a.Measure) {
				t.Errorf("what came at %g s comes at %g s", a.Time, b.Time)
			}
		}
	})
}
