package review

import (
	"math"
	"slices"
	"strconv"

	"headroom/specs/quantity"
)

// This file brings numbers onto paper: units, round ticks, and fewer points than were
// computed. Nothing here knows what the numbers mean.

// A unit turns SI into what is printed.
type unit struct {
	name        string
	from, times float64
}

// far is how far from zero a unit's slope is taken: the display rounds to a billionth.
const far = 1e6

// unitOf is the one unit that a dimension is drawn in.
func unitOf(d quantity.Dimension) unit {
	zero, name := d.Display(0)
	top, _ := d.Display(far)
	return unit{name, zero, (top - zero) / far}
}

func (u unit) of(si float64) float64 { return u.from + u.times*si }

// A span is a range of values.
type span struct{ low, high float64 }

// nothing is the span of no values.
func nothing() span { return span{math.Inf(1), math.Inf(-1)} }

func (s span) empty() bool { return s.low > s.high }

func (s *span) add(values ...float64) {
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			s.low, s.high = min(s.low, v), max(s.high, v)
		}
	}
}

// around widens a span to round ticks, at most a few of them, and gives it some room
// where it has none. What lies well above zero need not begin there; what comes near it,
// from above or by a hair below, does.
func around(s span, wanted int) (span, []float64) {
	if s.empty() {
		s = span{0, 1}
	}
	if s.low < 0.5*s.high && s.low > -0.02*s.high {
		s.low = 0
	}
	size := max(math.Abs(s.low), math.Abs(s.high))
	if s.high-s.low <= 1e-6*size || s.high == s.low {
		room := max(0.05*size, 1e-3)
		if s.low == 0 && s.high == 0 {
			room = 1
		}
		s = span{s.low - room, s.high + room}
		if size == 0 {
			s.low = 0
		}
	}
	step := roundStep((s.high - s.low) / float64(wanted))
	first, last := math.Floor(s.low/step+1e-9), math.Ceil(s.high/step-1e-9)
	var ticks []float64
	for i := first; i <= last; i++ {
		ticks = append(ticks, i*step)
	}
	return span{first * step, last * step}, ticks
}

// roundStep is the least of 1, 2 and 5 times a power of ten that is no less than a
// step.
func roundStep(step float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(step)))
	for _, m := range []float64{1, 2, 5} {
		if step <= m*power*(1+1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// tickText is a tick's number, with the digits that its step needs.
func tickText(v, step float64) string {
	digits := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if f, _ := strconv.ParseFloat(text, 64); f == 0 {
		return strconv.FormatFloat(0, 'f', digits, 64) // no minus before a zero
	}
	return text
}

// short is a number with three significant digits, and all of those before the point.
func short(v float64) string {
	if v == 0 || math.IsNaN(v) {
		return "0"
	}
	digits := max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	return tickText(v, math.Pow(10, -float64(min(digits, 9))))
}

// A point is one value at a time.
type point struct{ t, v float64 }

// buckets is how many pieces of time a line is drawn in: the lowest and the highest
// value of each are kept.
const buckets = 120

// thin keeps of a line's points the first and last, and the lowest and highest of each
// piece of time, so that no peak is lost.
func thin(points []point, from, to float64) []point {
	if len(points) <= 2*buckets || to <= from {
		return points
	}
	kept := []point{points[0]}
	for i := 1; i < len(points)-1; {
		b := bucketOf(points[i].t, from, to)
		low, high, end := i, i, i
		for end < len(points)-1 && bucketOf(points[end].t, from, to) == b {
			if points[end].v < points[low].v {
				low = end
			}
			if points[end].v > points[high].v {
				high = end
			}
			end++
		}
		kept = append(kept, points[min(low, high)])
		if low != high {
			kept = append(kept, points[max(low, high)])
		}
		i = end
	}
	return append(kept, points[len(points)-1])
}

func bucketOf(t, from, to float64) int { return int(buckets * (t - from) / (to - from)) }

// straighten leaves out points that lie on the way between their neighbours, within a
// distance across it.
func straighten(points []point, within float64) []point {
	kept := points[:0:0]
	for i, p := range points {
		if i == 0 || i == len(points)-1 {
			kept = append(kept, p)
			continue
		}
		a, b := kept[len(kept)-1], points[i+1]
		on := a.v
		if b.t > a.t {
			on += (b.v - a.v) * (p.t - a.t) / (b.t - a.t)
		}
		if math.Abs(p.v-on) > within || p.t == a.t {
			kept = append(kept, p)
		}
	}
	return kept
}

// spread moves positions, given in ascending order, apart so that they keep a distance
// and stay within a range, and moves each as little as that takes.
func spread(at []float64, distance, low, high float64) []float64 {
	out := slices.Clone(at)
	for range 60 {
		moved := false
		for i := 1; i < len(out); i++ {
			if gap := out[i] - out[i-1]; gap < distance-1e-6 {
				out[i-1] -= (distance - gap) / 2
				out[i] += (distance - gap) / 2
				moved = true
			}
		}
		if !moved {
			break
		}
	}
	for i := range out {
		out[i] = max(out[i], low+float64(i)*distance)
	}
	for i := range out {
		k := len(out) - 1 - i
		out[k] = min(out[k], high-float64(i)*distance)
	}
	return out
}
