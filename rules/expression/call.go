package expression

import (
	"fmt"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"

	"headroom/specs/quantity"
)

// quantity folds q('210 bar') to its value.
func (c *checker) quantity(e ast.Expr, arguments []ast.Expr) Type {
	at := c.places.of(e)
	if len(arguments) != 1 || arguments[0].Kind() != ast.LiteralKind || arguments[0].AsLiteral().Type() != types.StringType {
		return c.fail(at, "q takes a quantity in quotes, such as q('210 bar')")
	}
	text := string(arguments[0].AsLiteral().(types.String))
	value, dimension, err := quantity.ParseAny(text)
	if err != nil {
		return c.fail(c.places.within(arguments[0], text, err), "%s", err)
	}
	c.places.pin(e, at)
	e.SetKindCase(c.factory.NewLiteral(e.ID(), types.Double(value.SI)))
	return Type{Form: Number, Dimension: dimension}
}

// function infers a call by name.
func (c *checker) function(e ast.Expr, name string, arguments []ast.Expr) Type {
	fewest, most := 0, 0
	switch name {
	case "min", "max":
		fewest, most = 2, maxArguments
	case "abs":
		fewest, most = 1, 1
	case "clamp":
		fewest, most = 3, 3
	default:
		return c.unknownFunction(e, name)
	}
	if n := len(arguments); n < fewest || n > most {
		return c.fail(c.places.function(e, name), "%s takes %s, not %d", name, counted(fewest, most), n)
	}
	first, fine := c.needs(arguments[0], Number)
	for _, a := range arguments[1:] {
		t, fineToo := c.needs(a, Number)
		if fine && fineToo && !quantity.Comparable(first.Dimension, t.Dimension) {
			c.fail(c.places.of(a), "cannot compare %s with %s%s", first, t, differenceHint(first, t))
		}
	}
	switch {
	case !fine:
		return Type{}
	case name == "abs" && (first.Dimension == quantity.Temperature || first.Dimension == quantity.AbsolutePressure):
		return c.fail(c.places.of(arguments[0]), "%s has no size apart from its scale; take a difference first", first)
	}
	return first
}

func counted(fewest, most int) string {
	switch {
	case fewest != most:
		return fmt.Sprintf("%d to %d values", fewest, most)
	case fewest == 1:
		return "1 value"
	}
	return fmt.Sprintf("%d values", fewest)
}

var functionNames = []string{"q", "has", "min", "max", "abs", "clamp"}

func (c *checker) unknownFunction(e ast.Expr, name string) Type {
	if strings.HasPrefix(name, "_") || strings.HasPrefix(name, "@") || strings.HasPrefix(name, "!") || strings.HasPrefix(name, "-") {
		return c.fail(c.places.of(e), "%s has no meaning in a rule", strings.Trim(name, "_@"))
	}
	hint := meant(name, functionNames)
	if hint == "" {
		hint = "; there is " + strings.Join(functionNames[:len(functionNames)-1], ", ") + " and " + functionNames[len(functionNames)-1]
	}
	return c.fail(c.places.function(e, name), "there is no function %s%s", name, hint)
}
