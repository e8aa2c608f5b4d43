package reports

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strconv"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
)

// jsonForm writes the stable contract that tools read: format version 1.
type jsonForm struct {
	w     io.Writer
	count int
}

func openJSON(w io.Writer, _ Options) Form { return &jsonForm{w: w} }

type jsonCircuit struct {
	Circuit     string              `json:"circuit"`
	File        string              `json:"file"`
	Title       string              `json:"title"`
	Revision    string              `json:"revision"`
	Digest      string              `json:"digest"`
	Verdict     rules.Verdict       `json:"verdict"`
	Counts      Counts              `json:"counts"`
	Findings    []jsonAssessment    `json:"findings"`
	Margins     []jsonAssessment    `json:"margins"`
	NotAssessed []jsonUnassessed    `json:"not_assessed"`
	Cases       map[string]jsonCase `json:"cases"`
	Scope       *jsonScope          `json:"scope,omitempty"`        // the part that was looked at; left out for all
	RuleChanges []packChange        `json:"rule_changes,omitempty"` // what packs switched off and regraded
	NoCircuit   bool                `json:"no_circuit,omitempty"`   // the file is a pack, a project file or half a spec
}

type jsonScope struct {
	Only []string `json:"only,omitempty"`
	Case string   `json:"case,omitempty"`
}

type jsonAssessment struct {
	ID         string          `json:"id"`
	Rule       string          `json:"rule"`
	Grade      string          `json:"grade"`
	Subject    jsonSubject     `json:"subject"`
	Measure    *jsonValue      `json:"measure"`
	Limit      *jsonLimit      `json:"limit"`
	Margin     *jsonValue      `json:"margin"`
	Headroom   *number         `json:"headroom"`
	Message    string          `json:"message,omitempty"`
	Working    []jsonStep      `json:"working"`
	At         jsonSpan        `json:"at"`
	Basis      string          `json:"basis"`
	Remedy     string          `json:"remedy"`
	Without    []string        `json:"without,omitempty"` // keys and cases that would supply facts it was judged without: whatever they come to, it stays broken
	Concession *jsonConcession `json:"concession"`
}

type jsonSubject struct {
	Kind string `json:"kind"`
	Name string `json:"name"`
	Case string `json:"case,omitempty"`
}

type jsonValue struct {
	Value number `json:"value"`
	Unit  string `json:"unit"`
}

type jsonLimit struct {
	Sense string `json:"sense"`
	jsonValue
}

type jsonStep struct {
	Fact  string  `json:"fact"`
	Value any     `json:"value"`
	Unit  string  `json:"unit,omitempty"`
	Case  string  `json:"case,omitempty"`
	Time  *number `json:"time,omitempty"`
	Node  string  `json:"node,omitempty"`
	Note  string  `json:"note,omitempty"`
	File  string  `json:"file,omitempty"`
	Line  int     `json:"line,omitempty"`
}

type jsonSpan struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end_line"`
	EndColumn int    `json:"end_column"`
}

type jsonConcession struct {
	By      string `json:"by"`
	Until   string `json:"until"`
	Because string `json:"because"`
	DownTo  string `json:"down_to,omitempty"` // the worst measure that is covered, as written
}

type jsonUnassessed struct {
	Rule    string      `json:"rule"`
	Grade   string      `json:"grade"`
	Subject jsonSubject `json:"subject"`
	Missing []string    `json:"missing"`
	Excused string      `json:"excused,omitempty"`
	At      jsonSpan    `json:"at"`
}

// number is written with at most six significant digits and no exponent for
// ordinary sizes, so that output does not change with the last bit.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	if f := float64(n); math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(float64(n), 'e', 5, 64), 64)
	return json.Marshal(rounded + 0) // + 0 turns -0 into 0
}

func (f *jsonForm) Circuit(r *rules.Result) error {
	before := `{ "headroom": 1, "circuits": [` + "\n"
	if f.count > 0 {
		before = ",\n"
	}
	f.count++
	if _, err := io.WriteString(f.w, before); err != nil {
		return err
	}
	var out bytes.Buffer
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(circuitJSON(r)); err != nil {
		return err
	}
	_, err := f.w.Write(bytes.TrimRight(out.Bytes(), "\n"))
	return err
}

