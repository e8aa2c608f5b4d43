package network

import (
	"math"

	"headroom/checker/friction"
	"headroom/checker/integrate"
)

const (
	lockedShare     = 0.01  // of the input speed, or of that at which the output begins: less slip is none
	leastEngagement = 100.0 // J, below which an engagement is not counted

	holdingCreep = 2 * friction.SlipRounding // rad/s, the slip at which the rounding leaves 96 % of the torque
)

// packWatch follows the engagements of a pack. One runs while the pack is
// clamped and slips.
type packWatch struct {
	packTeller
	now  Engagement
	runs bool
	all  []Engagement
}

func (o *observer) watchPacks(t *teller) {
	for _, p := range t.packs {
		o.packs = append(o.packs, packWatch{packTeller: p})
	}
}

// phase is what a pack does at a time of a step or in a state.
type phase uint8

const (
	packFree phase = iota
	packSlips
	packLocked
)

func (f *frictionPack) phase(m *model, t float64, p, x, output float64) phase {
	clamp, _, _ := friction.Clamp(f.cylinder.preload, p-m.air, f.cylinder.headArea, x, f.takeUp)
	if clamp <= 0 {
		return packFree
	}
	in := f.input.at(t)
	reference := math.Abs(in)
	if in == 0 { // a brake brings its output to rest: what counts is the speed it began with
		reference = math.Abs(m.spec.Begins.Output.SI)
	}
	least := lockedShare * reference
	if reference == 0 { // one that holds from rest creeps by the rounding of its friction
		least = holdingCreep
	}
	if math.Abs(in-output) > least {
		return packSlips
	}
	return packLocked
}

// phaseIn is a pack's phase at a sample.
func (w *packWatch) phaseIn(m *model, s *sample) phase {
	f := w.pack
	return f.phase(m, s.t, m.pressure(f.head, s.y), s.y[f.cylinder.position], s.y[f.output])
}

func (o *observer) beginPacks(t float64) {
	for i := range o.packs {
		w := &o.packs[i]
		w.all, w.runs, w.now = nil, false, Engagement{}
		switch w.phaseIn(o.m, &o.before) {
		case packSlips:
			w.start(t)
		case packLocked:
			if w.turns(&o.before) {
				o.lock(w, t)
			}
		}
	}
}

// standing is the speed (rad/s) below which a side of a pack stands: that within
// which loads turn their direction.
const standing = 1.0

// turns tells whether a side of a pack turns: two that stand have not been brought
// together by it.
func (w *packWatch) turns(s *sample) bool {
	return math.Abs(w.pack.input.at(s.t)) > standing || math.Abs(s.y[w.pack.output]) > standing
}

func (w *packWatch) start(t float64) { w.runs, w.now = true, Engagement{Starts: t} }

// stop ends an engagement.
func (w *packWatch) stop(t float64, locked bool) {
	if !w.runs {
		return
	}
	w.runs = false
	if locked {
		w.now.Locks, w.now.Locked = t, true
	}
	if w.now.Energy >= leastEngagement && t >= startTransient {
		w.all = append(w.all, w.now)
	}
}

// passPacks takes an interval in: the heat of an engagement counts from the
// instant it starts to that at which it ends.
func (o *observer) passPacks(p *integrate.Step) {
	for i := range o.packs {
		w := &o.packs[i]
		from := &o.before
		was := w.phaseIn(o.m, from)
		now := w.phaseIn(o.m, &o.after)
		if was != packSlips && w.runs { // an input jumped between the steps
			w.stop(from.t, was == packLocked)
			if was == packLocked {
				o.lock(w, from.t)
			}
		} else if was == packSlips && !w.runs {
			w.start(from.t)
		}
		start, end := from.t, o.after.t
		if was != now {
			at := o.changes(p, w, was)
			if was == packSlips {
				end = at
			} else if now == packSlips {
				start = at
				w.start(at)
			}
		}
		if w.runs {
			o.heat(w, start, end)
		}
		if was != now {
			w.stop(end, now == packLocked)
			if now == packSlips {
				w.runs = true
			}
			if now == packLocked {
				o.lock(w, end)
			}
		}
	}
}

// changes is when a pack leaves a phase within the interval.
func (o *observer) changes(p *integrate.Step, w *packWatch, was phase) float64 {
	f := w.pack
	head := &o.m.nodes[f.head]
	return locate(o.before.t, o.after.t, func(t float64) bool {
		pressure := head.pressureAt(func(row int) float64 { return p.At(t, row) })
		return f.phase(o.m, t, pressure, p.At(t, f.cylinder.position), p.At(t, f.output)) == was
	})
}

// heat adds the friction heat between two times of the interval, by the
// parabola through its three samples.
func (o *observer) heat(w *packWatch, start, end float64) {
	a, mid, b := o.before.powers.pack, o.middle.powers.pack, o.after.powers.pack
	if len(o.packs) > 1 {
		a, mid, b = o.heatOf(w, &o.before), o.heatOf(w, &o.middle), o.heatOf(w, &o.after)
	}
	width := o.after.t - o.before.t
	u0, u1 := (start-o.before.t)/width, (end-o.before.t)/width
	integral := func(u float64) float64 { return u * (a + u*((4*mid-3*a-b)/2+u*(2*a-4*mid+2*b)/3)) }
	w.now.Energy += width * (integral(u1) - integral(u0))
	for _, s := range [...]struct{ t, v float64 }{{o.before.t, a}, {o.middle.t, mid}, {o.after.t, b}} {
		if s.v > w.now.Power.Value && s.t >= max(start, startTransient) && s.t <= end {
			w.now.Power = Extreme{s.v, s.t}
		}
	}
}

// heatOf is the heat of one pack of several at a sample.
func (o *observer) heatOf(w *packWatch, s *sample) float64 {
	for i := range o.channels {
		if c := &o.channels[i]; i >= nodeChannels*len(o.m.nodes) && c.part == w.part && c.name == "power" {
			return s.values[i]
		}
	}
	return 0
}

// lock tells expectations that a pack locked.
func (o *observer) lock(w *packWatch, t float64) {
	for i := range o.expects {
		e := &o.expects[i]
		if e.pack == w.pack && !e.out.Came && t >= e.from {
			e.out = ExpectationOutcome{Measure: t - e.from, Time: t, Came: true}
		}
	}
}

// tellPacks tells the engagements; one under way at the end counts as it stands.
func (o *observer) tellPacks(t float64, out *Outcome) {
	for i := range o.packs {
		w := &o.packs[i]
		w.stop(t, false)
		out.Parts[w.part].Engagements = w.all
	}
}
