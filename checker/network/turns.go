package network

// turns keeps the turning points of a quantity, for counting its cycles. Swings
// within the dead band are left out; where there are too many points the dead
// band doubles, so memory is bounded whatever happens.
type turns struct {
	band   float64
	points []float64
	to     float64 // how far the present swing has come
	up     bool
}

const (
	leastSwing = 1e4 // Pa
	mostTurns  = 4096
)

func (s *turns) start(v float64) {
	*s = turns{band: leastSwing, points: append(s.points[:0], v), to: v}
}

func (s *turns) add(v float64) {
	switch {
	case len(s.points) == 1 && s.to == s.points[0]: // no swing yet
		if v > s.to+s.band || v < s.to-s.band {
			s.up, s.to = v > s.to, v
		}
	case s.up && v >= s.to || !s.up && v <= s.to:
		s.to = v
	case s.up && v < s.to-s.band || !s.up && v > s.to+s.band:
		s.points = append(s.points, s.to)
		s.up, s.to = !s.up, v
		if len(s.points) >= mostTurns {
			s.thin()
		}
	}
}

// thin leaves out the smallest swings.
func (s *turns) thin() {
	old := append([]float64(nil), s.points...)
	last := s.to
	band := 2 * s.band
	s.start(old[0])
	s.band = band
	for _, v := range old[1:] {
		s.add(v)
	}
	s.add(last)
}

// all are the turning points, the end of the last swing among them.
func (s *turns) all() []float64 {
	if len(s.points) == 0 || s.to == s.points[len(s.points)-1] {
		return append([]float64(nil), s.points...)
	}
	return append(append([]float64(nil), s.points...), s.to)
}
