package integrate

import (
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
)

// decay is y' = −y + forcing(t).
func decay(forcing func(t float64) float64) System {
	return System{
		States: 1, Pattern: dense(1),
		Evaluate: func(t float64, y, dy []float64) { dy[0] = -y[0] + forcing(t) },
		Jacobian: func(_ float64, _, j []float64) { j[0] = -1 },
	}
}

func tight() Options { return Options{Relative: []float64{1e-9}, Absolute: []float64{1e-11}} }

func mustNew(t *testing.T, system System, options Options) *Solver {
	t.Helper()
	s, err := New(system, options)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Steps meet end to end, break times and the end are met to the bit, and no step is
// much shorter than the one before only to land.
func TestStepsLandOnBreaks(t *testing.T) {
	breaks := []float64{-1, 0, 0.1, 0.1 + 1e-9, 1.0 / 3, 2.7, 2.7, 5, 7}
	ends := map[float64]bool{}
	s := mustNew(t, decay(func(float64) float64 { return 0 }), tight())
	at, last := 0.0, 0.0
	var called []float64
	y := []float64{1}
	result, err := s.Solve(y, Run{To: 5, Breaks: breaks, AtBreak: func(t float64, _ []float64) { called = append(called, t) },
		Observe: func(p *Step) {
			if p.From != at || p.To <= p.From {
				t.Errorf("step from %.17g to %.17g after one to %.17g", p.From, p.To, at)
			}
			at, last = p.To, p.To-p.From
			ends[p.To] = true
		}})
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range breaks[2:8] {
		if !ends[b] {
			t.Errorf("no step ended at %.17g", b)
		}
	}
	if want := []float64{0.1, 0.1 + 1e-9, 1.0 / 3, 2.7}; !slices.Equal(called, want) {
		t.Errorf("breaks at %v, want %v", called, want)
	}
	if result.Time != 5 || result.Event != -1 || at != 5 || last < 1e-4 {
		t.Errorf("ended at %.17g with a step of %g, event %d", result.Time, last, result.Event)
	}
	if off := math.Abs(y[0] - math.Exp(-5)); off > 1e-10 {
		t.Errorf("off by %g", off)
	}
}

// A jump of f at a break, whichever value f takes at the break itself: y' = −y,
// then y' = −y + 1. Solution: 1 + (e^−1 − 1) e^−(t−1) after t = 1.
func TestJumpAtBreak(t *testing.T) {
	want := 1 + (math.Exp(-1)-1)*math.Exp(-1)
	for name, forcing := range map[string]func(float64) float64{
		"old value at the break": func(t float64) float64 {
			if t > 1 {
				return 1
			}
			return 0
		},
		"new value at the break": func(t float64) float64 {
			if t >= 1 {
				return 1
			}
			return 0
		},
	} {
		s := mustNew(t, decay(forcing), tight())
		y := []float64{1}
		result, err := s.Solve(y, Run{To: 2, Breaks: []float64{1}})
		if err != nil || math.Abs(y[0]-want) > 1e-9 || result.Statistics.Rejections() > 2 {
			t.Errorf("%s: off by %g, %d rejections, %v", name, y[0]-want, result.Statistics.Rejections(), err)
		}
	}
}

// Breaks an ulp apart, with f that depends on time and no derivative of it.
func TestBreaksAnUlpApart(t *testing.T) {
	at := 0.1
	next := math.Nextafter(at, 1)
	s := mustNew(t, decay(math.Sin), tight())
	y := []float64{0}
	_, err := s.Solve(y, Run{To: 1, Breaks: []float64{at, next, math.Nextafter(next, 1)}})
	want := (math.Sin(1) - math.Cos(1) + math.Exp(-1)) / 2
	if err != nil || math.Abs(y[0]-want) > 1e-9 {
		t.Errorf("off by %g, %v", y[0]-want, err)
	}
}

// A break may change the state and the equations.
func TestBreakChangesStateAndEquations(t *testing.T) {
	force := 0.0
	s := mustNew(t, decay(func(float64) float64 { return force }), tight())
	y := []float64{1}
	_, err := s.Solve(y, Run{To: 2, Breaks: []float64{1}, AtBreak: func(_ float64, y []float64) { force, y[0] = 3, 0 }})
	if want := 3 * (1 - math.Exp(-1)); err != nil || math.Abs(y[0]-want) > 1e-9 {
		t.Errorf("off by %g, %v", y[0]-want, err)
	}
}

// The interpolation within steps, by components and all at once, and turning points.
func TestInterpolation(t *testing.T) {
	system := System{
		States: 2, Autonomous: true, Pattern: dense(2),
		Evaluate: func(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -y[0] },
		Jacobian: func(_ float64, _, j []float64) { copy(j, []float64{0, -1, 1, 0}) },
	}
	for _, m := range methods {
		options := tight()
		options.Method = m
		s := mustNew(t, system, options)
		var turns []float64
		all := make([]float64, 2)
		_, err := s.Solve([]float64{0, 1}, Run{To: 7, Observe: func(p *Step) {
			for _, f := range []float64{0, 0.3, 0.8, 1} {
				at := p.From + f*(p.To-p.From)
				p.Values(at, all)
				for i, want := range []float64{math.Sin(at), math.Cos(at)} {
					if v := p.At(at, i); math.Abs(v-want) > 2e-8 || math.Abs(v-all[i]) > 1e-15 {
						t.Errorf("%s: component %d at %g is %.12g, %.12g, want %.12g", m.Name, i, at, v, all[i], want)
					}
				}
			}
			if at, v, ok := p.Turn(0); ok {
				turns = append(turns, at)
				if math.Abs(math.Abs(v)-1) > 1e-8 {
					t.Errorf("%s: turns at %.12g", m.Name, v)
				}
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		if len(turns) != 2 || math.Abs(turns[0]-math.Pi/2) > 1e-6 || math.Abs(turns[1]-1.5*math.Pi) > 1e-6 {
			t.Errorf("%s: turns at %v", m.Name, turns)
		}
	}
}

// f that is not finite beyond a limit: steps that overshoot are halved, and the
// solution, which stays clear of it, is met. y' = −√y⁻ … here f is NaN below 0.1.
func TestValuesThatAreNotFinite(t *testing.T) {
	system := System{
		States: 1, Autonomous: true, Pattern: dense(1),
		Evaluate: func(_ float64, y, dy []float64) {
			dy[0] = -100 * (y[0] - 0.11) * math.Sqrt(y[0]-0.1) / math.Sqrt(y[0]-0.1)
		},
		Jacobian: func(_ float64, _, j []float64) { j[0] = 50 }, // wrong, to make stages overshoot
	}
	s := mustNew(t, system, Options{Relative: []float64{1e-3}, Absolute: []float64{1e-3}})
	y := []float64{1}
	result, err := s.Solve(y, Run{To: 1, First: 0.5})
	if err != nil || math.Abs(y[0]-0.11) > 1e-3 || result.Statistics.NotFinite == 0 {
		t.Errorf("y = %g, %d attempts not finite, %v", y[0], result.Statistics.NotFinite, err)
	}
}

// One evaluation that fails, whichever: the step is tried again and nothing else
// comes of it.
func TestOneValueNotFinite(t *testing.T) {
	for fails := 2; fails < 40; fails++ {
		calls := 0
		system := decay(func(float64) float64 { return 0 })
		good := system.Evaluate
		system.Autonomous = true
		system.Evaluate = func(t float64, y, dy []float64) {
			good(t, y, dy)
			if calls++; calls == fails {
				dy[0] = math.Inf(1)
			}
		}
		y := []float64{1}
		result, err := mustNew(t, system, tight()).Solve(y, Run{To: 1})
		if err != nil || result.Statistics.NotFinite != 1 || math.Abs(y[0]-math.Exp(-1)) > 1e-9 {
			t.Errorf("call %d: y = %.12g, %d attempts not finite, %v", fails, y[0], result.Statistics.NotFinite, err)
		}
	}
}

// A matrix that is singular for the length of step tried: y' = 4y, h γ = 1/4.
func TestSingularStep(t *testing.T) {
	system := System{
		States: 1, Autonomous: true, Pattern: dense(1),
		Evaluate: func(_ float64, y, dy []float64) { dy[0] = 4 * y[0] },
		Jacobian: func(_ float64, _, j []float64) { j[0] = 4 },
	}
	y := []float64{1}
	result, err := mustNew(t, system, tight()).Solve(y, Run{To: 2, First: 1})
	if err != nil || result.Statistics.Singular != 1 || math.Abs(y[0]*math.Exp(-8)-1) > 1e-7 {
		t.Errorf("y = %g, %d singular, %v", y[0], result.Statistics.Singular, err)
	}
}

// A system at rest at zero, without scale: steps and differences still make sense.
func TestRest(t *testing.T) {
	system := decay(func(float64) float64 { return 0 })
	system.Jacobian = nil
	y := []float64{0}
	result, err := mustNew(t, system, Options{Relative: []float64{1e-3}, Absolute: []float64{math.Inf(1)}}).Solve(y, Run{To: 1})
	if err != nil || y[0] != 0 || result.Statistics.Steps > 10 {
		t.Errorf("y = %g after %d steps, %v", y[0], result.Statistics.Steps, err)
	}
}

// The Jacobian is asked for at the time and state of the evaluation before, so that
// what both need is computed once.
func TestJacobianFollowsEvaluation(t *testing.T) {
	c := newChain(2, false)
	system := c.system()
	at, state := math.NaN(), make([]float64, c.states())
	system.Evaluate = func(t float64, y, dy []float64) {
		at = t
		copy(state, y)
		c.evaluate(t, y, dy)
	}
	system.Jacobian = func(time float64, y, j []float64) {
		if time != at || !slices.Equal(y, state) {
			t.Errorf("Jacobian at %.17g after an evaluation at %.17g", time, at)
		}
		c.jacobian(time, y, j)
	}
	system.Events = append(system.Events, Event{Value: above(1+place, stroke/2), Act: func(float64, []float64) After { return GoOn }})
	if _, err := c.run(mustNew(t, system, c.options(1e-3)), c.start(), nil); err != nil {
		t.Fatal(err)
	}
}

// What ends a run before its time, and what is told of it.
func TestFailures(t *testing.T) {
	square := System{ // y' = y², y = 1/(1 − t): no solution past t = 1
		States: 2, Autonomous: true, Pattern: NewPattern(2, []Place{{0, 0}, {1, 1}}),
		Evaluate: func(_ float64, y, dy []float64) { dy[0], dy[1] = -y[0], y[1]*y[1] },
		Jacobian: func(_ float64, y, j []float64) { j[0], j[1] = -1, 2*y[1] },
	}
	late := System{
		States: 2, Pattern: NewPattern(2, []Place{{0, 0}, {1, 1}}),
		Evaluate: func(t float64, y, dy []float64) { dy[0], dy[1] = -y[0], math.Sqrt(0.5-t) },
		Jacobian: func(_ float64, _, j []float64) { j[0] = -1 },
	}
	never := late
	never.Evaluate = func(_ float64, y, dy []float64) { dy[0], dy[1] = y[0], math.Inf(1) }
	badRate := late
	badRate.TimeDerivative = func(_ float64, _, d []float64) { d[1] = math.Inf(-1) }
	badJacobian := square
	badJacobian.Jacobian = func(_ float64, _, j []float64) { j[0] = math.NaN() }
	few := tight()
	few.Steps = 20
	coarse := Options{Relative: []float64{1e-3}, Absolute: []float64{1e-3}, Smallest: 1e-3}
	for _, c := range []struct {
		name      string
		system    System
		options   Options
		reason    Reason
		from, to  float64 // between which it ended
		component int
	}{
		{"blows up", square, tight(), StepTooSmall, 0.999, 1.001, 1},
		{"budget", square, few, OutOfSteps, 1e-3, 1, 1},
		{"smallest step", square, coarse, StepTooSmall, 0.9, 1, 1},
		{"not finite from some time on", late, tight(), ValueNotFinite, 0.499999, 0.5, 1},
		{"never finite", never, tight(), ValueNotFinite, 0, 0, 1},
		{"Jacobian not finite", badJacobian, tight(), ValueNotFinite, 0, 0, -1},
		{"time derivative not finite", badRate, tight(), ValueNotFinite, 0, 0, 1},
	} {
		s := mustNew(t, c.system, c.options)
		y := []float64{1, 1}
		result, err := s.Solve(y, Run{To: 2})
		var f *Failure
		if !errors.As(err, &f) {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		if f.Reason != c.reason || f.Component != c.component || f.Time < c.from || f.Time > c.to || f.Time != result.Time {
			t.Errorf("%s: %v, component %d, at %.9g", c.name, f.Reason, f.Component, f.Time)
		}
		if f.Statistics != result.Statistics || !strings.Contains(err.Error(), f.Reason.String()) {
			t.Errorf("%s: %v", c.name, err)
		}
		if want := 1 / (1 - f.Time); c.reason == OutOfSteps && math.Abs(y[1]-want) > 1e-6*want {
			t.Errorf("%s: y = %g where it gave up, want %g", c.name, y[1], want)
		}
	}
}

func TestWrongUse(t *testing.T) {
	good := decay(func(float64) float64 { return 0 })
	for name, change := range map[string]func(*System, *Options){
		"no states":          func(s *System, _ *Options) { s.States = 0 },
		"no evaluation":      func(s *System, _ *Options) { s.Evaluate = nil },
		"pattern":            func(s *System, _ *Options) { s.Pattern = dense(2) },
		"event without":      func(s *System, _ *Options) { s.Events = []Event{{}} },
		"no tolerance":       func(_ *System, o *Options) { o.Relative = nil },
		"two tolerances":     func(_ *System, o *Options) { o.Absolute = []float64{1, 1} },
		"negative tolerance": func(_ *System, o *Options) { o.Absolute = []float64{-1} },
		"NaN tolerance":      func(_ *System, o *Options) { o.Relative = []float64{math.NaN()} },
		"zero tolerances":    func(_ *System, o *Options) { o.Relative, o.Absolute = []float64{0}, []float64{0} },
		"infinite relative":  func(_ *System, o *Options) { o.Relative = []float64{math.Inf(1)} },
		"negative step":      func(_ *System, o *Options) { o.Largest = -1 },
		"negative budget":    func(_ *System, o *Options) { o.Steps = -1 },
	} {
		system, options := good, tight()
		change(&system, &options)
		if _, err := New(system, options); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	s := mustNew(t, good, tight())
	for name, run := range map[string]Run{"no time": {}, "backwards": {From: 1}, "without end": {To: math.Inf(1)}, "NaN": {To: math.NaN()}, "negative": {To: 1, First: -1},
		"breaks fall": {To: 1, Breaks: []float64{0.5, 0.2}}, "break NaN": {To: 1, Breaks: []float64{math.NaN()}}} {
		if _, err := s.Solve([]float64{1}, run); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := s.Solve([]float64{1, 2}, Run{To: 1}); err == nil {
		t.Error("two components for one: no error")
	}
}

// The same run gives the same bits: again on the same solver, on a new one, and
// on several at a time.
func TestSameBits(t *testing.T) {
	trace := func(c *chain, s *Solver) []float64 {
		var all []float64
		y := c.start()
		if _, err := c.run(s, y, func(p *Step) { all = append(all, p.To, p.At((p.From+p.To)/2, 3)) }); err != nil {
			t.Error(err)
		}
		return append(all, y...)
	}
	c := newChain(4, true)
	s := mustNew(t, c.system(), c.options(1e-3))
	want := trace(c, s)
	if again := trace(c, s); !slices.Equal(want, again) {
		t.Error("a second run of the same solver differs")
	}
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			c := newChain(4, true)
			s, err := New(c.system(), c.options(1e-3))
			if err != nil || !slices.Equal(want, trace(c, s)) {
				t.Errorf("another solver differs (%v)", err)
			}
		})
	}
	group.Wait()
}

// A run allocates nothing.
func TestNoAllocations(t *testing.T) {
	for _, m := range []*Method{&Rodas, &Rodas5P} {
		for _, given := range []bool{true, false} {
			c := newChain(3, true)
			system := c.system()
			if !given {
				system.Jacobian, system.Autonomous = nil, false
			}
			options := c.options(1e-3)
			options.Method = m
			s := mustNew(t, system, options)
			y, start := make([]float64, len(c.start())), c.start()
			change := c.change
			allocations := testing.AllocsPerRun(2, func() {
				copy(y, start)
				clear(c.command)
				if _, err := s.Solve(y, Run{To: chainEnd, Breaks: chainBreaks, AtBreak: change}); err != nil {
					t.Error(err)
				}
			})
			if allocations > 0 {
				t.Errorf("%s, Jacobian given %v: %g allocations a run", m.Name, given, allocations)
			}
		}
	}
}

// Tolerances are of each component: a loose one does not hold up the others, and
// one that is infinite is left out.
func TestTolerancesByComponent(t *testing.T) {
	system := System{
		States: 1, Integrals: 1, Autonomous: true, Pattern: NewPattern(1, []Place{{0, 0}, {1, 0}}),
		Evaluate: func(_ float64, y, dy []float64) { dy[0], dy[1] = -y[0], 1e6*math.Sin(40*y[0]) },
		Jacobian: func(_ float64, y, j []float64) { j[0], j[1] = -1, 4e7*math.Cos(40*y[0]) },
	}
	steps := func(absolute float64) int {
		s := mustNew(t, system, Options{Relative: []float64{1e-6, 0}, Absolute: []float64{1e-6, absolute}})
		result, err := s.Solve([]float64{1, 0}, Run{To: 3})
		if err != nil {
			t.Fatal(err)
		}
		return result.Statistics.Steps
	}
	alone, loose, strict := steps(math.Inf(1)), steps(1e6), steps(1e-1)
	if loose > alone+2 || strict < 3*alone {
		t.Errorf("%d steps without the integral, %d at a loose tolerance, %d at a strict one", alone, loose, strict)
	}
}

func TestStatisticsAddUp(t *testing.T) {
	c := newChain(3, false)
	s := mustNew(t, c.system(), c.options(1e-3))
	steps := 0
	result, err := c.run(s, c.start(), func(*Step) { steps++ })
	if err != nil {
		t.Fatal(err)
	}
	n := result.Statistics
	if n.Steps != steps || n.Restarts != len(chainBreaks)+1 || n.Jacobians != n.Steps || n.Factorisations != n.Steps+n.Rejections() {
		t.Errorf("%d steps seen, %+v", steps, n)
	}
	// Five stages and the end of each attempt, or fewer where it failed or landed; one a start.
	if most := 6*n.Factorisations + n.Restarts; n.Evaluations > most || n.Evaluations < most-n.Rejections()-n.Restarts {
		t.Errorf("%d evaluations, at most %d: %+v", n.Evaluations, most, n)
	}
}
