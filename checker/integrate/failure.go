package integrate

import "fmt"

// Statistics count the work of a run.
type Statistics struct {
	Steps int // accepted

	// Attempts at a step that were not accepted, by cause.
	TooInaccurate int // the estimated error was above the tolerance
	NotFinite     int // f, the Jacobian or the result was not finite
	Singular      int // I/(hγ) − J was singular to working accuracy
	CutAtEvent    int // taken again, shorter, to end at an event or a kink

	Evaluations    int // of f, all; of which
	ForDifferences int // for the Jacobian and ∂f/∂t by differences
	Jacobians      int
	Factorisations int
	FreshPivots    int // new orders of pivots found
	Solves         int

	Events   int // that happened, kinks not counted
	Restarts int // the start, breaks and acts
}

// Rejections is the number of attempts at a step that were not accepted.
func (s *Statistics) Rejections() int {
	return s.TooInaccurate + s.NotFinite + s.Singular + s.CutAtEvent
}

// A Reason says why a run was given up.
type Reason int

const (
	OutOfSteps     Reason = iota + 1 // the budget of attempts is used up
	StepTooSmall                     // no step is short enough for the tolerance
	ValueNotFinite                   // f or a derivative of it is not finite, however short the step
)

func (r Reason) String() string {
	switch r {
	case OutOfSteps:
		return "out of steps"
	case StepTooSmall:
		return "step too small"
	case ValueNotFinite:
		return "value not finite"
	}
	return fmt.Sprintf("Reason(%d)", int(r))
}

// A Failure tells where and why a run was given up. The state at Time is in y.
type Failure struct {
	Reason     Reason
	Time       float64 // reached
	Step       float64 // length of the step tried last
	Component  int     // with the largest error or a value that is not finite; -1 if none is known
	Excess     float64 // its estimated error in tolerances, in the last attempt that had one
	Statistics Statistics
}

func (f *Failure) Error() string {
	return fmt.Sprintf("integration given up at t = %g: %v (step %.3g, component %d, %d steps, %d rejections)",
		f.Time, f.Reason, f.Step, f.Component, f.Statistics.Steps, f.Statistics.Rejections())
}
