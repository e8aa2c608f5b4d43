package checker

import (
	"runtime"
	"sync"

	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs"
)

// A run is one case as it was simulated.
type run struct {
	view    *caseView
	out     *network.Outcome       // nil where it could not begin
	nodes   []*network.NodeOutcome // by the graph's index
	moments moments
	history *facts.History // nil where it is not asked for
	counted map[int]*count // by part: what is asked for besides
	fault   string         // why it could not begin; "" where it could

	lacks string // what keeps its facts from being told; "" for nothing
	hot   string // what keeps its temperatures from being told; "" for nothing
}

// simulate runs every case of the circuit, and then what is asked for besides.
// A case that the spec leaves incomplete is not begun.
func (s *survey) simulate() {
	s.runs = make([]run, len(s.cases))
	var jobs []func()
	for c := range s.cases {
		r := &s.runs[c]
		r.view = &s.cases[c]
		r.lacks = s.incomplete(r.view)
		if r.hot = r.lacks; r.lacks == "" {
			jobs = append(jobs, func() { s.simulateCase(r) })
		}
	}
	inParallel(jobs)
	inParallel(s.further())
}

// inParallel does jobs, one a core at a time. It panics where one of them does, once
// all have ended, so that who asked for them can recover.
func inParallel(jobs []func()) {
	faults := make([]any, len(jobs))
	next := make(chan int)
	var workers sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(jobs)) {
		workers.Go(func() {
			for i := range next {
				faults[i] = faultOf(jobs[i])
			}
		})
	}
	for i := range jobs {
		next <- i
	}
	close(next)
	workers.Wait()
	for _, fault := range faults {
		if fault != nil {
			panic(fault)
		}
	}
}

// faultOf does a job and gives what it panics with; nil where it does not.
func faultOf(do func()) (fault any) {
	defer func() { fault = recover() }()
	do()
	return nil
}

// simulateCase runs one case and says what of it can be told.
func (s *survey) simulateCase(r *run) {
	w := s.newWatcher(r.view)
	record := w.recorder()
	if s.asked.History {
		h := &historian{air: s.air}
		r.history, record = &h.kept, h.beside(record)
	}
	out, err := network.Simulate(s.spec, r.view.spec, network.Options{Record: record, Steps: s.asked.Steps, Starts: s.resting(r.view)})
	if err != nil {
		r.fault, r.lacks = err.Error(), facts.Computed(r.view.spec.Name)
		r.hot = r.lacks
		return
	}
	r.out, r.moments = out, w.finish()
	r.nodes = make([]*network.NodeOutcome, len(s.graph.Nodes))
	for i := range out.Nodes {
		if n, known := s.graph.Node(out.Nodes[i].Node); known {
			r.nodes[n] = &out.Nodes[i]
		}
	}
	switch {
	case out.Failure != nil:
		r.hot = facts.Ended(r.view.spec.Name)
		if out.Repeats.Done == 0 { // else an earlier repeat is told
			r.lacks = r.hot
		}
	case r.view.spec.Repeats.Settle && !out.Repeats.Settled:
		r.hot = facts.Settled(r.view.spec.Name)
	}
}

// reading is one quantity of a part in a case, or nil where it never counted.
func (r *run) reading(part int, name string) *network.Reading {
	if v := r.out.Parts[part].Reading(name); v != nil && v.Known {
		return v
	}
	return nil
}

// caseAs is a part as a case has it.
func caseAs[P specs.Part](r *run, part int) (P, bool) {
	p, ok := r.view.parts[part].(P)
	return p, ok
}
