package checker

import (
	"fmt"

	"headroom/checker/friction"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// The rest states of cylinders and friction packs.
const (
	extends  = "extends"
	retracts = "retracts"
	held     = "held"
	floating = "floating"
	clamped  = "clamped"
	slipping = "slipping"
	released = "released"
)

// restState tells what a cylinder or friction pack does when power is lost and
// every valve is at rest, with pumps and accumulators still under pressure.
func (s *survey) restState(i int, part specs.Part, f *facts.Part) {
	switch p := part.(type) {
	case *specs.Cylinder:
		f.RestState = s.cylinderAtRest(i, p)
	case *specs.FrictionPack:
		f.RestState = s.packAtRest(i, p)
	}
}

// A port at rest is joined with one of these, or with several, which only the
// flow can decide.
type joined uint8

const (
	shut joined = iota
	drained
	pressed
	heldAt // a reducing valve's rest pressure
	both
)

// joinedAt tells what a node is joined with at rest, and the reducing valve whose
// rest pressure rules there.
func (s *survey) joinedAt(node int) (joined, *specs.ReducingValve) {
	r := s.rest
	switch {
	case r.Pressed[node] && r.Drained[node]:
		return both, nil
	case r.Pressed[node]:
		return pressed, nil
	case r.Drained[node]:
		return drained, nil
	case r.Held[node] >= 0:
		valve := s.spec.Parts[r.Held[node]].(*specs.ReducingValve)
		if valve.Rest.Given() && valve.Rest.SI <= s.air {
			return drained, valve
		}
		return heldAt, valve
	}
	return shut, nil
}

// cylinderAtRest tells what a cylinder does: held where a side it would have to
// fill or empty is shut, else pushed by pressure, or by spring and load.
func (s *survey) cylinderAtRest(i int, c *specs.Cylinder) facts.Text {
	head, ok := s.graph.At(i, "head")
	if !ok {
		return facts.Text{Missing: s.path(i, "head")}
	}
	o := facts.Origin{At: c.At, Key: s.roots[i], Node: s.graph.Nodes[head].Name}
	at, _ := s.joinedAt(head)
	other, double := drained, false
	if rod, ok := s.graph.At(i, "rod"); ok {
		other, _ = s.joinedAt(rod)
		double = true
	}
	o.Note = "head side " + at.String()
	if double {
		o.Note += ", rod side " + other.String()
	}
	if state := moves(at, other, pushedBack(c)); state != "" {
		return s.word(state, o)
	}
	return facts.Text{Missing: facts.Simulation}
}

// moves is what a cylinder does by what its sides are joined with, and by which
// way spring and load push it: 1 to retract it, -1 to extend it. "" where
// pressures would have to be weighed.
func moves(head, rod joined, back int) string {
	switch {
	case head == both || rod == both || head == heldAt || rod == heldAt:
		return ""
	case head == shut || rod == shut:
		return held
	case head == pressed && rod == drained:
		return extends
	case head == drained && rod == pressed:
		return retracts
	case head == pressed && rod == pressed:
		return ""
	case back > 0:
		return retracts
	case back < 0:
		return extends
	}
	return floating
}

// pushedBack tells which way a cylinder is pushed by spring and load.
func pushedBack(c *specs.Cylinder) int {
	force := c.Load.SI
	if c.Spring != nil {
		force += c.Spring.Preload.SI
	}
	switch {
	case force > 0:
		return 1
	case force < 0:
		return -1
	}
	return 0
}

// String is in words what a side is joined with.
func (j joined) String() string {
	return [...]string{"shut", "joined with a reservoir", "under pressure", "held by a reducing valve", "between pressure and reservoir"}[j]
}

// packAtRest tells what a friction pack does: clamped where its cylinder is
// drained, or held at less than lifts it off; released where it is held at
// enough, or under pressure.
func (s *survey) packAtRest(i int, p *specs.FrictionPack) facts.Text {
	cylinder, c := s.releaser(p)
	if c == nil {
		return facts.Text{Missing: s.path(i, "released_by")}
	}
	head, ok := s.graph.At(cylinder, "head")
	if !ok {
		return facts.Text{Missing: s.path(cylinder, "head")}
	}
	o := facts.Origin{At: p.At, Key: s.roots[i], Node: s.graph.Nodes[head].Name}
	at, valve := s.joinedAt(head)
	o.Note = "its cylinder is " + at.String()
	switch at {
	case drained:
		return s.word(clamped, o)
	case shut:
		return s.word(held, o)
	case pressed:
		return s.word(released, o)
	case heldAt:
		return s.packHeld(i, c, valve, o)
	}
	return facts.Text{Missing: facts.Simulation}
}

// packHeld weighs a reducing valve's rest pressure against the pressures at which
// the clamp is gone and at which every face runs free.
func (s *survey) packHeld(i int, c *specs.Cylinder, valve *specs.ReducingValve, o facts.Origin) facts.Text {
	if !valve.Rest.Given() {
		return facts.Text{Missing: "parts." + valve.Name + ".rest"}
	}
	written := s.packIn(s.asWritten(), i)
	if key := written.lacks(); key != "" {
		return facts.Text{Missing: key}
	}
	rest := valve.Rest.SI - s.air
	head, _ := areas(c)
	lifts := friction.ReleasePressure(c.Spring.Preload.SI, 0, 0, head)
	o.Note = fmt.Sprintf("%s rests at %s, the clamp is gone at %s", valve.Name, print(rest, quantity.Pressure), print(lifts, quantity.Pressure))
	if rest < lifts {
		return s.word(clamped, o)
	}
	full := written.releaseNew()
	switch {
	case !full.Known:
		return facts.Text{Missing: full.Missing}
	case rest >= full.Value:
		return s.word(released, o)
	}
	return s.word(slipping, o)
}

// releaser is the cylinder that releases a friction pack; nil for none.
func (s *survey) releaser(p *specs.FrictionPack) (cylinder int, c *specs.Cylinder) {
	cylinder, known := s.graph.Part(p.ReleasedBy.Value)
	if !known {
		return 0, nil
	}
	c, _ = s.spec.Parts[cylinder].(*specs.Cylinder)
	return cylinder, c
}
