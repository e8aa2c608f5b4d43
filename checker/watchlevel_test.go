package checker

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The highest level that lasted a window is that of looking at every window whole, and
// many thousands of samples in one window cost no more each than a few.
func TestLevelAgainstWholeWindows(t *testing.T) {
	chance := rand.New(rand.NewPCG(1, 2))
	for range 50 {
		l := level{window: 0.1}
		var times, values []float64
		best := math.Inf(-1)
		at := 0.0
		for range 3000 {
			at += math.Exp(chance.NormFloat64()*2) * 1e-4
			v := chance.Float64() + math.Sin(at)
			l.add(at, v)
			times, values = append(times, at), append(values, v)
			edge := at - l.window
			if times[0] > edge {
				continue
			}
			first := 0
			for first+1 < len(times) && times[first+1] <= edge {
				first++
			}
			times, values = times[first:], values[first:]
			least := values[0]
			if len(times) > 1 {
				least += (values[1] - values[0]) * (edge - times[0]) / (times[1] - times[0])
			}
			for _, u := range values[1:] {
				least = min(least, u)
			}
			best = max(best, least)
		}
		if l.known != !math.IsInf(best, -1) || l.known && l.best != best {
			t.Fatalf("%g (%v), by whole windows %g", l.best, l.known, best)
		}
	}
}
