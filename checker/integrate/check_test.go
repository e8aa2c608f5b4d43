package integrate

import (
	"math"
	"slices"
	"testing"
)

// The chain's own Jacobian passes on states along a run, integrals included.
func TestCheckJacobianPasses(t *testing.T) {
	c := newChain(3, true)
	sizes := []float64{1e-3}
	for range c.branches {
		sizes = append(sizes, 10, 1e-5, 10, 1e-9, 1e-6, 1e-3)
	}
	s := mustNew(t, c.system(), c.options(1e-3))
	y := make([]float64, len(c.start()))
	next, compared := 0.0, 0
	_, err := c.run(s, c.start(), func(p *Step) {
		if p.To < next {
			return
		}
		next += 0.02
		p.Values(p.To, y)
		for _, m := range CheckJacobian(c.system(), p.To, y, sizes) {
			t.Errorf("t = %g, row %d, column %d: %g, differences %g", p.To, m.Row, m.Column, m.Given, m.Differenced)
		}
		compared++
	})
	if err != nil || compared < 100 {
		t.Errorf("%d states compared, %v", compared, err)
	}
}

// A wrong element, a wrong sign, an element left out of the pattern and one of an
// integral are all listed.
func TestCheckJacobianFinds(t *testing.T) {
	system := System{
		States: 2, Integrals: 1, Autonomous: true,
		Pattern: NewPattern(2, []Place{{0, 0}, {0, 1}, {1, 1}, {2, 0}}),
		Evaluate: func(_ float64, y, dy []float64) {
			dy[0], dy[1], dy[2] = -y[0]*y[1], math.Sin(y[1])+1e-4*y[0], y[0]*y[0]
		},
		Jacobian: func(_ float64, y, j []float64) { // by columns
			copy(j, []float64{-y[1] * 1.01, 2 * y[0], y[0], math.Cos(y[1])})
		},
	}
	var places []Place
	for _, m := range CheckJacobian(system, 0, []float64{3, 0.5}, []float64{1e-3, 1e-3}) {
		places = append(places, m.Place)
	}
	if want := []Place{{0, 0}, {1, 0}, {0, 1}}; !slices.Equal(places, want) {
		t.Errorf("found %v, want %v", places, want)
	}
}
