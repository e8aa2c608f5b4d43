package integrate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// wave is y = (sin t, cos t).
func wave(events ...Event) System {
	return System{
		States: 2, Autonomous: true, Pattern: dense(2), Events: events,
		Evaluate: func(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -y[0] },
		Jacobian: func(_ float64, _, j []float64) { copy(j, []float64{0, -1, 1, 0}) },
	}
}

func above(i int, level float64) func(float64, []float64) float64 {
	return func(_ float64, y []float64) float64 { return y[i] - level }
}

func near(t *testing.T, what string, got, want []float64, tolerance float64) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s at %v, want %v", what, got, want)
		return
	}
	for i := range got {
		if !(math.Abs(got[i]-want[i]) <= tolerance) {
			t.Errorf("%s %d at %.12g, want %.12g", what, i, got[i], want[i])
		}
	}
}

// Zeros of the sine: noted, acted on, with a long step and with short ones, by
// direction. The start, where the sine is zero, is no event.
func TestZerosOfTheSine(t *testing.T) {
	for _, largest := range []float64{0.3, 0.01, math.Pi / 8} {
		for _, acts := range []bool{false, true} {
			for _, direction := range []Direction{Either, Rising, Falling} {
				var times []float64
				e := Event{Value: above(0, 0), Direction: direction}
				if acts {
					e.Act = func(at float64, y []float64) After {
						times = append(times, at)
						if math.Abs(y[0]) > 1e-8 {
							t.Errorf("acted at a sine of %g", y[0])
						}
						return GoOn
					}
				} else {
					e.Note = func(at float64, _ []float64) { times = append(times, at) }
				}
				options := tight()
				options.Largest = largest
				result, err := mustNew(t, wave(e), options).Solve([]float64{0, 1}, Run{To: 13})
				if err != nil {
					t.Fatal(err)
				}
				var want []float64
				for k := 1; k <= 4; k++ {
					if rises := k%2 == 0; direction == Either || rises == (direction == Rising) {
						want = append(want, float64(k)*math.Pi)
					}
				}
				near(t, fmt.Sprintf("acts %v, direction %d, steps to %.2g: zero", acts, direction, largest), times, want, 3e-8)
				if result.Statistics.Events != len(want) {
					t.Errorf("%d events counted, want %d", result.Statistics.Events, len(want))
				}
			}
		}
	}
}

// bouncing is a ball from 1 m with a coefficient of restitution of 0.9. Times of
// impact: t₁ = √(2/g), then 2·0.9ᵏ t₁ from one to the next.
func TestBouncingBall(t *testing.T) {
	const g, restitution = 9.81, 0.9
	var impacts []float64
	system := System{
		States: 2, Autonomous: true, Pattern: NewPattern(2, []Place{{0, 1}}),
		Evaluate: func(_ float64, y, dy []float64) { dy[0], dy[1] = y[1], -g },
		Jacobian: func(_ float64, _, j []float64) { j[0] = 1 },
		Events: []Event{{Value: above(0, 0), Act: func(at float64, y []float64) After {
			impacts = append(impacts, at)
			y[0], y[1] = 0, -restitution*y[1]
			return Restart
		}}},
	}
	for _, options := range []Options{tight(), {Relative: []float64{1e-3}, Absolute: []float64{1e-3}}} {
		impacts = nil
		y := []float64{1, 0}
		result, err := mustNew(t, system, options).Solve(y, Run{To: 3.5})
		if err != nil {
			t.Fatal(err)
		}
		var want []float64
		first := math.Sqrt(2 / g)
		for at, flight := first, 2*restitution*first; at < 3.5; flight *= restitution {
			want = append(want, at)
			at += flight
		}
		// A parabola is met exactly; what is left is the accuracy asked of the times.
		near(t, "impact", impacts, want, 5e-8)
		if n := result.Statistics; n.Restarts != len(want)+1 || n.Steps > 12*len(want) {
			t.Errorf("%d restarts, %d steps for %d impacts", n.Restarts, n.Steps, len(want))
		}
	}
}

