package network

// lineWatch follows the velocity in a line that lasts.
type lineWatch struct {
	lineTeller
	fast lasting
}

func (o *observer) watchLines(t *teller) {
	for _, l := range t.lines {
		o.lines = append(o.lines, lineWatch{lineTeller: l})
	}
	// The channels of the nodes come first.
}

func (o *observer) beginLines(t float64) {
	for i := range o.lines {
		l := &o.lines[i]
		l.fast.window = lastingFlow
		l.fast.start(t, o.before.values[l.channel])
	}
}

func (o *observer) passLines(s *sample) {
	for i := range o.lines {
		l := &o.lines[i]
		l.fast.add(s.t, s.values[l.channel])
	}
}

func (o *observer) tellLines(out *Outcome) {
	for i := range o.lines {
		if l := &o.lines[i]; l.fast.known {
			best := l.fast.best
			out.Parts[l.part].Lasting = &best
		}
	}
}
