package network

import "headroom/specs"

var _ = register(newReducingValve)

// A reducingValve opens p to a, or a to t, by the share of its band that the
// pressure at a is off what is wanted.
type reducingValve struct {
	name       string
	feed, vent *passage
	k          float64
	band, lag  float64
	row        int
	own        int32
	start      float64
	held       bool
	want       *input
	opening    float64
}

func newReducingValve(b *builder, p *specs.ReducingValve) element {
	v := &reducingValve{name: p.Name, k: rated(p.Flow, p.Drop), band: p.Band.SI, lag: p.Lag.SI, row: b.state(wantedState, p.Name)}
	a := b.node(p.A)
	v.feed = b.passage(b.node(p.P), a, 1, v.row, b.m.nodes[a].column)
	v.vent = b.passage(a, b.node(p.T), 1, v.row, b.m.nodes[a].column)
	b.slot(&v.own, v.row, v.row)
	for _, off := range [...]float64{-v.band, 0, v.band} {
		b.kink(restingPressure, func(m *model, y []float64) float64 { return y[v.row] - m.pressure(a, y) - off })
	}
	v.start, v.held, v.want = b.commanded(p.Name, p.Rest, p.Stuck)
	return v
}

func (v *reducingValve) begin(_ *model, y, _ []float64) { y[v.row] = v.start }

func (v *reducingValve) flow(m *model, t float64, y, dy []float64) {
	w := y[v.row]
	if !v.held {
		dy[v.row] = (v.want.at(t) - w) / v.lag
	} else {
		dy[v.row] = 0
	}
	per := 1 / v.band
	v.opening = (w - m.nodes[v.feed.b].p) * per
	if v.opening >= 1 || v.opening <= -1 {
		per = 0
		v.opening = max(-1, min(v.opening, 1))
	}
	v.feed.shut()
	v.vent.shut()
	if v.opening > 0 {
		m.square(v.feed, v.k, 0)
		v.feed.scale(v.opening, per, -per)
	} else if v.opening < 0 {
		m.square(v.vent, v.k, 0)
		v.vent.scale(-v.opening, -per, per)
	}
	m.pass(v.feed)
	m.pass(v.vent)
}

func (v *reducingValve) slopes(_ *model, _, j []float64) {
	if !v.held {
		j[v.own] -= 1 / v.lag
	}
}

func (v *reducingValve) work(*model, []float64, *powers) {}

func (v *reducingValve) tell(t *teller) {
	t.state("wanted", "pressure", v.row)
	t.value("opening", "number", func([]float64) float64 { return v.opening })
	t.flowOf("flow_pa", v.feed)
	t.flowOf("flow_at", v.vent)
}
