package specs

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

const baseProject = `specs: [circuits/**/*.yaml, old.yaml]
packs:
  - rules/house.yaml
fail_at: minor
limits: {mass: 9 kg}
concessions:
  - {rule: lines.velocity, case: any, until: 2027-03-01, by: lead, because: short}
not_applicable:
  - {rule: store.isolation, because: too small to hurt}
`

func TestReadProject(t *testing.T) {
	p := ReadProject("headroom.yaml", []byte(baseProject))
	if len(p.Problems) > 0 {
		t.Fatal(p.Problems)
	}
	if len(p.Specs) != 2 || p.Specs[1].Value != "old.yaml" || p.Specs[1].At != (Span{"headroom.yaml", 1, 29, 1, 37}) || p.Specs[1].Key != "specs[1]" {
		t.Errorf("specs: %+v", p.Specs)
	}
	if p.Packs[0].Value != "rules/house.yaml" || p.FailAt.Value != "minor" || p.Limits.Children[0].Value.Value != "9 kg" ||
		p.Concessions[0].Case.Value != "any" || p.NotApplicable[0].Because.Value != "too small to hurt" {
		t.Errorf("%+v", p)
	}
}

func TestProjectProblems(t *testing.T) {
	for text, want := range map[string][]string{
		"":              {"1:1 [] spec.empty : the file is empty"},
		"spec: []":      {"1:1 [spec] spec.unknown-key spec: there is no key spec here; did you mean specs?"},
		"specs: a.yaml": {"1:8 [a.yaml] spec.shape specs: specs must be a list of texts"},
		"specs: [../a.yaml, /a, 'c:/d', 'a[', [x], ~, '']": {
			"1:9 [../a.yaml] spec.range specs[0]: ../a.yaml leads out of this file's folder",
			"1:20 [/a] spec.range specs[1]: /a must be relative to this file's folder",
			"1:24 ['c:/d'] spec.range specs[2]: c:/d must be relative to this file's folder",
			"1:32 ['a['] spec.range specs[3]: a[ is no glob: a [ is not closed, or a \\ ends it",
			"1:38 [[x]] spec.shape specs[4]: specs[4] must be a single text, such as circuits/**/*.yaml",
			"1:43 [~] spec.empty specs[5]: specs[5] is empty; write something or leave it out",
			"1:46 [''] spec.empty specs[6]: specs[6] is empty; write something or leave it out"},
		"fail_at: severe": {"1:10 [severe] spec.range fail_at: fail_at must be critical, major, minor, observation or never, not severe"},
		"not_applicable: [{rule: x}]": {
			"1:18 [{rule: x}] spec.missing not_applicable[0].because: entry 1 of not_applicable needs because (why it does not apply), such as because: the store is too small to hurt",
			"1:25 [x] spec.range not_applicable[0].rule: x is no rule: a rule's id is a pack and a name, such as lines.velocity"},
		"fail_at:\nlimits: [a]": {
			"1:1 [fail_at] spec.empty fail_at: fail_at has no value; write one or leave the key out",
			"2:9 [[a]] spec.shape limits: limits must be a mapping of limits, such as {mass: 9.5 kg}"},
	} {
		if diff := cmp.Diff(want, told(ReadProject("headroom.yaml", []byte(text)).Problems, text)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", text, diff)
		}
	}
}
