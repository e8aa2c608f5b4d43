package checker

import (
	"cmp"
	"fmt"

	"headroom/checker/friction"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// A packView is a friction pack and the cylinder that releases it, as a case has
// them.
type packView struct {
	s           *survey
	v           *caseView
	i, cylinder int
	pack        *specs.FrictionPack
	release     *specs.Cylinder
}

// asWritten is the circuit as no case changes it.
func (s *survey) asWritten() *caseView { return &caseView{spec: &specs.Case{}, parts: s.spec.Parts} }

// packIn is a pack that has a cylinder as a case has both.
func (s *survey) packIn(v *caseView, i int) packView {
	k := packView{s: s, v: v, i: i}
	k.pack, _ = v.parts[i].(*specs.FrictionPack)
	k.cylinder, _ = s.releaser(s.spec.Parts[i].(*specs.FrictionPack))
	k.release, _ = v.parts[k.cylinder].(*specs.Cylinder)
	return k
}

// key is the key path of a value of a part: where the case sets it, that.
func (k packView) key(part int, source specs.Source, key string) string {
	if source == specs.FromCase {
		return k.v.root + ".with." + k.s.graph.Name(part) + "." + key
	}
	return k.s.path(part, key)
}

// lacks is the key of a value without which neither clamp nor release can be
// worked out; "" for none.
func (k packView) lacks() string {
	s, p, c := k.s, k.pack, k.release
	if c.Spring == nil {
		return s.path(k.cylinder, "spring")
	}
	if !p.Faces.Given() {
		return s.path(k.i, "faces")
	}
	return lacking(
		keyed{p.TakeUp, s.path(k.i, "take_up")},
		keyed{c.Bore, s.path(k.cylinder, "bore")},
		keyed{c.Spring.Preload, s.path(k.cylinder, "spring.preload")},
		keyed{c.Spring.Rate, s.path(k.cylinder, "spring.rate")},
	)
}

// lever is torque per clamp force (m), μ z R, with the friction taken from its
// table; or the key of what is lacking.
func (k packView) lever(pick func(specs.Table) float64) (lever float64, lacks string) {
	p := k.pack
	switch {
	case !p.Friction.Given():
		return 0, k.s.path(k.i, "friction")
	case !p.Faces.Given():
		return 0, k.s.path(k.i, "faces")
	}
	at := under(k.s.roots[k.i])
	if key := lacking(at(p.InnerRadius, "inner_radius"), at(p.OuterRadius, "outer_radius")); key != "" {
		return 0, key
	}
	contact := friction.UniformWear
	if p.Contact.Value == "uniform-pressure" {
		contact = friction.UniformPressure
	}
	lever, _, _ = friction.Torque(pick(p.Friction), p.Faces.Value, friction.Radius(contact, p.InnerRadius.SI, p.OuterRadius.SI), 1, 0, fullSlip)
	return lever, ""
}

// holds is the least torque that the pack holds with a pressure (Pa above the air)
// left in its cylinder, at the lowest friction of its table; or what is lacking. A
// load on the cylinder that draws it out takes off the clamp. One that presses it
// home is not counted on, nor is dry friction, which shaking overcomes. With plates
// worn to the service limit, the spring has followed them and lost of its force:
//
//	F = F_0 − c · faces · wear
func (k packView) holds(pressure float64, worn bool) (torque float64, lacks string) {
	lever, lacks := k.lever(lowest)
	if lacks == "" {
		lacks = k.lacks()
	}
	if lacks == "" && worn && !k.pack.Wear.Given() {
		lacks = k.s.path(k.i, "wear")
	}
	if lacks != "" {
		return 0, lacks
	}
	head, _ := areas(k.release)
	preload := k.spring(worn) + min(0, lowest(k.v.load(k.release.Name, k.release.Load)))
	clamp, _, _ := friction.Clamp(preload, pressure, head, 0, k.pack.TakeUp.SI)
	return lever * clamp, ""
}

// spring is the force of the spring on the faces, new or worn (N).
func (k packView) spring(worn bool) float64 {
	if !worn {
		return k.release.Spring.Preload.SI
	}
	return max(0, k.release.Spring.Preload.SI-k.release.Spring.Rate.SI*float64(k.pack.Faces.Value)*k.pack.Wear.SI)
}

// heldBy says what the torque that it holds hangs on.
func (k packView) heldBy(pressure float64, worn bool) string {
	return fmt.Sprintf("friction %.3g, spring %s, %s left in %s", lowest(k.pack.Friction),
		print(k.spring(worn), quantity.Force), print(pressure, quantity.Pressure), k.release.Name)
}

// releaseNew is the pressure for full release with new plates.
func (k packView) releaseNew() facts.Fact {
	if !k.pack.Clearance.Given() {
		return missing(k.s.path(k.i, "clearance"))
	}
	return k.releasePressure(0)
}

// releaseWorn is the pressure for full release with plates worn to the service
// limit: the cylinder then lifts by the wear as well, from where its spring has
// followed the plates. The spring ends as far pressed as with new plates, and asks
// for as much.
func (k packView) releaseWorn() facts.Fact {
	if !k.pack.Clearance.Given() {
		return missing(k.s.path(k.i, "clearance"))
	}
	if !k.pack.Wear.Given() {
		return missing(k.s.path(k.i, "wear"))
	}
	return k.releasePressure(k.pack.Wear.SI)
}

// fullLift is the lift at which every face has its clearance, from where the
// plates are worn to the service limit if a wear is stated; and the stroke that the
// release cylinder has for it.
//
//	lift = take-up + faces · (clearance + wear)
func (k packView) fullLift() (lift, stroke facts.Fact) {
	s, p := k.s, k.pack
	if p.Clearance.Given() && p.Faces.Given() && p.TakeUp.Given() {
		o := facts.Origin{At: p.Clearance.At, Key: k.key(k.i, p.Clearance.Source, "clearance"), Case: k.v.spec.Name}
		o.Note = fmt.Sprintf("%d faces with a clearance of %s", p.Faces.Value, print(p.Clearance.SI, quantity.Length))
		if p.Wear.Given() {
			o.Note += " and a wear of " + print(p.Wear.SI, quantity.Length)
		}
		lift = s.known(friction.FullLift(p.TakeUp.SI, p.Faces.Value, p.Clearance.SI+p.Wear.SI), o)
	} else {
		at := under(s.roots[k.i])
		lift = missing(cmp.Or(lacking(at(p.Clearance, "clearance"), at(p.TakeUp, "take_up")), s.path(k.i, "faces")))
	}
	x := k.release.Stroke
	if !x.Given() {
		return lift, missing(s.path(k.cylinder, "stroke"))
	}
	return lift, s.known(x.SI, facts.Origin{At: x.At, Key: k.key(k.cylinder, x.Source, "stroke"), Case: k.v.spec.Name, Note: k.release.Name})
}

// releasePressure is the pressure that lifts a pack's cylinder until every face
// has its clearance, worn by so much (m), against spring, load and dry friction:
//
//	p = (F + c (take-up + faces · (clearance + wear)) + load + friction)/A, F = F_0 − c · faces · wear
func (k packView) releasePressure(wear float64) facts.Fact {
	if key := k.lacks(); key != "" {
		return missing(key)
	}
	pressure, lift := k.releasing(wear)
	o := facts.Origin{At: k.pack.At, Key: k.s.roots[k.i], Case: k.v.spec.Name}
	o.Note = fmt.Sprintf("%s of lift against the spring of %s", print(lift, quantity.Length), k.release.Name)
	return k.s.known(pressure, o)
}

// releasing is that pressure (Pa above the air) and the lift (m), where nothing lacks.
func (k packView) releasing(wear float64) (pressure, lift float64) {
	head, _ := areas(k.release)
	lift = friction.FullLift(k.pack.TakeUp.SI, k.pack.Faces.Value, k.pack.Clearance.SI+wear)
	spring := k.release.Spring
	left := spring.Preload.SI - spring.Rate.SI*float64(k.pack.Faces.Value)*wear
	against := highest(k.v.load(k.release.Name, k.release.Load)) + k.release.Friction.Coulomb.SI
	return friction.ReleasePressure(left+against, spring.Rate.SI, lift, head), lift
}