func (f *jsonForm) Close(run Run) error {
	if f.count == 0 {
		if _, err := io.WriteString(f.w, `{ "headroom": 1, "circuits": [`); err != nil {
			return err
		}
	}
	tail := struct {
		Today   string   `json:"today,omitempty"`
		Skipped int      `json:"other_yaml_files"`
		Notices []string `json:"notices,omitempty"`
	}{run.Today, run.Skipped, run.Notices}
	rest, err := json.Marshal(tail)
	if err != nil {
		return err
	}
	_, err = io.WriteString(f.w, "\n], "+string(rest[1:])+"\n")
	return err
}

func circuitJSON(r *rules.Result) jsonCircuit {
	c := jsonCircuit{
		Circuit: r.Circuit.Name.Value, File: r.Circuit.File,
		Title: r.Circuit.Title.Value, Revision: r.Circuit.Revision.Value,
		Digest: r.Digest, Verdict: r.Judgement.Verdict, Counts: CountsOf(r.Judgement),
		Findings: []jsonAssessment{}, Margins: []jsonAssessment{}, NotAssessed: []jsonUnassessed{},
		Cases: casesJSON(r.Cases), RuleChanges: packChanges(r.Book), NoCircuit: r.Other, Scope: scopeJSON(r.Scope),
	}
	for _, a := range r.Judgement.Findings {
		c.Findings = append(c.Findings, assessmentJSON(a))
	}
	for _, a := range r.Judgement.Assessments {
		m := assessmentJSON(a)
		m.Message = ""
		c.Margins = append(c.Margins, m)
	}
	for _, u := range r.Judgement.NotAssessed {
		c.NotAssessed = append(c.NotAssessed, unassessedJSON(u))
	}
	return c
}

// scopeJSON is the part that was looked at; nil for all.
func scopeJSON(s rules.Scope) *jsonScope {
	if s.Whole() {
		return nil
	}
	return &jsonScope{s.Only, s.Case}
}

func unassessedJSON(u *rules.Unassessed) jsonUnassessed {
	return jsonUnassessed{
		Rule: u.Rule.ID, Grade: u.Rule.Grade.String(), Subject: subjectJSON(u.Subject),
		Missing: u.Missing, Excused: u.Excused, At: spanJSON(u.At),
	}
}

func assessmentJSON(a *rules.Assessment) jsonAssessment {
	out := jsonAssessment{
		ID: a.ID, Rule: a.Rule.ID, Grade: a.Grade.String(), Subject: subjectJSON(a.Subject),
		Measure: valueJSON(a.Measure), Margin: valueJSON(a.Margin),
		Message: a.Message, Working: []jsonStep{}, At: spanJSON(a.At),
		Basis: a.Rule.Basis, Remedy: a.Rule.Remedy, Without: a.Without,
	}
	if a.Limit != nil {
		out.Limit = &jsonLimit{a.Limit.Sense, *valueJSON(&a.Limit.Value)}
	}
	if a.Headroom != nil {
		h := number(*a.Headroom)
		out.Headroom = &h
	}
	for _, s := range a.Working {
		out.Working = append(out.Working, stepJSON(s))
	}
	if k := a.Conceded; k != nil {
		out.Concession = concessionJSON(k)
	}
	return out
}

func concessionJSON(c *specs.Concession) *jsonConcession {
	return &jsonConcession{By: c.By.Value, Until: c.Until.Value, Because: c.Because.Value, DownTo: c.DownTo.Value}
}

func subjectJSON(s rules.Subject) jsonSubject { return jsonSubject(s) }

func valueJSON(v *rules.Value) *jsonValue {
	if v == nil {
		return nil
	}
	value, unit := v.Dimension.Display(v.SI)
	return &jsonValue{number(value), unit}
}

func stepJSON(s rules.Step) jsonStep {
	out := jsonStep{Fact: s.Fact, Value: s.Text}
	if s.Value != nil {
		v := valueJSON(s.Value)
		out.Value, out.Unit = v.Value, v.Unit
	}
	if o := s.Origin; o != nil {
		out.Case, out.Node, out.Note = o.Case, o.Node, o.Note
		out.File, out.Line = o.At.File, o.At.Line
		out.Time = timeJSON(o)
	}
	return out
}

func timeJSON(o *facts.Origin) *number {
	if !o.Timed {
		return nil
	}
	t := number(o.Time)
	return &t
}

func spanJSON(s specs.Span) jsonSpan {
	return jsonSpan{s.File, s.Line, s.Column, s.EndLine, s.EndColumn}
}
