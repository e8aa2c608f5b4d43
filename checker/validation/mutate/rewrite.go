//go:build mutate

package main

import (
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

const variable = "ALTERED_COEFFICIENT"

// alter is what every literal passes through.
const alter = `package %s

import (
	"os"
	"strconv"
)

var alteredCoefficient = func() int {
	n, err := strconv.Atoi(os.Getenv(%q))
	if err != nil {
		return -1
	}
	return n
}()

func coefficient(n int, v float64) float64 {
	if n == alteredCoefficient {
		return 1.03 * v
	}
	return v
}
`

// literal is one coefficient: where it stands, and the line it stands in.
type literal struct {
	file   string
	number int
	text   string
	line   string
}

// edit replaces a piece of a file.
type edit struct {
	from, to int
	text     string
}

// rewriter goes over the files of a package.
type rewriter struct {
	set      *token.FileSet
	info     *types.Info
	uses     map[types.Object]bool // constants used as float64 alone
	literals []literal
	source   []byte
	edits    []edit
}

// rewrite writes the package to scratch with every coefficient altered on demand,
// and lists the coefficients.
func rewrite(folder, scratch string) ([]literal, error) {
	r := rewriter{set: token.NewFileSet(), info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Defs: map[*ast.Ident]types.Object{}, Uses: map[*ast.Ident]types.Object{}}}
	names, err := filepath.Glob(filepath.Join(folder, "*.go"))
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(n string) bool { return strings.HasSuffix(n, "_test.go") })
	var files []*ast.File
	for _, name := range names {
		f, err := parser.ParseFile(r.set, name, nil, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		files = append(files, f)
	}
	checker := types.Config{Importer: importer.ForCompiler(r.set, "source", nil)}
	if _, err := checker.Check(folder, r.set, files, r.info); err != nil {
		return nil, err
	}
	r.findFloats()
	for i, f := range files {
		if err := r.file(f, names[i], scratch); err != nil {
			return nil, err
		}
	}
	text := fmt.Sprintf(alter, files[0].Name.Name, variable)
	return r.literals, os.WriteFile(filepath.Join(scratch, "altered_coefficient.go"), []byte(text), 0o644)
}

// findFloats finds the constants that are numbers with a point wherever they are used.
func (r *rewriter) findFloats() {
	r.uses = map[types.Object]bool{}
	for id, o := range r.info.Uses {
		c, ok := o.(*types.Const)
		if !ok {
			continue
		}
		float := isFloat(r.info.Types[id].Type)
		if before, seen := r.uses[c]; seen {
			float = float && before
		}
		r.uses[c] = float
	}
}

func isFloat(t types.Type) bool {
	basic, ok := t.(*types.Basic)
	return ok && basic.Info()&types.IsFloat != 0
}

func (r *rewriter) file(f *ast.File, name, scratch string) error {
	source, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	r.source, r.edits = source, nil
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.GenDecl:
			if n.Tok == token.CONST {
				if r.floats(n) {
					at := r.set.Position(n.TokPos).Offset
					r.edits = append(r.edits, edit{at, at + len("const"), "var"})
					r.allOf(n)
				}
				return false
			}
		case *ast.BasicLit:
			if isFloat(r.info.Types[n].Type) {
				r.take(n)
			}
		}
		return true
	})
	return os.WriteFile(filepath.Join(scratch, filepath.Base(name)), r.edited(), 0o644)
}

// floats tells whether a declaration holds constants that may become variables.
func (r *rewriter) floats(d *ast.GenDecl) bool {
	for _, s := range d.Specs {
		spec := s.(*ast.ValueSpec)
		if len(spec.Values) == 0 {
			return false // goes on counting
		}
		for _, id := range spec.Names {
			c, ok := r.info.Defs[id].(*types.Const)
			if !ok || !isFloat(c.Type()) && !r.uses[c] {
				return false
			}
		}
	}
	return true
}

func (r *rewriter) allOf(n ast.Node) {
	ast.Inspect(n, func(n ast.Node) bool {
		if l, ok := n.(*ast.BasicLit); ok {
			r.take(l)
		}
		return true
	})
}

// take makes a literal one that can be altered; 3 % of nothing is nothing.
func (r *rewriter) take(l *ast.BasicLit) {
	if l.Kind != token.INT && l.Kind != token.FLOAT || constant.Sign(constant.MakeFromLiteral(l.Value, l.Kind, 0)) == 0 {
		return
	}
	at := r.set.Position(l.Pos())
	lines := strings.Split(string(r.source), "\n")
	r.edits = append(r.edits, edit{at.Offset, at.Offset + len(l.Value), fmt.Sprintf("coefficient(%d, %s)", len(r.literals), l.Value)})
	r.literals = append(r.literals, literal{filepath.Base(at.Filename), at.Line, l.Value, strings.TrimSpace(lines[at.Line-1])})
}

// edited is the source with all edits made.
func (r *rewriter) edited() []byte {
	slices.SortFunc(r.edits, func(a, b edit) int { return a.from - b.from })
	var out []byte
	last := 0
	for _, e := range r.edits {
		out = append(append(out, r.source[last:e.from]...), e.text...)
		last = e.to
	}
	return append(out, r.source[last:]...)
}
