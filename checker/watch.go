package checker

import (
	"headroom/checker/network"
	"headroom/checker/topology"
	"headroom/specs"
)

// moments are what only several quantities at one time tell of a case.
type moments struct {
	released map[int]moment // by pack: lowest pressure that a call for release came to
	kept     map[int]moment // by pack: lowest share of what full release needs that a release fell back to
	residual map[int]moment // by pack: highest pressure left while it is to clamp
	share    map[int]moment // by line: share of the supply pressure lost up to its end
	held     map[int]string // by expectation of a pressure: what took and gave oil at its worst
}

// A watcher follows a case step by step.
type watcher struct {
	s      *survey
	v      *caseView
	packs  []packWatch
	shares []shareWatch
	held   []heldWatch
}

func (s *survey) newWatcher(v *caseView) *watcher {
	w := &watcher{s: s, v: v}
	for i, p := range v.parts {
		switch p := p.(type) {
		case *specs.FrictionPack:
			w.watchPack(i, p)
		case *specs.Tube, *specs.Hose:
			if s.graph.LineRole(i) == topology.Pressure {
				w.watchShare(i)
			}
		}
	}
	w.watchHeld()
	return w
}

// channels finds quantities of a time history by what they are of and their name.
type channels map[[2]string]int

func (c channels) find(of, name string) int {
	if i, known := c[[2]string{of, name}]; known {
		return i
	}
	return -1
}

// recorder feeds the watcher; nil where there is nothing to watch. Each repeat
// begins anew: the last one counts.
func (w *watcher) recorder() *network.Recorder {
	if len(w.packs) == 0 && len(w.shares) == 0 && len(w.held) == 0 {
		return nil
	}
	return &network.Recorder{
		Begin: func(_ string, _ int, all []network.Channel) {
			index := make(channels, len(all))
			for i, c := range all {
				index[[2]string{c.Of, c.Name}] = i
			}
			for i := range w.packs {
				w.packs[i].begin(index)
			}
			for i := range w.shares {
				w.shares[i].begin(index)
			}
			for i := range w.held {
				w.held[i].begin(index)
			}
		},
		Sample: func(t float64, values []float64) {
			for i := range w.packs {
				w.packs[i].sample(t, values)
			}
			for i := range w.shares {
				w.shares[i].sample(t, values)
			}
			for i := range w.held {
				w.held[i].sample(t, values)
			}
		},
	}
}

// finish sums up what was seen.
func (w *watcher) finish() moments {
	m := moments{released: map[int]moment{}, kept: map[int]moment{}, residual: map[int]moment{}, share: map[int]moment{}, held: map[int]string{}}
	for i := range w.packs {
		p := &w.packs[i]
		p.endCall()
		p.endKeep()
		p.endRest()
		if p.released.timed {
			m.released[p.pack] = p.released
		}
		if p.kept.timed {
			m.kept[p.pack] = p.kept
		}
		if p.left.timed {
			m.residual[p.pack] = p.left
		}
	}
	for i := range w.shares {
		if l := &w.shares[i]; l.lost.known {
			m.share[l.line] = moment{value: l.lost.best, time: l.lost.at, timed: true}
		}
	}
	for i := range w.held {
		m.held[w.held[i].expectation] = w.held[i].story()
	}
	return m
}

// A level is the highest value that a quantity keeps for a length of time. It
// runs straight from sample to sample.
type level struct {
	lows   []int   // samples behind the first, each lower than all after it
	first  int     // the last sample at or before the beginning of the window
	window float64 // s
	t, v   []float64
	best   float64
	at     float64 // when it had lasted
	known  bool
}

func (l *level) reset() {
	l.t, l.v, l.lows, l.first, l.known = l.t[:0], l.v[:0], l.lows[:0], 0, false
}

// add takes a sample in at a cost that does not grow with the samples in the window.
func (l *level) add(t, v float64) {
	for len(l.lows) > 0 && l.v[l.lows[len(l.lows)-1]] >= v {
		l.lows = l.lows[:len(l.lows)-1]
	}
	l.lows = append(l.lows, len(l.t))
	l.t, l.v = append(l.t, t), append(l.v, v)
	edge := t - l.window
	if l.t[l.first] > edge {
		return
	}
	for l.first+1 < len(l.t) && l.t[l.first+1] <= edge {
		l.first++
	}
	for len(l.lows) > 0 && l.lows[0] <= l.first {
		l.lows = l.lows[1:]
	}
	least := l.v[l.first]
	if next := l.first + 1; next < len(l.t) {
		least += (l.v[next] - least) * (edge - l.t[l.first]) / (l.t[next] - l.t[l.first])
	}
	if len(l.lows) > 0 {
		least = min(least, l.v[l.lows[0]])
	}
	if !l.known || least > l.best {
		l.best, l.at, l.known = least, t, true
	}
	l.forget()
}

// forget drops what lies before the window, once that is most of what is kept.
func (l *level) forget() {
	if l.first < 1000 || l.first < len(l.t)/2 {
		return
	}
	l.t, l.v = append(l.t[:0], l.t[l.first:]...), append(l.v[:0], l.v[l.first:]...)
	lows := make([]int, len(l.lows))
	for i, at := range l.lows {
		lows[i] = at - l.first
	}
	l.lows, l.first = lows, 0
}
