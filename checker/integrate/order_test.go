package integrate

import (
	"fmt"
	"math"
	"testing"
)

// forced is a nonlinear system that depends on time, with a known solution, and an
// integral: y₁ = cos t, y₂ = e^(−t/2) sin 2t + 2, q = ∫ y₁ y₂ dt.
func forced(jacobian, timeDerivative bool) System {
	y1 := math.Cos
	y2 := func(t float64) float64 { return math.Exp(-t/2)*math.Sin(2*t) + 2 }
	s := System{
		States: 2, Integrals: 1,
		Pattern: NewPattern(2, []Place{{0, 0}, {0, 1}, {1, 0}, {1, 1}, {2, 0}, {2, 1}}),
		Evaluate: func(t float64, y, dy []float64) {
			dy1 := -math.Sin(t)
			dy2 := math.Exp(-t/2) * (2*math.Cos(2*t) - math.Sin(2*t)/2)
			dy[0] = dy1 - 3*(y[0]*y[1]-y1(t)*y2(t))
			dy[1] = dy2 + (y[0]*y[0] - y1(t)*y1(t)) - 2*(y[1]-y2(t))
			dy[2] = y[0] * y[1]
		},
	}
	if jacobian {
		s.Jacobian = func(_ float64, y, j []float64) {
			copy(j, []float64{-3 * y[1], 2 * y[0], y[1], -3 * y[0], -2, y[0]})
		}
	}
	if timeDerivative {
		s.TimeDerivative = func(t float64, _, d []float64) {
			e, c, n := math.Exp(-t/2), math.Cos(2*t), math.Sin(2*t)
			dy1, dy2 := -math.Sin(t), e*(2*c-n/2)
			d[0] = -math.Cos(t) + 3*(dy1*y2(t)+y1(t)*dy2)
			d[1] = e*(-4*n-c-(2*c-n/2)/2) - 2*y1(t)*dy1 + 2*dy2
			d[2] = 0
		}
	}
	return s
}

// forcedAt is its solution, forcedIntegral the integral, by Simpson's rule on
// 20,000 intervals.
func forcedAt(t float64) [2]float64 {
	return [2]float64{math.Cos(t), math.Exp(-t/2)*math.Sin(2*t) + 2}
}

func forcedIntegral(t float64) float64 {
	q, h := 0.0, t/20000
	for i := range 20000 {
		for p, w := range []float64{1, 4, 1} {
			y := forcedAt((float64(i) + float64(p)/2) * h)
			q += w * y[0] * y[1] * h / 6
		}
	}
	return q
}

// fixed makes steps of one length only.
func fixed(h float64, m *Method) Options {
	return Options{Relative: []float64{0}, Absolute: []float64{math.Inf(1)}, Largest: h, Method: m}
}

// The error at the end falls as the step to the power of the order, of states and
// of the integral, with derivatives given and differenced; and within steps as the
// power of one less.
func TestObservedOrder(t *testing.T) {
	const end = 2.0
	states := forcedAt(end)
	want := [3]float64{states[0], states[1], forcedIntegral(end)}
	for _, m := range methods {
		for _, given := range []bool{true, false} {
			error := func(n int) (atEnd, within [3]float64) {
				h := end / float64(n)
				s, err := New(forced(given, given), fixed(h, m))
				if err != nil {
					t.Fatal(err)
				}
				y := []float64{1, 2, 0}
				result, err := s.Solve(y, Run{To: end, First: h, Observe: func(p *Step) {
					mid := p.From + 0.37*(p.To-p.From)
					for i := range 2 {
						within[i] = max(within[i], math.Abs(p.At(mid, i)-forcedAt(mid)[i]))
					}
				}})
				if err != nil || result.Statistics.Steps < n || result.Statistics.Steps > n+1 {
					t.Fatalf("%d steps, want %d: %v", result.Statistics.Steps, n, err)
				}
				for i := range 3 {
					atEnd[i] = math.Abs(y[i] - want[i])
				}
				return atEnd, within
			}
			const n = 48
			coarse, coarseWithin := error(n)
			fine, fineWithin := error(2 * n)
			for i := range 3 {
				if p := math.Log2(coarse[i] / fine[i]); p < float64(m.Order)-0.35 || p > float64(m.Order)+1.5 {
					t.Errorf("%s, derivatives given %v, component %d: order %.2f, errors %.2g, %.2g", m.Name, given, i, p, coarse[i], fine[i])
				}
				if i < 2 {
					if p := math.Log2(coarseWithin[i] / fineWithin[i]); p < float64(m.Order)-0.5 {
						t.Errorf("%s, component %d: order %.2f within steps", m.Name, i, p)
					}
				}
			}
		}
	}
}

