package network

import (
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
