package network

// lasting finds the highest level that a quantity keeps for a length of time:
// the highest, over all instants, of its lowest value within the window before.
type lasting struct {
	window float64
	times  []float64 // of the samples that may still be the lowest, in order,
	values []float64 // their values rising
	first  int

	begin        float64
	lastT, lastV float64
	best         Extreme
	known        bool
}

// start forgets all and begins with a first sample.
func (l *lasting) start(t, v float64) {
	l.best, l.known = Extreme{}, false
	l.restart(t, v)
}

// restart begins with a sample that is the first of any window to come.
func (l *lasting) restart(t, v float64) {
	l.begin, l.lastT, l.lastV, l.first = t, t, v, 0
	l.times, l.values = append(l.times[:0], t), append(l.values[:0], v)
}

// add takes the next sample; the quantity runs straight between samples.
func (l *lasting) add(t, v float64) {
	if l.known && v <= l.best.Value { // no window with this in it can be better
		l.restart(t, v)
		return
	}
	edge := t - l.window
	lowest := v
	if edge >= l.lastT {
		// The window lies within this one interval.
		lowest = min(v, l.lastV+(v-l.lastV)*(edge-l.lastT)/(t-l.lastT))
	}
	for len(l.values) > l.first && l.values[len(l.values)-1] >= v {
		l.times, l.values = l.times[:len(l.times)-1], l.values[:len(l.values)-1]
	}
	l.times, l.values = append(l.times, t), append(l.values, v)
	for l.times[l.first] < edge {
		l.first++
	}
	if l.first > 64 && 2*l.first > len(l.times) {
		l.times = l.times[:copy(l.times, l.times[l.first:])]
		l.values = l.values[:copy(l.values, l.values[l.first:])]
		l.first = 0
	}
	l.lastT, l.lastV = t, v
	if edge < l.begin {
		return
	}
	lowest = min(lowest, l.values[l.first])
	if !l.known || lowest > l.best.Value {
		l.best, l.known = Extreme{lowest, t}, true
	}
}
