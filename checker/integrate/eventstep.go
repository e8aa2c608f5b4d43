package integrate

import "math"

// endAtEvent finds the events in the step just computed and where it has to end
// for them. It returns the length of the step to take instead, or the length of
// the step where it may stand; theta then is the place in it where it ends.
func (s *Solver) endAtEvent(cuts int) float64 {
	s.theta = 1
	s.findEvents()
	for _, c := range s.found {
		e := &s.system.Events[c.event]
		acts := e.Act != nil && c.told
		inside := c.theta < 1-edge && cuts < mostCuts
		if inside && (acts || e.Kink && c.theta > edge) {
			// A little further than the event, so that it will be in the last part.
			shorter := c.theta * (1 + edge/2) * s.h
			if shorter > s.least(math.Inf(1)) {
				return shorter
			}
		}
		if acts {
			s.endInside(c.theta)
			break
		}
	}
	return s.h
}

// endInside ends the step where an event acts, with the state interpolated. Of
// the events located behind that place those stay whose value has changed sides
// there, too: they happen at the same time to within the tolerance.
func (s *Solver) endInside(theta float64) {
	if theta == 1 {
		return
	}
	s.theta = theta
	s.interpolate(theta, s.cut)
	t := s.t + theta*s.h
	s.evaluate(t, s.cut, s.slope)
	kept := s.found[:0]
	for i := range s.watches {
		s.watches[i].after = s.system.Events[i].Value(t, s.cut)
	}
	for _, c := range s.found {
		if c.theta > theta {
			if s.side(c.event, s.watches[c.event].after) == s.sideAfter(kept, c.event) {
				continue
			}
			c.theta = theta
		}
		kept = append(kept, c)
	}
	s.found = kept
}

// sideAfter is the side an event is on after the crossings listed.
func (s *Solver) sideAfter(list []crossing, event int) bool {
	up := s.watches[event].up
	for _, c := range list {
		if c.event == event {
			up = !up
		}
	}
	return up
}

// noteEvents tells of the events in the step, which ends at to.
func (s *Solver) noteEvents(to float64) {
	for _, c := range s.found {
		if note := s.system.Events[c.event].Note; note != nil && c.told {
			s.interpolate(c.theta, s.probe)
			note(min(s.t+c.theta*s.h, to), s.probe)
		}
	}
}

// passEvents moves the watches on to the end of the step and lets the events
// there act, in order. It returns the one that ended the run.
func (s *Solver) passEvents() (After, int) {
	for i := range s.watches {
		w := &s.watches[i]
		w.up, w.before, w.acted = s.side(i, w.after), w.after, false
	}
	result := GoOn
	for _, c := range s.found {
		e := &s.system.Events[c.event]
		if !c.told || e.Note == nil && e.Act == nil {
			continue
		}
		s.statistics.Events++
		if e.Act == nil {
			continue
		}
		switch e.Act(s.t, s.y) {
		case Stop:
			return Stop, c.event
		case Restart:
			s.watches[c.event].acted = true
			result = Restart
		}
	}
	return result, -1
}
