package main

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v3"

	"headroom/reports"
)

// A recipe is a file that users copy: YAML but for the shell script.
func recipes(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("recipes/*")
	if err != nil {
		t.Fatal(err)
	}
	all := map[string]string{}
	for _, file := range append(files, "../../.pre-commit-hooks.yaml") {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all[filepath.Base(file)] = string(text)
	}
	return all
}

// Recipes are YAML, ask for forms and flags that there are, and upload what they write.
func TestRecipesAreRead(t *testing.T) {
	all := recipes(t)
	asked := regexp.MustCompile(`--as ([a-z]+)(?:=(\S+))?`)
	flag := regexp.MustCompile(`headroom"? check[^\n]*`)
	known := newCheck().Flags()
	for name, text := range all {
		if strings.HasSuffix(name, ".yaml") {
			var any any
			if err := yaml.Unmarshal([]byte(text), &any); err != nil || any == nil {
				t.Errorf("%s: %v", name, err)
			}
		}
		for _, m := range asked.FindAllStringSubmatch(text, -1) {
			if !slices.Contains(reports.Names(), m[1]) {
				t.Errorf("%s asks for the form %s", name, m[1])
			}
			if m[2] != "" && strings.HasSuffix(name, ".yaml") && strings.Count(text, m[2]) < 2 {
				t.Errorf("%s writes %s, and leaves it", name, m[2])
			}
		}
		for _, line := range flag.FindAllString(text, -1) {
			for _, f := range regexp.MustCompile(`--([a-z-]+)`).FindAllStringSubmatch(line, -1) {
				if known.Lookup(f[1]) == nil {
					t.Errorf("%s gives --%s", name, f[1])
				}
			}
		}
		if name != "README.md" && name != ".pre-commit-hooks.yaml" && !strings.Contains(all["README.md"], "`"+name+"`") {
			t.Errorf("README.md does not tell of %s", name)
		}
	}
}

// The hook judges the whole project at once.
func TestHookIsDeclared(t *testing.T) {
	var hooks []map[string]any
	if err := yaml.Unmarshal([]byte(recipes(t)[".pre-commit-hooks.yaml"]), &hooks); err != nil || len(hooks) != 1 {
		t.Fatalf("%d hooks, %v", len(hooks), err)
	}
	for key, want := range map[string]any{"id": "headroom", "entry": "headroom check", "language": "golang", "require_serial": true, "pass_filenames": false} {
		if hooks[0][key] != want {
			t.Errorf("%s: %v, not %v", key, hooks[0][key], want)
		}
	}
}

// The READMEs tell of every form.
func TestReadmesTellOfForms(t *testing.T) {
	for _, file := range []string{"../../README.md", "../../reports/README.md"} {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range reports.Names() {
			if !strings.Contains(string(text), "| `"+name+"` |") {
				t.Errorf("%s does not tell of the form %s", file, name)
			}
		}
	}
}
