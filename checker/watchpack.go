package checker

import (
	"headroom/specs"
	"headroom/specs/quantity"
)

// A packWatch follows the pressure in a pack's cylinder: what a call for release
// comes to, what it falls back to before the call ends, and what is left while the
// pack is to clamp.
type packWatch struct {
	pack     int
	cylinder string
	node     string
	valve    string
	command  string  // its quantity: the pressure it wants, or its spool
	sign     float64 // of the command that lets pressure to the cylinder
	calls    float64 // command above which release is called for
	rests    float64 // command below which the pack is to clamp
	keeps    float64 // command above which release is called for in full: near the highest that the case wants
	needed   float64 // Pa above the air, for full release; 0 where it is not known
	home     float64 // m, position below which it clamps in full
	air      float64

	headAt, commandAt, positionAt int
	calling, keeping, resting     level
	freed                         bool // it has come to full release since the call
	released, kept, left          moment
}

const (
	callLasts = 0.05 // s, that a release pressure must last to be available, and a fall of it to count
	wholeCall = 0.98 // of the way from rest to the highest pressure wanted
	restLasts = 0.1  // s, likewise what is left
	atRest    = 1e4  // Pa, by which a wanted pressure may be above that at rest
	shutSpool = 0.5  // opening from which a valve counts as on
)

// watchPack watches a pack whose cylinder one valve commands.
func (w *watcher) watchPack(i int, p *specs.FrictionPack) {
	cylinder, c := w.s.releaser(p)
	if c == nil {
		return
	}
	head, connected := w.s.graph.At(cylinder, "head")
	if !connected {
		return
	}
	watch := packWatch{
		pack: i, cylinder: c.Name, node: w.s.graph.Nodes[head].Name, air: w.s.air, sign: 1,
		home: p.TakeUp.SI / 50, calling: level{window: callLasts}, keeping: level{window: callLasts}, resting: level{window: restLasts},
	}
	if k := w.s.packIn(w.v, i); k.pack.Clearance.Given() && k.lacks() == "" {
		watch.needed, _ = k.releasing(0)
	}
	if watch.commandedBy(w, head) {
		w.packs = append(w.packs, watch)
	}
}

// commandedBy finds the valve that a pack's cylinder is joined with past nothing
// that can be shut.
func (p *packWatch) commandedBy(w *watcher, head int) bool {
	section := w.s.graph.Nodes[head].Section
	for _, part := range w.s.graph.Sections[section].Parts {
		p.valve = w.s.graph.Name(part)
		switch valve := w.v.parts[part].(type) {
		case *specs.ReducingValve:
			if !w.joins(part, "a", section) {
				continue
			}
			rest, called := valve.Rest.SI, w.v.holds(valve)
			if valve.Stuck.Given() {
				rest = w.s.air
			}
			p.command, p.rests, p.calls, p.keeps = "wanted", rest+atRest, (rest+called)/2, rest+wholeCall*(called-rest)
			if called <= rest {
				p.calls, p.keeps = called+atRest, called+atRest // never
			}
			return true
		case *specs.DirectionalValve:
			p.command, p.calls, p.keeps, p.rests = "spool", shutSpool, shutSpool, -shutSpool
			if w.joins(part, "b", section) {
				p.sign = -1
				return true
			}
			if w.joins(part, "a", section) {
				return true
			}
		}
	}
	return false
}

func (w *watcher) joins(part int, port string, section int) bool {
	n, connected := w.s.graph.At(part, port)
	return connected && w.s.graph.Nodes[n].Section == section
}

func (p *packWatch) begin(index channels) {
	p.headAt = index.find(p.node, "pressure")
	p.commandAt = index.find(p.valve, p.command)
	p.positionAt = index.find(p.cylinder, "position")
	p.released, p.kept, p.left, p.freed = moment{}, moment{}, moment{}, false
	p.calling.reset()
	p.keeping.reset()
	p.resting.reset()
}

func (p *packWatch) sample(t float64, values []float64) {
	if p.headAt < 0 || p.commandAt < 0 || p.positionAt < 0 {
		return
	}
	pressure, command := values[p.headAt]-p.air, p.sign*values[p.commandAt]
	if command > p.calls {
		p.calling.add(t, pressure)
	} else {
		p.endCall()
	}
	if command > p.keeps && p.needed > 0 {
		if p.freed = p.freed || pressure >= p.needed; p.freed {
			p.keeping.add(t, -pressure)
		}
	} else {
		p.endKeep()
	}
	if command < p.rests && values[p.positionAt] <= p.home {
		p.resting.add(t, pressure)
	} else {
		p.endRest()
	}
}

// endCall takes in a call for release: the weakest of all counts.
func (p *packWatch) endCall() {
	if l := &p.calling; l.known && (!p.released.timed || l.best < p.released.value) {
		p.released = moment{value: l.best, time: l.at, timed: true, node: p.node}
	}
	p.calling.reset()
}

// endKeep takes in a time of full release: the lowest that it fell to counts, as a
// share of what full release needs.
func (p *packWatch) endKeep() {
	if l := &p.keeping; l.known {
		pressure := -l.best
		if share := pressure / p.needed; !p.kept.timed || share < p.kept.value {
			note := quantity.Pressure.Format(pressure) + " of " + quantity.Pressure.Format(p.needed) + " for full release"
			p.kept = moment{value: share, time: l.at, timed: true, node: p.node, note: note}
		}
	}
	p.freed = false
	p.keeping.reset()
}

// endRest takes in a time of clamping: the highest of all counts.
func (p *packWatch) endRest() {
	if l := &p.resting; l.known && (!p.left.timed || l.best > p.left.value) {
		p.left = moment{value: l.best, time: l.at, timed: true, node: p.node}
	}
	p.resting.reset()
}
