package specs

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// files makes a folder with files of the given texts.
func files(t *testing.T, texts map[string]string) string {
	t.Helper()
	root := t.TempDir()
	for name, text := range texts {
		path := filepath.Join(root, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return root
}

const (
	isSpec  = "headroom: 1\ncircuit: a\n"
	isOther = "name: something\njobs: {circuit: 1}\n"
)

// relative tells the found specs by their names below a folder.
func relative(t *testing.T, root string, paths []string) []string {
	t.Helper()
	var all []string
	for _, path := range paths {
		name, err := filepath.Rel(root, path)
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, filepath.ToSlash(name))
	}
	return all
}

func TestFindWalks(t *testing.T) {
	root := files(t, map[string]string{
		"b.yaml": isSpec, "a.yml": isSpec, "sub/deeper/c.YAML": isSpec, "sub/other.yaml": isOther, "sub/notes.txt": isSpec,
		".hidden/d.yaml": isSpec, ".git/e.yaml": isSpec, "headroom.yaml": "specs: []\n", "sub/headroom.yaml": isSpec,
		"half.yaml": "# a comment\ncircuit: x\n", "other-half.yaml": "headroom: 1\n", "broken.yaml": "headroom: 1\ncircuit: [\n", "empty.yaml": "",
	})
	if runtime.GOOS != "windows" {
		for link, to := range map[string]string{"sub/loop": "..", "link.yaml": "b.yaml", "folder-link": "sub", "dangling.yaml": "nowhere", "sub/self.yaml": "self.yaml"} {
			if err := os.Symlink(to, filepath.Join(root, link)); err != nil {
				t.Fatal(err)
			}
		}
	}
	project := &Project{Folder: root}
	found := Find([]string{root}, project)
	want := []string{"a.yml", "b.yaml", "broken.yaml", "link.yaml", "sub/deeper/c.YAML"}
	if diff := cmp.Diff(want, relative(t, root, found.Specs)); diff != "" {
		t.Error(diff)
	}
	if found.Others != 2 {
		t.Errorf("%d other YAML files, want 2", found.Others)
	}
	var problems []string
	for _, p := range found.Problems {
		problems = append(problems, p.String())
	}
	if diff := cmp.Diff([]string{
		"dangling.yaml:1:1: cannot be read: no such file or directory (spec.syntax)",
		"half.yaml:2:1: this file has the key circuit of a spec but not headroom; a spec has both, other files neither (spec.missing)",
		"other-half.yaml:1:1: this file has the key headroom of a spec but not circuit; a spec has both, other files neither (spec.missing)",
		"sub/self.yaml:1:1: cannot be read: too many levels of symbolic links (spec.syntax)",
	}, problems); diff != "" {
		t.Error(diff)
	}
	again := Find([]string{root, filepath.Join(root, "sub"), filepath.Join(root, "a.yml")}, project)
	if diff := cmp.Diff(found, again); diff != "" {
		t.Errorf("a folder named twice: %s", diff)
	}
}

func TestFindTakesWhatIsNamed(t *testing.T) {
	root := files(t, map[string]string{"notes.txt": "x", "sub/a.yaml": isSpec})
	named := []string{filepath.Join(root, "notes.txt"), filepath.Join(root, "sub", "..", "notes.txt"), filepath.Join(root, "sub")}
	found := Find(named, nil)
	if diff := cmp.Diff([]string{"notes.txt", "sub/a.yaml"}, relative(t, root, found.Specs)); diff != "" {
		t.Error(diff)
	}
	some := Find([]string{"one", named[0], "-", os.DevNull}, nil)
	want := []string{"one: no such file or folder", "- is no file: specs are read from files and folders, not from standard input", os.DevNull + " is neither a file nor a folder"}
	if diff := cmp.Diff(want, some.Missing); diff != "" || len(some.Specs) != 1 {
		t.Errorf("%d specs; %s", len(some.Specs), diff)
	}
}

func TestFindInWorkingFolder(t *testing.T) {
	root := files(t, map[string]string{"a.yaml": isSpec, "sub/b.yaml": isSpec})
	t.Chdir(root)
	found := Find(nil, nil)
	if diff := cmp.Diff([]string{"a.yaml", filepath.Join("sub", "b.yaml")}, found.Specs); diff != "" {
		t.Error(diff)
	}
	var none *Project
	if told := none.Tell(filepath.Join(root, "sub", "b.yaml")); told != "sub/b.yaml" {
		t.Errorf("told as %s", told)
	}
}

func TestFindByGlobs(t *testing.T) {
	root := files(t, map[string]string{
		"headroom.yaml":   "specs:\n  - circuits/**/*.yaml\n  - named\n  - one.txt.yaml\n  - nothing/*.yaml\n  - '*.yml'\n",
		"circuits/a.yaml": isSpec, "circuits/deep/er/b.yaml": isSpec, "circuits/other.yaml": isOther, "circuits/half.yaml": "circuit: x\n",
		"elsewhere/c.yaml": isSpec, "named/sub/d.yaml": isSpec, "one.txt.yaml": isOther, "z.yml": isSpec,
	})
	project, err := LoadProject(filepath.Join(root, "headroom.yaml"))
	if err != nil || len(project.Problems) > 0 {
		t.Fatal(err, project.Problems)
	}
	found := Find(nil, project)
	want := []string{"circuits/a.yaml", "circuits/deep/er/b.yaml", "named/sub/d.yaml", "one.txt.yaml", "z.yml"}
	if diff := cmp.Diff(want, relative(t, root, found.Specs)); diff != "" {
		t.Error(diff)
	}
	var problems []string
	for _, p := range found.Problems {
		problems = append(problems, p.String())
	}
	if diff := cmp.Diff([]string{
		"circuits/half.yaml:1:1: this file has the key circuit of a spec but not headroom; a spec has both, other files neither (spec.missing)",
		"headroom.yaml:5:5: no file below this folder matches nothing/*.yaml (spec.reference)",
	}, problems); diff != "" {
		t.Error(diff)
	}
	if found.Others != 1 {
		t.Errorf("%d others", found.Others)
	}
}

func TestGlobs(t *testing.T) {
	for _, c := range []struct {
		glob, path string
		want       bool
	}{
		{"**/*.yaml", "a.yaml", true}, {"**/*.yaml", "x/y/a.yaml", true}, {"*.yaml", "x/a.yaml", false}, {"x/**", "x/y/z", true}, {"x/**", "x", true},
		{"x/**/z", "x/z", true}, {"x/**/z", "x/y/y/z", true}, {"x/**/z", "x/y/y", false}, {"[ab].yaml", "b.yaml", true}, {"?.yaml", "ab.yaml", false},
		{"**/a/**/a/**", "a/b/a/c", true}, {"**", "a/b", true}, {"a*b*c", "aXbXc", true}, {"x/y", "x/y/z", false},
	} {
		if got := matchSegments(strings.Split(c.glob, "/"), strings.Split(c.path, "/")); got != c.want {
			t.Errorf("%s matches %s: %v", c.glob, c.path, got)
		}
	}
	// A glob that would take for ever by trying every way.
	if matchSegments(strings.Split(strings.Repeat("**/", 80)+"b", "/"), strings.Split(strings.Repeat("a/", 200)+"a", "/")) {
		t.Error("b matches a")
	}
}

func TestFindProject(t *testing.T) {
	root := files(t, map[string]string{"headroom.yaml": "", "a/headroom.yaml": "", "a/b/c/x": "", "d/headroom.yaml/x": ""})
	for folder, want := range map[string]string{"": "headroom.yaml", "a": "a/headroom.yaml", "a/b/c": "a/headroom.yaml", "d": "headroom.yaml", "no/such": "headroom.yaml"} {
		got, err := FindProject(filepath.Join(root, folder))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]string{want}, relative(t, root, []string{got})); diff != "" {
			t.Errorf("from %q: %s", folder, diff)
		}
	}
}

