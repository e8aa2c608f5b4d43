package review

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strings"
	"testing"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules"
	"headroom/specs"
)

// demos are the pages' own circuits, judged in full.
func demos(t testing.TB) (results []*rules.Result) {
	t.Helper()
	book, err := rules.Core()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"stonechat", "dipper", "ptarmigan"} {
		results = append(results, checker.Judge(checker.Task{Path: "../../specs/demo/" + name + ".yaml", Name: name + ".yaml", Book: book, History: true, Settings: rules.Settings{Today: "2026-11-25"}}))
	}
	return results
}

// Exact pages: one circuit, several with files that are none, and nothing at all.
func TestPageExactly(t *testing.T) {
	run := reports.Run{Today: "2026-11-25", Skipped: 2, Notices: []string{"a remark"}}
	expect(t, "press.html", page(t, run, judged(t, press)))
	expect(t, "several.html", page(t, run, held(t), unreadable(), faulty()))
	expect(t, "nothing.html", page(t, reports.Run{}))
}

// held is a circuit without findings and cases.
func held(t testing.TB) *rules.Result {
	r := judged(t, press)
	r.Judgement = &rules.Judgement{Verdict: rules.Holds}
	r.Coverage = nil
	r.Facts, r.Cases = nil, nil
	return r
}

// unreadable is a file that is no spec.
func unreadable() *rules.Result {
	a := &rules.Assessment{
		Rule: &rules.Rule{ID: "spec.syntax", Grade: rules.Major}, Subject: rules.Subject{Kind: "problem"}, Finding: true, Grade: rules.Major,
		Message: "a bracket is not closed", At: specs.Span{File: "half.yaml", Line: 1, Column: 2, EndLine: 1, EndColumn: 3},
	}
	return &rules.Result{
		Circuit: &specs.Circuit{File: "half.yaml", Source: []byte("a{\n")}, Digest: "d3",
		Judgement: &rules.Judgement{Verdict: rules.Broken, Assessments: []*rules.Assessment{a}, Findings: []*rules.Assessment{a}},
	}
}

// faulty is a file that is no circuit.
func faulty() *rules.Result {
	r := unreadable()
	r.Circuit.File, r.Other, r.Readable = "house.yaml", true, true
	return r
}

var scripts = regexp.MustCompile(`(?s)<script>.*?</script>`)

// A document is what a page says, by element.
type document struct {
	text  string
	ids   map[string]bool
	links []string
}

// read reads a page as XML, which it is but for its first line and its script: every
// element is closed, every attribute quoted.
func read(t *testing.T, html []byte) document {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(scripts.ReplaceAll(html, nil)))
	doc := document{ids: map[string]bool{}}
	var text strings.Builder
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			doc.text = text.String()
			return doc
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.CharData:
			text.Write(token)
		case xml.StartElement:
			doc.element(t, token)
		}
	}
}

func (d *document) element(t *testing.T, e xml.StartElement) {
	for _, a := range e.Attr {
		name := a.Name.Local
		switch {
		case name == "id":
			if d.ids[a.Value] {
				t.Errorf("two elements are %s", a.Value)
			}
			d.ids[a.Value] = true
		case name == "href":
			d.links = append(d.links, a.Value)
		case name == "src" || strings.HasPrefix(name, "on"):
			t.Errorf("<%s %s=%q>", e.Name.Local, name, a.Value)
		case name != "content" && strings.Contains(a.Value, "url(") && !strings.Contains(a.Value, "url(#"):
			t.Errorf("<%s %s=%q>", e.Name.Local, name, a.Value)
		}
	}
	switch e.Name.Local {
	case "link", "img", "iframe", "object", "form", "input", "base":
		t.Errorf("the page has <%s>", e.Name.Local)
	}
}

// What holds for every page: it is well formed, fetches nothing, its links lead
// somewhere, and every finding and case is on it.
func TestPagesOfDemos(t *testing.T) {
	results := demos(t)
	all := page(t, reports.Run{}, results...)
	for i, html := range append([][]byte{all}, each(t, results)...) {
		told := results
		if i > 0 {
			told = results[i-1 : i]
		}
		doc := read(t, html)
		for _, link := range doc.links {
			if target, within := strings.CutPrefix(link, "#"); !within || !doc.ids[target] {
				t.Errorf("a link leads to %s", link)
			}
		}
		for _, r := range told {
			for _, f := range r.Judgement.Findings {
				if !strings.Contains(doc.text, f.Message) {
					t.Errorf("%s: a finding is not told: %s", r.Circuit.File, f.Message)
				}
			}
			for k := range r.Circuit.Cases {
				if !strings.Contains(doc.text, "Pressures, "+r.Circuit.Cases[k].Name) {
					t.Errorf("%s: nothing is drawn of case %s", r.Circuit.File, r.Circuit.Cases[k].Name)
				}
			}
			for _, u := range r.Judgement.NotAssessed {
				for _, key := range u.Missing {
					if !strings.Contains(doc.text, key) {
						t.Errorf("%s: that %s is missing is not told", r.Circuit.File, key)
					}
				}
			}
		}
		if i > 0 && len(html) > 1_000_000 {
			t.Errorf("%s has %d bytes", told[0].Circuit.File, len(html))
		}
	}
	if strings.Contains(strings.ToLower(style), "http") || strings.Contains(style, "@import") || strings.Contains(style, "url(") || strings.Contains(script, "http") {
		t.Error("style or script name other places")
	}
}

func each(t *testing.T, results []*rules.Result) (pages [][]byte) {
	for _, r := range results {
		pages = append(pages, page(t, reports.Run{}, r))
	}
	return pages
}

