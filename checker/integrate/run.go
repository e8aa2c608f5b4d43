package integrate

import (
	"fmt"
	"math"
)

// A Run is one integration.
type Run struct {
	From, To float64

	// Breaks are times in ascending order at which f may jump. Steps end exactly
	// there, and start afresh. Before a break f is evaluated at times before it only,
	// after it at times after it only, if by no more than the least difference of
	// float64, so that f may take either value at the break itself. Breaks not
	// between From and To are passed over.
	Breaks []float64
	// AtBreak is called on arrival at each of them. It may change y and what the
	// system's functions compute.
	AtBreak func(t float64, y []float64)

	// Observe is called after each accepted step.
	Observe func(*Step)

	First float64 // length of the first step; 0: estimated
}

// A Result says how a run ended.
type Result struct {
	Time       float64 // the end asked for, or that of the event
	Event      int     // that ended it, -1 if none
	Statistics Statistics
}

// Solve integrates y from run.From to run.To, in place. Where it gives up, the
// error is a *Failure, and y is the state reached.
func (s *Solver) Solve(y []float64, run Run) (Result, error) {
	if err := s.check(y, &run); err != nil {
		return Result{}, fmt.Errorf("integration: %w", err)
	}
	s.statistics, s.factors, s.bent = Statistics{}, s.ordered, false
	s.eventTime = s.options.EventTime
	if s.eventTime == 0 {
		s.eventTime = 1e-9 * (run.To - run.From)
	}
	clear(s.watches)
	clear(s.largest)
	copy(s.y, y)
	s.t, s.next, s.h, s.excess = run.From, run.First, 0, 0
	event, err := s.solve(&run)
	copy(y, s.y)
	return Result{Time: s.t, Event: event, Statistics: s.statistics}, err
}

// check reports what is wrong with a run.
func (s *Solver) check(y []float64, run *Run) error {
	if len(y) != s.count {
		return fmt.Errorf("%d components for a system of %d", len(y), s.count)
	}
	if !(run.From < run.To) || math.IsInf(run.To-run.From, 0) {
		return fmt.Errorf("from %g to %g", run.From, run.To)
	}
	if !(run.First >= 0) {
		return fmt.Errorf("first step %g", run.First)
	}
	for i, t := range run.Breaks {
		if math.IsNaN(t) || i > 0 && t < run.Breaks[i-1] {
			return fmt.Errorf("break %g does not follow the one before", t)
		}
	}
	return nil
}

// solve goes from break to break. It returns the event that ended the run.
func (s *Solver) solve(run *Run) (int, error) {
	for i := 0; s.t < run.To; {
		for i < len(run.Breaks) && run.Breaks[i] <= s.t {
			i++
		}
		end := run.To
		if i < len(run.Breaks) {
			end = min(end, run.Breaks[i])
		}
		if event, err := s.segment(run, end); err != nil || event >= 0 {
			return event, err
		}
		if s.t == end && end < run.To && run.AtBreak != nil {
			run.AtBreak(end, s.y)
		}
	}
	return -1, nil
}

// segment integrates towards end, with no break on the way, from a fresh start,
// until it arrives or an event asks for another start or the end. It returns the
// event that ended the run, or -1.
func (s *Solver) segment(run *Run, end float64) (int, error) {
	s.statistics.Restarts++
	s.begin, s.limit = math.Nextafter(s.t, end), math.Nextafter(end, s.t)
	s.evaluate(s.begin, s.y, s.f)
	if s.errorAt = firstOdd(s.f); s.errorAt >= 0 {
		return -1, s.failure(ValueNotFinite)
	}
	s.armEvents()
	s.control.forget()
	for s.t < end {
		s.linearise(end)
		if s.next == 0 {
			s.next = s.firstStep(end)
		} else if s.bent {
			s.next = min(s.next, s.firstStep(end))
		}
		if err := s.advance(end); err != nil {
			return -1, err
		}
		switch after, event := s.accept(run); after {
		case Stop:
			return event, nil
		case Restart:
			s.next = 0
			return -1, nil
		}
	}
	s.next = 0
	return -1, nil
}

// advance computes one step into z that is accurate and ends where the events
// want it to, f at its end, and the length of the next.
func (s *Solver) advance(end float64) error {
	order := float64(s.method.Order)
	trouble := StepTooSmall
	s.control.rejected, s.bent = false, false
	h := s.plan(s.next, end)
	for cuts := 0; ; {
		if s.statistics.Steps+s.statistics.Rejections() >= s.options.Steps {
			return s.failure(OutOfSteps)
		}
		if h < s.least(end) && h < end-s.t {
			return s.failure(trouble)
		}
		switch s.attempt(h, end) {
		case accurate:
			if shorter := s.endAtEvent(cuts); shorter < h {
				cuts++
				s.bent = true
				s.statistics.CutAtEvent++
				h = shorter
				continue
			}
			s.next = s.control.accepted(h, s.excess, order)
			if s.bent {
				s.control.forget()
			}
			return nil
		case inaccurate:
			trouble = StepTooSmall
			s.statistics.TooInaccurate++
			h = s.control.refused(h, s.excess, order)
		case notFinite:
			trouble = ValueNotFinite
			s.statistics.NotFinite++
			h /= 2
		case singular:
			trouble = StepTooSmall
			s.statistics.Singular++
			h /= 2
		}
		h = s.plan(h, end)
	}
}

// least is the shortest step that may be tried.
func (s *Solver) least(end float64) float64 {
	return max(s.options.Smallest, 4*(math.Nextafter(s.t, end)-s.t))
}

// plan fits a step of about length h into what is left. It lands exactly at the
// end, and the step before takes half of what was left, so that none is a sliver.
func (s *Solver) plan(h, end float64) float64 {
	left := end - s.t
	h = min(h, s.options.Largest)
	switch {
	case h >= left*(1-1e-3):
		return left
	case 2*h > left:
		return left / 2
	}
	return h
}

// accept moves on over the step just made, and tells of it.
func (s *Solver) accept(run *Run) (After, int) {
	s.statistics.Steps++
	to := s.to
	if s.theta < 1 {
		to = min(s.t+s.theta*s.h, s.to)
	}
	if run.Observe != nil {
		s.step.From, s.step.To = s.t, to
		run.Observe(&s.step)
	}
	s.noteEvents(to)
	if s.theta < 1 {
		s.y, s.cut = s.cut, s.y
	} else {
		s.y, s.z = s.z, s.y
	}
	s.f, s.slope = s.slope, s.f
	s.t, s.begin = to, to
	return s.passEvents()
}

func (s *Solver) failure(reason Reason) error {
	return &Failure{
		Reason: reason, Time: s.t, Step: s.h, Component: s.errorAt, Excess: s.excess, Statistics: s.statistics,
	}
}
