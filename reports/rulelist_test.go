package reports

import (
	"bytes"
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"headroom/rules"
)

// cataloguePage is the README of the packs: the rules in Markdown, behind a line that
// says where the page comes from.
const cataloguePage = "../rules/packs/README.md"

const catalogueHead = `# The rules

Made from the packs by ` + "`go test ./reports -run RuleCatalogue -update`" + `; ` + "`headroom explain RULE`" + ` says why each is there and
what usually mends it. A limit by name (` + "`limits.…`" + `) may be set by the spec or the project file. Reserve is what a careful designer
keeps beyond the limit. To add a rule, add an entry to a pack; see ../README.md.

`

// The page lists every rule of the core packs as it is.
func TestRuleCatalogueIsCurrent(t *testing.T) {
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	out.WriteString(catalogueHead)
	if err := RuleList(&out, "markdown", book); err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(cataloguePage, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	page, err := os.ReadFile(cataloguePage)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(page, out.Bytes()) {
		t.Errorf("%s is out of date: go test ./reports -run RuleCatalogue -update", cataloguePage)
	}
	for _, r := range book.Rules {
		if strings.Count(out.String(), "| `"+r.ID+"` |") != 1 {
			t.Errorf("%s does not stand on the page once", r.ID)
		}
	}
}

// Each form tells of every rule, and of those that a pack switches off.
func TestRuleListForms(t *testing.T) {
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	book, problems := rules.Load(core, "../rules/example-pack.yaml")
	for _, p := range problems {
		t.Error(p)
	}
	if len(book.SwitchedOff) == 0 || book.Rule("house.return-velocity") == nil {
		t.Fatal("the example pack is not in force")
	}
	for _, form := range RuleListNames() {
		var out bytes.Buffer
		if err := RuleList(&out, form, book); err != nil {
			t.Fatal(err)
		}
		for _, r := range book.Rules {
			if !strings.Contains(out.String(), r.ID) {
				t.Errorf("%s does not tell of %s", form, r.ID)
			}
		}
		for _, off := range book.SwitchedOff {
			if !strings.Contains(out.String(), off.Rule.ID) || !strings.Contains(out.String(), off.Because) {
				t.Errorf("%s does not tell that %s is switched off", form, off.Rule.ID)
			}
		}
	}
	var list struct{ Rules []map[string]any }
	var out bytes.Buffer
	if err := RuleList(&out, "json", book); err != nil || json.Unmarshal(out.Bytes(), &list) != nil {
		t.Fatal("no JSON")
	}
	if len(list.Rules) != len(book.Rules)+len(book.SwitchedOff) {
		t.Errorf("%d rules in JSON", len(list.Rules))
	}
	if err := RuleList(&out, "yaml", book); err == nil {
		t.Error("a form that is none is taken")
	}
}

// The example pack's own examples hold.
func TestExamplePack(t *testing.T) {
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	book, _ := rules.Load(core, "../rules/example-pack.yaml")
	own := slices.DeleteFunc(slices.Clone(book.Rules), func(r *rules.Rule) bool { return r.Pack != "house" })
	for _, f := range book.TestExamples(own) {
		t.Error(f)
	}
}
