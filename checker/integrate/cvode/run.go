//go:build cvode

package cvode

// #include <stdlib.h>
// #include "solver.h"
import "C"

import (
	"fmt"
	"math"
	"unsafe"

	"headroom/checker/integrate"
)

// A Run is one integration: see integrate.Run.
type Run struct {
	From, To float64
	Breaks   []float64
	AtBreak  func(t float64, y []float64)

	// Sample is called at each of the Times, ascending, with the state interpolated
	// by CVODE's own formula. Steps do not depend on it.
	Times  []float64
	Sample func(t float64, y []float64)
}

// Counts of the work of a run.
type Counts struct {
	Steps, Inaccurate, Unconverged int // accepted; rejected for their error; whose Newton iteration failed
	Evaluations, Jacobians, Roots  int // calls of Go functions from C
	Factorisations, Iterations     int
	Starts                         int // the start, jumps and acts
}

// A Result says how a run ended.
type Result struct {
	Time   float64
	Event  int // that ended it, -1 if none
	Counts Counts
}

// Solve integrates y from run.From to run.To, in place.
func (s *Solver) Solve(y []float64, run Run) (Result, error) {
	copy(s.y, y)
	r := runner{Solver: s, Run: run, t: run.From}
	event, err := r.solve()
	copy(y, s.y)
	var c C.counts
	C.problem_counts(s.problem, &c)
	return Result{Time: r.t, Event: event, Counts: Counts{
		Steps: int(c.steps), Inaccurate: int(c.inaccurate), Unconverged: int(c.unconverged),
		Evaluations: int(c.evaluations), Jacobians: int(c.jacobians), Roots: int(c.roots),
		Factorisations: int(c.factorisations), Iterations: int(c.iterations), Starts: int(c.starts),
	}}, err
}

// A runner is a Solver on its way through a Run.
type runner struct {
	*Solver
	Run
	t           float64
	taken, next int  // of Times and Breaks
	under       bool // CVODE is at t and may go on from there
}

// solve goes from break to break. It returns the event that ended the run, or -1.
func (r *runner) solve() (int, error) {
	for r.t < r.To {
		for r.next < len(r.Breaks) && r.Breaks[r.next] <= r.t {
			r.next++
		}
		end := r.To
		if r.next < len(r.Breaks) {
			end = min(end, r.Breaks[r.next])
		}
		event, err := r.segment(end)
		if err != nil || event >= 0 {
			return event, err
		}
		if r.t == end && end < r.To && r.AtBreak != nil {
			if err := r.pass(end); err != nil {
				return -1, err
			}
		}
	}
	return -1, nil
}

// segment goes to end, or to an event that asks for a new start.
func (r *runner) segment(end float64) (int, error) {
	if !r.under {
		if err := fault(C.problem_start(r.problem, C.double(math.Nextafter(r.t, end)))); err != nil {
			return -1, fmt.Errorf("at t = %g: %w", r.t, err)
		}
		r.under = true
	}
	for r.t < end {
		to := end
		for r.taken < len(r.Times) && r.Times[r.taken] <= r.t {
			r.sample()
		}
		if r.taken < len(r.Times) {
			to = min(to, r.Times[r.taken])
		}
		var reached C.double
		flag := C.problem_advance(r.problem, C.double(to), C.double(math.Nextafter(end, r.t)), &reached)
		if err := fault(flag); err != nil {
			return -1, fmt.Errorf("at t = %g: %w", r.t, err)
		}
		r.t = float64(reached)
		if flag == rootReturn {
			if after, event := r.act(); after != integrate.GoOn {
				r.under = false
				if after == integrate.Stop {
					return event, nil
				}
				return -1, nil
			}
		}
		if math.Nextafter(r.t, end) >= end {
			r.t = end
		}
	}
	for r.taken < len(r.Times) && r.Times[r.taken] <= r.t {
		r.sample()
	}
	return -1, nil
}

const rootReturn = 2 // CV_ROOT_RETURN

func (r *runner) sample() {
	r.Sample(r.Times[r.taken], r.y)
	r.taken++
}

// act lets the events act whose roots were found.
func (r *runner) act() (integrate.After, int) {
	result := integrate.GoOn
	if C.problem_roots(r.problem, &r.found[0]) != 0 {
		return result, -1
	}
	for i, event := range r.roots {
		if r.found[i] == 0 {
			continue
		}
		switch r.system.Events[event].Act(r.t, r.y) {
		case integrate.Stop:
			return integrate.Stop, event
		case integrate.Restart:
			result = integrate.Restart
		}
	}
	return result, -1
}

// A jump of f is more than a millionth of itself, and more than a billionth of the
// component a second; what is less is rounding.
const (
	jumpOfSelf      = 1e-6
	jumpOfComponent = 1e-9 // 1/s
)

// pass goes over a break, and asks for a new start where f or y jumps.
func (r *runner) pass(t float64) error {
	if r.options.RestartAtBreaks {
		r.AtBreak(t, r.y)
		r.under = false
		return nil
	}
	if err := r.slope(math.Nextafter(t, r.From), r.before); err != nil {
		return err
	}
	y := append([]float64(nil), r.y...)
	r.AtBreak(t, r.y)
	if err := r.slope(math.Nextafter(t, r.To), r.after); err != nil {
		return err
	}
	for i, before := range r.before {
		rounding := jumpOfSelf*math.Abs(before) + jumpOfComponent*max(1, math.Abs(y[i]))
		if y[i] != r.y[i] || !(math.Abs(r.after[i]-before) <= rounding) {
			r.under = false
		}
	}
	return nil
}

func (r *runner) slope(t float64, dy []float64) error {
	return fault(C.problem_slope(r.problem, C.double(t), (*C.double)(&dy[0])))
}

// fault is what a flag of CVODE says, if it tells of one.
func fault(flag C.int) error {
	if flag >= 0 {
		return nil
	}
	name := C.problem_flag(flag)
	defer C.free(unsafe.Pointer(name))
	return fmt.Errorf("CVODE gave up: %s", C.GoString(name))
}
