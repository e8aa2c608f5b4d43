package checker

import (
	"math"
	"strings"
	"testing"

	"headroom/specs"
	"headroom/specs/quantity"
)

func TestTrace(t *testing.T) {
	c := specs.Read("small.yaml", []byte(plain+press))
	h, err := Trace(c, "fast", 0.5)
	if err != nil {
		t.Fatal(err)
	}
	if len(h.Rows) != 9 || h.Rows[8][0] != 4 || h.Rows[3][0] != 1.5 {
		t.Errorf("4 s every half second make %d rows, the last at %v", len(h.Rows), h.Rows[len(h.Rows)-1][0])
	}
	column := -1
	for i, k := range h.Columns {
		if k.Name() == "jet pressure" && k.Dimension == quantity.Pressure {
			column = i + 1
		}
	}
	f := SimulatedFacts(c, Asked{})
	top := nodeOf(t, f, "jet").HighestPressure.Value
	if column < 0 || math.Abs(h.Rows[2][column]-top) > 0.01*top {
		t.Errorf("jet pressure in column %d at 1 s, highest %g", column, top)
	}
	own, err := Trace(c, "fast", 0)
	if err != nil || len(own.Rows) < 20 || own.Rows[0][0] != 0 || own.Rows[len(own.Rows)-1][0] != 4 {
		t.Errorf("%d own steps: %v", len(own.Rows), err)
	}
	for i := 1; i < len(own.Rows); i++ {
		if own.Rows[i][0] <= own.Rows[i-1][0] {
			t.Fatalf("times go from %v to %v", own.Rows[i-1][0], own.Rows[i][0])
		}
	}

	// Nothing cools this loop: its last repeat comes with a word that it has not settled.
	hot := specs.Read("small.yaml", []byte(plain+replaced(press, "fast: {lasts: 4 s,", "fast: {lasts: 4 s, repeats: settle,")))
	if rising, err := Trace(hot, "fast", 0.5); err == nil || !strings.Contains(err.Error(), "case fast has not settled: after ") || len(rising.Rows) != 9 {
		t.Errorf("a case that never settles: %v", err)
	}

	// Of a repeated case the last repeat is told.
	c = specs.Read("small.yaml", []byte(plain+replaced(press, "fast: {lasts: 4 s,", "fast: {lasts: 4 s, repeats: 3,")))
	again, err := Trace(c, "fast", 0.5)
	if err != nil || len(again.Rows) != 9 {
		t.Errorf("three repeats: %d rows, %v", len(again.Rows), err)
	}
	if first, last := h.Rows[0], again.Rows[0]; last[2] <= first[2] {
		t.Errorf("the last repeat begins at %g K, the first at %g K", last[2], first[2])
	}

	if _, err = Trace(c, "slower", 0); err == nil || err.Error() != "there is no case slower; this circuit has slow, fast, cold" {
		t.Errorf("a case that is not there: %v", err)
	}
	c = specs.Read("small.yaml", []byte(plain+replaced(press, ", diameter: 2 mm", "")))
	if _, err = Trace(c, "slow", 0); err == nil || !strings.Contains(err.Error(), "parts.nozzle.diameter") {
		t.Errorf("a value that is not there: %v", err)
	}
}
