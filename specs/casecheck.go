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

const commandWays = "a command has either at (a time) or when (an event)"

// check sees that a command has one cause.
func (c *Command) check(r *reader, where place) {
	var when Span
	if c.When != nil {
		when = c.When.At
	}
	r.oneWay(where, commandWays,
		[]keyed{{"at", c.Time.At}, {"when", when}}, [][]string{{"at"}, {"when"}})
}

func (c *Command) timed(r *reader, in *Case) {
	r.late(in, c.Time, "a command", c.Time.SI)
	if c.When != nil {
		r.withinStroke(c.When.Part.Value, c.When.Reaches)
	}
}

const triggerWays = "an event is {part, reaches} or {node, below} or {node, above}"

// check sees that an event is of one kind, and whole.
func (t *Trigger) check(r *reader, where place) {
	r.oneWay(where, triggerWays,
		[]keyed{{"part", t.Part.At}, {"reaches", t.Reaches.At}, {"node", t.Node.At}, {"below", t.Below.At}, {"above", t.Above.At}},
		[][]string{{"part", "reaches"}, {"node", "below"}, {"node", "above"}})
}

const expectationWays = "an expectation is {part, reaches, within} or {node, at_least} or {node, at_most} or {pack, locks_within}"

// check sees that an expectation is of one kind, and whole.
func (e *Expectation) check(r *reader, where place) {
	way := r.oneWay(where, expectationWays,
		[]keyed{{"part", e.Part.At}, {"reaches", e.Reaches.At}, {"within", e.Within.At}, {"node", e.Node.At},
			{"at_least", e.AtLeast.At}, {"at_most", e.AtMost.At}, {"pack", e.Pack.At}, {"locks_within", e.LocksWithin.At}},
		[][]string{{"part", "reaches", "within"}, {"node", "at_least"}, {"node", "at_most"}, {"pack", "locks_within"}})
	if e.Until.Given() && (way == 0 || way == 3) {
		r.wrong(ruleShape, e.Until.At, e.Until.Key, "until belongs to a node's pressure; a time allowed begins at from")
	}
	if r.all(e.From, e.Until) && e.Until.SI <= e.From.SI {
		r.contradict(e.From, e.Until, "less")
	}
}

func (e *Expectation) timed(r *reader, in *Case) {
	r.withinStroke(e.Part.Value, e.Reaches)
	r.late(in, e.Until, "until", e.Until.SI)
	r.late(in, e.Within, "the time allowed ends, which", e.From.SI+e.Within.SI)
	r.late(in, e.LocksWithin, "the time allowed ends, which", e.From.SI+e.LocksWithin.SI)
	if r.all(e.From, in.Lasts) && e.From.SI >= in.Lasts.SI && e.From.Source != FromDefault {
		r.late(in, e.From, "from", e.From.SI)
	}
}

// check sees that a switch has room between on and off.
func (s *PressureSwitch) check(r *reader, _ place) { r.below(s.OnBelow, s.OffAbove) }