// Several events within a step, in order of time; equal times in order of number;
// and what lies behind an end is not told.
func TestEventsInOrder(t *testing.T) {
	type told struct {
		event int
		at    float64
	}
	var list []told
	note := func(i int) func(float64, []float64) {
		return func(at float64, _ []float64) { list = append(list, told{i, at}) }
	}
	stop := func(float64, []float64) After { return Stop }
	system := System{ // y = t
		States: 1, Autonomous: true, Pattern: NewPattern(1, nil),
		Evaluate: func(_ float64, _, dy []float64) { dy[0] = 1 },
		Jacobian: func(float64, []float64, []float64) {},
		Events: []Event{
			{Value: above(0, 0.7), Note: note(0)}, {Value: above(0, 0.2), Note: note(1)},
			{Value: above(0, 0.5), Note: note(2)}, {Value: above(0, 0.5), Note: note(3)},
			{Value: above(0, 0.6), Note: note(4), Act: stop},
			{Value: above(0, 0.6), Note: note(5), Act: stop},
			{Value: above(0, 0.605), Note: note(6)},
		},
	}
	y := []float64{0}
	result, err := mustNew(t, system, tight()).Solve(y, Run{To: 1, First: 1})
	if err != nil {
		t.Fatal(err)
	}
	var events []int
	var times []float64
	for _, l := range list {
		events, times = append(events, l.event), append(times, l.at)
	}
	if !slices.Equal(events, []int{1, 2, 3, 4, 5}) {
		t.Errorf("events %v", events)
	}
	near(t, "event", times, []float64{0.2, 0.5, 0.5, 0.6, 0.6}, 1e-9)
	if result.Event != 4 || math.Abs(result.Time-0.6) > 1e-9 || math.Abs(y[0]-result.Time) > 1e-15 {
		t.Errorf("event %d ended it at %.12g, y = %.12g", result.Event, result.Time, y[0])
	}
}

// Events that happen at the same time to within the tolerance are all told, also
// where one that is late by it would be located behind the end of the step.
func TestEventLocatedLate(t *testing.T) {
	var noted, acted []float64
	cubic := func(_ float64, y []float64) float64 { return math.Pow(y[0]-0.5999, 3) }
	system := System{
		States: 1, Autonomous: true, Pattern: NewPattern(1, nil),
		Evaluate: func(_ float64, _, dy []float64) { dy[0] = 1 },
		Jacobian: func(float64, []float64, []float64) {},
		Events: []Event{
			{Value: cubic, Note: func(at float64, _ []float64) { noted = append(noted, at) }},
			{Value: above(0, 0.6), Act: func(at float64, _ []float64) After { acted = append(acted, at); return Restart }},
		},
	}
	options := tight()
	options.EventTime = 5e-3
	if _, err := mustNew(t, system, options).Solve([]float64{0}, Run{To: 1, First: 1}); err != nil {
		t.Fatal(err)
	}
	near(t, "acted", acted, []float64{0.6}, 5e-3)
	near(t, "noted", noted, []float64{0.5999}, 5e-3)
}

// Two crossings within one step are found: a parabola that dips below zero, in the
// middle of the step and off it.
func TestPairWithinAStep(t *testing.T) {
	for _, low := range []float64{0.6, 0.4, 0.85} {
		for _, half := range []float64{0.05, 0.14, 0.3} {
			var noted, acted []float64
			system := System{ // y = (t − low)²
				States: 1, Pattern: NewPattern(1, nil),
				Evaluate:       func(t float64, _, dy []float64) { dy[0] = 2 * (t - low) },
				Jacobian:       func(float64, []float64, []float64) {},
				TimeDerivative: func(_ float64, _, d []float64) { d[0] = 2 },
				Events: []Event{
					{Value: above(0, half*half), Note: func(at float64, _ []float64) { noted = append(noted, at) }},
					{Value: above(0, half*half/4), Act: func(at float64, _ []float64) After { acted = append(acted, at); return GoOn }},
				},
			}
			if _, err := mustNew(t, system, tight()).Solve([]float64{low * low}, Run{To: 1.2, First: 1.2}); err != nil {
				t.Fatal(err)
			}
			near(t, "noted", noted, []float64{low - half, low + half}, 1e-8)
			near(t, "acted", acted, []float64{low - half/2, low + half/2}, 1e-8)
		}
	}
}

// An event at the very end of a step or at a break is told once and not missed:
// y = t, levels at multiples of the step.
func TestEventsAtStepEnds(t *testing.T) {
	for _, acts := range []bool{false, true} {
		var times []float64
		system := System{
			States: 1, Autonomous: true, Pattern: NewPattern(1, nil),
			Evaluate: func(_ float64, _, dy []float64) { dy[0] = 1 },
			Jacobian: func(float64, []float64, []float64) {},
		}
		var want []float64
		for k := 1; k <= 16; k++ {
			e := Event{Value: above(0, float64(k)/16)}
			if acts {
				e.Act = func(at float64, _ []float64) After { times = append(times, at); return Restart }
			} else {
				e.Note = func(at float64, _ []float64) { times = append(times, at) }
			}
			system.Events = append(system.Events, e)
			want = append(want, float64(k)/16)
		}
		options := tight()
		options.Largest = 1.0 / 16
		if _, err := mustNew(t, system, options).Solve([]float64{0}, Run{To: 1 + 1e-9, First: 1.0 / 16, Breaks: []float64{0.5}}); err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("acts %v: level", acts), times, want, 1e-9)
	}
}

