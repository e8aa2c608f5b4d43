package expression

import (
	"fmt"
	"math"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/decls"
	"github.com/google/cel-go/common/env"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/common/types"
	"github.com/google/cel-go/common/types/ref"
)

// Bounds on an expression, far above any sensible one.
const (
	maxSize      = 2000 // characters
	maxRecursion = 24   // levels of the grammar
	maxTokens    = 400
	maxNodes     = 300
	maxProblems  = 10 // told of one
)

// library is all that is taken in of CEL's standard library.
var library = []string{
	operators.Add, operators.Subtract, operators.Multiply, operators.Negate,
	operators.Less, operators.LessEquals, operators.Greater, operators.GreaterEquals,
	operators.Equals, operators.NotEquals, operators.In,
	operators.LogicalAnd, operators.LogicalOr, operators.LogicalNot, operators.Conditional,
}

// Functions of our own in the checked tree. Names that begin with @ cannot be
// written in an expression.
const (
	knownFunction = "@known" // has(fact)
	entryFunction = "@entry" // group[name]
)

// A Function is one that expressions may call.
type Function struct {
	Call  string // as in "max(a, b, ...)"
	About string
}

// Functions lists them for the documentation.
func Functions() []Function {
	return []Function{
		{"q('210 bar')", "a quantity: a number with its unit"},
		{"has(part.bypass)", "whether a fact or limit is known"},
		{"min(a, b, ...)", fmt.Sprintf("the least of 2 to %d values of one dimension", maxArguments)},
		{"max(a, b, ...)", "the greatest of them"},
		{"abs(a)", "the size of a value, without its sign"},
		{"clamp(a, least, most)", "a value kept between two others"},
	}
}

// maxArguments is how many values min and max take.
const maxArguments = 6

func newEnv(symbols []Symbol) (*cel.Env, error) {
	subset := env.NewLibrarySubset()
	for _, name := range library {
		subset.AddIncludedFunctions(env.NewFunction(name))
	}
	subset.AddIncludedMacros(operators.Has)
	variables := make([]*decls.VariableDecl, len(symbols))
	for i, s := range symbols {
		variables[i] = decls.NewVariable(s.Name, s.Type.cel())
	}
	return cel.NewCustomEnv(
		cel.StdLib(cel.StdLibSubset(subset)),
		cel.ParserExpressionSizeLimit(maxSize),
		cel.ParserRecursionLimit(maxRecursion),
		cel.ExpressionNodeLimit(maxNodes),
		cel.VariableDecls(variables...),
		quotient(), known(), entry(),
		extreme("min", math.Min), extreme("max", math.Max),
		cel.Function("abs", cel.Overload("abs_number", []*cel.Type{cel.DoubleType}, cel.DoubleType,
			cel.UnaryBinding(func(a ref.Val) ref.Val { return types.Double(math.Abs(float64(a.(types.Double)))) }))),
		cel.Function("clamp", cel.Overload("clamp_numbers", []*cel.Type{cel.DoubleType, cel.DoubleType, cel.DoubleType}, cel.DoubleType,
			cel.FunctionBinding(func(a ...ref.Val) ref.Val {
				x, least, most := float64(a[0].(types.Double)), float64(a[1].(types.Double)), float64(a[2].(types.Double))
				return types.Double(math.Min(math.Max(x, least), most))
			}))),
	)
}

// quotient declares division: what CEL gives for x / 0 is infinite, and would
// hold every limit from below.
func quotient() cel.EnvOption {
	return cel.Function(operators.Divide, decls.DisableTypeGuards(true), cel.Overload("divide_numbers", []*cel.Type{cel.DoubleType, cel.DoubleType}, cel.DoubleType,
		cel.BinaryBinding(func(a, b ref.Val) ref.Val {
			if b.(types.Double) == 0 {
				return types.NewErr("division by zero")
			}
			return a.(types.Double) / b.(types.Double)
		})))
}

// extreme declares min or max.
func extreme(name string, of func(a, b float64) float64) cel.EnvOption {
	var options []cel.FunctionOpt
	for n := 2; n <= maxArguments; n++ {
		arguments := make([]*cel.Type, n)
		for i := range arguments {
			arguments[i] = cel.DoubleType
		}
		options = append(options, cel.Overload(fmt.Sprintf("%s_%d", name, n), arguments, cel.DoubleType))
	}
	options = append(options, cel.SingletonFunctionBinding(func(values ...ref.Val) ref.Val {
		x := float64(values[0].(types.Double))
		for _, v := range values[1:] {
			x = of(x, float64(v.(types.Double)))
		}
		return types.Double(x)
	}))
	return cel.Function(name, options...)
}

// known declares has: it alone may be given what is missing.
func known() cel.EnvOption {
	return cel.Function(knownFunction, cel.Overload("known_value", []*cel.Type{cel.TypeParamType("A")}, cel.BoolType,
		cel.OverloadIsNonStrict(),
		cel.UnaryBinding(func(v ref.Val) ref.Val { return types.Bool(!types.IsUnknown(v)) })))
}

// entry declares the look-up of a name in a group of limits.
func entry() cel.EnvOption {
	var options []cel.FunctionOpt
	for _, t := range []Type{{Form: Number}, {Form: Text}, {Form: Flag}} {
		group := t
		group.Map = true
		options = append(options, cel.Overload("entry_"+t.cel().String(), []*cel.Type{group.cel(), cel.StringType}, t.cel()))
	}
	options = append(options, cel.SingletonBinaryBinding(func(group, name ref.Val) ref.Val {
		return group.(*Map).entry(string(name.(types.String)))
	}))
	return cel.Function(entryFunction, options...)
}
