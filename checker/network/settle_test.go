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
// settle where a single long run comes to rest, or say that it does not.
func TestSettleOfShortCases(t *testing.T) {
	rests := reliefLoop(t, 200, "400 h", "1", 120).node("sump")
	for _, c := range []struct {
		litres int
		lasts  string
	}{{50, "1 s"}, {200, "1 s"}, {200, "5 s"}, {200, "20 s"}, {1000, "5 s"}, {1000, "20 s"}} {
		out := reliefLoop(t, c.litres, c.lasts, "settle", 120)
		ends := out.node("sump")
		t.Logf("%d L, %s: %.2f K after %d passes, %.2f K in the long run", c.litres, c.lasts, ends, out.Repeats.Done, rests)
		if !out.Repeats.Settled || math.Abs(ends-rests) > 0.5 {
			t.Errorf("%d L, %s: told settled %v at %.2f K after %d passes; it comes to rest at %.2f K",
				c.litres, c.lasts, out.Repeats.Settled, ends, out.Repeats.Done, rests)
		}
	}
}

// Too little cooling never settles, however short the case.
func TestRunawayOfShortCases(t *testing.T) {
	for _, lasts := range []string{"1 s", "10 s"} {
		if out := reliefLoop(t, 15, lasts, "settle", 5); out.Repeats.Settled || out.Repeats.Unsettled == nil {
			t.Errorf("%s: told settled at %.2f K", lasts, out.node("sump"))
		}
	}
}

// reliefLoop is a pump that turns all of its power into heat over a relief valve.
func reliefLoop(t *testing.T, litres int, lasts, repeats string, cooling float64) *Outcome {
	t.Helper()
	c := read(t, "relief.yaml", fmt.Sprintf(`headroom: 1
circuit: relief-loop
title: A pump over a relief valve
fluid: {like: hm-46}
environment: {ambient: 40 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: %d L, fill: %d L, to_ambient: %g W/K}
  pump: {kind: pump, from: sump, to: press, displacement: 10 cm3/rev, delivers: {flow: 14 L/min, at: {pressure: 150 bar, speed: 1500 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 90 %%}
  relief: {kind: relief-valve, from: press, to: sump, cracking: 150 bar, flow: 20 L/min, override: 10 bar}
cases:
  warm: {lasts: %s, begins: {fluid: 40 degC}, drives: {pump: 1500 rpm}, repeats: %s}
`, 2*litres, litres, cooling, lasts, repeats))
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
