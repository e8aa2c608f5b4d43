package reports

import (
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"headroom/rules"
)

// junitForm writes JUnit XML, as servers that show test results read it: a suite a
// circuit, a case a rule and subject. testdata/junit.xsd says what is in it.
type junitForm struct {
	w       io.Writer
	options Options
	begun   bool
}

func openJUnit(w io.Writer, options Options) Form { return &junitForm{w: w, options: options} }

type junitSuite struct {
	XMLName    xml.Name        `xml:"testsuite"`
	Name       string          `xml:"name,attr"`
	Tests      int             `xml:"tests,attr"`
	Failures   int             `xml:"failures,attr"`
	Errors     int             `xml:"errors,attr"`
	Skipped    int             `xml:"skipped,attr"`
	File       string          `xml:"file,attr,omitempty"`
	Properties *junitBag       `xml:"properties"`
	Cases      []junitCase     `xml:"testcase"`
	named      map[string]bool // names of cases, each once
}

type junitBag struct {
	All []junitProperty `xml:"property"`
}

type junitProperty struct {
	Name  string `xml:"name,attr"`
	Value string `xml:"value,attr"`
}

type junitCase struct {
	Class      string        `xml:"classname,attr"`
	Name       string        `xml:"name,attr"`
	File       string        `xml:"file,attr,omitempty"`
	Line       int           `xml:"line,attr,omitempty"`
	Properties *junitBag     `xml:"properties"`
	Failure    *junitOutcome `xml:"failure"`
	Error      *junitOutcome `xml:"error"`
	Skipped    *junitSkipped `xml:"skipped"`
	Out        string        `xml:"system-out,omitempty"`
}

type junitOutcome struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr"`
	Text    string `xml:",chardata"`
}

type junitSkipped struct {
	Message string `xml:"message,attr"`
}

func (f *junitForm) Circuit(r *rules.Result) error {
	s := &junitSuite{Name: suiteName(r), File: f.options.path(r, r.Circuit.File), Properties: f.about(r), named: map[string]bool{}}
	for _, a := range r.Judgement.Findings {
		s.add(f.finding(r, a))
	}
	for _, a := range r.Judgement.Assessments {
		if !a.Finding {
			s.add(f.assessed(r, a))
		}
	}
	for _, u := range r.Judgement.NotAssessed {
		s.add(f.notAssessed(r, u))
	}
	return f.write(s)
}

// suiteName is the circuit's name, or its file's where it has none.
func suiteName(r *rules.Result) string {
	if r.Circuit.Name.Value != "" {
		return r.Circuit.Name.Value
	}
	return r.Circuit.File
}

// about are the properties of a circuit.
func (f *junitForm) about(r *rules.Result) *junitBag {
	bag := &junitBag{}
	bag.add("title", r.Circuit.Title.Value)
	bag.add("revision", r.Circuit.Revision.Value)
	if !r.Other {
		bag.add("verdict", string(r.Judgement.Verdict)+scopeText(r.Scope))
	}
	bag.add("digest", r.Digest)
	for _, c := range packChanges(r.Book) {
		bag.add("rule-change", c.text())
	}
	return bag.orNone()
}

func (b *junitBag) add(name, value string) {
	if value != "" {
		b.All = append(b.All, junitProperty{name, value})
	}
}

func (b *junitBag) orNone() *junitBag {
	if len(b.All) == 0 {
		return nil
	}
	return b
}

// add counts a case and gives it a name of its own.
func (s *junitSuite) add(c junitCase) {
	name := c.Name
	for n := 2; s.named[c.Class+"\x00"+c.Name]; n++ {
		c.Name = fmt.Sprintf("%s (%d)", name, n)
	}
	s.named[c.Class+"\x00"+c.Name] = true
	s.Tests++
	switch {
	case c.Failure != nil:
		s.Failures++
	case c.Error != nil:
		s.Errors++
	case c.Skipped != nil:
		s.Skipped++
	}
	s.Cases = append(s.Cases, c)
}

// of is the case of a rule and subject.
func (f *junitForm) of(r *rules.Result, rule *rules.Rule, subject rules.Subject, file string, line int) junitCase {
	if file == "" {
		file = r.Circuit.File
	}
	name := rule.ID
	if subject.String() != "" {
		name += ": " + subject.String()
	}
	group, _, _ := strings.Cut(rule.ID, ".")
	return junitCase{Class: suiteName(r) + "." + group, Name: name, File: f.options.path(r, file), Line: line}
}

