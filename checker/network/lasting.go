package network

// lasting finds the highest level that a quantity keeps for a length of time:
// the highest, over all instants, of its lowest value within the window before.
type lasting struct {
	window float64
	times  []float64 // of the samples, in order
	values []float64
	low    []int // samples that may still be the lowest in a window, their values rising
	first  int   // of low
	edge   int   // the last sample at or before the start of the window

	begin float64
	best  Extreme
	known bool
}

// start forgets all and begins with a first sample.
func (l *lasting) start(t, v float64) {
	l.best, l.known = Extreme{}, false
	l.restart(t, v)
}

// restart begins with a sample that is the first of any window to come.
func (l *lasting) restart(t, v float64) {
	l.begin, l.edge, l.first = t, 0, 0
	l.times, l.values, l.low = append(l.times[:0], t), append(l.values[:0], v), append(l.low[:0], 0)
}

// add takes the next sample; the quantity runs straight between samples.
func (l *lasting) add(t, v float64) {
	l.times, l.values = append(l.times, t), append(l.values, v)
	last := len(l.times) - 1
	if t-l.window >= l.begin && t > l.times[last-1] {
		l.slide(max(l.times[last-1], l.begin+l.window))
	}
	if l.known && v <= l.best.Value { // no window with this in it can be better
		l.restart(t, v)
		return
	}
	for len(l.low) > l.first && l.values[l.low[len(l.low)-1]] >= v {
		l.low = l.low[:len(l.low)-1]
	}
	l.low = append(l.low, last)
	l.compact()
}

// slide moves the end of the window from a time in the last interval to its end, from
// where its start passes a sample to where it passes the next. In between both run
// straight: the lower of the two is highest at an end or where they cross.
func (l *lasting) slide(from float64) {
	last := len(l.times) - 1
	for l.edge+1 < last && l.times[l.edge+1] <= from-l.window {
		l.edge++
	}
	for {
		to := min(l.times[last], l.times[l.edge+1]+l.window)
		for l.first < len(l.low) && l.low[l.first] <= l.edge {
			l.first++
		}
		a, b := l.within(l.edge, from-l.window), l.within(last-1, from)
		c, d := l.within(l.edge, to-l.window), l.within(last-1, to)
		l.take(from, min(a, b))
		l.take(to, min(c, d))
		if (a < b) != (c < d) {
			share := (b - a) / (b - a + c - d)
			l.take(from+share*(to-from), a+share*(c-a))
		}
		if l.edge+1 >= last || to >= l.times[last] {
			return
		}
		from = to
		l.edge++
	}
}

// take is a level at the ends of a window; what lies between may be lower.
func (l *lasting) take(t, level float64) {
	if l.first < len(l.low) {
		level = min(level, l.values[l.low[l.first]])
	}
	if !l.known || level > l.best.Value {
		l.best, l.known = Extreme{level, t}, true
	}
}

// within is the value at a time between a sample and the next.
func (l *lasting) within(i int, t float64) float64 {
	share := (t - l.times[i]) / (l.times[i+1] - l.times[i])
	return l.values[i] + max(0, min(share, 1))*(l.values[i+1]-l.values[i])
}

// compact drops samples that no window reaches any more.
func (l *lasting) compact() {
	old := l.edge
	if old <= 64 || 2*old <= len(l.times) {
		return
	}
	l.times = l.times[:copy(l.times, l.times[old:])]
	l.values = l.values[:copy(l.values, l.values[old:])]
	l.low = l.low[:copy(l.low, l.low[min(l.first, len(l.low)):])]
	for i := range l.low {
		l.low[i] -= old
	}
	l.edge, l.first = 0, 0
}
