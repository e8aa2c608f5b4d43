package expression

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/types/ref"
	"github.com/google/cel-go/interpreter"
)

// A Program is an expression that has been read and checked. It is safe for
// concurrent use.
type Program struct {
	Type  Type     // of its result
	Reads []string // the symbols it names, in the order of the text, each once

	env     *cel.Env
	ast     *cel.Ast
	types   map[int64]Type
	program cel.Program
	single  *single // set where the expression is a single name or value: most are

	trackOnce sync.Once
	tracked   cel.Program
}

// compile reads, checks and plans an expression.
func (v *Vocabulary) compile(text string, scope Scope) (p *Program, problems []Problem) {
	// The library's own checks are known to panic on some input; a pack is input.
	defer func() {
		if failure := recover(); failure != nil {
			p, problems = nil, []Problem{{0, len(text), "the expression cannot be read"}}
		}
	}()
	if p := v.name(text, scope); p != nil {
		return p, nil
	}
	parsed, problem := v.parse(text)
	if problem != nil {
		return nil, []Problem{*problem}
	}
	c := newChecker(v, scope, text, parsed)
	result := c.infer(parsed.NativeRep().Expr())
	if n := len(c.problems) - maxProblems; n > 0 {
		c.problems = c.problems[:maxProblems]
		c.problems[maxProblems-1].Message += fmt.Sprintf("; and %d more mistakes in this expression", n)
	}
	if len(c.problems) > 0 {
		return nil, c.problems
	}
	checked, issues := v.env.Check(parsed)
	if issues.Err() != nil {
		return nil, []Problem{{0, len(text), "the expression cannot be checked: " + firstLine(issues.Err().Error())}}
	}
	program, err := v.env.Program(checked, cel.EvalOptions(cel.OptOptimize))
	if err != nil {
		return nil, []Problem{{0, len(text), "the expression cannot be planned: " + firstLine(err.Error())}}
	}
	return &Program{Type: result, Reads: c.reads, env: v.env, ast: checked, types: c.types,
		program: program, single: singleOf(checked.NativeRep().Expr())}, nil
}

// name makes a program of a text that is the name of a symbol and nothing else,
// as most measures and limits are: it needs no parser. It returns nil for any other.
func (v *Vocabulary) name(text string, scope Scope) *Program {
	symbol, known := v.symbols[text]
	root, _, _ := strings.Cut(text, ".")
	if !known || !slices.Contains(scope.Roots, root) || strings.Contains(text, "-") {
		return nil
	}
	return &Program{Type: symbol.Type, Reads: []string{text}, single: &single{name: text}}
}

func (v *Vocabulary) parse(text string) (*cel.Ast, *Problem) {
	if strings.TrimSpace(text) == "" {
		return nil, &Problem{0, len(text), "the expression is empty"}
	}
	if n := utf8.RuneCountInString(text); n > maxSize {
		return nil, &Problem{0, len(text), fmt.Sprintf("an expression of %d characters is too long; %d are enough for any rule", n, maxSize)}
	}
	if n := tokens(text); n > maxTokens {
		return nil, &Problem{0, len(text), fmt.Sprintf("an expression of %d words and signs is too large; %d are enough for any rule", n, maxTokens)}
	}
	parsed, issues := v.env.Parse(text)
	if issues.Err() != nil {
		return nil, syntaxProblem(text, issues.Errors()[0])
	}
	if n := ast.NodeCount(parsed.NativeRep()); n > maxNodes {
		return nil, &Problem{0, len(text), fmt.Sprintf("an expression of %d names, numbers and operators is too large; %d are enough for any rule", n, maxNodes)}
	}
	return parsed, nil
}

// tokens counts words, numbers and signs, roughly: the parser's time grows with
// them, and it is not to be asked about what will be refused.
func tokens(text string) int {
	count, inWord := 0, false
	for i := range len(text) {
		c := text[i]
		word := c == '_' || c == '.' || c >= '0' && c <= '9' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
		if word && !inWord || !word && c > ' ' {
			count++
		}
		inWord = word
	}
	return count
}

// Eval runs the expression on a scene.
func (p *Program) Eval(scene *Reader) Outcome {
	if p.single != nil {
		return p.single.eval(scene)
	}
	result, _, err := p.program.Eval(scene)
	if err != nil {
		return Outcome{Failure: err.Error()}
	}
	return outcomeOf(result)
}

// A single is an expression of one name or one value.
type single struct {
	name  string
	value ref.Val // where name is ""
}

func singleOf(e ast.Expr) *single {
	switch e.Kind() {
	case ast.IdentKind:
		return &single{name: e.AsIdent()}
	case ast.LiteralKind:
		return &single{value: e.AsLiteral()}
	}
	return nil
}

func (s *single) eval(scene *Reader) Outcome {
	if s.name == "" {
		return outcomeOf(s.value)
	}
	value, _ := scene.ResolveName(s.name)
	v, _ := value.(ref.Val)
	return outcomeOf(v)
}

// A Reader reads a scene for expressions.
type Reader struct{ Scene }

// Parent tells that there is no other scene behind this one.
func (r *Reader) Parent() interpreter.Activation { return nil }

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return line
}
