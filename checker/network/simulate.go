package network

import (
	"context"
	"fmt"
	"runtime"
	"sync"

	"headroom/specs"
)

// Options say how cases are simulated. The zero value asks for the defaults.
type Options struct {
	Tolerance float64   // multiplies every tolerance; default 1, and again tighter where books do not close
	Steps     int       // most steps of one pass of a case; default DefaultSteps
	Jobs      int       // cases at a time; default: one a core
	Record    *Recorder // where given, one case at a time

	// Starts are pressures (Pa absolute), by node, with which a case begins where it
	// does not begin as it says: under loads that rest on the oil that valves shut in.
	Starts map[string]float64
}

// DefaultSteps is the budget of one pass, a few seconds of a demo; all passes of a case together have two and a
// half times as many. The cases of the independent solution
// need 300 to 3000.
const DefaultSteps = 200_000

func (o Options) complete() Options {
	if o.Tolerance <= 0 {
		o.Tolerance = 1
	}
	if o.Steps <= 0 {
		o.Steps = DefaultSteps
	}
	if o.Jobs <= 0 {
		o.Jobs = runtime.GOMAXPROCS(0)
	}
	if o.Record != nil {
		o.Jobs = 1
	}
	return o
}

// Simulate integrates one case of a circuit. An error means that the circuit
// cannot be made into equations; a case that could be begun but not finished is
// an Outcome with a Failure.
func Simulate(c *specs.Circuit, k *specs.Case, o Options) (*Outcome, error) {
	oil, err := newOil(&c.Fluid)
	if err != nil {
		return nil, err
	}
	return simulate(c, k, oil, o)
}

// SimulateAll integrates all cases of a circuit, several at a time. Outcomes
// and errors stand in the order of the cases.
func SimulateAll(ctx context.Context, c *specs.Circuit, o Options) ([]*Outcome, []error) {
	asked := o
	o = o.complete()
	out, errs := make([]*Outcome, len(c.Cases)), make([]error, len(c.Cases))
	oil, err := newOil(&c.Fluid)
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(o.Jobs, len(c.Cases)) {
		workers.Go(func() {
			for i := range next {
				if errs[i] = err; err == nil {
					out[i], errs[i] = simulate(c, &c.Cases[i], oil, asked)
				}
			}
		})
	}
	for i := range c.Cases {
		select {
		case next <- i:
		case <-ctx.Done():
			errs[i] = ctx.Err()
		}
	}
	close(next)
	workers.Wait()
	return out, errs
}

const (
	booksClose = 1e-3 // what a node's books may be apart by
	tighter    = 0.1  // of the tolerances, where they are further apart
)

// simulate integrates a case; from its start again with tighter tolerances where the
// books of a node do not close, as at a valve so steep that its flow hangs on the
// last digits of a pressure. A tolerance that is asked for is kept to.
func simulate(c *specs.Circuit, k *specs.Case, oil *oil, o Options) (*Outcome, error) {
	first := o.complete()
	out, err := simulateOnce(c, k, oil, first)
	if o.Tolerance > 0 || err != nil || out.Failure != nil || out.Balance.Node <= booksClose {
		return out, err
	}
	o.Tolerance = tighter
	again, err := simulateOnce(c, k, oil, o.complete())
	if err != nil || again.Failure != nil { // what is recorded last is what is told
		return simulateOnce(c, k, oil, first)
	}
	again.Steps += out.Steps
	again.Rejections += out.Rejections
	again.Evaluations += out.Evaluations
	return again, nil
}

// simulateOnce integrates a case with the tolerances it is given.
func simulateOnce(c *specs.Circuit, k *specs.Case, oil *oil, o Options) (*Outcome, error) {
	m, err := newModel(c, k, oil)
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", k.Name, err)
	}
	m.starts = o.Starts
	r, err := newRunner(m, o.Tolerance, o.Steps)
	if err != nil {
		return nil, fmt.Errorf("case %s: %w", k.Name, err)
	}
	if o.Record != nil {
		r.watch.sampler = newSampler(r.watch, o.Record)
	}
	out := &Outcome{Case: k.Name}
	r.repeat(out)
	out.Steps, out.Rejections, out.Evaluations = r.steps, r.rejections, r.evaluations
	return out, nil
}