// A mass that falls on a stop, x” = −x, below zero −10⁴ x: f bends at zero. With
// cuts no step has the bend in its middle, the result is better, and it costs
// little. Energy is kept: after the rebound and half a swing x is 1 again.
func TestKinksAreCut(t *testing.T) {
	const stiff = 1e4
	system := System{
		States: 2, Autonomous: true, Pattern: NewPattern(2, []Place{{0, 1}, {1, 0}}),
		Evaluate: func(_ float64, y, dy []float64) {
			dy[0], dy[1] = y[1], -y[0]
			if y[0] < 0 {
				dy[1] = -stiff * y[0]
			}
		},
		Jacobian: func(_ float64, y, j []float64) {
			j[0], j[1] = -1, 1 // by columns: of the speed's equation, of the position's
			if y[0] < 0 {
				j[0] = -stiff
			}
		},
	}
	bends := 0 // in the middle of a step
	observe := func(p *Step) {
		edge := 0.06 * (p.To - p.From)
		if (p.At(p.From+edge, 0) < 0) != (p.At(p.To-edge, 0) < 0) {
			bends++
		}
	}
	var worst, evaluations [2]float64
	var cuts, told int
	for q, events := range [][]Event{nil, {{Value: above(0, 0), Kink: true}}} {
		system.Events, bends = events, 0
		for i := range 20 {
			tolerance := 1e-3 * (1 + 0.05*float64(i))
			y := []float64{1, 0}
			s := mustNew(t, system, Options{Relative: []float64{tolerance}, Absolute: []float64{tolerance / 1e4, tolerance / 100}})
			result, err := s.Solve(y, Run{To: math.Pi + math.Pi/100, Observe: observe})
			if err != nil {
				t.Fatal(err)
			}
			worst[q] = max(worst[q], math.Hypot(y[0]-1, y[1])/tolerance)
			evaluations[q] += float64(result.Statistics.Evaluations)
			cuts += result.Statistics.CutAtEvent
			told += result.Statistics.Events
		}
	}
	if bends > 0 || told > 0 || cuts < 20 {
		t.Errorf("%d bends in the middle of steps, %d events told, %d cuts", bends, told, cuts)
	}
	if worst[1] > 1 || worst[0] < 1.5*worst[1] || evaluations[1] > 1.1*evaluations[0] {
		t.Errorf("off by %.2f tolerances with cuts, %.2f without; %.0f and %.0f evaluations", worst[1], worst[0], evaluations[1], evaluations[0])
	}
}

