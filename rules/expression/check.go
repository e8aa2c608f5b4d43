package expression

import (
	"fmt"
	"slices"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"

	"headroom/specs/quantity"
)

// A checker infers the type of every node of a parsed expression, and rewrites
// what CEL is not to see: names with dots become variables, whole numbers
// doubles, q('1 bar') its value, has() and the look-up in a group calls of our own.
type checker struct {
	vocabulary *Vocabulary
	scope      Scope
	places     places
	factory    ast.ExprFactory
	nextID     int64

	types    map[int64]Type
	reads    []string
	problems []Problem
}

func newChecker(v *Vocabulary, scope Scope, text string, parsed *cel.Ast) *checker {
	return &checker{
		vocabulary: v, scope: scope,
		places:  places{text, parsed.NativeRep().SourceInfo(), map[int64]piece{}},
		factory: ast.NewExprFactory(),
		nextID:  ast.MaxID(parsed.NativeRep()) + 1,
		types:   map[int64]Type{},
	}
}

// fail notes a problem at a piece of the text; the type of what failed is wrong,
// and nothing more is said of what is built upon it.
func (c *checker) fail(at piece, format string, arguments ...any) Type {
	c.problems = append(c.problems, Problem{at.start, at.end - at.start, fmt.Sprintf(format, arguments...)})
	return Type{}
}

// infer gives the type of a node.
func (c *checker) infer(e ast.Expr) Type {
	t := c.typeOf(e)
	c.types[e.ID()] = t
	return t
}

func (c *checker) typeOf(e ast.Expr) Type {
	switch e.Kind() {
	case ast.LiteralKind:
		return c.literal(e)
	case ast.IdentKind, ast.SelectKind:
		return c.name(e)
	case ast.CallKind:
		return c.call(e)
	case ast.ListKind:
		return c.fail(c.places.of(e), "a list can stand on the right of `in` only")
	}
	return c.fail(c.places.of(e), "this has no meaning in a rule")
}

func (c *checker) literal(e ast.Expr) Type {
	switch value := e.AsLiteral().(type) {
	case types.Double:
		return Type{Form: Number}
	case types.Int:
		e.SetKindCase(c.factory.NewLiteral(e.ID(), types.Double(value)))
		return Type{Form: Number}
	case types.String:
		return Type{Form: Text}
	case types.Bool:
		return Type{Form: Flag}
	}
	return c.fail(c.places.of(e), "a number, a text in single quotes, true or false is needed here")
}

// operatorSigns are the binary operators on numbers as they are written.
var operatorSigns = map[string]string{
	operators.Add: "+", operators.Subtract: "-", operators.Multiply: "*", operators.Divide: "/",
	operators.Less: "<", operators.LessEquals: "<=", operators.Greater: ">", operators.GreaterEquals: ">=",
	operators.Equals: "==", operators.NotEquals: "!=",
}

func (c *checker) call(e ast.Expr) Type {
	call := e.AsCall()
	if call.IsMemberFunction() {
		return c.fail(c.places.function(e, call.FunctionName()), "there is no function %s here%s", call.FunctionName(), loopHint(call.FunctionName()))
	}
	arguments := call.Args()
	switch name := call.FunctionName(); name {
	case operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot:
		return c.logic(arguments)
	case operators.Conditional:
		return c.conditional(e, arguments)
	case operators.Equals, operators.NotEquals:
		return c.equality(e, arguments)
	case operators.In:
		return c.membership(e, arguments)
	case operators.Index:
		return c.index(e, arguments)
	case operators.Negate:
		return c.negation(arguments)
	case "q":
		return c.quantity(e, arguments)
	default:
		if operatorSigns[name] != "" {
			return c.arithmetic(e, arguments)
		}
		return c.function(e, name, arguments)
	}
}

// loopHint says why the functions of CEL that loop are not there.
func loopHint(name string) string {
	if slices.Contains([]string{"all", "exists", "exists_one", "map", "filter"}, name) {
		return "; expressions have no loops"
	}
	return ""
}

func (c *checker) logic(arguments []ast.Expr) Type {
	for _, a := range arguments {
		c.needs(a, Flag)
	}
	return Type{Form: Flag}
}

// needs infers a node that must have a form, and tells whether it has.
func (c *checker) needs(e ast.Expr, form Form) (Type, bool) {
	t := c.infer(e)
	if t.Form == wrong {
		return t, false
	}
	if t.Form != form || t.Map {
		needed := Type{Form: form}.String()
		if form == Number {
			needed = "a number or quantity"
		}
		c.fail(c.places.of(e), "%s is needed here, not %s", needed, t)
		return t, false
	}
	return t, true
}

