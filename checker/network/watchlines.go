package network

// lineWatch follows the velocity in a line that lasts.
type lineWatch struct {
	lineTeller
	fast   lasting
	surges []Surge
}

func (o *observer) watchLines(t *teller) {
	for _, l := range t.lines {
		o.lines = append(o.lines, lineWatch{lineTeller: l})
	}
	o.watchClosers()
}

func (o *observer) beginLines(t float64) {
	for i := range o.lines {
		l := &o.lines[i]
		l.fast.window = lastingFlow
		l.fast.start(t, o.before.values[l.channel])
	}
	o.beginClosers()
}

func (o *observer) passLines(s *sample) {
	for i := range o.lines {
		l := &o.lines[i]
		l.fast.add(s.t, s.values[l.channel])
	}
}

func (o *observer) tellLines(out *Outcome) {
	for i := range o.lines {
		l := &o.lines[i]
		if l.fast.known {
			best := l.fast.best
			out.Parts[l.part].Lasting = &best
		}
		out.Parts[l.part].Surges = l.surges
	}
}
