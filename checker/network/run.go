package network

import (
	"errors"
	"fmt"
	"slices"

	"headroom/checker/integrate"
)

// A runner integrates one model, as often as it is asked to. It holds all the
// memory that takes.
type runner struct {
	m       *model
	system  integrate.System
	options integrate.Options
	solver  *integrate.Solver
	watch   *observer
	y, end  []float64
	breaks  []float64

	budget, total                  int // of attempts at a step, of one pass and of all
	latest                         int // attempts of the last pass
	steps, rejections, evaluations int
}

// passBudgets is how many times the budget of one pass all passes of a case may use
// together: 500,000 attempts at a step, so that hundreds of repeats fit in.
const passBudgets = 2.5

// tolerance of one state kind.
type tolerance struct{ relative, absolute float64 }

// tolerances by kind, for a relative tolerance of 1e-4 in pressures: those that
// met the accuracy asked (0.5 % of pressures and flows, 0.5 K, 1 ms) with an
// order to spare on every circuit of the independent solution. A large
// accumulator that fills slowly takes the volume of its gas ten times tighter,
// for the bookkeeping of its node to close.
var tolerances = [...]tolerance{
	pressureState:       {1e-4, 100},
	temperatureState:    {1e-5, 1e-4},
	contentState:        {1e-5, 1e-9},
	gasVolumeState:      {1e-6, 1e-11},
	gasTemperatureState: {1e-5, 1e-4},
	spoolState:          {1e-4, 1e-5},
	wantedState:         {1e-4, 100},
	strokeState:         {1e-4, 1e-5},
	positionState:       {1e-4, 1e-9},
	velocityState:       {1e-4, 1e-4},
	shaftState:          {1e-4, 1e-3},
	platesState:         {1e-5, 1e-4},
}

// newRunner prepares a model for integration, at a share of the tolerances.
func newRunner(m *model, share float64, steps int) (*runner, error) {
	n := len(m.states)
	relative, absolute := make([]float64, n), make([]float64, n)
	for i, kind := range m.states {
		relative[i], absolute[i] = tolerances[kind].relative*share, tolerances[kind].absolute*share
	}
	r := &runner{
		m: m, watch: newObserver(m), y: make([]float64, n), end: make([]float64, n), budget: steps, total: int(passBudgets * float64(steps)),
		system: integrate.System{
			States: n, Evaluate: m.evaluate, Pattern: m.pattern, Jacobian: m.jacobian,
			TimeDerivative: m.timeDerivative, Events: m.events(),
		},
		options: integrate.Options{Relative: relative, Absolute: absolute, EventTime: eventTime},
	}
	return r, r.ration()
}

// ration lets a pass take its budget of steps, or what is left of that of all.
func (r *runner) ration() (err error) {
	if steps := min(r.budget, max(1, r.left())); steps != r.options.Steps {
		r.options.Steps = steps
		r.solver, err = integrate.New(r.system, r.options)
	}
	return err
}

// used and left are the attempts at a step of all passes so far, and those that
// more passes may take.
func (r *runner) used() int { return r.steps + r.rejections }
func (r *runner) left() int { return r.total - r.used() }

// roughly multiplies the tolerances of a run in which something is counted:
// whether a stroke arrives in its pace, or plates pass their limit, hangs on no
// last digit.
const roughly = 10

// newRoughRunner prepares a model for a run of which only a count is wanted.
func newRoughRunner(m *model, o Options) (*runner, error) {
	r, err := newRunner(m, roughly*o.Tolerance, o.Steps)
	if err == nil {
		r.watch.roughly = true
	}
	return r, err
}

// eventTime is how accurately (s) the time of an event is found.
const eventTime = 1e-7

// pass integrates the case once. Temperatures begin as in keep, where given.
func (r *runner) pass(number int, keep []float64, out *Outcome) {
	m := r.m
	for _, in := range m.inputs {
		in.reset()
		in.enter(0)
	}
	m.start(r.y, keep)
	for _, tr := range m.triggers {
		tr.done = false
		if tr.start(m, r.y) {
			m.fire(tr, 0)
		}
	}
	r.watch.begin(0, r.y)
	if s := r.watch.sampler; s != nil {
		s.begin(m.spec.Name, number)
	}
	r.finish(out)
}

// passFrom integrates the case once, from a given state.
func (r *runner) passFrom(y []float64, out *Outcome) {
	copy(r.y, y)
	for _, in := range r.m.inputs {
		in.reset()
		in.enter(0)
	}
	r.watch.begin(0, r.y)
	r.finish(out)
}

func (r *runner) finish(out *Outcome) {
	before := r.used()
	out.Failure = r.integrate(out)
	r.latest = r.used() - before
	r.watch.finish(out.Lasts, r.y, out)
	copy(r.end, r.y)
	out.end = append([]float64(nil), r.y...)
}

