package reports

import (
	"encoding/json"
	"testing"

	"headroom/specs"
)

// Exact output, valid by a schema that holds what the forges' documentation asks for.
func TestCodeQualityExactly(t *testing.T) {
	s := schema(t, "codequality.schema.json")
	exactly(t, "codequality", "codequality.json", func(t *testing.T, out []byte) { follows(t, s, out) })
	for _, text := range hostileTexts {
		follows(t, s, told(t, "codequality", Options{}, Run{}, hostile(text)))
	}
	nowhere := unreadable()
	nowhere.Judgement.Findings[0].At = specs.Span{}
	follows(t, s, told(t, "codequality", Options{}, Run{}, nowhere))
}

// Each finding has a fingerprint of its own, that stays when others come and go; what is
// conceded is not told.
func TestCodeQualityFingerprints(t *testing.T) {
	read := func(text []byte) (all []codeQualityIssue) {
		if err := json.Unmarshal(text, &all); err != nil {
			t.Fatal(err)
		}
		return all
	}
	twin := described(broken())[0]
	twin.Judgement.Findings = append(twin.Judgement.Findings, twin.Judgement.Findings[0])
	all := read(told(t, "codequality", Options{}, Run{}, append(some(), twin)...))
	seen := map[string]bool{}
	for _, i := range all {
		if seen[i.Fingerprint] {
			t.Errorf("two have the fingerprint %s", i.Fingerprint)
		}
		seen[i.Fingerprint] = true
		if i.Check == "mass.budget" {
			t.Error("a conceded finding is told")
		}
	}
	if alone := read(told(t, "codequality", Options{}, Run{}, described(broken())[0])); alone[1].Fingerprint != all[1].Fingerprint {
		t.Error("a fingerprint changes with what else is told")
	}
}
