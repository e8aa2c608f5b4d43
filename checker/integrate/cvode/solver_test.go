//go:build cvode

package cvode

import (
	"math"
	"testing"

	"headroom/checker/integrate"
)

func mustNew(t *testing.T, system integrate.System, o Options) *Solver {
	t.Helper()
	s, err := New(system, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(s.Close)
	return s
}

// Robertson 1966 at t = 1e11, with the reference of the Test Set for IVP Solvers
// (F. Mazzia and C. Magherini, release 2.4), by every linear solver.
func TestRobertson(t *testing.T) {
	var places []integrate.Place
	for i := range 3 {
		for j := range 3 {
			places = append(places, integrate.Place{Row: i, Column: j})
		}
	}
	system := integrate.System{
		States: 3, Pattern: integrate.NewPattern(3, places),
		Evaluate: func(_ float64, y, dy []float64) {
			dy[0] = -0.04*y[0] + 1e4*y[1]*y[2]
			dy[2] = 3e7 * y[1] * y[1]
			dy[1] = -dy[0] - dy[2]
		},
		Jacobian: func(_ float64, y, j []float64) {
			for i, v := range []float64{
				-0.04, 0.04, 0,
				1e4 * y[2], -1e4*y[2] - 6e7*y[1], 6e7 * y[1],
				1e4 * y[1], -1e4 * y[1], 0,
			} {
				j[i] += v
			}
		},
	}
	want := []float64{0.2083340149701255e-07, 0.8333360770334713e-13, 0.9999999791665050}
	for _, o := range []Options{{Ordering: AMD}, {Ordering: COLAMD}, {Dense: true}, {Order: 3}} {
		o.Relative, o.Absolute = []float64{1e-9, 1e-9, 1e-9}, []float64{1e-17, 1e-23, 1e-15}
		s := mustNew(t, system, o)
		for range 2 {
			y := []float64{1, 0, 0}
			if _, err := s.Solve(y, Run{To: 1e11}); err != nil {
				t.Fatal(err)
			}
			for i, w := range want {
				if !(math.Abs(y[i]-w) <= 1e-6*w) {
					t.Errorf("%+v: y%d is %.12g, want %.12g", o, i+1, y[i], w)
				}
			}
		}
	}
}

// driven is y' = u(t) − y, u straight between breaks, with the integral of y.
type driven struct{ from, value, slope float64 }

func (d *driven) system(events ...integrate.Event) integrate.System {
	return integrate.System{
		States: 1, Integrals: 1, Events: events,
		Pattern: integrate.NewPattern(1, []integrate.Place{{Row: 1, Column: 0}, {Row: 0, Column: 0}}),
		Evaluate: func(t float64, y, dy []float64) {
			dy[0], dy[1] = d.value+d.slope*(t-d.from)-y[0], y[0]
		},
		Jacobian: func(_ float64, _, j []float64) { j[0], j[1] = j[0]-1, j[1]+1 },
	}
}

func tight() Options {
	return Options{Relative: []float64{1e-9, 1e-9}, Absolute: []float64{1e-11, 1e-11}}
}

// A jump of u at 1 asks for a new start, a bend at 2 for none but where wanted; y
// and its integral against the closed form, and samples on, at and between breaks.
func TestBreaks(t *testing.T) {
	for _, always := range []bool{false, true} {
		d := &driven{}
		o := tight()
		o.RestartAtBreaks = always
		s := mustNew(t, d.system(), o)
		exact := func(t float64) float64 {
			switch {
			case t <= 1:
				return 1 - math.Exp(-t)
			case t <= 2:
				return 3 + (1-math.Exp(-1)-3)*math.Exp(1-t)
			}
			at2 := 3 + (1-math.Exp(-1)-3)*math.Exp(-1)
			return 3 + (t - 2) - 1 + (at2-2)*math.Exp(2-t) // y' = 3 + (t−2) − y
		}
		*d = driven{value: 1}
		taken := 0
		y := []float64{0, 0}
		result, err := s.Solve(y, Run{
			To: 3, Breaks: []float64{1, 2},
			AtBreak: func(t float64, _ []float64) { *d = driven{from: t, value: 3, slope: t - 1} },
			Times:   []float64{0, 0.5, 1, 1.5, 2, 2.5, 3},
			Sample: func(at float64, y []float64) {
				taken++
				if math.Abs(y[0]-exact(at)) > 1e-7 {
					t.Errorf("y(%g) is %.10g, want %.10g", at, y[0], exact(at))
				}
			},
		})
		if err != nil || taken != 7 || result.Time != 3 || result.Event != -1 {
			t.Fatalf("%v, %d samples, %+v", err, taken, result)
		}
		// ∫y = ∫u − y, ∫u = 1 + 3 + 3.5.
		if want := 7.5 - exact(3); math.Abs(y[1]-want) > 1e-7 {
			t.Errorf("the integral is %.10g, want %.10g", y[1], want)
		}
		if want := map[bool]int{false: 2, true: 3}[always]; result.Counts.Starts != want {
			t.Errorf("%d starts, want %d", result.Counts.Starts, want)
		}
	}
}

// y = 1 − exp(−t) passes ½ at ln 2, where the event ends the run or restarts it.
func TestEvents(t *testing.T) {
	for _, after := range []integrate.After{integrate.Stop, integrate.Restart, integrate.GoOn} {
		d, at := &driven{value: 1}, math.NaN()
		s := mustNew(t, d.system(integrate.Event{
			Direction: integrate.Rising,
			Value:     func(_ float64, y []float64) float64 { return y[0] - 0.5 },
			Act:       func(t float64, _ []float64) integrate.After { at = t; return after },
		}), tight())
		y := []float64{0, 0}
		result, err := s.Solve(y, Run{To: 2})
		if err != nil || math.Abs(at-math.Ln2) > 1e-7 {
			t.Fatalf("%v, event at %.10g, want %.10g", err, at, math.Ln2)
		}
		if after == integrate.Stop {
			if result.Event != 0 || result.Time != at {
				t.Errorf("ended by %d at %g", result.Event, result.Time)
			}
		} else if result.Time != 2 || math.Abs(y[0]-1+math.Exp(-2)) > 1e-7 {
			t.Errorf("after %d: y(%g) is %.10g", after, result.Time, y[0])
		}
	}
}

// Where f has no value the step is tried again, shorter; where that does not help,
// CVODE says why.
func TestNoValue(t *testing.T) {
	d := &driven{value: 1}
	system := d.system()
	evaluate := system.Evaluate
	system.Evaluate = func(t float64, y, dy []float64) {
		if evaluate(t, y, dy); t > 1 {
			dy[0] = math.NaN()
		}
	}
	if _, err := mustNew(t, system, tight()).Solve([]float64{0, 0}, Run{To: 2}); err == nil {
		t.Error("went on where f has no value")
	}
}
