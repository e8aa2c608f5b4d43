package expression

import (
	"github.com/google/cel-go/cel"
	"github.com/google/cel-go/common/ast"
	"github.com/google/cel-go/common/operators"
	"github.com/google/cel-go/interpreter"
)

// A Node is one step of an expression's working, with what it came to.
type Node struct {
	Kind  NodeKind
	Name  string // of a fact or group; the sign of an operator; of a function
	Key   string // of an Entry: the name looked up
	Type  Type
	Value Outcome
	Args  []*Node // those that were evaluated; of a choice the condition and what was chosen
}

// NodeKind says what a Node is.
type NodeKind uint8

// The kinds of nodes.
const (
	Read     NodeKind = iota // a fact or limit
	Literal                  // a number, text, true or false as written
	Entry                    // an entry of a group of limits; Args holds the name's own working
	Operator                 // + - * / < <= > >= == != && || ! in
	Choice                   // condition ? a : b
	Call                     // min, max, abs, clamp, has
)

// Trace runs the expression and keeps each step of it. It is for what is told,
// not for what is judged: it takes a hundred times as long as Eval.
func (p *Program) Trace(scene *Reader) *Node {
	if p.ast == nil {
		return &Node{Kind: Read, Name: p.single.name, Type: p.Type, Value: p.single.eval(scene)}
	}
	p.trackOnce.Do(func() {
		// The same tree was planned before; planning it again cannot fail.
		p.tracked, _ = p.env.Program(p.ast, cel.EvalOptions(cel.OptTrackState))
	})
	_, details, _ := p.tracked.Eval(scene)
	t := tracer{p, scene, details.State()}
	return t.node(p.ast.NativeRep().Expr())
}

type tracer struct {
	program *Program
	scene   *Reader
	state   interpreter.EvalState
}

func (t tracer) node(e ast.Expr) *Node {
	n := &Node{Type: t.program.types[e.ID()]}
	switch e.Kind() {
	case ast.LiteralKind:
		n.Kind, n.Value = Literal, outcomeOf(e.AsLiteral())
	case ast.IdentKind:
		n.Kind, n.Name = Read, e.AsIdent()
		if !n.Type.Map {
			n.Value = (&single{name: n.Name}).eval(t.scene)
		}
	case ast.CallKind:
		t.call(n, e)
	}
	return n
}

func (t tracer) call(n *Node, e ast.Expr) {
	call := e.AsCall()
	n.Kind, n.Name = Call, call.FunctionName()
	if value, known := t.state.Value(e.ID()); known {
		n.Value = outcomeOf(value)
	}
	switch n.Name {
	case knownFunction:
		n.Name = "has"
		n.Args = t.nodes(call.Args())
	case entryFunction:
		n.Kind, n.Name = Entry, call.Args()[0].AsIdent()
		n.Args = t.nodes(call.Args()[1:])
		n.Key = n.Args[0].Value.Text
	case operators.Conditional:
		t.choice(n, call.Args())
	case operators.LogicalAnd, operators.LogicalOr:
		n.Kind = Operator
		t.logic(n, call.Args())
	case operators.LogicalNot, operators.Negate:
		n.Kind, n.Name = Operator, string(n.Name[0])
		n.Args = t.nodes(call.Args())
	case operators.In:
		n.Kind, n.Name = Operator, "in"
		n.Args = t.nodes(call.Args()[:1])
	default:
		n.Args = t.nodes(call.Args())
		if sign := operatorSigns[n.Name]; sign != "" {
			n.Kind, n.Name = Operator, sign
		}
	}
}

func (t tracer) nodes(all []ast.Expr) []*Node {
	nodes := make([]*Node, len(all))
	for i, e := range all {
		nodes[i] = t.node(e)
	}
	return nodes
}

// choice keeps the condition and the side that was chosen.
func (t tracer) choice(n *Node, arguments []ast.Expr) {
	n.Kind, n.Name = Choice, "?"
	n.Args = t.nodes(arguments[:1])
	if !n.Args[0].Value.Decided() {
		return
	}
	chosen := arguments[2]
	if n.Args[0].Value.Flag {
		chosen = arguments[1]
	}
	n.Args = append(n.Args, t.node(chosen))
	n.Value = n.Args[1].Value
}

// logic keeps the terms up to the one that decided.
func (t tracer) logic(n *Node, arguments []ast.Expr) {
	decides := n.Name == operators.LogicalOr
	n.Name = "&&"
	if decides {
		n.Name = "||"
	}
	for _, a := range arguments {
		term := t.node(a)
		n.Args = append(n.Args, term)
		if term.Value.Decided() && term.Value.Flag == decides {
			break
		}
	}
}
