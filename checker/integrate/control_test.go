package integrate

import (
	"math"
	"testing"
)

// Lengths proposed, worked by hand from Hairer and Wanner, section IV.8: 0.9 h
// (1/error)^(1/4), the predictive factor 0.9 h (h/h₀) (error₀/error²)^(1/4) where it is
// less, between 0.1 and 6 of the step, and no rise right after a rejection.
func TestControl(t *testing.T) {
	for _, c := range []struct {
		name      string
		before    control
		h, excess float64
		want      float64
	}{
		{"at the tolerance", control{}, 2, 1, 1.8},
		{"a sixteenth of it", control{}, 2, 1.0 / 16, 3.6},
		{"hardly any error", control{}, 2, 0, 12},
		{"rising error", control{h: 2, excess: 1.0 / 16}, 2, 1, 0.9},
		{"rising error, longer step", control{h: 1, excess: 1.0 / 16}, 2, 1, 1.8},
		{"falling error", control{h: 2, excess: 1}, 2, 1.0 / 16, 3.6},
		{"after a rejection", control{rejected: true}, 2, 1.0 / 16, 2},
	} {
		got := c.before.accepted(c.h, c.excess, 4)
		if math.Abs(got-c.want) > 1e-12 || c.before.rejected || c.before.h != c.h {
			t.Errorf("%s: %.15g, want %g; left %+v", c.name, got, c.want, c.before)
		}
	}
	for excess, want := range map[float64]float64{16: 0.9, 1e10: 0.2} {
		c := control{}
		if got := c.refused(2, excess, 4); math.Abs(got-want) > 1e-12 || !c.rejected {
			t.Errorf("refused at %g: %g, want %g", excess, got, want)
		}
	}
}

// The first step of y' = −λy + λt: y”” = J²(J f + ∂f/∂t) by hand.
func TestFirstStep(t *testing.T) {
	const rate, tolerance = 50.0, 1e-6
	system := System{
		States: 1, Pattern: dense(1),
		Evaluate:       func(t float64, y, dy []float64) { dy[0] = -rate * (y[0] - t) },
		Jacobian:       func(_ float64, _, j []float64) { j[0] = -rate },
		TimeDerivative: func(_ float64, _, d []float64) { d[0] = rate },
	}
	s := mustNew(t, system, Options{Relative: []float64{0}, Absolute: []float64{tolerance}})
	first := 0.0
	if _, err := s.Solve([]float64{2}, Run{To: 10, Observe: func(p *Step) {
		if p.From == 0 {
			first = p.To
		}
	}}); err != nil {
		t.Fatal(err)
	}
	fourth := rate * rate * (rate*rate*2 + rate)
	if want := math.Pow(tolerance/fourth, 0.25); math.Abs(first-want) > 1e-9*want {
		t.Errorf("first step %g, want %g", first, want)
	}
}
