package network

import (
	"cmp"
	"slices"

	"headroom/checker/integrate"
	"headroom/specs"
)

// A kink is where the equations bend: steps end where its value changes sign.
// What rests, rests where the value is zero, give or take what the tolerance
// leaves undecided; so the sign counts a little below.
type kink struct {
	below float64
	value func(m *model, y []float64) float64
}

// What a value may be below zero by while it rests there, of its own tolerance.
const (
	restingPressure = 10.0  // Pa
	restingSpool    = 1e-6  // of the full opening
	restingPosition = 1e-9  // m
	restingVolume   = 1e-12 // m³
	restingForce    = 1e-3  // N
)

func (b *builder) kink(below float64, value func(m *model, y []float64) float64) {
	b.m.kinks = append(b.m.kinks, kink{below, value})
}

// kinkAtDrop is where the difference over a passage passes a level.
func (b *builder) kinkAtDrop(p *passage, level float64) {
	from, to := p.a, p.b
	b.kink(restingPressure, func(m *model, y []float64) float64 { return m.pressure(from, y) - m.pressure(to, y) - level })
}

// kinkAtPressure is where a node's pressure passes a level.
func (b *builder) kinkAtPressure(node int, level float64) {
	b.kink(restingPressure, func(m *model, y []float64) float64 { return m.pressure(node, y) - level })
}

// pressure is a node's pressure in a vector of states.
func (m *model) pressure(node int, y []float64) float64 {
	return m.nodes[node].pressureAt(func(row int) float64 { return y[row] })
}

// A trigger acts once, when something happens: its value becomes positive.
type trigger struct {
	value func(m *model, y []float64) float64
	act   func(t float64)
	// start sees whether it happens at once, and from which side it is watched.
	start func(m *model, y []float64) bool
	again func() // after it acted: nil, or arms it for the next time
	done  bool

	where, state string // what is watched: whose state
}

// trigger arms a command that waits for an event.
func (b *builder) trigger(c *specs.Command, in *input) {
	tr := &trigger{act: func(t float64) { in.add(move{t, c.To.SI, c.Over.SI}) }}
	switch w := c.When; {
	case w.Part.Given():
		tr.where, tr.state = w.Part.Value, stateNames[positionState]
		b.late = append(b.late, func() { b.watchPosition(tr, w) })
	case w.Below.Given():
		node := b.named(w.Node.Value)
		tr.where, tr.state = w.Node.Value, stateNames[pressureState]
		tr.value = func(m *model, y []float64) float64 { return w.Below.SI - m.pressure(node, y) - beyond }
		tr.start = tr.already
	default:
		node := b.named(w.Node.Value)
		tr.where, tr.state = w.Node.Value, stateNames[pressureState]
		tr.value = func(m *model, y []float64) float64 { return m.pressure(node, y) - w.Above.SI - beyond }
		tr.start = tr.already
	}
	b.m.triggers = append(b.m.triggers, tr)
}

// beyond is how far (Pa) past its threshold a pressure is below or above it: a
// case may begin on the threshold itself.
const beyond = 1e-3

func (tr *trigger) already(m *model, y []float64) bool { return tr.value(m, y) > 0 }

// near is the share of the stroke within which a position counts as reached.
const near = 0.01

// watchPosition lets a trigger happen when a cylinder reaches a position, from
// the side it starts on.
func (b *builder) watchPosition(tr *trigger, w *specs.Trigger) {
	c, is := b.m.byPart[w.Part.Value].(*cylinder)
	if !is {
		b.fail("an event waits for %s, which is no cylinder", w.Part.Value)
		return
	}
	side, level := 1.0, w.Reaches.SI
	tr.value = func(_ *model, y []float64) float64 { return side * (y[c.position] - level) }
	tr.start = func(_ *model, y []float64) bool {
		off := y[c.position] - level
		side = 1
		if off > 0 {
			side = -1
		}
		return max(off, -off) <= near*c.stroke
	}
}

// named is the index of a node by name.
func (b *builder) named(name string) int {
	i, known := b.m.byNode[name]
	if !known {
		b.fail("there is no node %s", name)
	}
	return i
}

// A pressureSwitch runs a pump below one pressure until it is above another.
type pressureSwitch struct {
	speed   *input
	full    float64
	running bool
}

func (b *builder) pressureSwitch(speed *input, d *specs.PressureSwitch) *pressureSwitch {
	s := &pressureSwitch{speed: speed, full: d.Speed.SI}
	node := b.named(d.Node.Value)
	tr := &trigger{where: d.Node.Value, state: stateNames[pressureState]}
	tr.value = func(m *model, y []float64) float64 {
		p := m.pressure(node, y)
		if s.running {
			return p - d.OffAbove.SI - beyond
		}
		return d.OnBelow.SI - p - beyond
	}
	tr.start = func(m *model, y []float64) bool {
		s.running = false
		return m.pressure(node, y) < d.OnBelow.SI
	}
	tr.act = func(t float64) {
		s.running = !s.running
		speed.jump(t, map[bool]float64{true: s.full, false: 0}[s.running])
	}
	tr.again = func() {}
	b.m.triggers = append(b.m.triggers, tr)
	return s
}

// jump sets an input to a value from t on.
func (in *input) jump(t, value float64) {
	in.from, in.value, in.target, in.slope, in.until = t, value, value, 0, t
}

// sort puts the moves in order of time, those at one time as they stand in the spec.
func (in *input) sort() {
	slices.SortStableFunc(in.timed, func(a, b move) int { return cmp.Compare(a.at, b.at) })
}

// add puts in a move that an event brought about; those already made stay.
func (in *input) add(mv move) {
	i := in.next
	for i < len(in.moves) && in.moves[i].at <= mv.at {
		i++
	}
	in.moves = slices.Insert(slices.Clone(in.moves), i, mv)
}

// events lists what the integrator has to watch.
func (m *model) events() []integrate.Event {
	events := make([]integrate.Event, 0, len(m.kinks)+len(m.triggers))
	for _, k := range m.kinks {
		events = append(events, integrate.Event{
			Kink:  true,
			Value: func(_ float64, y []float64) float64 { return k.value(m, y) + k.below },
		})
	}
	for _, tr := range m.triggers {
		events = append(events, integrate.Event{
			Direction: integrate.Rising,
			Value: func(_ float64, y []float64) float64 {
				if tr.done {
					return -1
				}
				return tr.value(m, y)
			},
			Act: func(t float64, y []float64) integrate.After {
				m.fire(tr, t)
				return integrate.Stop
			},
		})
	}
	return events
}

// fire lets a trigger act.
func (m *model) fire(tr *trigger, t float64) {
	tr.done = tr.again == nil
	tr.act(t)
}
