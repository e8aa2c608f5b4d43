package reports

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"headroom/rules"
	"headroom/specs"
)

// schema compiles a schema of testdata.
func schema(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	s, err := c.Compile("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// follows fails where a JSON text does not follow a schema.
func follows(t *testing.T, s *jsonschema.Schema, text []byte) {
	t.Helper()
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatalf("no JSON: %v\n%s", err, text)
	}
	if err := s.Validate(value); err != nil {
		t.Error(err)
	}
}

// Exact output, valid by the schema of the standard.
func TestSARIFExactly(t *testing.T) {
	s := schema(t, "sarif-2.1.0.schema.json")
	exactly(t, "sarif", "sarif", func(t *testing.T, out []byte) { follows(t, s, out) })
	for _, text := range hostileTexts {
		follows(t, s, told(t, "sarif", Options{}, Run{Notices: []string{text}}, hostile(text)))
	}
	core, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	whole := clean()
	whole.Book = core
	follows(t, s, told(t, "sarif", Options{Version: "v1.2.3"}, Run{}, whole))
}

// sarifRead is what a reader makes of a log.
type sarifRead struct {
	Runs []struct {
		Results []sarifResult
		Tool    struct{ Driver struct{ Rules []sarifRule } }
		Files   []sarifArtifact `json:"artifacts"`
	}
}

func readSARIF(t *testing.T, text []byte) (log sarifRead) {
	t.Helper()
	if err := json.Unmarshal(text, &log); err != nil || len(log.Runs) != 1 {
		t.Fatalf("%d runs, %v", len(log.Runs), err)
	}
	return log
}

// Each result refers to its own rule and file, and each log tells for all results
// whether they are conceded, as the standard asks (3.27.23).
func TestSARIFRefersRightly(t *testing.T) {
	run := readSARIF(t, told(t, "sarif", Options{}, someRun, some()...)).Runs[0]
	kinds, conceded := map[string]int{}, 0
	for _, r := range run.Results {
		kinds[r.Kind]++
		if run.Tool.Driver.Rules[r.Index].ID != r.Rule {
			t.Errorf("%s refers to %s", r.Rule, run.Tool.Driver.Rules[r.Index].ID)
		}
		at := r.Locations[0].Physical.Artifact
		if run.Files[*at.Index].Location.URI != at.URI {
			t.Errorf("%s refers to %s", at.URI, run.Files[*at.Index].Location.URI)
		}
		if r.Suppressions == nil || r.Fingerprints[sarifFingerprint] == "" || (r.Kind == "fail") == (r.Level == "none") {
			t.Errorf("%+v", r)
		}
		conceded += len(r.Suppressions)
	}
	if want := map[string]int{"fail": 8, "open": 5, "notApplicable": 1}; fmt.Sprint(kinds) != fmt.Sprint(want) || conceded != 2 {
		t.Errorf("kinds %v, %d conceded", kinds, conceded)
	}
	if got := run.Results[6].Locations[0].Physical.Artifact.URI; got != "circuits/winch%202.yaml" {
		t.Errorf("a blank in a path: %s", got)
	}
}

// Columns count UTF-16 code units: a degree sign, an accented letter and a tab are one,
// a letter beyond U+FFFF two, a byte order mark and a carriage return none.
func TestSARIFColumns(t *testing.T) {
	text := []byte("\ufeffab: °C\r\n\té: 😀x\r\n𝄞𝄞: \"ü\"\r\nlast: 1")
	for _, c := range []struct {
		at    specs.Span // in characters
		want  string
		piece string
	}{
		{specs.Span{Line: 1, Column: 1, EndLine: 1, EndColumn: 3}, "1:1-1:3", "ab"},
		{specs.Span{Line: 1, Column: 5, EndLine: 1, EndColumn: 7}, "1:5-1:7", "°C"},
		{specs.Span{Line: 1, Column: 5, EndLine: 1, EndColumn: 8}, "1:5-1:8", ""}, // the break is no part of the line
		{specs.Span{Line: 2, Column: 2, EndLine: 2, EndColumn: 3}, "2:2-2:3", "é"},
		{specs.Span{Line: 2, Column: 5, EndLine: 2, EndColumn: 6}, "2:5-2:7", "😀"},
		{specs.Span{Line: 2, Column: 6, EndLine: 2, EndColumn: 7}, "2:7-2:8", "x"},
		{specs.Span{Line: 3, Column: 5, EndLine: 3, EndColumn: 8}, "3:7-3:10", "\"ü\""},
		{specs.Span{Line: 1, Column: 5, EndLine: 3, EndColumn: 3}, "1:5-3:5", ""},
		{specs.Span{Line: 4, Column: 7, EndLine: 4, EndColumn: 8}, "4:7-4:8", "1"},
		{specs.Span{Line: 4, Column: 9, EndLine: 4, EndColumn: 12}, "4:9-4:12", ""},
		{specs.Span{Line: 9, Column: 2, EndLine: 9, EndColumn: 4}, "9:2-9:4", ""},
		{specs.Span{}, "1:1-1:1", ""},
		{specs.Span{Line: 3, Column: 4, EndLine: 3}, "3:6-3:6", ""},
	} {
		got := sarifRegionOf(text, c.at)
		if at := fmt.Sprintf("%d:%d-%d:%d", got.StartLine, got.StartColumn, got.EndLine, got.EndColumn); at != c.want {
			t.Errorf("%+v: %s, not %s", c.at, at, c.want)
		}
		piece := ""
		if got.Snippet != nil {
			piece = got.Snippet.Text
		}
		if piece != c.piece {
			t.Errorf("%+v: %q, not %q", c.at, piece, c.piece)
		}
	}
	found := readSARIF(t, told(t, "sarif", Options{}, Run{}, described(one())...)).Runs[0].Results[0].Locations[0].Physical.Region
	if found.StartColumn != 55 || found.EndColumn != 62 || found.Snippet == nil || found.Snippet.Text != "620 bar" {
		t.Errorf("%+v", found)
	}
}

// Rank is 50 where a limit is just reached, and never leaves 0 to 100.
func TestSARIFRank(t *testing.T) {
	for h, want := range map[float64]number{5: 0, 1: 0, 0.5: 25, 0: 50, -1: 75, -3: 87.5, -1e300: 100} {
		if got := sarifRank(&h); got == nil || *got != want {
			t.Errorf("headroom %v: %v, not %v", h, got, want)
		}
	}
	inf, nan := math.Inf(-1), math.NaN()
	if got := sarifRank(&inf); got == nil || *got != 100 {
		t.Errorf("minus infinity: %v", got)
	}
	if sarifRank(&nan) != nil || sarifRank(nil) != nil {
		t.Error("no headroom has a rank")
	}
}

// A version begins with a number.
func TestSARIFVersion(t *testing.T) {
	for version, want := range map[string]string{"v1.2.3": "1.2.3", "": "", "3f9aad4cd0aa": "0+3f9aad4cd0aa", "built from source": "0+built-from-source"} {
		if got := sarifVersion(version); got != want {
			t.Errorf("%s: %s, not %s", version, got, want)
		}
	}
}

// Braces of a text stand for themselves: the standard has them doubled (3.11.5).
func TestSARIFBraces(t *testing.T) {
	if got := sarifSentence("give {kind: hose}"); got != "give {{kind: hose}}." {
		t.Error(got)
	}
	rule := sarifRuleOf(&rules.Rule{ID: "a.b", Why: "Why {0}?", Remedy: "{1}", Require: rules.Expression{Text: "{'x': 1}[part.kind]"}}, true)
	for _, text := range []string{rule.Full.Text, rule.Help.Text, rule.Help.Markdown} {
		if strings.Count(text, "{") == 0 || strings.Count(text, "{") != 2*strings.Count(text, "{{") || strings.Count(text, "}") != 2*strings.Count(text, "}}") {
			t.Error(text)
		}
	}
}
