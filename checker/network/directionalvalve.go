package network

import (
	"headroom/checker/resistance"
	"headroom/specs"
)

var _ = register(newDirectionalValve)

// An edge is one metering edge: open where the spool stands on its side.
type edge struct {
	name string
	way  *passage
	side float64 // of the spool: 1 or −1
}

// A directionalValve opens its edges by the share that its spool is off centre,
// and leaks.
type directionalValve struct {
	name  string
	edges []edge
	past  *passage // leak p to t
	k, g  float64
	lag   float64
	spool int
	own   int32
	start float64
	held  bool
	want  *input
}

func newDirectionalValve(b *builder, p *specs.DirectionalValve) element {
	v := &directionalValve{name: p.Name, k: rated(p.Flow, p.Drop), lag: p.Lag.SI, spool: b.state(spoolState, p.Name)}
	port, tank, a := b.node(p.P), b.node(p.T), b.node(p.A)
	v.edges = []edge{
		{"pa", b.passage(port, a, 1, v.spool), 1},
		{"at", b.passage(a, tank, 1, v.spool), -1},
	}
	if p.B.Given() {
		other := b.node(p.B)
		v.edges = append(v.edges,
			edge{"pb", b.passage(port, other, 1, v.spool), -1},
			edge{"bt", b.passage(other, tank, 1, v.spool), 1})
	}
	if p.Leak != nil {
		v.g = resistance.LeakConductance(p.Leak.Flow.SI, p.Leak.Pressure.SI)
		v.past = b.passage(port, tank, 1)
	}
	b.slot(&v.own, v.spool, v.spool)
	b.kink(restingSpool, func(_ *model, y []float64) float64 { return y[v.spool] })
	v.start, v.held, v.want = b.commanded(p.Name, p.Rest, p.Stuck)
	return v
}

// commanded is where a valve starts, whether it is stuck there, and the input
// for what it is told.
func (b *builder) commanded(name string, rest, stuck specs.Quantity) (start float64, held bool, in *input) {
	start = rest.SI
	for _, s := range b.m.spec.Begins.Spools {
		if s.Name == name && s.Value.Given() {
			start = s.Value.SI
		}
	}
	in = b.input(constant(start))
	for i := range b.m.spec.Commands {
		c := &b.m.spec.Commands[i]
		if c.Valve.Value != name {
			continue
		}
		if c.When == nil {
			in.timed = append(in.timed, move{c.Time.SI, c.To.SI, c.Over.SI})
		} else {
			b.trigger(c, in)
		}
	}
	in.sort()
	if stuck.Given() {
		return stuck.SI, true, in
	}
	return start, false, in
}

func (v *directionalValve) begin(_ *model, y, _ []float64) { y[v.spool] = v.start }

func (v *directionalValve) flow(m *model, t float64, y, dy []float64) {
	s := y[v.spool]
	if !v.held {
		dy[v.spool] = (v.want.at(t) - s) / v.lag
	} else {
		dy[v.spool] = 0
	}
	gap, perGap := leakGap(s)
	for i := range v.edges {
		e := &v.edges[i]
		v.meter(m, e, s*e.side)
		if v.g > 0 {
			e.way.leak(v.g*gap, v.g*perGap, &m.nodes[e.way.a], &m.nodes[e.way.b])
		}
		m.pass(e.way)
	}
	if v.past != nil {
		v.past.law = law{q: v.g * m.drop(v.past), perPA: v.g, perPB: -v.g}
		m.pass(v.past)
	}
}

// meter sets the flow over an edge that is open by a share.
func (v *directionalValve) meter(m *model, e *edge, opening float64) {
	if opening <= 0 {
		e.way.shut()
		return
	}
	m.square(e.way, v.k, 0)
	e.way.scale(opening, e.side, 0)
}

// leakGap is how much of an edge's leakage is left, 1 − |s|, and its slope.
func leakGap(s float64) (gap, slope float64) {
	switch {
	case s >= 1 || s <= -1:
		return 0, 0
	case s >= 0:
		return 1 - s, -1
	}
	return 1 + s, 1
}

func (v *directionalValve) slopes(_ *model, _, j []float64) {
	if !v.held {
		j[v.own] -= 1 / v.lag
	}
}

func (v *directionalValve) work(*model, []float64, *powers) {}

func (v *directionalValve) tell(t *teller) {
	t.state("spool", "number", v.spool)
	for _, e := range v.edges {
		t.flowOf("flow_"+e.name, e.way)
	}
	if v.past != nil {
		t.flowOf("flow_pt", v.past)
	}
	t.leakage(v)
}
