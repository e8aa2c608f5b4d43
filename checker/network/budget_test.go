package network

import (
	"strings"
	"testing"

	"headroom/checker/integrate"
	"headroom/specs"
)

// All repeats of a case have one budget: however many are asked for, and whatever
// they count, no more is spent, and it is told where and when it ran out.
func TestRepeatsShareABudget(t *testing.T) {
	const steps = 3000
	if r := (&runner{budget: DefaultSteps, total: int(passBudgets * DefaultSteps)}); r.total != 500_000 {
		t.Errorf("a case may take %d steps", r.total)
	}
	c := load(t, "../../specs/demo/stonechat.yaml")
	k := *c.Case("hill-start")
	k.Repeats = specs.Repeats{Count: 1000}
	out, err := Simulate(c, &k, Options{Tolerance: 1, Steps: steps})
	if err != nil {
		t.Fatal(err)
	}
	if used := out.Steps + out.Rejections; used > 2.5*steps+100 || used < 2.5*steps {
		t.Errorf("%d steps were taken of %d", used, int(2.5*steps))
	}
	f := out.Failure
	if f == nil || f.Reason != integrate.OutOfSteps || !(f.Time > 0) || !strings.Contains(f.Why, "7500 steps of all passes together is used up, in repeat ") {
		t.Fatalf("failure: %+v", f)
	}
	if f.Where == "" || f.State == "" || !strings.Contains(f.String(), "held up by the "+f.State+" of "+f.Where) {
		t.Errorf("failure tells no place: %s", f)
	}
}

// Counting in a row stops at the same budget, and says where.
func TestRowsShareABudget(t *testing.T) {
	c := load(t, "../../specs/demo/stonechat.yaml")
	k := c.Case("hill-start")
	out, err := Simulate(c, k, Options{})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	pack := ""
	for i := range out.Parts {
		if len(out.Parts[i].Engagements) > 0 {
			pack = out.Parts[i].Part
		}
	}
	for i := range c.Parts { // plates that never get too hot
		if p, is := c.Parts[i].(*specs.FrictionPack); is {
			p.Plates.MaxTemperature.SI = 1e5
		}
	}
	c.Fluid.PeakTemperature.SI, c.Fluid.MaxTemperature.SI = 1e5, 1e5
	_, _, err = InARow(c, k, out, pack, 1000, Options{Steps: 1500})
	if err == nil || !strings.Contains(err.Error(), "3750 steps of all passes together") || !strings.Contains(err.Error(), "held up by the") {
		t.Errorf("a thousand in a row within 3750 steps: %v", err)
	}
}

// A case that settles stops at the same budget, with its last pass told in full.
func TestSettlingSharesABudget(t *testing.T) {
	c := read(t, "loop.yaml", strings.Replace(strings.Replace(string(load(t, "testdata/millrace-loop.yaml").Source), "lasts: 4 h", "lasts: 120 s", 1),
		"drives: {pump: [[0 s, 0 rpm], [1 s, 1500 rpm]]}", "drives: {pump: 1500 rpm}\n    repeats: settle", 1))
	free, err := Simulate(c, &c.Cases[0], Options{Tolerance: 1})
	if err != nil || !free.Repeats.Settled {
		t.Fatal(err, free.Repeats)
	}
	// A budget that is used up after four passes of those it takes.
	each := (free.Steps + free.Rejections) / free.Repeats.Done
	out, err := Simulate(c, &c.Cases[0], Options{Tolerance: 1, Steps: 2 * each})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	u := out.Repeats.Unsettled
	if u == nil || u.Where == "" || !strings.Contains(u.Why, "does not suffice") || out.Repeats.Done >= free.Repeats.Done {
		t.Errorf("unsettled: %+v after %d passes", u, out.Repeats.Done)
	}
	// One that is used up in the last, which begins warmer.
	out, err = Simulate(c, &c.Cases[0], Options{Tolerance: 1, Steps: (free.Steps + free.Rejections - 5) * 2 / 5})
	if err != nil || out.Failure != nil {
		t.Fatal(err, out.Failure)
	}
	u = out.Repeats.Unsettled
	if u == nil || !strings.Contains(u.Why, "is not known: the budget of ") || out.Repeats.Settled || out.Repeats.Done != free.Repeats.Done {
		t.Errorf("unsettled: %+v after %d passes", u, out.Repeats.Done)
	}
}

// Events that follow each other without end are named by what is watched: here a
// pump that a pressure starts and stops on next to no volume.
func TestStormOfEventsHasAPlace(t *testing.T) {
	c := read(t, "storm.yaml", plainOil+`
parts:
  tank: {kind: reservoir, at: sump, volume: 40 L, fill: 20 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev, delivers: {flow: 14 L/min, at: {pressure: 100 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %}
  leak: {kind: orifice, from: rail, to: sump, diameter: 1 mm}
cases:
  storm: {lasts: 100 s, begins: {fluid: 40 degC}, drives: {pump: {at: rail, on_below: 50 bar, off_above: 50.5 bar, speed: 1500 rpm}}}
`)
	out, err := Simulate(c, &c.Cases[0], Options{Tolerance: 1, Steps: 500})
	if err != nil {
		t.Fatal(err)
	}
	f := out.Failure
	if f == nil || f.Where != "rail" || f.State != "pressure" || !(f.Time > 0) || !strings.Contains(f.Why, "follow each other") {
		t.Errorf("failure: %+v", f)
	}
}
