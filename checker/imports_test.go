package checker

import (
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

const module = "headroom"

// directions says which way imports may run: what lies below from may not import
// what lies below any of to ("" is all of ours), but for what lies below except.
var directions = []struct {
	from    string
	to      []string
	except  []string
	because string
}{
	{"specs/quantity", []string{""}, nil, "it is the ground floor: all others stand on it"},
	{"specs/catalogue", []string{""}, []string{"specs/quantity"}, "the catalogue is data; it knows quantities and nothing of circuits"},
	{"specs", []string{"rules", "checker", "reports", "cmd"}, nil, "what was written knows nothing of what is thought of it"},
	{"rules", []string{"checker", "reports", "cmd"}, nil, "rules judge facts and never compute them"},
	{"rules/facts", []string{"rules", "checker", "reports", "cmd"}, []string{"rules/facts"}, "facts are named for rules and checker alike, and know neither"},
	{"reports", []string{"checker", "cmd"}, nil, "reports tell what was found and never compute"},
	{"checker", []string{"reports", "cmd"}, nil, "physics never prints"},
	{"checker/fluid", []string{""}, []string{"specs/quantity"}, "a law of physics knows no circuit, so that it can be laid beside its source"},
	{"checker/gas", []string{""}, []string{"specs/quantity"}, "a law of physics knows no circuit, so that it can be laid beside its source"},
	{"checker/resistance", []string{""}, []string{"specs/quantity"}, "a law of physics knows no circuit, so that it can be laid beside its source"},
	{"checker/friction", []string{""}, []string{"specs/quantity"}, "a law of physics knows no circuit, so that it can be laid beside its source"},
	{"checker/strength", []string{""}, []string{"specs/quantity"}, "a law of physics knows no circuit, so that it can be laid beside its source"},
	{"checker/validation", []string{""}, []string{"checker/fluid", "checker/gas", "checker/resistance", "checker/friction", "checker/strength", "specs/quantity", "specs/catalogue"}, "what is held against the outside world is laws and data, no circuit"},
	{"checker/integrate", []string{""}, []string{"checker/integrate"}, "the integrator knows numbers and no hydraulics"},
	{"checker/network", []string{"rules", "reports", "cmd"}, nil, "the network computes what happens, not what is thought of it"},
	{"checker/topology", []string{"rules", "checker", "reports", "cmd"}, []string{"rules/facts", "checker/topology"}, "a graph knows what is joined, and no pressures"},
}

// libraries says where outside libraries stay, so that one can be changed in one place.
var libraries = []struct {
	library string
	stays   []string
	because string
}{
	{"github.com/google/cel-go", []string{"rules"}, "expressions are a matter of rules alone"},
	{"gopkg.in/yaml.v3", []string{"specs", "rules", "cmd"}, "files are read where their form is defined, and shown by the command line"},
	{"github.com/fatih/color", []string{"reports", "cmd"}, "colour is a matter of telling"},
	{"github.com/spf13/cobra", []string{"cmd"}, "the command line holds no engineering, and engineering no command line"},
}

// imports lists, by package path within the module, what its files import; test
// files may look wherever they like.
func imports(t *testing.T) map[string]map[string]string {
	t.Helper()
	found := map[string]map[string]string{}
	err := filepath.WalkDir("..", func(file string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return err
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		pkg := strings.TrimPrefix(path.Dir(filepath.ToSlash(file)), "../")
		if found[pkg] == nil {
			found[pkg] = map[string]string{}
		}
		for _, i := range parsed.Imports {
			imported, err := strconv.Unquote(i.Path.Value)
			if err != nil {
				return err
			}
			found[pkg][imported] = filepath.ToSlash(file)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

// below tells whether a package is another or lies in its folder.
func below(pkg, folder string) bool {
	return folder == "" || pkg == folder || strings.HasPrefix(pkg, folder+"/")
}

func anyBelow(pkg string, folders []string) bool {
	for _, f := range folders {
		if below(pkg, f) {
			return true
		}
	}
	return false
}

func TestImportsRunOneWay(t *testing.T) {
	packages := imports(t)
	for _, d := range directions {
		there := false
		for pkg, imported := range packages {
			if !below(pkg, d.from) {
				continue
			}
			there = true
			for i, file := range imported {
				own, ours := strings.CutPrefix(i, module+"/")
				if ours && anyBelow(own, d.to) && !anyBelow(own, d.except) {
					t.Errorf("%s imports %s: %s", file, own, d.because)
				}
			}
		}
		if !there {
			t.Errorf("there is no package %s", d.from)
		}
	}
}

func TestLibrariesStayWhereTheyBelong(t *testing.T) {
	packages := imports(t)
	for _, l := range libraries {
		used := false
		for pkg, imported := range packages {
			for i, file := range imported {
				if !below(i, l.library) {
					continue
				}
				used = true
				if !anyBelow(pkg, l.stays) {
					t.Errorf("%s imports %s: %s", file, i, l.because)
				}
			}
		}
		if !used {
			t.Errorf("nothing imports %s", l.library)
		}
	}
}
