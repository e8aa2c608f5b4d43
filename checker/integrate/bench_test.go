package integrate

import (
	"fmt"
	"math"
	"testing"
	"time"
)

// The chain's case of 4 s, by size: time and allocations a run, and time an
// attempt at a step and state, which should not grow with the size.
func BenchmarkChain(b *testing.B) {
	for _, branches := range []int{8, 80, 330} {
		c := newChain(branches, false)
		s, err := New(c.system(), c.options(1e-3))
		if err != nil {
			b.Fatal(err)
		}
		y, start := make([]float64, c.states()), c.start()
		b.Run(fmt.Sprintf("%d-states", c.states()), func(b *testing.B) {
			b.ReportAllocs()
			attempts := 0
			for b.Loop() {
				copy(y, start)
				result, err := c.run(s, y, nil)
				if err != nil {
					b.Fatal(err)
				}
				attempts += result.Statistics.Factorisations
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(attempts)/float64(c.states()), "ns/attempt/state")
		})
	}
}

// The parts of a step, on the chain of 49 states.
func BenchmarkParts(b *testing.B) {
	c := newChain(8, false)
	s, err := New(c.system(), c.options(1e-3))
	if err != nil {
		b.Fatal(err)
	}
	copy(s.y, c.start())
	s.limit = 1
	s.evaluate(0, s.y, s.f)
	s.linearise(1)
	for _, part := range []struct {
		name string
		run  func()
	}{
		{"evaluate", func() { c.evaluate(0, s.y, s.slope) }},
		{"linearise", func() { s.linearise(1) }},
		{"refactor", func() { s.factors.refactor(1e4, s.jacobian) }},
		{"solve", func() { s.factors.solve(s.z) }},
		{"stage", func() { s.solveStage(3, s.f) }},
		{"attempt", func() { s.attempt(1e-6, 1) }},
	} {
		b.Run(part.name, func(b *testing.B) {
			clear(s.z)
			for b.Loop() {
				part.run()
			}
		})
	}
}

// New for 2,000 states: the ordering and the layout of the factors.
func BenchmarkNew(b *testing.B) {
	c := newChain(333, false)
	for b.Loop() {
		if _, err := New(c.system(), c.options(1e-3)); err != nil {
			b.Fatal(err)
		}
	}
}

// What methods and kinks cost at equal accuracy, on the chain of 49 states: from
// runs at eight tolerances, evaluations and time where the error, averaged over
// states and times in units of what is asked of a circuit (0.5 % or 0.1 bar,
// 0.5 %, 0.5 K), is a hundredth and a thousandth. The reference is a run at 1e-9.
func BenchmarkEqualAccuracy(b *testing.B) {
	reference := sampleChain(b, &Rodas5P, true, 1e-9)
	for _, m := range methods {
		for _, kinks := range []bool{false, true} {
			b.Run(fmt.Sprintf("%s/kinks-%v", m.Name, kinks), func(b *testing.B) {
				for b.Loop() {
					var errors, evaluations, times []float64
					for _, tolerance := range []float64{5e-3, 2e-3, 1e-3, 5e-4, 2e-4, 1e-4, 5e-5, 2e-5} {
						r := sampleChain(b, m, kinks, tolerance)
						errors = append(errors, math.Log(r.meanError(reference)))
						evaluations = append(evaluations, math.Log(float64(r.statistics.Evaluations)))
						times = append(times, math.Log(r.seconds))
					}
					for _, at := range []float64{1e-2, 1e-3} {
						b.ReportMetric(math.Exp(fitted(errors, evaluations, math.Log(at))), fmt.Sprintf("evaluations@%g", at))
						b.ReportMetric(1e3*math.Exp(fitted(errors, times, math.Log(at))), fmt.Sprintf("ms@%g", at))
					}
				}
			})
		}
	}
}

// fitted is the straight line of least squares through points, at x.
func fitted(xs, ys []float64, x float64) float64 {
	n := float64(len(xs))
	var sx, sy, sxx, sxy float64
	for i := range xs {
		sx, sy, sxx, sxy = sx+xs[i], sy+ys[i], sxx+xs[i]*xs[i], sxy+xs[i]*ys[i]
	}
	slope := (n*sxy - sx*sy) / (n*sxx - sx*sx)
	return (sy-slope*sx)/n + slope*x
}

// sampled is a run of the chain with its states every 10 ms.
type sampled struct {
	states     [][]float64
	statistics Statistics
	seconds    float64
}

func sampleChain(b *testing.B, m *Method, kinks bool, tolerance float64) sampled {
	c := newChain(8, false)
	system := c.system()
	if !kinks {
		system.Events = nil
	}
	options := c.options(tolerance)
	options.Method = m
	s, err := New(system, options)
	if err != nil {
		b.Fatal(err)
	}
	var r sampled
	next := 0.013
	observe := func(p *Step) {
		for ; next <= p.To; next += 0.01 {
			v := make([]float64, c.states())
			p.Values(next, v)
			r.states = append(r.states, v)
		}
	}
	result, err := c.run(s, c.start(), observe)
	if err != nil {
		b.Fatal(err)
	}
	r.statistics, r.seconds = result.Statistics, math.Inf(1)
	for range 3 {
		y := c.start()
		begin := time.Now()
		if _, err := c.run(s, y, nil); err != nil {
			b.Fatal(err)
		}
		r.seconds = min(r.seconds, time.Since(begin).Seconds())
	}
	return r
}

// meanError against a reference, in units of what is asked of a circuit.
func (r sampled) meanError(reference sampled) float64 {
	sum, n := 0.0, 0
	for q, v := range r.states {
		for i := 1; i < len(v); i++ {
			w := reference.states[q][i]
			unit := [variables]float64{
				max(0.005*w, 1e4), 0.005, max(0.005*w, 1e4), 0.005 * stroke, 0.005, 0.5,
			}[(i-1)%variables]
			sum += math.Abs(v[i]-w) / unit
			n++
		}
	}
	return sum / float64(n)
}