// Same input, same bytes, from the spec on.
func TestSameBytes(t *testing.T) {
	first := page(t, reports.Run{}, demos(t)...)
	if second := page(t, reports.Run{}, demos(t)...); !bytes.Equal(first, second) {
		t.Error("two runs differ")
	}
}

// Text of a spec is text, wherever it comes to stand.
func TestHostileText(t *testing.T) {
	const evil = `</title></script><script>alert(1)</script><img src=x onerror=alert(2)>"'&amp;--> ]]>`
	spec := press
	quoted := "'" + strings.ReplaceAll(evil, "'", "''") + "'"
	for _, plain := range []string{"A hand press", "one stroke", "a prototype", "hydraulics lead"} {
		spec = strings.Replace(spec, plain, quoted, 1)
	}
	spec = strings.Replace(spec, "revision: B", "revision: "+quoted, 1)
	spec = strings.Replace(spec, "name: down", "name: "+quoted, 1)
	r := judged(t, spec)
	for _, a := range r.Judgement.Findings {
		a.Message, a.Remedy, a.Rule.Title, a.Rule.Why, a.Rule.Basis, a.Subject.Name = evil, evil, evil, evil, evil, evil
		for i := range a.Working {
			s := &a.Working[i]
			s.Label, s.Fact = evil, evil
			if s.Origin != nil {
				s.Origin.Note, s.Origin.Basis, s.Origin.Node = evil, evil, evil
			}
		}
	}
	r.Judgement.NotAssessed[0].Missing = []string{evil}
	r.Facts.Expectations[0].Name.Value = evil
	r.Cases[0].Expectations[0].Name, r.Cases[0].Unfinished = evil, evil
	r.Facts.Fluid.Name.Value, r.Facts.Seals[0].Rating.Value = evil, evil
	r.Scope = rules.Scope{Only: []string{evil}, Case: evil}
	html := page(t, reports.Run{Notices: []string{evil}, Today: evil}, r)
	doc := read(t, html) // which refuses img, src and on...
	if n := strings.Count(doc.text, evil); n < 30 {
		t.Errorf("what was written is told %d times", n)
	}
	if n := bytes.Count(html, []byte("<script")); n != 1 {
		t.Errorf("the page has %d scripts", n)
	}
}

// Of many cases those with grave findings are unfolded; nothing is left out.
func TestManyCases(t *testing.T) {
	spec := press
	for i := range 40 {
		spec = strings.Replace(spec, "concessions:", fmt.Sprintf("  more-%d: {lasts: 1 s}\nconcessions:", i), 1)
	}
	html := string(page(t, reports.Run{}, judged(t, spec)))
	if n := strings.Count(html, `<details class="case"`); n != 41 {
		t.Errorf("%d cases", n)
	}
	if n := strings.Count(html, "It was not simulated"); n != 40 {
		t.Errorf("%d cases are told not to have been simulated", n)
	}
	open := regexp.MustCompile(`<details class="case" id="\w+" open="">`).FindAllString(html, -1)
	if len(open) != 1 || !strings.Contains(html, open[0]+"\n<summary><strong>press</strong>") {
		t.Errorf("open: %v", open)
	}
}

// The verdict is told in words, of the part that was looked at.
func TestVerdictText(t *testing.T) {
	for _, c := range []struct {
		r    rules.Result
		want string
	}{
		{rules.Result{Readable: true, Judgement: &rules.Judgement{Verdict: rules.Broken}}, "Not fit for release as it stands"},
		{rules.Result{Readable: true, Judgement: &rules.Judgement{Verdict: rules.Incomplete}}, "Not fit for release yet"},
		{rules.Result{Readable: true, Judgement: &rules.Judgement{Verdict: rules.Holds}}, "No limit of a major or critical rule is broken"},
		{rules.Result{Judgement: &rules.Judgement{Verdict: rules.Broken}}, "cannot be read"},
		{rules.Result{Other: true, Readable: true, Judgement: &rules.Judgement{Verdict: rules.Broken}}, "faults"},
	} {
		if _, got := verdictText(&c.r); !strings.Contains(got, c.want) {
			t.Errorf("%q, not %q", got, c.want)
		}
	}
}

// Rules are ranked by their tightest subjects: the broken first, the gravest of them
// before all; a rule without a reserve that holds is apart.
func TestRanking(t *testing.T) {
	assess := func(id string, grade rules.Grade, headroom *float64, holds bool) *rules.Assessment {
		return &rules.Assessment{Rule: &rules.Rule{ID: id, Grade: grade}, Grade: grade, Headroom: headroom, Holds: holds, Finding: !holds}
	}
	scaled, plain := rankingOf(&rules.Judgement{Assessments: []*rules.Assessment{
		assess("held", rules.Critical, nil, true),
		assess("roomy", rules.Minor, number(7), true),
		assess("tight", rules.Minor, number(2), true), assess("tight", rules.Minor, number(0.5), true),
		assess("observed", rules.Observation, nil, false),
		assess("fatal", rules.Critical, number(-0.1), false),
		assess("worse", rules.Critical, number(-3), false),
	}}, nil)
	var got []string
	for _, row := range scaled {
		got = append(got, row.State+" "+row.Rule)
	}
	if want := "broken worse, broken fatal, unmet observed, eaten tight, comfortable roomy"; strings.Join(got, ", ") != want {
		t.Errorf("%v", got)
	}
	if len(plain) != 1 || plain[0].Rule != "held" || scaled[3].More != 1 {
		t.Errorf("%d apart, %d more", len(plain), scaled[3].More)
	}
}

func BenchmarkPage(b *testing.B) {
	results := demos(b)[:1]
	for b.Loop() {
		page(b, reports.Run{}, results...)
	}
}
