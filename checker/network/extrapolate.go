package network

import "math"

// next is where the next pass starts: extrapolated once there is a trend, and
// it does not grow; never past the temperature at which it counts as run away.
func (s *settler) next() []float64 {
	last := len(s.result) - 1
	switch {
	case s.mixing != nil:
		return s.mixing.next()
	case s.refiner != nil && last+1 >= refineTo:
		s.mixing = &exchange{s: s}
		return s.result[last]
	}
	if s.refiner == nil && last+1 >= refineFrom && s.grows == 0 {
		s.refiner = newRefiner(s)
		return s.refiner.begin()
	}
	if s.refiner != nil {
		return s.refiner.next()
	}
	if last+1 < leastPasses || s.grows > 0 || s.undecided() {
		s.plain++
		return s.result[last]
	}
	s.leapt, s.plain = true, 0
	star, rest := s.extrapolate()
	factor := 0.0
	if s.worthALeap(rest) {
		factor = min(slowest, farthestLeap/largest(rest))
	}
	clipped := false
	for i := range star {
		star[i] += factor * rest[i]
		if s.r.m.states[s.at[i]] == temperatureState {
			highest := max(s.limit, s.result[last][i])
			clipped = clipped || star[i] > highest
			star[i] = min(star[i], highest)
		}
		star[i] = max(star[i], s.coldest(i))
	}
	if clipped {
		star = s.between(star)
	}
	return star
}

// between is where, on the straight line from the last pass that took up heat to
// the last that gave it off, there would be none; otherwise where there are no
// such two. What was too hot once is not tried again.
func (s *settler) between(otherwise []float64) []float64 {
	cold, hot := -1, -1
	for k, heat := range s.heat {
		if heat > 0 {
			cold = k
		} else {
			hot = k
		}
	}
	if cold < 0 || hot < 0 {
		return otherwise
	}
	share := s.heat[cold] / (s.heat[cold] - s.heat[hot])
	v := make([]float64, len(s.at))
	for i := range v {
		v[i] = s.result[cold][i] + share*(s.result[hot][i]-s.result[cold][i])
	}
	return v
}

// undecided tells whether a node is too hot after an extrapolated start, and it
// does not show yet whether it cools down: plain passes go on until it does.
func (s *settler) undecided() bool {
	hottest, _ := s.hottest()
	if !s.leapt || hottest <= s.limit {
		return false
	}
	return s.plain == 0 || s.heat[len(s.heat)-1] > 0
}

// coldest is the lowest that a temperature may be extrapolated to: no lower
// than it, or the surroundings, ever were, less 20 K.
func (s *settler) coldest(i int) float64 {
	low := s.r.m.ambient
	for k := range s.theta {
		low = min(low, s.theta[k][i], s.result[k][i])
	}
	return low - 20
}

// extrapolate is θ*, and what of the last change the differences say nothing of.
func (s *settler) extrapolate() (star, rest []float64) {
	last := len(s.result) - 1
	star = append([]float64(nil), s.result[last]...)
	rest, _, _ = s.change(last)
	var all []difference
	for k := last - 1; k >= 0; k-- {
		later, _, _ := s.change(k + 1)
		sooner, size, _ := s.change(k)
		all = append(all, difference{minus(later, sooner), minus(s.result[k+1], s.result[k]), 1e-3 * size})
	}
	mix(star, rest, all, mostColumns)
	return star, rest
}

// A difference is that of what two passes left to come and of where they led; one whose
// part that is new is shorter than least says nothing.
type difference struct {
	left, led []float64
	least     float64
}

// mix takes off left what differences show of it, the newest first and at most so many
// of them, and off star how far the same share of them leads: least squares, column by
// column made orthonormal.
func mix(star, left []float64, all []difference, most int) {
	var q, f [][]float64
	for _, d := range all {
		if len(q) == most {
			break
		}
		for c := range q {
			share := dot(q[c], d.left)
			subtract(d.left, q[c], share)
			subtract(d.led, f[c], share)
		}
		norm := math.Sqrt(dot(d.left, d.left))
		if !(norm > d.least) || norm < 1e-6 {
			continue // it says nothing new
		}
		for i := range d.left {
			d.left[i] /= norm
			d.led[i] /= norm
		}
		q, f = append(q, d.left), append(f, d.led)
	}
	for c := range q {
		share := dot(q[c], left)
		subtract(left, q[c], share)
		subtract(star, f[c], share)
	}
}

// minus is a less b.
func minus(a, b []float64) []float64 {
	v := make([]float64, len(a))
	for i := range v {
		v[i] = a[i] - b[i]
	}
	return v
}

// stillToCome is how many times a part of the last change that no difference
// shows may be still to come: as for a time constant of that many passes, however
// little of the change it is. As long as it is there nothing has settled.
func stillToCome(part []float64) float64 {
	if largest(part) < noChange {
		return 0
	}
	return slowest
}

// worthALeap tells whether such a part is so much of the last change that a leap
// along it shows what it comes to; where it is less, what is quick comes to rest
// first, for it may be no more than how that bends.
func (s *settler) worthALeap(part []float64) bool {
	_, change, _ := s.change(len(s.result) - 1)
	size := largest(part)
	return size >= noChange && size >= muchOf*change
}

// largest is the largest size in v, and never quite nothing.
func largest(v []float64) float64 {
	size := 1e-300
	for _, x := range v {
		size = max(size, math.Abs(x))
	}
	return size
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// subtract takes share times b from a.
func subtract(a, b []float64, share float64) {
	for i := range a {
		a[i] -= share * b[i]
	}
}