// assessed is a rule and subject with the numbers of its margin.
func (f *junitForm) assessed(r *rules.Result, a *rules.Assessment) junitCase {
	c := f.of(r, a.Rule, a.Subject, a.At.File, a.At.Line)
	bag, row := &junitBag{}, marginRow(a)
	for i, name := range []string{3: "measure", 4: "limit", 5: "margin"} {
		if name != "" {
			bag.add(name, row[i])
		}
	}
	if a.Headroom != nil {
		bag.add("headroom", headroomText(*a.Headroom))
	}
	c.Properties = bag.orNone()
	return c
}

// finding is a failure where the run fails by it, an error where the file could not be
// read, and else a case that passes and says what was found.
func (f *junitForm) finding(r *rules.Result, a *rules.Assessment) junitCase {
	c := f.assessed(r, a)
	bag := &junitBag{}
	bag.add("grade", a.Grade.String())
	bag.add("id", a.ID)
	if c.Properties != nil {
		bag.All = append(bag.All, c.Properties.All...)
	}
	c.Properties = bag
	outcome := &junitOutcome{Message: a.Message, Type: a.Grade.String(), Text: findingText(r, a)}
	switch {
	case !r.Readable:
		c.Error = outcome
	case f.options.fails(r, a):
		c.Failure = outcome
	default:
		c.Out = a.Grade.String() + ": " + a.Message + "\n" + outcome.Text
	}
	return c
}

// findingText is what is to be said of a finding beside its message.
func findingText(r *rules.Result, a *rules.Assessment) string {
	var lines []string
	if where := place(r.Circuit.File, a); where != "" {
		lines = append(lines, "at "+where)
	}
	for _, s := range a.Working {
		lines = append(lines, stepText(s))
	}
	if a.Rule.Basis != "" {
		lines = append(lines, "source: "+a.Rule.Basis)
	}
	if a.Rule.Remedy != "" {
		lines = append(lines, "remedy: "+a.Rule.Remedy)
	}
	if a.Conceded != nil {
		lines = append(lines, "conceded "+concededText(a.Conceded))
	}
	return strings.Join(lines, "\n")
}

func (f *junitForm) notAssessed(r *rules.Result, u *rules.Unassessed) junitCase {
	c := f.of(r, u.Rule, u.Subject, u.At.File, u.At.Line)
	c.Skipped = &junitSkipped{"not assessed, for want of " + strings.Join(u.Missing, ", ")}
	if u.Excused != "" {
		c.Skipped.Message = "does not apply: " + u.Excused
	}
	return c
}

// write writes a suite behind those that stand there already.
func (f *junitForm) write(s *junitSuite) error {
	if err := f.begin(); err != nil || s == nil {
		return err
	}
	out, err := xml.MarshalIndent(s, "  ", "  ")
	if err != nil {
		return err
	}
	_, err = f.w.Write(append(out, '\n'))
	return err
}

func (f *junitForm) begin() error {
	if f.begun {
		return nil
	}
	f.begun = true
	_, err := io.WriteString(f.w, xml.Header+`<testsuites name="headroom">`+"\n")
	return err
}

func (f *junitForm) Close(run Run) error {
	if err := f.write(runSuite(run)); err != nil {
		return err
	}
	_, err := io.WriteString(f.w, "</testsuites>\n")
	return err
}

// runSuite tells what is to be said of the run as a whole: an error where not all could
// be judged that was asked for; nil where there is nothing to be said.
func runSuite(run Run) *junitSuite {
	if len(run.Notices) == 0 && run.Exit != exitUnread && run.Today == "" {
		return nil
	}
	notices := slices.Clone(run.Notices)
	if run.Today != "" {
		notices = append(notices, "concessions judged as of "+run.Today)
	}
	c := junitCase{Class: "headroom", Name: "run"}
	if text := strings.Join(notices, "\n"); run.Exit == exitUnread {
		c.Error = &junitOutcome{Message: exitMeanings[exitUnread], Type: "run", Text: text}
	} else {
		c.Out = text
	}
	s := &junitSuite{Name: "headroom", named: map[string]bool{}}
	s.add(c)
	return s
}