// integrate goes from event to event to the end of the case.
func (r *runner) integrate(out *Outcome) *Failure {
	m, t, end := r.m, 0.0, r.m.spec.Lasts.SI
	before := r.used()
	if err := r.ration(); err != nil {
		return &Failure{Why: err.Error()}
	}
	for t < end {
		r.arrive(t)
		result, err := r.solver.Solve(r.y, integrate.Run{
			From: t, To: end, Breaks: r.allBreaks(),
			AtBreak: func(t float64, y []float64) { r.enter(t, y) },
			Observe: r.watch.observe,
		})
		r.count(&result.Statistics)
		t = result.Time
		out.Lasts = t
		if err != nil {
			return r.ranDry(r.tooHot(r.held(m.failure(err), t)))
		}
		if used := r.used() - before; used > r.options.Steps && t < end {
			f := &Failure{Time: t, Reason: integrate.OutOfSteps}
			if k := result.Event - len(m.kinks); k >= 0 {
				f.Where, f.State = m.triggers[k].where, m.triggers[k].state
			}
			f = r.held(f, t)
			f.Why += ", by events that follow each other"
			return f
		}
	}
	return nil
}

// tooHot says so where a case ends because a node has come to where no law holds.
func (r *runner) tooHot(f *Failure) *Failure {
	const near = 10.0 // K: no step is short enough for the rest
	for i := range r.m.nodes {
		if n := &r.m.nodes[i]; f.Reason != integrate.OutOfSteps && r.y[n.heatRow] > hottestFluid-near {
			f.Where, f.State = n.name, stateNames[temperatureState]
			f.Why = "the fluid there comes to 700 °C, past which no law of it means anything"
		}
	}
	return f
}

// ranDry says so where a case ends because a reservoir has nothing left.
func (r *runner) ranDry(f *Failure) *Failure {
	for _, v := range r.m.reservoirs {
		if f.Reason != integrate.OutOfSteps && r.y[v.row] < leastVolume {
			f.Where, f.State = r.m.nodes[v.node].name, stateNames[contentState]
			f.Why = "the reservoir there is empty: the circuit takes more than its fill"
		}
	}
	return f
}

// held completes the failure of a run that is out of steps: which budget it was,
// and what holds it up, where that is not known: by the first step from there.
func (r *runner) held(f *Failure, t float64) *Failure {
	if f.Reason != integrate.OutOfSteps {
		return f
	}
	f.Why = fmt.Sprintf("the budget of %d steps is used up", r.budget)
	if r.left() <= 0 {
		f.Why = fmt.Sprintf("the budget of %d steps of all passes together is used up", r.total)
	}
	if f.Where == "" && t < r.m.spec.Lasts.SI {
		one := r.options
		one.Steps = 1
		if solver, err := integrate.New(r.system, one); err == nil {
			_, err = solver.Solve(append([]float64(nil), r.y...), integrate.Run{From: t, To: r.m.spec.Lasts.SI, Breaks: r.allBreaks()})
			if first := r.m.failure(err); err != nil {
				f.Where, f.State = first.Where, first.State
			}
		}
	}
	return f
}

// arrive lets what happened at t act, and takes up the inputs from there.
func (r *runner) arrive(t float64) {
	for _, tr := range r.m.triggers {
		if !tr.done && tr.value(r.m, r.y) > 0 {
			r.m.fire(tr, t)
		}
	}
	r.enter(t, r.y)
}

// enter takes up the inputs at a break.
func (r *runner) enter(t float64, y []float64) {
	for _, in := range r.m.inputs {
		in.enter(t)
	}
	r.watch.restart(t, y)
}

func (r *runner) count(s *integrate.Statistics) {
	r.steps += s.Steps
	r.rejections += s.Rejections()
	r.evaluations += s.Evaluations
}

// allBreaks are the times at which inputs bend, in order.
func (r *runner) allBreaks() []float64 {
	// Where velocities begin to count a step ends: a flow that hangs on a small
	// difference of high pressures is best known there.
	r.breaks = append(r.breaks[:0], startTransient)
	for _, in := range r.m.inputs {
		r.breaks = in.breaks(r.breaks)
	}
	slices.Sort(r.breaks)
	r.breaks = slices.Compact(r.breaks)
	return r.breaks
}

// failure says in the circuit's words why an integration gave up.
func (m *model) failure(err error) *Failure {
	var f *integrate.Failure
	if !errors.As(err, &f) {
		return &Failure{Why: err.Error()}
	}
	out := &Failure{Time: f.Time, Reason: f.Reason}
	if f.Component >= 0 && f.Component < len(m.states) {
		out.Where, out.State = m.owners[f.Component], stateNames[m.states[f.Component]]
	}
	switch f.Reason {
	case integrate.OutOfSteps:
		out.Why = "the budget of steps is used up"
	case integrate.StepTooSmall:
		out.Why = "no step is short enough to follow what happens"
	default:
		out.Why = "the equations have no value there"
	}
	return out
}

var stateNames = [...]string{
	pressureState: "pressure", temperatureState: "temperature", contentState: "level",
	gasVolumeState: "gas volume", gasTemperatureState: "gas temperature", spoolState: "spool",
	wantedState: "wanted pressure", strokeState: "swivel", positionState: "position",
	velocityState: "speed", shaftState: "speed", platesState: "plate temperature",
}