// A wrong Jacobian of an integral, or a wrong time derivative, costs the order: the
// test above would notice.
func TestWrongDerivativesCostTheOrder(t *testing.T) {
	spoil := map[string]func(*System){
		"integral": func(s *System) {
			good := s.Jacobian
			s.Jacobian = func(t float64, y, j []float64) { good(t, y, j); j[2], j[5] = 0, 0 }
		},
		"time": func(s *System) { s.Autonomous = true },
	}
	want := forcedIntegral(2)
	for name, change := range spoil {
		var errors [2]float64
		for q, n := range []int{24, 48} {
			system := forced(true, true)
			change(&system)
			s, err := New(system, fixed(2/float64(n), &Rodas))
			if err != nil {
				t.Fatal(err)
			}
			y := []float64{1, 2, 0}
			if _, err := s.Solve(y, Run{To: 2, First: 2 / float64(n)}); err != nil {
				t.Fatal(err)
			}
			errors[q] = math.Abs(y[2] - want)
		}
		if p := math.Log2(errors[0] / errors[1]); p > 3 {
			t.Errorf("%s: order %.2f", name, p)
		}
	}
}

// The stiff problems, at tolerances from 1e-3 to 1e-9: the error at the end stays
// within a few tolerances, and falls with the tolerance.
func TestToleranceIsHonoured(t *testing.T) {
	within := map[string]float64{ // tolerances the error may reach
		"Robertson": 1, "van der Pol": 1, "HIRES": 1, "OREGO": 6, "ring modulator": 40, "medical Akzo Nobel": 1,
	}
	for _, p := range problems() {
		least := 1e-9
		if p.system.Jacobian == nil {
			least = 1e-5 // differences carry no further, and it is long
		}
		if len(p.start) > 100 {
			least = 1e-7
		}
		for _, m := range []*Method{&Rodas, &Rodas5P} {
			t.Run(fmt.Sprint(p.name, " ", m.Name), func(t *testing.T) {
				last := math.Inf(1)
				for tolerance := 1e-3; tolerance > 0.9*least; tolerance /= 100 {
					error, result, err := p.solve(tolerance, m)
					if err != nil {
						t.Fatal(err)
					}
					allowed := within[p.name]*tolerance + p.accuracy
					if error > allowed {
						t.Errorf("at %g: error %.3g, more than %.3g", tolerance, error, allowed)
					}
					if error > last/3 && error > p.accuracy {
						t.Errorf("at %g: error %.3g after %.3g at a tolerance a hundred times larger", tolerance, error, last)
					}
					if result.Time != p.end {
						t.Errorf("ended at %.17g, not at %.17g", result.Time, p.end)
					}
					last = error
				}
			})
		}
	}
}

