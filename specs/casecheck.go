package specs

import "headroom/specs/quantity"

// check completes a case from its own values and those of the circuit, and
// checks what its keys say of each other.
func (c *Case) check(r *reader, _ place) {
	c.Begins.complete(r)
	for _, p := range c.Begins.Positions {
		r.withinStroke(p.Name, p.Value)
	}
	for i := range c.Commands {
		c.Commands[i].timed(r, c)
	}
	for i := range c.Expects {
		c.Expects[i].timed(r, c)
	}
}

// complete fills in what a case begins with from what else is known.
func (b *Begins) complete(r *reader) {
	environment := &r.circuit.Environment
	take := func(q *Quantity, key string, from Quantity) {
		if q.At.Line == 0 && from.Given() {
			*q = Quantity{SI: from.SI, Dimension: from.Dimension, Source: FromDefault, Key: "begins." + key}
		}
	}
	take(&b.Fluid, "fluid", environment.Ambient)
	coolest := environment.Ambient
	if r.all(b.Fluid, coolest) && b.Fluid.SI < coolest.SI {
		coolest = b.Fluid
	}
	take(&b.Ambient, "ambient", coolest)
	take(&b.Plates, "plates", b.Ambient)
}

// withinStroke checks a position of a cylinder.
func (r *reader) withinStroke(name string, at Quantity) {
	cylinder, is := r.circuit.Part(name).(*Cylinder)
	if !is || !r.all(at, cylinder.Stroke) {
		return
	}
	if at.SI < 0 || at.SI > cylinder.Stroke.SI {
		texts := quantity.Length.FormatAlike(at.SI, cylinder.Stroke.SI)
		r.wrong(ruleRange, at.At, at.Key, "%s is outside the stroke of %s, which is from 0 to %s", texts[0], name, texts[1])
	}
}

// late tells that a time of a case lies past its end.
func (r *reader) late(c *Case, at Quantity, what string, seconds float64) {
	if r.all(at, c.Lasts) && seconds > c.Lasts.SI*(1+1e-9) {
		texts := quantity.Time.FormatAlike(seconds, c.Lasts.SI)
		r.wrong(ruleRange, at.At, at.Key, "%s at %s is past the end of the case, which lasts %s", what, texts[0], texts[1])
	}
}

func (c *Command) ways() (string, [][]string) {
	return "a command has either at (a time) or when (an event)", [][]string{{"at"}, {"when"}}
}

func (t *Trigger) ways() (string, [][]string) {
	return "an event is {part, reaches} or {node, below} or {node, above}",
		[][]string{{"part", "reaches"}, {"node", "below"}, {"node", "above"}}
}

func (e *Expectation) ways() (string, [][]string) {
	return "an expectation is {part, reaches, within} or {node, at_least} or {node, at_most} or {pack, locks_within}",
		[][]string{{"part", "reaches", "within"}, {"node", "at_least"}, {"node", "at_most"}, {"pack", "locks_within"}}
}

// check sees that an expectation's time is a stretch of the case.
func (e *Expectation) check(r *reader, _ place) {
	if e.Until.Given() && e.Node.At.Line == 0 {
		r.wrong(ruleShape, e.Until.At, e.Until.Key, "until goes with a node's pressure; a time allowed counts from from")
	}
	r.below(e.From, e.Until)
}

// check sees that a switch has room between on and off.
func (s *PressureSwitch) check(r *reader, _ place) { r.below(s.OnBelow, s.OffAbove) }

// timed checks a command against its case.
func (c *Command) timed(r *reader, in *Case) {
	r.late(in, c.Time, "a command", c.Time.SI)
	if c.When != nil {
		r.withinStroke(c.When.Part.Value, c.When.Reaches)
	}
}

// timed checks an expectation against its case.
func (e *Expectation) timed(r *reader, in *Case) {
	r.withinStroke(e.Part.Value, e.Reaches)
	r.late(in, e.From, "from", e.From.SI)
	r.late(in, e.Until, "until", e.Until.SI)
	r.late(in, e.Within, "the end of the time allowed", e.From.SI+e.Within.SI)
	r.late(in, e.LocksWithin, "the end of the time allowed", e.From.SI+e.LocksWithin.SI)
}
