package rules

import (
	"reflect"

	"headroom/rules/expression"
	"headroom/rules/facts"
)

// limitsWord is the first word of a limit's name in an expression.
const limitsWord = "limits"

// A scene is what expressions read while one subject is judged.
type scene struct {
	objects [variables]reflect.Value
	limits  *limitValues
	soFar   bool // what is known so far stands for facts that are missing
	reader  expression.Reader
}

// newScene is the scene of a circuit, with no subject yet.
func newScene(c *facts.Circuit, limits *limitValues) *scene {
	s := &scene{limits: limits}
	s.objects[circuitVariable] = reflect.ValueOf(&c.Whole).Elem()
	s.objects[fluidVariable] = reflect.ValueOf(&c.Fluid).Elem()
	s.objects[environmentVariable] = reflect.ValueOf(&c.Environment).Elem()
	s.reader.Scene = s
	return s
}

// turn makes a target the subject.
func (s *scene) turn(k *subjectKind, t *target) {
	for i, v := range k.reads {
		s.objects[v] = t.objects[i]
	}
}

// ResolveName is the value of a fact or limit for an expression.
func (s *scene) ResolveName(name string) (any, bool) {
	if f := factNamed[name]; f != nil {
		return f.read(s.objects[f.variable], s.soFar), true
	}
	return s.limits.value(name)
}

// known is what is known so far of a fact that is missing; nil for nothing, and for
// what is no fact.
func (s *scene) known(name string) *facts.SoFar {
	f := factNamed[name]
	if f == nil {
		return nil
	}
	return f.soFar(s.objects[f.variable])
}