// Stiff linear problems: the fast part is gone after the first step however long
// it is, and the slow solution is met. y' = −λ (y − cos t) − sin t has y = cos t
// (A. Prothero and A. Robinson, Math. Comp. 28 (1974) 145).
func TestFastPartsVanish(t *testing.T) {
	for _, rate := range []float64{1e3, 1e6, 1e9, 1e12} {
		system := System{
			States: 1, Pattern: dense(1),
			Evaluate:       func(t float64, y, dy []float64) { dy[0] = -rate*(y[0]-math.Cos(t)) - math.Sin(t) },
			Jacobian:       func(_ float64, _, j []float64) { j[0] = -rate },
			TimeDerivative: func(t float64, _, d []float64) { d[0] = -rate*math.Sin(t) - math.Cos(t) },
		}
		s, err := New(system, fixed(0.1, &Rodas))
		if err != nil {
			t.Fatal(err)
		}
		first := math.NaN()
		y := []float64{2} // 1 off the slow solution
		_, err = s.Solve(y, Run{To: 1, First: 0.1, Observe: func(p *Step) {
			if p.From == 0 {
				first = p.At(p.To, 0) - math.Cos(p.To)
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		// R(z) of RODAS falls as 1/|z|; the slow part's own error is below 1e-5.
		if limit := 20/(rate*0.1) + 1e-5; math.Abs(first) > limit {
			t.Errorf("rate %g: %g left after one step, more than %g", rate, first, limit)
		}
		if off := math.Abs(y[0] - math.Cos(1)); off > 1e-5 {
			t.Errorf("rate %g: %g off at the end", rate, off)
		}
	}
}

// Sums that f keeps are kept to rounding, whatever the tolerance: total mass in
// Robertson's problem, and ∫ v dt against the position in the chain.
func TestLinearInvariantsAreKept(t *testing.T) {
	p := robertson()
	s, err := New(p.system, Options{Relative: []float64{1e-2}, Absolute: []float64{1e-8}})
	if err != nil {
		t.Fatal(err)
	}
	y := []float64{1, 0, 0}
	if _, err := s.Solve(y, Run{To: 1e5}); err != nil {
		t.Fatal(err)
	}
	if off := y[0] + y[1] + y[2] - 1; math.Abs(off) > 1e-13 {
		t.Errorf("total mass is off by %g", off)
	}
	c := newChain(3, true)
	s, err = New(c.system(), c.options(1e-3))
	if err != nil {
		t.Fatal(err)
	}
	y = c.start()
	before := y[1+place]
	if _, err := c.run(s, y, nil); err != nil {
		t.Fatal(err)
	}
	for b := range c.branches {
		moved, path := y[1+b*variables+place]-before, y[c.states()+2+2*b]
		if math.Abs(moved-path) > 1e-13 {
			t.Errorf("branch %d moved %g, its path is %g off", b, moved, path-moved)
		}
	}
}

// The chain of three branches against CVODE of SUNDIALS 6.4.1 (BDF, sparse LU by
// KLU) on the same equations written anew in C, at a relative tolerance of 1e-10;
// from 1e-9 its values change by 1e-6 of themselves at most.
func TestChainAgainstOtherSolver(t *testing.T) {
	type state struct{ line0, line1, chamber1, place0, place2, heat0 float64 }
	want := map[float64]state{
		0.203: {11134138.26, 11133069.37, 1180169.158, 0.03502439266, 0.001661516843, 298.7378488},
		0.453: {8618793.031, 8119736.369, 8117757.645, 0.06001912093, 0.02038631088, 302.8252523},
		1.093: {18953814.34, 18953837.80, 18953860.67, 0.02881764023, 0.06005018457, 303.0637334},
		1.993: {18952616.69, 18952616.69, 100000, -2.999831259e-06, -2.999831259e-06, 303.0101207},
		3.803: {18935981.04, 18935177.76, 18931465.32, 0.06005011901, 0.0600501154, 311.8897784},
	}
	at := []float64{0.203, 0.453, 1.093, 1.993, 3.803}
	for _, c := range []struct {
		relative              float64
		method                *Method
		given                 bool
		pressure, place, heat float64 // relative; m; K
	}{
		{1e-4, &Rodas, true, 2e-3, 2e-5, 1e-2}, {1e-4, &Rodas5P, true, 2e-3, 2e-5, 1e-2},
		{1e-4, &Rodas, false, 2e-3, 2e-5, 1e-2}, {1e-7, &Rodas5P, true, 5e-6, 2e-8, 1e-5},
	} {
		chain := newChain(3, false)
		system := chain.system()
		if !c.given {
			system.Jacobian = nil
		}
		options := chain.options(c.relative)
		options.Method = c.method
		next := 0
		v := make([]float64, chain.states())
		_, err := chain.run(mustNew(t, system, options), chain.start(), func(p *Step) {
			for ; next < len(at) && at[next] <= p.To; next++ {
				p.Values(at[next], v)
				w, b1, b2 := want[at[next]], v[1+variables:], v[1+2*variables:]
				for _, d := range []struct {
					name            string
					got, want, most float64
				}{
					{"line 0", v[1+line], w.line0, c.pressure * w.line0}, {"line 1", b1[line], w.line1, c.pressure * w.line1},
					{"chamber 1", b1[chamber], w.chamber1, c.pressure * w.chamber1},
					{"place 0", v[1+place], w.place0, c.place}, {"place 2", b2[place], w.place2, c.place},
					{"heat 0", v[1+heat], w.heat0, c.heat},
				} {
					if !(math.Abs(d.got-d.want) <= d.most) {
						t.Errorf("%s at %g, Jacobian given %v, t = %g: %s %.9g, want %.9g", c.method.Name, c.relative, c.given, at[next], d.name, d.got, d.want)
					}
				}
			}
		})
		if err != nil || next != len(at) {
			t.Errorf("%d of %d times met: %v", next, len(at), err)
		}
	}
}
