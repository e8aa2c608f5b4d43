package expression

import (
	"slices"
	"strings"

	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types"

	"headroom/specs"
)

// A path is a name with dots as it stands in an expression.
type path struct {
	steps []string
	test  bool // has(path)
}

// pathOf takes apart a name with dots; false where it does not start with a word.
func pathOf(e ast.Expr) (p path, fine bool) {
	for e.Kind() == ast.SelectKind {
		s := e.AsSelect()
		p.test = p.test || s.IsTestOnly()
		p.steps = append(p.steps, s.FieldName())
		e = s.Operand()
	}
	if e.Kind() != ast.IdentKind {
		return p, false
	}
	p.steps = append(p.steps, e.AsIdent())
	slices.Reverse(p.steps)
	return p, true
}

// name infers a name and makes a variable of it.
func (c *checker) name(e ast.Expr) Type {
	p, fine := pathOf(e)
	if !fine {
		return c.fail(c.places.token(e), "a name such as part.kind is needed before the dot")
	}
	at := c.places.path(e, p.steps)
	c.places.pin(e, whole(at))
	symbol, fine := c.resolve(p.steps, at)
	if !fine {
		return Type{}
	}
	name := symbol.Name
	if !slices.Contains(c.reads, name) {
		c.reads = append(c.reads, name)
	}
	if !p.test {
		e.SetKindCase(c.factory.NewIdent(e.ID(), name))
		return symbol.Type
	}
	inner := c.factory.NewIdent(c.nextID, name)
	c.types[c.nextID] = symbol.Type
	c.nextID++
	e.SetKindCase(c.factory.NewCall(e.ID(), knownFunction, inner))
	return Type{Form: Flag}
}

// resolve finds the symbol of a path, or says what is wrong with it.
func (c *checker) resolve(steps []string, at []piece) (Symbol, bool) {
	v := c.vocabulary
	root := steps[0]
	if !v.isGroup(root) {
		c.fail(at[0], "there is no name %s here%s", root, c.rootHint(root))
		return Symbol{}, false
	}
	if !slices.Contains(c.scope.Roots, root) {
		c.fail(at[0], "%s cannot read %s; it reads %s", c.scope.Name, root, list(c.scope.Roots))
		return Symbol{}, false
	}
	name := root
	for i, step := range steps[1:] {
		if !v.isGroup(name) {
			c.fail(at[i+1], "%s is %s and has nothing below it", name, v.symbols[name].Type)
			return Symbol{}, false
		}
		if !slices.Contains(v.below[name], step) {
			c.fail(at[i+1], "%s has no %s%s", name, step, meant(step, v.below[name]))
			return Symbol{}, false
		}
		name += "." + step
	}
	symbol, known := v.symbols[name]
	if !known {
		c.fail(whole(at), "%s is a group; name one of it, such as %s.%s", name, name, v.below[name][0])
	}
	return symbol, known
}

// rootHint says what a first word that does not exist may have been meant to be.
func (c *checker) rootHint(root string) string {
	if hint := meant(root, c.scope.Roots); hint != "" {
		return hint
	}
	return "; it reads " + list(c.scope.Roots) + ", and a text stands in single quotes: '" + root + "'"
}

// index infers group[name] and makes a call of our own of it.
func (c *checker) index(e ast.Expr, arguments []ast.Expr) Type {
	group := c.infer(arguments[0])
	_, fine := c.needs(arguments[1], Text)
	switch {
	case group.Form == wrong || !fine:
		return Type{}
	case !group.Map:
		return c.fail(c.places.of(arguments[0]), "only a group of limits takes [ ]; this is %s", group)
	}
	if arguments[1].Kind() == ast.LiteralKind {
		if !c.listed(arguments[0].AsIdent(), arguments[1]) {
			return Type{}
		}
	}
	c.places.pin(e, c.places.of(arguments[0]))
	e.SetKindCase(c.factory.NewCall(e.ID(), entryFunction, arguments[0], arguments[1]))
	group.Map = false
	return group
}

// listed tells whether a name written in brackets is one of the group.
func (c *checker) listed(group string, key ast.Expr) bool {
	keys := c.vocabulary.symbols[group].Keys
	name := string(key.AsLiteral().(types.String))
	if keys == nil || slices.Contains(keys, name) || slices.Contains(keys, others) {
		return true
	}
	c.fail(c.places.of(key), "%s has no %s%s", group, name, meant(name, keys))
	return false
}

// list joins words as in a sentence.
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// meant is the end of a message that guesses what a name was meant to be.
func meant(name string, known []string) string {
	if near := specs.Nearest(name, known); near != "" {
		return "; did you mean " + near + "?"
	}
	return ""
}
