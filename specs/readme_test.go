package specs

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

var update = flag.Bool("update", false, "write the tables of README.md anew")

// keyTable is a heading and a table of a plan's keys, those of sections in it
// with a dotted name.
func keyTable(title, about string, p *plan, common bool) string {
	var out strings.Builder
	fmt.Fprintf(&out, "### %s\n\n", title)
	if about != "" {
		fmt.Fprintf(&out, "%s\n\n", about)
	}
	out.WriteString("| key | value | default | meaning |\n|---|---|---|---|\n")
	writeKeys(&out, p, "", common)
	return out.String() + "\n"
}

func writeKeys(out *strings.Builder, p *plan, prefix string, common bool) {
	for _, f := range p.fields {
		if f.shape == kindShape || f.common != common {
			continue
		}
		name := prefix + f.name
		fmt.Fprintf(out, "| `%s` | %s | %s | %s |\n", name, strings.ReplaceAll(describeValue(f), "|", "\\|"), describeDefault(f), f.describe())
		if f.section != nil && f.shape == sectionShape {
			writeKeys(out, f.section, name+".", false)
		}
		if f.section != nil && f.shape == listShape && f.name == "seals" {
			writeKeys(out, f.section, name+"[].", false)
		}
	}
}

func describeDefault(f *field) string {
	switch {
	case f.standard != nil:
		return f.standard.text
	case f.only != "":
		return "under `" + f.only + "` alone"
	case f.opt:
		return "–"
	}
	return "required"
}

// describeValue says what may be written for a key.
func describeValue(f *field) string {
	switch {
	case f.oneof != nil:
		return "`" + strings.Join(f.oneof, "` or `") + "`"
	case f.shape == namesShape && f.item != nil:
		return "by name of " + strings.Join(articles(f.ref), " or ") + ": " + describeValue(f.item)
	case f.shape == namesShape:
		return "by name"
	case f.as != nil && f.shape == tableShape:
		return "profile of the part's own `" + strings.Join(f.as, "` or `") + "`"
	case f.as != nil:
		return "as the part's own `" + strings.Join(f.as, "` or `") + "`"
	case f.ref != nil:
		return "name of " + strings.Join(articles(f.ref), " or ")
	}
	switch f.shape {
	case quantityShape:
		return f.dim.String()
	case tableShape:
		if f.xdim.String() == "time" {
			return "profile of " + f.dim.String()
		}
		if f.single {
			return f.dim.String() + ", or points over " + f.xdim.String()
		}
		return "points of " + f.dim.String() + " over " + f.xdim.String()
	case flagShape:
		return "true or false"
	case countShape:
		return "whole number"
	case portShape:
		return "node"
	case sectionShape:
		return "keys"
	case listShape:
		return "list"
	case textsShape:
		return "list of texts"
	case textShape:
		return map[string]string{"": "text", "identifier": "name", "rule": "rule id", "date": "YYYY-MM-DD", "iso4406": "ISO 4406 code", "glob": "glob",
			"seal-material": "seal material", "tube-material": "tube material", "fluid-family": "fluid family"}[f.form]
	}
	return map[string]string{"parts": "by name", "with": "by name of a part: its keys", "fluid": "keys", "limits": "by name",
		"repeats": "whole number, or `settle`", "": "profile of rotational speed, or a pressure switch"}[f.name]
}

// keys is the generated middle of the README.
func keys() string {
	table := func(title, about string, t reflect.Type) string { return keyTable(title, about, planOf(t, ""), false) }
	var out strings.Builder
	out.WriteString(table("Top level", "", reflect.TypeFor[Circuit]()))
	out.WriteString(table("`fluid`", "", reflect.TypeFor[Fluid]()))
	out.WriteString(table("`environment.hot_surfaces`, by name", "", reflect.TypeFor[HotSurface]()))
	out.WriteString(table("`nodes`, by name", "", reflect.TypeFor[Node]()))
	out.WriteString(keyTable("`parts`, by name: keys of every kind", "Each part has a `kind`, its ports, the keys of its kind, and any of these. Where a kind has a key of its own by the same name, that is meant.", kinds["pump"].plan(), true))
	for _, name := range Kinds() {
		out.WriteString(keyTable("`kind: "+name+"`", strings.ToUpper(kinds[name].about[:1])+kinds[name].about[1:]+".", kinds[name].plan(), false))
	}
	out.WriteString(table("`cases`, by name", "", reflect.TypeFor[Case]()))
	out.WriteString(table("An entry of `commands`", "Either `at` or `when`.", reflect.TypeFor[Command]()))
	out.WriteString(table("An entry of `expects`", "`{part, reaches, within}`, `{node, at_least}`, `{node, at_most}` or `{pack, locks_within}`.", reflect.TypeFor[Expectation]()))
	out.WriteString(table("A pressure switch, under `drives`", "", reflect.TypeFor[PressureSwitch]()))
	out.WriteString(table("An entry of `concessions`", "", reflect.TypeFor[Concession]()))
	out.WriteString(table("The project file `headroom.yaml`", "", reflect.TypeFor[Project]()))
	out.WriteString(table("An entry of its `not_applicable`", "", reflect.TypeFor[NotApplicable]()))
	return out.String()
}

// The tables of the README are those that the tags give.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile("README.md")
	if err != nil {
		t.Fatal(err)
	}
	const begin, end = "<!-- keys -->\n", "<!-- /keys -->"
	head, rest, fine := strings.Cut(string(data), begin)
	middle, tail, closed := strings.Cut(rest, end)
	if !fine || !closed {
		t.Fatal("README.md has lost the marks around its tables")
	}
	want := "\n" + keys()
	if *update {
		if err := os.WriteFile("README.md", []byte(head+begin+want+end+tail), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(want, middle); diff != "" {
		t.Errorf("go test ./specs -run Readme -update renews the tables (-want +got):\n%s", diff)
	}
	for _, rule := range ProblemRules() {
		if !strings.Contains(string(data), "| `"+rule+"` |") {
			t.Errorf("README.md does not tell of %s", rule)
		}
	}
	for _, limit := range []string{fmt.Sprintf("%d KiB", maxFile>>10), fmt.Sprintf("%d levels", maxNested), fmt.Sprintf("at most %d and then", maxProblems), fmt.Sprintf("%d characters", maxName)} {
		if !strings.Contains(string(data), limit) {
			t.Errorf("README.md does not tell of %s", limit)
		}
	}
}
