package network

import "math"

// A channel is one quantity that is read off along a run.
type channel struct {
	part      int
	name, dim string
	state     int  // it is a state of the model; −1: read computes it
	pressed   bool // the state is that of a pressure
	read      func(y []float64) float64
	from      float64 // time from which it counts
}

// of is what a state stands for.
func (c *channel) of(state float64) float64 {
	if c.pressed {
		state, _ = pressureOf(state)
	}
	return state
}

// A teller collects what parts want read off them. read returns NaN while the
// quantity does not count.
type teller struct {
	m        *model
	part     int
	channels []channel
	packs    []packTeller
	lines    []lineTeller
}

// packTeller is a pack whose engagements are told.
type packTeller struct {
	part int
	pack *frictionPack
}

// lineTeller is a line whose lasting velocity is told.
type lineTeller struct {
	part, channel int
	line          *line
}

// startTransient is how long (s) flows, velocities, drops, powers, closures and
// engagements do not count at first: a case begins with lines and chambers at
// pressures that its valves have yet to even out.
const startTransient = 0.05

func (t *teller) add(c channel) {
	c.part = t.part
	t.channels = append(t.channels, c)
}

// state tells a state.
func (t *teller) state(name, dim string, state int) {
	t.add(channel{name: name, dim: dim, state: state})
}

// value tells what read computes from the last evaluation.
func (t *teller) value(name, dim string, read func(y []float64) float64) {
	t.add(channel{name: name, dim: dim, state: -1, read: read})
}

// late tells a value that does not count at first.
func (t *teller) late(name, dim string, read func(y []float64) float64) {
	t.add(channel{name: name, dim: dim, state: -1, from: startTransient, read: read})
}

// flowOf tells the flow of the oil in a passage.
func (t *teller) flowOf(name string, p *passage) {
	m := t.m
	t.late(name, "flow", func([]float64) float64 { return m.oilIn(p) })
}

// oilIn is the flow of the oil in a passage, without the cavities in it.
func (m *model) oilIn(p *passage) float64 {
	if p.q < 0 {
		return p.q * m.nodes[p.b].wet
	}
	return p.q * m.nodes[p.a].wet
}

// way tells flow and drop of a passage.
func (t *teller) way(p *passage) { t.named("", p) }

func (t *teller) named(suffix string, p *passage) {
	t.flowOf("flow"+suffix, p)
	m := t.m
	t.late("drop"+suffix, "pressure-difference", func([]float64) float64 { return m.driving(p) })
}

// velocity tells how fast oil runs in a line, whichever way.
func (t *teller) velocity(l *line) {
	m := t.m
	t.lines = append(t.lines, lineTeller{part: t.part, channel: len(t.channels), line: l})
	t.late("velocity", "velocity", func([]float64) float64 { return math.Abs(l.way.q) / l.area })
	t.late("reynolds", "number", func([]float64) float64 {
		a, b := &m.nodes[l.way.a].oil, &m.nodes[l.way.b].oil
		return math.Abs(l.way.q) / l.area * l.tube.Bore * (a.rho + b.rho) / (a.mu + b.mu)
	})
}

// demand tells a consumer's demand, and the difference across it while it draws.
func (t *teller) demand(c *consumer) {
	t.value("demand", "flow", func([]float64) float64 { return c.drawn })
	m := t.m
	t.late("drawing_drop", "pressure-difference", func([]float64) float64 {
		if c.drawn <= 0 {
			return math.NaN()
		}
		return m.drop(c.way)
	})
}

// leakage tells what a directional valve leaks from p.
func (t *teller) leakage(v *directionalValve) {
	if v.past == nil {
		return
	}
	m := t.m
	t.late("leakage", "flow", func(y []float64) float64 {
		gap, _ := leakGap(y[v.spool])
		q := v.past.q
		for _, e := range v.edges {
			if e.way.a == v.past.a {
				q += v.g * gap * m.drop(e.way)
			}
		}
		return q
	})
}

// useful tells the oil of an accumulator above its lowest working pressure: what
// comes out as the gas, at its present temperature, expands to that pressure.
func (t *teller) useful(a *accumulator) {
	if !a.part.LowestWorking.Given() {
		t.value("useful", "volume", func(y []float64) float64 { return max(0, a.size-y[a.volume]) })
		return
	}
	lowest := a.part.LowestWorking.SI
	a.spent = a.size
	t.value("useful", "volume", func(y []float64) float64 {
		a.spent = a.volumeAt(lowest, y[a.warmth], a.spent)
		return max(0, min(a.spent, a.size)-y[a.volume])
	})
}

// volumeAt is the gas volume at a pressure and temperature, by Newton from a
// volume nearby.
func (a *accumulator) volumeAt(p, T, near float64) float64 {
	v := near
	for range 20 {
		s := a.charge.At(v, T)
		step := (p - s.Pressure) / s.PressureV
		v = max(v+step, v/2)
		if math.Abs(step) < 1e-6*v { // Newton's next is far below
			break
		}
	}
	return v
}

// engagements tells the engagements of a pack.
func (t *teller) engagements(f *frictionPack) {
	t.packs = append(t.packs, packTeller{part: t.part, pack: f})
}