func (c *checker) conditional(e ast.Expr, arguments []ast.Expr) Type {
	c.needs(arguments[0], Flag)
	a, b := c.infer(arguments[1]), c.infer(arguments[2])
	switch {
	case a.Form == wrong || b.Form == wrong:
		return Type{}
	case a.Map || b.Map || a.Form != b.Form || a.Form == Number && !quantity.Comparable(a.Dimension, b.Dimension):
		return c.fail(c.places.of(e), "both sides of the colon must be of one kind; here they are %s and %s%s", a, b, differenceHint(a, b))
	}
	return a
}

func (c *checker) equality(e ast.Expr, arguments []ast.Expr) Type {
	a, b := c.infer(arguments[0]), c.infer(arguments[1])
	if a.Form == wrong || b.Form == wrong {
		return Type{}
	}
	if a.Map || b.Map || a.Form != b.Form || a.Form == Number && !quantity.Comparable(a.Dimension, b.Dimension) {
		return c.incomparable(e, a, b)
	}
	return Type{Form: Flag}
}

func (c *checker) incomparable(e ast.Expr, a, b Type) Type {
	return c.fail(c.places.of(e), "cannot compare %s with %s%s", a, b, differenceHint(a, b))
}

// differenceHint helps where a level and a difference of it meet.
func differenceHint(a, b Type) string {
	if a.Form != Number || b.Form != Number {
		return ""
	}
	meet := func(x, y quantity.Dimension) bool {
		return a.Dimension == x && b.Dimension == y || a.Dimension == y && b.Dimension == x
	}
	switch {
	case meet(quantity.Pressure, quantity.PressureDifference):
		return "; a difference is written q('5 bar diff')"
	case meet(quantity.Pressure, quantity.AbsolutePressure):
		return "; an absolute pressure is written q('5 bar abs'), and gauge and absolute do not mix"
	case meet(quantity.Temperature, quantity.TemperatureDifference):
		return "; q('10 K') is a difference, q('10 degC') a temperature"
	}
	return ""
}

func (c *checker) negation(arguments []ast.Expr) Type {
	t, fine := c.needs(arguments[0], Number)
	switch {
	case !fine:
		return Type{}
	case t.Dimension == quantity.Temperature || t.Dimension == quantity.AbsolutePressure:
		return c.fail(c.places.of(arguments[0]), "%s has no negative", t)
	}
	return t
}

// arithmetic infers + - * / and the comparisons of order.
func (c *checker) arithmetic(e ast.Expr, arguments []ast.Expr) Type {
	a, fineA := c.needs(arguments[0], Number)
	b, fineB := c.needs(arguments[1], Number)
	if !fineA || !fineB {
		return Type{}
	}
	var d quantity.Dimension
	var ok bool
	var verb string
	switch e.AsCall().FunctionName() {
	case operators.Add:
		d, ok = quantity.Add(a.Dimension, b.Dimension)
		verb = "add %s and %s"
	case operators.Subtract:
		d, ok = quantity.Subtract(a.Dimension, b.Dimension)
		verb = "subtract %[2]s from %[1]s"
	case operators.Multiply:
		d, ok = quantity.Multiply(a.Dimension, b.Dimension)
		verb = "multiply %s by %s"
	case operators.Divide:
		d, ok = quantity.Divide(a.Dimension, b.Dimension)
		verb = "divide %s by %s"
	default:
		if !quantity.Comparable(a.Dimension, b.Dimension) {
			return c.incomparable(e, a, b)
		}
		return Type{Form: Flag}
	}
	if !ok {
		return c.fail(c.places.of(e), "cannot %s%s", fmt.Sprintf(verb, a, b), differenceHint(a, b))
	}
	return Type{Form: Number, Dimension: d}
}

// membership infers `x in ['a', 'b']` and `x in limits.group`.
func (c *checker) membership(e ast.Expr, arguments []ast.Expr) Type {
	left := c.infer(arguments[0])
	if arguments[1].Kind() == ast.ListKind {
		return c.inList(e, left, arguments[1])
	}
	group := c.infer(arguments[1])
	switch {
	case left.Form == wrong || group.Form == wrong:
		return Type{}
	case !group.Map:
		return c.fail(c.places.of(arguments[1]), "a list such as ['hose', 'tube'] or a group of limits is needed behind `in`, not %s", group)
	case left.Form != Text || left.Map:
		return c.fail(c.places.of(arguments[0]), "a text is needed before `in`, not %s", left)
	}
	return Type{Form: Flag}
}

func (c *checker) inList(e ast.Expr, left Type, list ast.Expr) Type {
	c.types[list.ID()] = Type{words: true}
	for _, element := range list.AsList().Elements() {
		t := c.infer(element)
		if left.Form == wrong || t.Form == wrong {
			continue
		}
		if t.Map || left.Map || t.Form != left.Form || t.Form == Number && !quantity.Comparable(t.Dimension, left.Dimension) {
			c.fail(c.places.of(element), "cannot compare %s with %s%s", left, t, differenceHint(left, t))
		}
	}
	if len(list.AsList().Elements()) == 0 {
		c.fail(c.places.of(list), "the list is empty")
	}
	return Type{Form: Flag}
}
