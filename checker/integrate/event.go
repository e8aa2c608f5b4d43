package integrate

import (
	"cmp"
	"slices"
)

// An Event happens where Value changes its sign; zero counts as positive.
type Event struct {
	Value     func(t float64, y []float64) float64
	Direction Direction

	// Band: the sign counts as changed only once Value is this far beyond zero. For
	// values that rest near zero.
	Band float64

	// Kink: f is continuous but bends where Value changes sign, either way. The step
	// ends there, give or take a few per cent of its length, for the error estimate
	// of a step across the bend says little.
	Kink bool

	// Note is called once the time is located, with the y of that time. It only looks.
	Note func(t float64, y []float64)

	// Act is called likewise, but the step ends there, and it may change y and what
	// the system's functions compute.
	Act func(t float64, y []float64) After
}

// Direction of a change of sign.
type Direction int

const (
	Either Direction = iota
	Rising
	Falling
)

// After an Act the run goes on as before, goes on with another y or f, or ends.
type After int

const (
	GoOn After = iota
	Restart
	Stop
)

// A crossing is an event located in the step just computed: the place, as a
// fraction of the step, just behind the change of sign.
type crossing struct {
	theta float64
	event int
	told  bool // it has the direction asked for; kinks are located either way
}

// A watch keeps what is known of an event at both ends of a step.
type watch struct {
	before, after float64 // values
	up            bool    // the side it is on at the start
	acted         bool    // it happened at the start and y or f was changed
}

const (
	// edge is the fraction of a step at either end in which a kink does no harm, and
	// the last part of a step in which the state at an event may be interpolated.
	edge = 0.05
	// early is where in the next step the side of an event is looked at that just
	// acted: at the start its value is zero but for rounding.
	early = 0.01
	// mostCuts bounds how often a step is taken again for its events.
	mostCuts = 6
)

// armEvents notes on which side each event is at the present time and state.
func (s *Solver) armEvents() {
	for i := range s.watches {
		w := &s.watches[i]
		w.before = s.system.Events[i].Value(s.begin, s.y)
		w.up = w.before >= 0
	}
}

// side tells on which side of an event a value is, seen from the side it was.
func (s *Solver) side(i int, value float64) bool {
	band := s.system.Events[i].Band
	if s.watches[i].up {
		return value >= -band
	}
	return value >= band
}

// valueAt is the value of an event within the present step.
func (s *Solver) valueAt(i int, theta float64) float64 {
	s.interpolate(theta, s.probe)
	return s.system.Events[i].Value(s.t+theta*s.h, s.probe)
}

// findEvents lists the crossings in the step just computed in order of time. Of
// kinks that tell nobody it compares the ends of the step only.
func (s *Solver) findEvents() {
	s.found = s.found[:0]
	halfway := false
	for i := range s.watches {
		w, e := &s.watches[i], &s.system.Events[i]
		w.after = e.Value(s.to, s.z)
		if e.Note == nil && e.Act == nil {
			if s.side(i, w.after) != w.up {
				s.locate(i, 0, 1, w.before, w.after)
			}
			continue
		}
		if !halfway {
			s.interpolate(0.5, s.inner)
			halfway = true
		}
		s.findWithin(i, e.Value(s.t+0.5*s.h, s.inner))
	}
	if len(s.found) < 2 {
		return
	}
	slices.SortFunc(s.found, func(a, b crossing) int {
		return cmp.Or(cmp.Compare(a.theta, b.theta), cmp.Compare(a.event, b.event))
	})
}

// findWithin lists the crossings of one event whose value in the middle is known.
func (s *Solver) findWithin(i int, middle float64) {
	w, start := &s.watches[i], 0.0
	before := w.before
	if w.acted {
		start = early
		before = s.valueAt(i, start)
		w.up = before >= 0
	}
	atMiddle, atEnd := s.side(i, middle), s.side(i, w.after)
	if atMiddle != w.up {
		s.locate(i, start, 0.5, before, middle)
	}
	if atEnd != atMiddle {
		s.locate(i, 0.5, 1, middle, w.after)
	}
	if atMiddle == w.up && atEnd == w.up {
		s.findPair(i, start, before, middle, w.after)
	}
}

// findPair looks for two crossings of one event within a step: where the parabola
// through its values at start, middle and end has its extreme beyond zero.
func (s *Solver) findPair(i int, start, v0, middle, v1 float64) {
	bend := v0 - 2*middle + v1
	at := 0.5 + 0.25*(v0-v1)/bend
	if !(at > start && at < 1) || s.side(i, middle-(v1-v0)*(v1-v0)/(8*bend)) == s.watches[i].up {
		return
	}
	if v := s.valueAt(i, at); s.side(i, v) != s.watches[i].up {
		s.locate(i, start, at, v0, v)
		s.locate(i, at, 1, v, v1)
	}
}

// locate finds the crossing between two places of the step on different sides,
// and lists it where the event asks for it.
func (s *Solver) locate(i int, a, b, va, vb float64) {
	e := &s.system.Events[i]
	told := e.Direction == Either || (e.Direction == Rising) == (vb > va)
	if !told && !e.Kink {
		return
	}
	tolerance := s.eventTime / s.h
	if e.Act == nil && e.Note == nil {
		tolerance = edge / 10
	}
	offset := e.Band
	if !s.watches[i].up {
		offset = -offset
	}
	value := func(x float64) float64 { return s.valueAt(i, x) + offset }
	theta := changeOfSign(value, a, b, va+offset, vb+offset, tolerance)
	s.found = append(s.found, crossing{theta, i, told})
}

// changeOfSign narrows a change of sign of g between a and b to the tolerance and
// returns the end of the bracket behind it. Regula falsi with the Illinois rule,
// and bisection where that falls behind. Source: G. Dahlquist and Å. Björck,
// Numerical Methods in Scientific Computing I, 2008, section 6.2.2.
func changeOfSign(g func(float64) float64, a, b, ga, gb, tolerance float64) float64 {
	up, kept, width := gb >= 0, 0, b-a
	for n := 1; b-a > tolerance; n++ {
		x := b - gb*(b-a)/(gb-ga)
		if b-a > width || !(x > a && x < b) {
			x = a + (b-a)/2
		}
		if n%3 == 0 {
			width /= 8
		}
		// Half a tolerance off the ends, so that they close in from both sides.
		x = min(max(x, a+tolerance/2), b-tolerance/2)
		if x <= a || x >= b {
			break // no place between
		}
		gx := g(x)
		if (gx >= 0) == up {
			if b, gb = x, gx; kept < 0 {
				ga /= 2
			}
			kept = -1
		} else {
			if a, ga = x, gx; kept > 0 {
				gb /= 2
			}
			kept = 1
		}
	}
	return b
}
