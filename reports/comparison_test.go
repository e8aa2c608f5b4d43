package reports

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"headroom/rules"
	"headroom/rules/changes"
	"headroom/specs"
)

// compared is what a form of a comparison writes.
func compared(t *testing.T, form string, run Run, all ...*changes.Comparison) []byte {
	t.Helper()
	var out bytes.Buffer
	f, err := OpenComparison(form, &out, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range all {
		if err := f.Comparison(c); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Close(run); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// A change of every kind: the burst factor is new, the pressure of steering worse,
// what was conceded no longer assessed.
func changed() *changes.Comparison {
	old, new := clean(), broken()
	new.Circuit.Revision.Value = "C"
	before, after := broken().Judgement.Assessments, new.Judgement.Assessments
	worse := *before[1]
	worse.Measure, worse.Margin, worse.Headroom, worse.Grade = bar(93), bar(3), head(0.667), rules.Observation
	held := *before[0]
	held.Measure, held.Margin, held.Holds, held.Finding = ratio(4.2), ratio(0.2), true, false
	stays := clean().Judgement.Assessments[0]
	return &changes.Comparison{
		Old: old, New: new,
		Renamed: []changes.Rename{{Kind: "part", Old: "hose", New: "clutch-hose"}},
		Edits: []specs.Edit{
			{Path: "parts.clutch-hose.burst_pressure", Old: "900 bar", New: "620 bar", Line: 84},
			{Path: "parts.spare", New: "{kind: hose}", Line: 90},
			{Path: "parts.old|`hose`", Old: "<b>@all</b>", Line: 91},
		},
		Findings: []changes.Finding{
			{Kind: changes.New, New: after[0], Old: &held},
			{Kind: changes.Worse, Old: &worse, New: after[1]},
			{Kind: changes.Unassessed, Old: before[2], Why: "for want of parts.hose.mass"},
			{Kind: changes.Mended, Old: before[0], New: stays},
		},
		Unchanged: 2,
		Moved: []changes.Move{
			{Old: &worse, New: after[1], By: -0.445, Headroom: true},
			{Old: &held, New: after[0], By: -0.33},
		},
		Lost: new.Judgement.NotAssessed[:1],
	}
}

// Exact output of each form: nothing compared, nothing changed, much changed,
// circuits that came and went.
func TestComparisonExactly(t *testing.T) {
	same := &changes.Comparison{Old: clean(), New: clean(), Unchanged: 0}
	came := changes.Between(nil, broken())
	gone := changes.Between(broken(), nil)
	for form, name := range map[string]string{"text": "txt", "markdown": "md", "json": "json"} {
		expect(t, "compare-empty."+name, compared(t, form, Run{}))
		expect(t, "compare-none."+name, compared(t, form, Run{}, same))
		expect(t, "compare-some."+name, compared(t, form, Run{Today: "2026-11-25", Notices: []string{"a remark"}}, changed(), came, gone))
	}
}

// The JSON has the ids, subjects and places of check's.
func TestComparisonJSONHasTheSameIDs(t *testing.T) {
	var got struct {
		Comparisons []struct {
			Findings []struct {
				Change   string
				Old, New *struct{ ID, Rule string }
			}
		}
	}
	if err := json.Unmarshal(compared(t, "json", Run{}, changed()), &got); err != nil {
		t.Fatal(err)
	}
	first := got.Comparisons[0].Findings[0]
	if first.Change != "new" || first.New.ID != "1c2d" || first.New.Rule != "strength.burst-factor" {
		t.Errorf("%+v", first)
	}
}

// What a spec says cannot break a comment's table, call people or make tags.
func TestMarkdownIsSafe(t *testing.T) {
	out := string(compared(t, "markdown", Run{}, changed()))
	for _, bad := range []string{"<b>", "@all", "old|`hose`"} {
		if strings.Contains(out, bad) {
			t.Errorf("%s is in force", bad)
		}
	}
}

func TestUnknownComparisonForm(t *testing.T) {
	if _, err := OpenComparison("sarif", nil, Options{}); err == nil || !strings.Contains(err.Error(), "json, markdown, text") {
		t.Errorf("sarif: %v", err)
	}
}
