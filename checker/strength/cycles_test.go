package strength

import (
	"math"
	"slices"
	"testing"
)

// counts gathers cycles by range.
func counts(cycles []Cycle) map[float64]float64 {
	m := map[float64]float64{}
	for _, c := range cycles {
		m[c.Range] += c.Count
	}
	return m
}

func sameCounts(t *testing.T, got []Cycle, want map[float64]float64) {
	t.Helper()
	have := counts(got)
	if len(have) != len(want) {
		t.Errorf("counts %v, want %v", have, want)
		return
	}
	for span, n := range want {
		if have[span] != n {
			t.Errorf("range %g counted %g, want %g", span, have[span], n)
		}
	}
}

// example is the history of ASTM E1049-85, figure 6, points A to I.
var example = []float64{-2, 1, -3, 5, -1, 3, -4, 4, -2}

// ASTM E1049-85, §5.4.4, figure 6.
func TestRainflowE1049(t *testing.T) {
	sameCounts(t, Rainflow(example), map[float64]float64{3: 0.5, 4: 1.5, 6: 0.5, 8: 1, 9: 0.5})
	// Means of the ranges in the order in which they close: A–B, B–C, E–F, C–D,
	// then the rest D–G, G–H, H–I.
	var means []float64
	for _, c := range Rainflow(example) {
		means = append(means, c.Mean)
	}
	if want := []float64{-0.5, -1, 1, 1, 0.5, 0, 1}; !slices.Equal(means, want) {
		t.Errorf("means %v, want %v", means, want)
	}
}

// The same history repeated, ASTM E1049-85, §5.4.5, counted by hand after its
// rules: from the highest point D round to D it closes 4 (E–F), 3 (A–B), 7
// (H–C) and 9 (D–G).
func TestRainflowRepeatingE1049(t *testing.T) {
	want := map[float64]float64{3: 1, 4: 1, 7: 1, 9: 1}
	sameCounts(t, RainflowRepeating(example), want)
	// The start does not matter.
	loop := example[:len(example)-1] // A and I are one point of the loop
	for i := range loop {
		sameCounts(t, RainflowRepeating(append(slices.Clone(loop[i:]), loop[:i]...)), want)
	}
	// Nor does which way the loop is run, or how often it is written down.
	back := slices.Clone(loop)
	slices.Reverse(back)
	sameCounts(t, RainflowRepeating(back), want)
	sameCounts(t, RainflowRepeating(append(slices.Clone(loop), loop...)), map[float64]float64{3: 2, 4: 2, 7: 2, 9: 2})
}

// Values on the way, plateaus and shifts change nothing.
func TestRainflowSeesOnlyTurns(t *testing.T) {
	var fine []float64
	for i := 1; i < len(example); i++ {
		for j := range 8 {
			fine = append(fine, example[i-1]+(example[i]-example[i-1])*float64(j)/8)
		}
		fine = append(fine, example[i], example[i])
	}
	sameCounts(t, Rainflow(fine), counts(Rainflow(example)))
	sameCounts(t, RainflowRepeating(fine), counts(RainflowRepeating(example)))
}

func TestRainflowOfLittle(t *testing.T) {
	for _, history := range [][]float64{nil, {3}, {3, 3, 3}} {
		if c := Rainflow(history); len(c) != 0 {
			t.Errorf("%v: %v", history, c)
		}
		if c := RainflowRepeating(history); len(c) != 0 {
			t.Errorf("%v repeated: %v", history, c)
		}
	}
	sameCounts(t, Rainflow([]float64{1, 2, 4}), map[float64]float64{3: 0.5})
	sameCounts(t, RainflowRepeating([]float64{1, 2, 4}), map[float64]float64{3: 1})
	sameCounts(t, Rainflow([]float64{0, 4, 0, 4, 0}), map[float64]float64{4: 2})
}

// Ranges and counts keep what goes up and down: the sum of 2·count·range is the
// whole way travelled, in a loop exactly.
func TestRainflowKeepsTheWay(t *testing.T) {
	x := uint64(12345)
	var history []float64
	for range 500 {
		x = x*6364136223846793005 + 1442695040888963407
		history = append(history, float64(x>>40))
	}
	way := func(h []float64) (sum float64) {
		for i := 1; i < len(h); i++ {
			sum += math.Abs(h[i] - h[i-1])
		}
		return sum
	}
	var open, loop float64
	for _, c := range Rainflow(history) {
		open += 2 * c.Count * c.Range
	}
	for _, c := range RainflowRepeating(history) {
		loop += 2 * c.Count * c.Range
	}
	near(t, "loop", loop, way(append(slices.Clone(history), history[0])), 1e-12)
	near(t, "open", open, way(history), 1e-12)
}

// Good for 1e6 cycles of 200 bar with exponent 5: half the range 32 times as
// often; and Miner's sum of a mix, by hand.
func TestMiner(t *testing.T) {
	e := Endurance{Count: 1e6, At: 200 * bar, Exponent: 5}
	near(t, "at its rating", e.Cycles(200*bar), 1e6, 1e-12)
	near(t, "half the range", e.Cycles(100*bar), 32e6, 1e-12)
	if n := e.Cycles(0); !math.IsInf(n, 1) {
		t.Errorf("cycles of nothing: %g", n)
	}
	near(t, "D", e.Damage([]Cycle{{Range: 200 * bar, Count: 1}, {Range: 100 * bar, Count: 0.5}, {Range: 0, Count: 1}}), 1e-6+0.5/32e6, 1e-12)
	near(t, "no cycles", e.Damage(nil), 0, 0)
}
