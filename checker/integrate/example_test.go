package integrate_test

import (
	"fmt"
	"math"

	"headroom/checker/integrate"
)

// A tank drains through a hole, h' = −0.1 √h, and is shut off when the level is
// down to a quarter; the volume that has run out is an integral beside it.
func Example() {
	const rate = 0.1
	open := 1.0
	pattern := integrate.NewPattern(1, []integrate.Place{{Row: 0, Column: 0}, {Row: 1, Column: 0}})
	level, out := pattern.Slot(0, 0), pattern.Slot(1, 0)
	solver, err := integrate.New(integrate.System{
		States: 1, Integrals: 1, Autonomous: true, Pattern: pattern,
		Evaluate: func(_ float64, y, dy []float64) {
			flow := open * rate * math.Sqrt(y[0])
			dy[0], dy[1] = -flow, flow
		},
		Jacobian: func(_ float64, y, values []float64) {
			slope := open * rate / (2 * math.Sqrt(y[0]))
			values[level] -= slope
			values[out] += slope
		},
		Events: []integrate.Event{{
			Value: func(_ float64, y []float64) float64 { return y[0] - 0.25 },
			Act: func(t float64, y []float64) integrate.After {
				fmt.Printf("shut at %.6f\n", t)
				open = 0
				return integrate.Restart
			},
		}},
	}, integrate.Options{Relative: []float64{1e-6}, Absolute: []float64{1e-9}})
	if err != nil {
		fmt.Println(err)
		return
	}
	y := []float64{1, 0}
	result, err := solver.Solve(y, integrate.Run{To: 20, Breaks: []float64{15}})
	fmt.Printf("level %.6f, run out %.6f at %g, %v\n", y[0], y[1], result.Time, err)
	// √h = 1 − 0.05 t, so a quarter at t = 10.

	// Output:
	// shut at 10.000000
	// level 0.250000, run out 0.750000 at 20, <nil>
}