func TestTopKeys(t *testing.T) {
	for text, want := range map[string]topKeys{
		"":                                {0, 0},
		"headroom: 1\ncircuit: x\n":       {1, 2},
		bom + "headroom: 1\r\ncircuit: x": {1, 2},
		"# c\n%YAML 1.2\n---\n\ncircuit:\nheadroom: 1":                  {6, 5},
		"  circuit: x\n  headroom: 1\n":                                 {2, 1},
		"a: 1\n  circuit: x\n":                                          {0, 0},
		"a:\n- circuit: x\n":                                            {0, 0},
		"\"headroom\" : 1\n'circuit': x\n":                              {1, 2},
		"{circuit: x, \"headroom\": 1}\n":                               {1, 1},
		"# x\n{\n  circuit: x,\n  headroom: 1}\n":                       {4, 3},
		"{circuit: x, headroom\n":                                       {0, 0},
		"a: 1\n---\nheadroom: 1\n":                                      {0, 0},
		"headroom:1\ncircuits: 2\n":                                     {0, 0},
		"[\ncircuit: x\n":                                               {0, 0},
		"circuit: x\n" + strings.Repeat("#", 10000) + "\nheadroom: 1\n": {3, 1},
		strings.Repeat("a", 10000) + ": 1\ncircuit: x\n":                {0, 2},
	} {
		got, err := scanTopKeys(strings.NewReader(text))
		if err != nil || got != want {
			t.Errorf("%.40q: %+v, %v, want %+v", text, got, err, want)
		}
	}
}

// A pipe that nobody writes to is refused, not waited for.
func TestPipeIsNoSpec(t *testing.T) {
	path := filepath.Join(t.TempDir(), "pipe.yaml")
	if err := syscall.Mkfifo(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Load(path); err == nil || !strings.Contains(err.Error(), "is not a file") {
		t.Errorf("a pipe is read: %v", err)
	}
}
