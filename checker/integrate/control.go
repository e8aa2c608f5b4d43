package integrate

import "math"

// control proposes the length of a step from the errors of those before.
// Predictive: it looks at how the error changed from one accepted step to the
// next. Source: K. Gustafsson, ACM Trans. Math. Software 20 (1994) 496; in the
// form of Hairer and Wanner, Solving ODEs II, section IV.8, (8.25).
type control struct {
	h, excess float64 // of the last accepted step; h = 0: none since a restart
	rejected  bool    // the step at hand was rejected before
}

// As in RODAS, but for mostCut, where 1/5 stands there.
const (
	safety    = 0.9
	mostCut   = 0.1
	mostRise  = 6.0
	leastSeen = 1e-2 // a smaller error tells no trend
)

// accepted returns the length proposed after a step of length h was accepted.
func (c *control) accepted(h, excess, order float64) float64 {
	factor := safety * math.Pow(max(excess, 1e-10), -1/order)
	if c.h > 0 {
		trend := safety * (h / c.h) * math.Pow(c.excess/max(excess*excess, 1e-20), 1/order)
		factor = min(factor, trend)
	}
	factor = min(max(factor, mostCut), mostRise)
	if c.rejected {
		factor = min(factor, 1)
	}
	c.h, c.excess, c.rejected = h, max(excess, leastSeen), false
	return h * factor
}

// refused returns the length to try after a step of length h was too inaccurate.
func (c *control) refused(h, excess, order float64) float64 {
	c.rejected = true
	return h * max(safety*math.Pow(excess, -1/order), mostCut)
}

// forget drops the trend, where the equations changed their ways.
func (c *control) forget() { c.h = 0 }
