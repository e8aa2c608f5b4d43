package validation

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"headroom/rules"
	"headroom/specs"
)

// laws are the packages whose every exported function must stand in some row.
var laws = []string{"fluid", "gas", "resistance", "friction", "strength"}

// table is all rows: those of the laws, and the design factors that rules hold.
func table(t *testing.T) []Row {
	t.Helper()
	return append(Rows(), designFactors(t)...)
}

// designFactors are read off the rules as a circuit would have them.
func designFactors(t *testing.T) (rows []Row) {
	t.Helper()
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	const cfr, j517 = "14 CFR 25.1435", "SAE J517"
	for _, e := range []struct {
		set, what, kind, as string
		printed             string
		source, place       string
		sure                Surety
	}{
		{"aircraft", "proof", "tube", "tubes and fittings", "1.5", cfr, "(a)(1)", Seen},
		{"aircraft", "burst", "tube", "tubes and fittings", "3.0", cfr, "(a)(1)", Seen},
		{"aircraft", "proof", "accumulator", "gas vessels, high pressure", "3.0", cfr, "(a)(1)", Seen},
		{"aircraft", "burst", "accumulator", "gas vessels, high pressure", "4.0", cfr, "(a)(1)", Seen},
		{"aircraft", "proof", "reservoir", "gas vessels, low pressure", "1.5", cfr, "(a)(1)", Seen},
		{"aircraft", "burst", "reservoir", "gas vessels, low pressure", "3.0", cfr, "(a)(1)", Seen},
		{"aircraft", "proof", "hose", "hoses", "2.0", cfr, "(a)(1)", Seen},
		{"aircraft", "burst", "hose", "hoses", "4.0", cfr, "(a)(1)", Seen},
		{"aircraft", "proof", "others", "all other elements", "1.5", cfr, "(a)(1)", Seen},
		{"aircraft", "burst", "others", "all other elements", "2.0", cfr, "(a)(1)", Seen},
		{"ground", "burst", "hose", "hoses", "4", j517, "in trade texts that cite it", Seen},
		{"ground", "proof", "hose", "hoses", "2", j517, "and ISO 1402", Memory},
		{"ground", "proof", "accumulator", "gas vessels", "1.43", "Directive 2014/68/EU", "annex I, 7.4", Memory},
	} {
		circuit := specs.Read("factors.yaml", []byte("headroom: 1\ncircuit: mill\ntitle: Mill\nparts:\n  pump: {kind: pump}\nlimits: {design_factors: "+e.set+"}\n"))
		rows = append(rows, Row{
			Laws: []string{"rules.design_factors"}, What: e.as + ": " + e.what + " over the design pressure",
			Source: e.source, Place: e.place, Printed: e.printed, Unit: "1", Sure: e.sure, Within: share(1e-12, exact),
			Ours: func() float64 {
				factor, ok := book.NumbersFor(circuit, nil).Entry("limits.design_factors."+e.what, e.kind)
				if !ok {
					return -1
				}
				return factor
			},
		})
	}
	return rows
}

// TestRows holds every row within its tolerance, and what a row must say of itself.
func TestRows(t *testing.T) {
	counted := map[Surety]int{}
	seen, last := map[string]bool{}, ""
	for _, r := range table(t) {
		if err := r.Check(); err != nil {
			t.Error(err)
		}
		if len(r.Laws) == 0 || r.What == "" || r.Source == "" || r.Place == "" || r.Printed == "" || (r.Ours == nil) == (r.Says == nil) || r.Says == nil && r.Unit == "" {
			t.Errorf("a row says too little of itself: %+v", r)
		}
		if (r.Within.Share > 0 || r.Within.Absolute > 0) != (r.Within.Because != "") {
			t.Errorf("%s, %s: a tolerance that is not the last digit says why", r.Laws[0], r.What)
		}
		if strings.HasPrefix(r.What, "the same") && r.Laws[0] != last {
			t.Errorf("%s, %s: the row before it is one of %s", r.Laws[0], r.What, last)
		}
		last = r.Laws[0]
		key := r.Laws[0] + r.What + r.Source + r.Place + r.Unit + r.Printed
		if seen[key] {
			t.Errorf("twice: %s, %s", r.Laws[0], r.What)
		}
		seen[key] = true
		counted[r.Sure]++
	}
	if proof := counted[Seen] + counted[Computed] + counted[Defined]; proof < 80 || counted[Seen] < 80 {
		t.Errorf("%v: less than 80 rows", counted)
	}
}

// A row that is off must be caught, whichever tolerance it has.
func TestRowsThatAreOff(t *testing.T) {
	value := func(v float64) func() float64 { return func() float64 { return v } }
	for _, r := range []Row{
		{Printed: "1.50", Ours: value(1.5051)}, {Printed: "1.50", Ours: value(1.4949)}, {Printed: "1.5e3", Ours: value(1551)},
		{Printed: "200", Within: share(0.01, "x"), Ours: value(202.01)}, {Printed: "0", Within: Tolerance{Absolute: 0.5}, Ours: value(-0.51)},
		{Printed: "IV", Says: func() string { return "III" }}, {Printed: "no such", Ours: value(1)}, {Printed: "1", Ours: value(must(1, os.ErrInvalid))},
	} {
		r.Laws = []string{"a.Law"}
		if r.Check() == nil {
			t.Errorf("printed %s: not caught", r.Printed)
		}
	}
	for _, r := range []Row{
		{Printed: "1.50", Ours: value(1.5049)}, {Printed: "1.5e3", Ours: value(1549)}, {Printed: "92", Ours: value(92.43)},
		{Printed: "200", Within: share(0.01, "x"), Ours: value(201.99)}, {Printed: "IV", Says: func() string { return "IV" }},
	} {
		if err := r.Check(); err != nil {
			t.Error(err)
		}
	}
}

