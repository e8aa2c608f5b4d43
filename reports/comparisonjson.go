package reports

import (
	"bytes"
	"encoding/json"
	"io"

	"headroom/rules"
	"headroom/rules/changes"
)

// jsonComparisons writes comparisons for tools, in the terms of the JSON of check:
// ids, subjects, measures and places are the same.
type jsonComparisons struct {
	w   io.Writer
	all []jsonComparison
}

func openJSONComparison(w io.Writer, _ Options) ComparisonForm {
	return &jsonComparisons{w: w, all: []jsonComparison{}}
}

type jsonComparison struct {
	Circuit   string           `json:"circuit"`
	Old       *jsonRevision    `json:"old"`
	New       *jsonRevision    `json:"new"`
	Renamed   []jsonRename     `json:"renamed"`
	Edits     []jsonEdit       `json:"edits"`
	Findings  []jsonChange     `json:"findings"`
	Unchanged int              `json:"unchanged"`
	Margins   []jsonMove       `json:"margins"`
	Lost      []jsonUnassessed `json:"no_longer_assessed"`
}

type jsonRevision struct {
	File        string        `json:"file"`
	Title       string        `json:"title"`
	Revision    string        `json:"revision"`
	Digest      string        `json:"digest"`
	Verdict     rules.Verdict `json:"verdict"`
	Counts      Counts        `json:"counts"`
	Scope       *jsonScope    `json:"scope,omitempty"`
	RuleChanges []packChange  `json:"rule_changes,omitempty"`
}

type jsonRename struct {
	Kind string `json:"kind"`
	Old  string `json:"old"`
	New  string `json:"new"`
}

type jsonEdit struct {
	Path string `json:"path"`
	Old  string `json:"old"`
	New  string `json:"new"`
	Line int    `json:"line"`
}

type jsonChange struct {
	Change string          `json:"change"`
	Why    string          `json:"why,omitempty"`
	Old    *jsonAssessment `json:"old"`
	New    *jsonAssessment `json:"new"`
}

type jsonMove struct {
	ID           string      `json:"id"`
	Rule         string      `json:"rule"`
	Subject      jsonSubject `json:"subject"`
	HeadroomMove *number     `json:"headroom_change"` // null where the rule has no reserve
	Old          jsonMargin  `json:"old"`
	New          jsonMargin  `json:"new"`
}

type jsonMargin struct {
	Measure  *jsonValue `json:"measure"`
	Limit    *jsonLimit `json:"limit"`
	Margin   *jsonValue `json:"margin"`
	Headroom *number    `json:"headroom"`
	Holds    bool       `json:"holds"`
}

func (f *jsonComparisons) Comparison(c *changes.Comparison) error {
	out := jsonComparison{
		Circuit: the(c).Circuit.Name.Value, Old: revisionJSON(c.Old), New: revisionJSON(c.New),
		Renamed: []jsonRename{}, Edits: []jsonEdit{}, Findings: []jsonChange{}, Unchanged: c.Unchanged, Margins: []jsonMove{}, Lost: []jsonUnassessed{},
	}
	for _, r := range c.Renamed {
		out.Renamed = append(out.Renamed, jsonRename(r))
	}
	for _, e := range c.Edits {
		out.Edits = append(out.Edits, jsonEdit(e))
	}
	for _, x := range c.Findings {
		out.Findings = append(out.Findings, jsonChange{string(x.Kind), x.Why, maybeJSON(x.Old), maybeJSON(x.New)})
	}
	for _, m := range c.Moved {
		out.Margins = append(out.Margins, moveJSON(m))
	}
	for _, u := range c.Lost {
		out.Lost = append(out.Lost, unassessedJSON(u))
	}
	f.all = append(f.all, out)
	return nil
}

func revisionJSON(r *rules.Result) *jsonRevision {
	if r == nil {
		return nil
	}
	return &jsonRevision{
		File: r.Circuit.File, Title: r.Circuit.Title.Value, Revision: r.Circuit.Revision.Value,
		Digest: r.Digest, Verdict: r.Judgement.Verdict, Counts: CountsOf(r.Judgement),
		Scope: scopeJSON(r.Scope), RuleChanges: packChanges(r.Book),
	}
}

func maybeJSON(a *rules.Assessment) *jsonAssessment {
	if a == nil {
		return nil
	}
	out := assessmentJSON(a)
	return &out
}

func moveJSON(m changes.Move) jsonMove {
	out := jsonMove{ID: m.New.ID, Rule: m.New.Rule.ID, Subject: subjectJSON(m.New.Subject), Old: marginJSON(m.Old), New: marginJSON(m.New)}
	if m.Headroom {
		by := number(m.By)
		out.HeadroomMove = &by
	}
	return out
}

func marginJSON(a *rules.Assessment) jsonMargin {
	full := assessmentJSON(a)
	return jsonMargin{full.Measure, full.Limit, full.Margin, full.Headroom, a.Holds}
}

func (f *jsonComparisons) Close(run Run) error {
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	err := encoder.Encode(struct {
		Format      int              `json:"headroom"`
		Comparisons []jsonComparison `json:"comparisons"`
		Today       string           `json:"today,omitempty"`
		Skipped     int              `json:"other_yaml_files"`
		Notices     []string         `json:"notices,omitempty"`
	}{1, f.all, run.Today, run.Skipped, run.Notices})
	if err != nil {
		return err
	}
	_, err = f.w.Write(out.Bytes())
	return err
}
