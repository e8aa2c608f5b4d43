// Package review writes the page of a design review: one file that needs no network and
// no script to be read, prints on A4, and has a place to sign.
package review

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"

	"headroom/reports"
	"headroom/reports/drawing"
	"headroom/rules"
)

//go:embed page.gohtml
var pageText string

//go:embed page.css
var style string

//go:embed readout.js
var script string

var templates = template.Must(template.New("page").Parse(pageText))

// policy forbids the page to fetch anything and to run any script but its own.
var policy = func() string {
	sum := sha256.Sum256([]byte(script))
	return "default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}()

// Open starts a page on w. It is written when it is closed, for it begins with what all
// circuits came to.
func Open(w io.Writer) reports.Form { return &form{w: w} }

type form struct {
	w        io.Writer
	circuits []told
	others   []told
}

// A told circuit is its section of the page, and its row in the index.
type told struct {
	Key, Title, Revision, File, Verdict, State, Glyph, Counts string
	Section                                                   template.HTML
}

// A view is all that the page tells of one circuit.
type view struct {
	told
	Name, Digest, Scope, Sentence, Coverage, Caution string
	Other                                            bool
	Assessed                                         string
	Reasons                                          []*finding
	MoreReasons                                      int
	ScaleHead                                        template.HTML
	Scaled, Plain                                    []*ranked
	Findings                                         []*finding
	Concessions                                      []conceded
	Cases                                            []caseView
	Mass                                             *massView
	Seals                                            []sealRow
	Fluid                                            []pair
	Picture                                          template.HTML
	Missing                                          []pair
	Excused                                          []excused
	Changes                                          []string
	Covered                                          *coverageView
	Catalogue                                        []sourced
	FoldFindings, FoldSection                        bool
}

// mostReasons is how many findings the verdict names as its reasons.
const mostReasons = 6

func (f *form) Circuit(r *rules.Result) error {
	key := fmt.Sprintf("c%d", len(f.circuits)+len(f.others)+1)
	v := viewOf(r, key)
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "circuit", v); err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	v.Section = template.HTML(out.String())
	if r.Other {
		f.others = append(f.others, v.told)
	} else {
		f.circuits = append(f.circuits, v.told)
	}
	return nil
}

func viewOf(r *rules.Result, key string) *view {
	c, j := r.Circuit, r.Judgement
	found := findingsOf(r, key)
	v := &view{
		told: told{Key: key, Title: c.Title.Value, Revision: c.Revision.Value, File: c.File, Verdict: string(j.Verdict), State: string(j.Verdict), Counts: reports.FoundText(j)},
		Name: c.Name.Value, Digest: r.Digest, Scope: reports.ScopeText(r.Scope), Coverage: reports.CoverageLine(r.Coverage),
		Caution: reports.Caution, Other: r.Other, Findings: found, ScaleHead: scaleHead(),
		Concessions: concessionsOf(r, found), Changes: reports.ChangesText(r.Book), Excused: excusedOf(j),
	}
	if v.Title == "" {
		v.Title = v.Name
	}
	if v.Title == "" {
		v.Title = c.File
	}
	v.Glyph, v.Sentence = verdictText(r)
	v.Assessed = reports.AssessedText(r)
	v.Reasons, v.MoreReasons = reasons(found)
	v.Scaled, v.Plain = rankingOf(j, found)
	if r.Other || !r.Readable {
		v.Scaled, v.Plain = nil, nil
	}
	keys, wanted := reports.MissingByKey(j)
	for _, key := range keys {
		v.Missing = append(v.Missing, pair{Name: key, Value: wanted[key]})
	}
	if r.Facts == nil || !r.Readable || r.Other {
		return v
	}
	v.Cases = (&teller{r, found, key}).cases()
	v.Picture = pictureOf(r, key)
	v.Mass, v.Seals, v.Fluid = massOf(r), sealsOf(r.Facts, found), fluidOf(r.Facts)
	v.Covered, v.Catalogue = coverageOf(r.Coverage), catalogueOf(c)
	return v
}

// pictureOf is the circuit's diagram.
func pictureOf(r *rules.Result, key string) template.HTML {
	var out bytes.Buffer
	if err := drawing.Draw(&out, r, drawing.Options{Prefix: key}); err != nil {
		return "" // a buffer takes all
	}
	return template.HTML(out.String())
}

// reasons are the findings that a verdict rests on: those of major and critical grade.
func reasons(found []*finding) (first []*finding, more int) {
	for _, f := range found {
		if f.of.Grade < rules.Major || f.of.Conceded != nil {
			continue
		}
		if len(first) == mostReasons {
			more++
			continue
		}
		first = append(first, f)
	}
	return first, more
}

// verdictText is the verdict in a sentence.
func verdictText(r *rules.Result) (glyph, sentence string) {
	switch {
	case r.Other:
		return "✖", "This file has faults."
	case !r.Readable:
		return "✖", "The file cannot be read as a spec: nothing was judged."
	case r.Judgement.Verdict == rules.Broken:
		return "✖", "Not fit for release as it stands: limits of major or critical rules do not hold."
	case r.Judgement.Verdict == rules.Incomplete:
		return "?", "Not fit for release yet: what critical rules ask could not be assessed."
	}
	return "✓", "No limit of a major or critical rule is broken, and every critical rule could be assessed."
}

// Close writes the page.
func (f *form) Close(run reports.Run) error {
	title := "Design review"
	if all := append(f.circuits[:len(f.circuits):len(f.circuits)], f.others...); len(all) == 1 {
		title += ": " + all[0].Title
		if all[0].Revision != "" {
			title += ", revision " + all[0].Revision
		}
	} else {
		title += ": " + reports.Plural(len(f.circuits), "circuit")
	}
	page := struct {
		Title, Policy, Caution string
		Style                  template.CSS
		Script                 template.JS
		Circuits, Others       []told
		Index                  bool
		Run                    reports.Run
		Skipped                string
	}{
		Title: title, Policy: policy, Caution: reports.Caution, Style: template.CSS(style), Script: template.JS(script),
		Circuits: f.circuits, Others: f.others, Index: len(f.circuits)+len(f.others) != 1, Run: run,
	}
	if run.Skipped > 0 {
		page.Skipped = reports.Plural(run.Skipped, "other YAML file") + " met, not specs."
	}
	var out bytes.Buffer
	if err := templates.ExecuteTemplate(&out, "page", page); err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	_, err := f.w.Write(out.Bytes())
	return err
}
