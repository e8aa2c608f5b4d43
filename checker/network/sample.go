package network

import (
	"math"

	"headroom/checker/integrate"
)

// A Channel is one quantity of a time history.
type Channel struct {
	Of        string // node or part
	Name      string
	Dimension string
}

// A Recorder takes time histories: Begin with the channels at the start of each
// pass of a case (the last pass is the one that is told), Sample with their values, at the integrator's own steps or
// every so often. The values are valid during the call.
type Recorder struct {
	Every  float64   // s, from the start on;
	Times  []float64 // or these, ascending; neither: at the integrator's own steps
	Begin  func(c string, repeat int, channels []Channel)
	Sample func(t float64, values []float64)
}

// sampler feeds a recorder from an observer.
type sampler struct {
	o     *observer
	to    *Recorder
	index int // of the next sample, with Every
	s     sample
}

func newSampler(o *observer, to *Recorder) *sampler {
	n := len(o.m.states)
	return &sampler{o: o, to: to, s: sample{
		y: make([]float64, n), dy: make([]float64, n),
		values: make([]float64, len(o.channels)), books: make([]bookSample, len(o.books)),
	}}
}

// begin announces a pass and samples its start.
func (r *sampler) begin(name string, repeat int) {
	channels := make([]Channel, len(r.o.channels))
	for i, c := range r.o.channels {
		channels[i] = Channel{Name: c.name, Dimension: c.dim}
		if i < nodeChannels*len(r.o.m.nodes) {
			channels[i].Of = r.o.m.nodes[c.part].name
		} else {
			channels[i].Of = r.o.m.circuit.Parts[c.part].Base().Name
		}
	}
	r.to.Begin(name, repeat, channels)
	r.to.Sample(r.o.before.t, r.o.before.values)
	r.index = 1
	for len(r.to.Times) > r.index && r.to.Times[r.index] <= r.o.before.t {
		r.index++
	}
}

// next is the time of the next sample.
func (r *sampler) next() float64 {
	switch {
	case r.to.Times == nil:
		return float64(r.index) * r.to.Every
	case r.index < len(r.to.Times):
		return r.to.Times[r.index]
	}
	return math.Inf(1)
}

// step samples a step. The observer's evaluation of its end is restored after.
func (r *sampler) step(p *integrate.Step) {
	if r.to.Every <= 0 && r.to.Times == nil {
		r.to.Sample(p.To, r.o.before.values)
		return
	}
	sampled := false
	for t := r.next(); t <= p.To; t = r.next() {
		r.index++
		if t <= p.From {
			continue
		}
		r.s.t = t
		p.Values(t, r.s.y)
		r.o.take(&r.s)
		r.to.Sample(t, r.s.values)
		sampled = true
	}
	if sampled {
		r.o.take(&r.o.before)
	}
}
