package integrate

import (
	"errors"
	"fmt"
	"math"
)

// A System is y' = f(t, y), y made of States components that depend on each
// other followed by Integrals components that nothing depends on. The integrals
// (work, heat, means) take part in the step with the same order of accuracy, but
// cost no elimination.
//
// A Solver calls the functions from the goroutine of Solve. They get finite y,
// must not keep or change it, and set every component of what they compute.
type System struct {
	States    int
	Integrals int

	// Evaluate sets dy = f(t, y). A value that is not finite makes the step be tried
	// again with half its length.
	Evaluate func(t float64, y, dy []float64)

	// Pattern lists the places of ∂f/∂y that may differ from zero: States columns,
	// States+Integrals rows. The diagonal need not be listed.
	Pattern Pattern

	// Jacobian adds ∂f/∂y to values, one element a slot of Pattern, all zero
	// beforehand. The call of Evaluate before it was made at the same t and y. The
	// order of the method depends on its being right: see CheckJacobian. Where nil, it
	// is differenced, columns that share no row at a time, which serves down to
	// relative tolerances of about 1e-6.
	Jacobian func(t float64, y, values []float64)

	// Constant in time: ∂f/∂t is zero.
	Autonomous bool
	// TimeDerivative sets dfdt = ∂f/∂t. Where nil and not Autonomous, ∂f/∂t is
	// differenced, two evaluations a step.
	TimeDerivative func(t float64, y, dfdt []float64)

	Events []Event
}

// Options say how a Solver steps. The zero value of each but the tolerances asks
// for the default.
type Options struct {
	// Relative and Absolute tolerances: of every component, or one for all. A step is
	// accepted when the estimated error of each component i is at most
	// Absolute[i] + Relative[i] max(|y before|, |y after|). An infinite absolute
	// tolerance leaves a component out.
	Relative, Absolute []float64

	Method *Method // default Rodas

	Largest  float64 // step; default: no bound
	Smallest float64 // step, below which the run is given up; default: 4 units in the last place of t
	Steps    int     // most attempts at a step in a run; default 1,000,000

	EventTime float64 // accuracy of the time of an event; default 1e-9 of the run's length
}

// check reports the first fault of a system.
func (y *System) check() error {
	if y.States < 1 || y.Integrals < 0 {
		return fmt.Errorf("%d states and %d integrals", y.States, y.Integrals)
	}
	if y.Evaluate == nil {
		return errors.New("no function to evaluate")
	}
	for i, e := range y.Events {
		if e.Value == nil {
			return fmt.Errorf("event %d has no value", i)
		}
	}
	return y.Pattern.check(y.States+y.Integrals, y.States)
}

// spread makes one tolerance a component of the given ones.
func spread(given []float64, n int, name string) ([]float64, error) {
	if len(given) != 1 && len(given) != n {
		return nil, fmt.Errorf("%d %s tolerances for %d components", len(given), name, n)
	}
	all := make([]float64, n)
	for i := range all {
		all[i] = given[i%len(given)]
		if !(all[i] >= 0) {
			return nil, fmt.Errorf("%s tolerance %g of component %d", name, all[i], i)
		}
	}
	return all, nil
}

// complete fills in the defaults and checks the rest.
func (o Options) complete(n int) (Options, error) {
	var err error
	if o.Relative, err = spread(o.Relative, n, "relative"); err != nil {
		return o, err
	}
	if o.Absolute, err = spread(o.Absolute, n, "absolute"); err != nil {
		return o, err
	}
	for i := range n {
		if o.Relative[i] == 0 && o.Absolute[i] == 0 {
			return o, fmt.Errorf("both tolerances of component %d are zero", i)
		}
		if math.IsInf(o.Relative[i], 0) {
			return o, fmt.Errorf("relative tolerance of component %d is infinite", i)
		}
	}
	if o.Method == nil {
		o.Method = &Rodas
	}
	if o.Largest == 0 {
		o.Largest = math.Inf(1)
	}
	if o.Steps == 0 {
		o.Steps = 1_000_000
	}
	if !(o.Largest > 0) || !(o.Smallest >= 0) || o.Steps < 0 || !(o.EventTime >= 0) {
		return o, errors.New("a negative bound")
	}
	return o, nil
}
