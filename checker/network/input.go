package network

import "headroom/specs"

// An input is a value that changes with time from outside: straight between
// breaks, where enter is called.
type input struct {
	from, value, slope float64

	points []specs.Point // of a profile
	timed  []move        // of a command, known beforehand, in order of time
	moves  []move        // with those that events brought about
	rest   float64       // before the first
	target float64       // of the ramp under way
	until  float64
	next   int
}

// A move sends a commanded value to a target.
type move struct{ at, to, over float64 }

func (in *input) at(t float64) float64 { return in.value + in.slope*(t-in.from) }

// constant is an input that does not change.
func constant(v float64) *input { return &input{rest: v, value: v} }

// profile is an input linear between points, the first and last value held.
func profile(p specs.Profile) *input { return &input{points: p.Points} }

// reset puts an input back to before the start.
func (in *input) reset() {
	in.next, in.slope, in.from, in.until = 0, 0, 0, 0
	in.value, in.target = in.rest, in.rest
	in.moves = in.timed
}

// enter makes an input follow what it does right after t.
func (in *input) enter(t float64) {
	if in.points != nil {
		in.follow(t)
		return
	}
	v := in.at(t)
	if t >= in.until {
		v = in.target
		in.slope = 0
	}
	for in.next < len(in.moves) && in.moves[in.next].at <= t {
		mv := in.moves[in.next]
		in.next++
		in.target, in.until = mv.to, mv.at+mv.over
		if mv.over > 0 && t < in.until {
			in.slope = (mv.to - v) / (in.until - t)
		} else {
			v, in.slope = mv.to, 0
		}
	}
	in.from, in.value = t, v
}

func (in *input) follow(t float64) {
	p := in.points
	for in.next < len(p) && p[in.next].X <= t {
		in.next++
	}
	in.from = t
	switch in.next {
	case 0:
		in.value, in.slope = p[0].Y, 0
	case len(p):
		in.value, in.slope = p[len(p)-1].Y, 0
	default:
		a, b := p[in.next-1], p[in.next]
		in.slope = (b.Y - a.Y) / (b.X - a.X)
		in.value = a.Y + in.slope*(t-a.X)
	}
}

// breaks lists the times at which an input bends.
func (in *input) breaks(times []float64) []float64 {
	for _, p := range in.points {
		times = append(times, p.X)
	}
	for _, mv := range in.moves {
		times = append(times, mv.at, mv.at+mv.over)
	}
	return times
}
