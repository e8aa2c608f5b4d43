package reports

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"

	"headroom/rules"
)

// junitShape is what each element may hold, in its order; xmllint holds the rest of
// testdata/junit.xsd.
var junitShape = map[string][]string{
	"":           {"testsuites"},
	"testsuites": {"testsuite"},
	"testsuite":  {"properties", "testcase"},
	"testcase":   {"properties", "failure", "error", "skipped", "system-out"},
	"properties": {"property"},
}

// wellFormed reads XML as strictly as the library can, and holds each element to its
// place.
func wellFormed(t *testing.T, out []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(out))
	path, last := []string{""}, []int{0}
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("no XML: %v\n%s", err, out)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at := slices.Index(junitShape[path[len(path)-1]], e.Name.Local)
			if at < last[len(last)-1] {
				t.Fatalf("%s stands in %v, or too late", e.Name.Local, path)
			}
			last[len(last)-1] = at
			path, last = append(path, e.Name.Local), append(last, 0)
		case xml.EndElement:
			path, last = path[:len(path)-1], last[:len(last)-1]
		}
	}
}

type junitRead struct {
	Suites []junitSuite `xml:"testsuite"`
}

func readJUnit(t *testing.T, out []byte) (all junitRead) {
	t.Helper()
	if err := xml.Unmarshal(out, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// countsRight fails where a suite's counts are not those of its cases.
func countsRight(t *testing.T, out []byte) {
	t.Helper()
	wellFormed(t, out)
	for _, s := range readJUnit(t, out).Suites {
		var failures, errors, skipped int
		names := map[string]bool{}
		for _, c := range s.Cases {
			failures += count(c.Failure != nil)
			errors += count(c.Error != nil)
			skipped += count(c.Skipped != nil)
			if names[c.Class+c.Name] {
				t.Errorf("two cases %s", c.Name)
			}
			names[c.Class+c.Name] = true
		}
		if got, want := fmt.Sprint(s.Tests, s.Failures, s.Errors, s.Skipped), fmt.Sprint(len(s.Cases), failures, errors, skipped); got != want {
			t.Errorf("%s counts %s, has %s", s.Name, got, want)
		}
	}
}

func count(is bool) int {
	if is {
		return 1
	}
	return 0
}

// Exact output; well-formed for any text.
func TestJUnitExactly(t *testing.T) {
	exactly(t, "junit", "junit.xml", countsRight)
	for _, text := range hostileTexts {
		countsRight(t, told(t, "junit", Options{}, Run{Notices: []string{text}}, hostile(text)))
	}
}

// The cases fail by which the run fails, and no others.
func TestJUnitFailsAsTheRunDoes(t *testing.T) {
	failing := func(least rules.Grade) string {
		out := told(t, "junit", Options{Fails: func(_ *rules.Result, g rules.Grade) bool { return g >= least }}, Run{}, described(broken())...)
		var names []string
		for _, c := range readJUnit(t, out).Suites[0].Cases {
			if c.Failure != nil {
				names = append(names, c.Failure.Type)
			} else if c.Skipped == nil && c.Out == "" {
				t.Errorf("%s passes in silence", c.Name)
			}
		}
		return strings.Join(names, " ")
	}
	for least, want := range map[rules.Grade]string{rules.Critical: "critical", rules.Major: "critical", rules.Minor: "critical minor", rules.Observation: "critical minor", rules.Critical + 1: ""} {
		if got := failing(least); got != want {
			t.Errorf("from %v on: %q fail, not %q", least, got, want)
		}
	}
}

// Problems of one rule in one file are cases of their own, and a file that cannot be
// read is an error.
func TestJUnitProblems(t *testing.T) {
	r := described(unreadable())[0]
	twin := *r.Judgement.Findings[0]
	r.Judgement.Findings = append(r.Judgement.Findings, &twin)
	suite := readJUnit(t, told(t, "junit", Options{}, Run{}, r)).Suites[0]
	if suite.Errors != 2 || suite.Cases[1].Name != "spec.syntax (2)" {
		t.Errorf("%d errors, %+v", suite.Errors, suite.Cases)
	}
}
