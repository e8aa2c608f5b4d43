package expression

import (
	"errors"
	"strings"
	"unicode/utf8"

	"github.com/google/cel-go/common/ast"

	"headroom/specs/quantity"
)

// A piece is a part of the text, in bytes.
type piece struct{ start, end int }

// places tells where the nodes of an expression stand in its text. Where a node
// has been rewritten, the parser's place for it no longer says so, and it is pinned.
type places struct {
	text   string
	info   *ast.SourceInfo
	pinned map[int64]piece
}

// pin keeps the place of a node that is about to be rewritten.
func (p places) pin(e ast.Expr, at piece) { p.pinned[e.ID()] = at }

// byteAt is the byte offset of a character.
func (p places) byteAt(character int32) int {
	at := 0
	for range character {
		if at >= len(p.text) {
			return len(p.text)
		}
		_, n := utf8.DecodeRuneInString(p.text[at:])
		at += n
	}
	return at
}

// of is where a node stands: its operator, or all of a name or literal.
func (p places) of(e ast.Expr) piece {
	if at, pinned := p.pinned[e.ID()]; pinned {
		return at
	}
	switch e.Kind() {
	case ast.SelectKind:
		if path, fine := pathOf(e); fine {
			return whole(p.path(e, path.steps))
		}
	case ast.CallKind:
		if call := e.AsCall(); isWord(call.FunctionName()) {
			return p.function(e, call.FunctionName())
		}
	case ast.ListKind:
		open := p.token(e)
		if shut := strings.IndexByte(p.text[open.start:], ']'); shut >= 0 {
			open.end = open.start + shut + 1
		}
		return open
	}
	return p.token(e)
}

func isWord(name string) bool {
	return name != "" && (name[0] >= 'a' && name[0] <= 'z' || name[0] >= 'A' && name[0] <= 'Z')
}

// token is where the parser says that a node stands.
func (p places) token(e ast.Expr) piece {
	r, known := p.info.GetOffsetRange(e.ID())
	if !known {
		return piece{0, len(p.text)}
	}
	return piece{p.byteAt(r.Start), p.byteAt(r.Stop)}
}

// function is where the name of a called function stands: just before the
// bracket, which is what the parser tells.
func (p places) function(e ast.Expr, name string) piece {
	bracket := p.token(e)
	before := strings.TrimRight(p.text[:bracket.start], " \t\n")
	if strings.HasSuffix(before, name) {
		return piece{len(before) - len(name), len(before)}
	}
	return bracket
}

// path is where each step of a name with dots stands.
func (p places) path(e ast.Expr, steps []string) []piece {
	for e.Kind() == ast.SelectKind {
		e = e.AsSelect().Operand()
	}
	return p.steps(p.token(e).start, steps)
}

// steps follows the steps of a name through the text.
func (p places) steps(at int, steps []string) []piece {
	pieces := make([]piece, len(steps))
	for i, step := range steps {
		for at < len(p.text) && !strings.HasPrefix(p.text[at:], step) {
			at++
		}
		pieces[i] = piece{at, min(at+len(step), len(p.text))}
		at = pieces[i].end
	}
	return pieces
}

// within is the piece of a quantity in quotes that an error is about.
func (p places) within(literal ast.Expr, text string, err error) piece {
	at := p.token(literal)
	var wrong *quantity.Error
	if !errors.As(err, &wrong) || at.start+1+len(text) > len(p.text) || p.text[at.start+1:at.start+1+len(text)] != text {
		return at
	}
	return piece{at.start + 1 + wrong.Offset, at.start + 1 + wrong.Offset + wrong.Length}
}

func whole(steps []piece) piece { return piece{steps[0].start, steps[len(steps)-1].end} }
