package reports

import (
	"slices"
	"strings"
	"testing"

	"headroom/rules"
	"headroom/specs"
)

// odd is the text of a spec with letters of every width, a byte order mark, tabs and
// breaks of two letters.
const odd = "\ufeffheadroom: 1\r\ncircuit: winch\r\nparts:\r\n\those: {title: \"😀 é\",\tfluid: -10 °C, burst_pressure: 620 bar}\r\n"

// one is a result with one finding, in a text with letters of every width.
func one() *rules.Result {
	r := broken()
	burst := r.Judgement.Findings[0]
	burst.At = specs.Span{File: "winch.yaml", Line: 4, Column: 54, EndLine: 4, EndColumn: 61}
	burst.Path = "parts.hose.burst_pressure"
	burst.Working[0].Origin.At, burst.Working[2].Origin.At = burst.At, specs.Span{File: "winch.yaml", Line: 4, Column: 2, EndLine: 4, EndColumn: 6}
	r.Circuit.Source = []byte(odd)
	r.Judgement = &rules.Judgement{Verdict: rules.Broken, Assessments: []*rules.Assessment{burst}, Findings: []*rules.Assessment{burst}}
	return r
}

// some are results of every kind.
func some() []*rules.Result {
	excused := broken()
	excused.Circuit.Name.Value = "winch-2"
	move(excused, "circuits/winch 2.yaml")
	excused.Judgement.NotAssessed[2].Excused = "the spare pump is not fitted"
	return described(broken(), clean(), excused, unreadable(), partial(), pack())
}

// move puts a result into another file.
func move(r *rules.Result, file string) {
	r.Circuit.File = file
	for _, a := range r.Judgement.Findings {
		a.At.File = file
	}
	for _, u := range r.Judgement.NotAssessed {
		u.At.File = file
	}
}

var someRun = Run{Today: "2026-11-25", Skipped: 2, Notices: []string{"a remark"}, Exit: 2}

// described gives rules that have none a title, and says why they are there: a pack
// without is not taken.
func described(results ...*rules.Result) []*rules.Result {
	describe := func(r *rules.Rule) {
		if r.Title == "" {
			r.Title, r.Why, r.Pack = "Title of "+r.ID, "Why "+r.ID+" is there.", "sample"
		}
	}
	for _, r := range results {
		for _, a := range slices.Concat(r.Judgement.Assessments, r.Judgement.Findings) {
			describe(a.Rule)
		}
		for _, u := range r.Judgement.NotAssessed {
			describe(u.Rule)
		}
		if r.Book != nil {
			for _, rule := range r.Book.Rules {
				describe(rule)
			}
			for _, off := range r.Book.SwitchedOff {
				describe(off.Rule)
			}
		}
	}
	return results
}

// exactly holds a form's whole output: no circuit, none, one and many findings. Each
// is given to what else is to hold of it.
func exactly(t *testing.T, form, ending string, valid func(*testing.T, []byte)) {
	t.Helper()
	options := Options{Version: "v1.2.3"}
	for name, out := range map[string][]byte{
		"empty": told(t, form, options, Run{}),
		"none":  told(t, form, options, Run{}, described(clean())...),
		"one":   told(t, form, options, Run{Exit: 1}, described(one())...),
		"some":  told(t, form, options, someRun, some()...),
	} {
		expect(t, name+"."+ending, out)
		valid(t, out)
	}
}

// hostileTexts are texts that would break out of a form that does not take care.
var hostileTexts = []string{
	"]]> <b>&amp;\"'", "\x00\x01\x1b[31m\x7f\u0085\ufffe\uffff", "\xff\xfe no UTF-8", "a\r\nb\n::error::c", "%0A%25,:", "| `x` | @all | [a](b) <!-- {0} {{", "e\u0301 😀 \u202e", strings.Repeat("long ", 400),
}

// hostile is a result in which every text that a spec or a pack can set is hostile.
func hostile(text string) *rules.Result {
	r := described(broken())[0]
	for _, a := range r.Judgement.Findings {
		a.Message, a.Subject.Name, a.Subject.Case, a.Path = text, text, text, text
		a.Rule.Title, a.Rule.Why, a.Rule.Basis, a.Rule.Remedy = text, text, text, text
		for i := range a.Working {
			a.Working[i].Label, a.Working[i].Text = text, text
		}
		if a.Conceded != nil {
			a.Conceded.By.Value, a.Conceded.Because.Value = text, text
		}
	}
	for _, u := range r.Judgement.NotAssessed {
		u.Subject.Name, u.Missing, u.Excused = text, []string{text}, text
	}
	r.Circuit.Title.Value, r.Circuit.Revision.Value, r.Circuit.Name.Value = text, text, text
	move(r, "a b/ü"+strings.NewReplacer("/", "", "\x00", "").Replace(text)+".yaml")
	return r
}

// Files of a project are told from where the run began: that is how forges know them.
func TestPathsForForges(t *testing.T) {
	r := clean()
	if got := (Options{Folder: "/home/repository"}).path(r, "winch.yaml"); got != "winch.yaml" {
		t.Errorf("without a project: %s", got)
	}
	r.Project = &specs.Project{Folder: "/home/repository/hydraulics/winches"}
	for folder, want := range map[string]string{
		"": "circuits/a.yaml", "/home/repository": "hydraulics/winches/circuits/a.yaml", "/home/repository/hydraulics/winches": "circuits/a.yaml", "/home/repository/hydraulics/winches/circuits": "a.yaml",
	} {
		if got := (Options{Folder: folder}).path(r, "circuits/a.yaml"); got != want {
			t.Errorf("from %q: %s, not %s", folder, got, want)
		}
	}
}