// A kink that is noted in one direction only is cut in both.
func TestKinkNotedOneWay(t *testing.T) {
	var times []float64
	e := Event{Value: above(0, 0), Kink: true, Direction: Falling, Note: func(at float64, _ []float64) { times = append(times, at) }}
	result, err := mustNew(t, wave(e), tight()).Solve([]float64{0, 1}, Run{To: 13, Observe: func(p *Step) {
		edge := 0.06 * (p.To - p.From)
		if (p.At(p.From+edge, 0) < 0) != (p.At(p.To-edge, 0) < 0) {
			t.Errorf("a step from %g to %g across a kink", p.From, p.To)
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "fall", times, []float64{math.Pi, 3 * math.Pi}, 2e-8)
	if n := result.Statistics; n.Events != 2 || n.CutAtEvent < 2 {
		t.Errorf("%d events, %d cuts", n.Events, n.CutAtEvent)
	}
}

// A value that rests at zero with a little noise: within the band it makes no
// events, and beyond it each once.
func TestBand(t *testing.T) {
	var times []float64
	value := func(t float64, y []float64) float64 { return y[0] - 1e-9*math.Sin(1e3*t) }
	system := decay(func(t float64) float64 { return max(0, t-5) })
	count := func(band float64) (int, Statistics) {
		times = nil
		system.Events = []Event{{Value: value, Band: band, Act: func(at float64, _ []float64) After {
			times = append(times, at)
			return GoOn
		}}}
		result, err := mustNew(t, system, Options{Relative: []float64{1e-6}, Absolute: []float64{1e-6}}).Solve([]float64{0}, Run{To: 6, Breaks: []float64{5}})
		if err != nil {
			t.Fatal(err)
		}
		return len(times), result.Statistics
	}
	if n, _ := count(0); n < 2 {
		t.Errorf("%d events in the noise", n)
	}
	if n, s := count(1e-6); n > 1 || s.CutAtEvent > 2 {
		t.Errorf("%d events with a band at %v", n, times)
	}
}

// None missed, none told twice: levels of the sine, by chance noted or acted on,
// with restarts or without, in steps of any length up to a third of a swing.
func TestEventsAtRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for trial := range 100 {
		var events []Event
		var times, want [][]float64
		for i := range 1 + r.IntN(5) {
			level, direction := 1.9*r.Float64()-0.95, Direction(r.IntN(3))
			e := Event{Value: above(0, level), Direction: direction, Kink: r.IntN(3) == 0}
			tell := func(at float64) { times[i] = append(times[i], at) }
			if after := []After{GoOn, Restart}[r.IntN(2)]; r.IntN(2) == 0 {
				e.Note = func(at float64, _ []float64) { tell(at) }
			} else {
				e.Act = func(at float64, _ []float64) After { tell(at); return after }
			}
			events, times, want = append(events, e), append(times, nil), append(want, nil)
			rise := math.Asin(level)
			for at := rise - 2*math.Pi; at < 20; at += 2 * math.Pi {
				if at > 0 && at < 20 && direction != Falling {
					want[i] = append(want[i], at)
				}
				if fall := at + math.Pi - 2*rise; fall > 0 && fall < 20 && direction != Rising {
					want[i] = append(want[i], fall)
				}
			}
		}
		options := Options{Relative: []float64{1e-6}, Absolute: []float64{1e-6}, Largest: math.Pow(10, -2*r.Float64()) * 2}
		if _, err := mustNew(t, wave(events...), options).Solve([]float64{0, 1}, Run{To: 20}); err != nil {
			t.Fatal(err)
		}
		for i := range want {
			near(t, fmt.Sprintf("trial %d: event %d", trial, i), times[i], want[i], 1e-3)
		}
	}
}

// An act may change the equations: a relay that switches at two levels. y' = ±1
// between 0 and 1: switches at 1, 2, 3, …
func TestRelay(t *testing.T) {
	way := 1.0
	var times []float64
	turn := func(to float64) func(float64, []float64) After {
		return func(at float64, _ []float64) After {
			way = to
			times = append(times, at)
			return Restart
		}
	}
	system := System{
		States: 1, Autonomous: true, Pattern: NewPattern(1, nil),
		Evaluate: func(_ float64, _, dy []float64) { dy[0] = way },
		Jacobian: func(float64, []float64, []float64) {},
		Events: []Event{
			{Value: above(0, 1), Direction: Rising, Act: turn(-1)},
			{Value: above(0, 0), Direction: Falling, Act: turn(1)},
		},
	}
	if _, err := mustNew(t, system, tight()).Solve([]float64{0}, Run{To: 6.5}); err != nil {
		t.Fatal(err)
	}
	near(t, "switch", times, []float64{1, 2, 3, 4, 5, 6}, 1e-7)
}

// The root finder against roots known in closed form, its bracket on the far side.
func TestChangeOfSign(t *testing.T) {
	for _, c := range []struct {
		name string
		g    func(float64) float64
		root float64
	}{
		{"line", func(x float64) float64 { return x - 0.3 }, 0.3},
		{"falling", func(x float64) float64 { return 0.7 - x }, 0.7},
		{"flat", func(x float64) float64 { return math.Pow(x-0.4, 9) }, 0.4},
		{"steep", func(x float64) float64 { return math.Tanh(1e6 * (x - 0.123)) }, 0.123},
		{"step", func(x float64) float64 { return math.Copysign(1, x-0.9) }, 0.9},
		{"near an end", func(x float64) float64 { return x - 1e-9 }, 1e-9},
		{"lopsided", func(x float64) float64 { return math.Exp(30*x) - 2 }, math.Ln2 / 30},
	} {
		for _, tolerance := range []float64{1e-2, 1e-10, 0} {
			calls := 0
			g := func(x float64) float64 { calls++; return c.g(x) }
			got := changeOfSign(g, 0, 1, c.g(0), c.g(1), tolerance)
			if math.Abs(got-c.root) > tolerance+1e-14 || (c.g(got) >= 0) != (c.g(1) >= 0) || calls > 120 {
				t.Errorf("%s to %g: %.17g after %d calls, want %.17g", c.name, tolerance, got, calls, c.root)
			}
		}
	}
}