// TestEveryLawHasARow holds the exported functions of the law packages against the
// rows that count, both ways: a new law needs a row, and a row names no other.
func TestEveryLawHasARow(t *testing.T) {
	exported := map[string]bool{}
	for _, pkg := range laws {
		for _, name := range exportedFunctions(t, "../"+pkg) {
			exported[pkg+"."+name] = true
		}
	}
	held := map[string]bool{}
	for _, r := range Rows() {
		for _, law := range r.Laws {
			pkg, _, _ := strings.Cut(law, ".")
			if slices.Contains(laws, pkg) && !exported[law] {
				t.Errorf("%s: there is no law %s", r.What, law)
			}
			if r.Sure != Memory {
				held[law] = true
			}
		}
	}
	for law := range exported {
		if !held[law] {
			t.Errorf("%s has no row in the table", law)
		}
	}
}

// exportedFunctions lists the functions and methods of a package, as Name or Type.Name.
func exportedFunctions(t *testing.T, folder string) (names []string) {
	t.Helper()
	for _, file := range parsed(t, folder) {
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || !f.Name.IsExported() {
				continue
			}
			name := f.Name.Name
			if f.Recv != nil {
				receiver := f.Recv.List[0].Type
				if star, ok := receiver.(*ast.StarExpr); ok {
					receiver = star.X
				}
				name = receiver.(*ast.Ident).Name + "." + name
			}
			names = append(names, name)
		}
	}
	return names
}

// parsed is the files of a package without its tests.
func parsed(t *testing.T, folder string) (files []*ast.File) {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		f, err := parser.ParseFile(token.NewFileSet(), filepath.Join(folder, e.Name()), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, f)
	}
	return files
}

// TestRowsComputeWhatTheyName holds that a row calls the laws it names, itself or
// by functions of this package.
func TestRowsComputeWhatTheyName(t *testing.T) {
	files := parsed(t, ".")
	functions := map[string]*ast.FuncDecl{}
	for _, file := range files {
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				functions[f.Name.Name] = f
			}
		}
	}
	rows := 0
	for _, file := range files {
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			locals := localFunctions(f)
			ast.Inspect(f, func(n ast.Node) bool {
				row, ok := n.(*ast.CompositeLit)
				if !ok {
					return true
				}
				names := lawsOf(row)
				if names == nil {
					return true
				}
				rows++
				mentioned := map[string]bool{}
				mention(row, locals, functions, mentioned)
				for _, law := range names {
					if last := law[strings.LastIndex(law, ".")+1:]; !mentioned[last] {
						t.Errorf("%s: a row names %s and does not call it", f.Name.Name, law)
					}
				}
				return true
			})
		}
	}
	if rows < 80 {
		t.Errorf("only %d rows found in the source", rows)
	}
}

// lawsOf is the Laws of a row written as a literal; nil for other literals.
func lawsOf(row *ast.CompositeLit) (names []string) {
	for _, e := range row.Elts {
		pair, ok := e.(*ast.KeyValueExpr)
		if !ok {
			continue
		}
		if key, ok := pair.Key.(*ast.Ident); !ok || key.Name != "Laws" {
			continue
		}
		list, ok := pair.Value.(*ast.CompositeLit)
		if !ok {
			return nil
		}
		for _, law := range list.Elts {
			names = append(names, strings.Trim(law.(*ast.BasicLit).Value, `"`))
		}
	}
	return names
}

// localFunctions are what a function gives names to, so that rows may share them.
func localFunctions(f *ast.FuncDecl) map[string]ast.Node {
	found := map[string]ast.Node{}
	ast.Inspect(f, func(n ast.Node) bool {
		if a, ok := n.(*ast.AssignStmt); ok && a.Tok == token.DEFINE && len(a.Lhs) == len(a.Rhs) {
			for i, left := range a.Lhs {
				if name, ok := left.(*ast.Ident); ok {
					found[name.Name] = a.Rhs[i]
				}
			}
		}
		return true
	})
	return found
}

// mention gathers the names that a piece of code uses, following functions.
func mention(n ast.Node, locals map[string]ast.Node, functions map[string]*ast.FuncDecl, names map[string]bool) {
	ast.Inspect(n, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		if !ok || names[id.Name] {
			return true
		}
		names[id.Name] = true
		if local, ok := locals[id.Name]; ok {
			mention(local, locals, functions, names)
		} else if f, ok := functions[id.Name]; ok {
			mention(f.Body, nil, functions, names)
		}
		return true
	})
}
