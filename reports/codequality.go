package reports

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io"

	"headroom/rules"
)

// codeQualityForm writes the report of code quality that some forges show beside a
// change: a list of findings, each with a fingerprint of its own. What is conceded, or
// not assessed, has no place in it.
type codeQualityForm struct {
	w       io.Writer
	options Options
	count   int
	taken   map[string]bool // fingerprints
}

func openCodeQuality(w io.Writer, options Options) Form {
	return &codeQualityForm{w: w, options: options, taken: map[string]bool{}}
}

type codeQualityIssue struct {
	Description string              `json:"description"`
	Check       string              `json:"check_name"`
	Fingerprint string              `json:"fingerprint"`
	Severity    string              `json:"severity"`
	Location    codeQualityLocation `json:"location"`
}

type codeQualityLocation struct {
	Path  string           `json:"path"`
	Lines codeQualityLines `json:"lines"`
}

type codeQualityLines struct {
	Begin int `json:"begin"`
}

// codeQualitySeverities are the format's words by grade. It has one above critical,
// blocker, which we do not need.
var codeQualitySeverities = map[rules.Grade]string{rules.Critical: "critical", rules.Major: "major", rules.Minor: "minor", rules.Observation: "info"}

func (f *codeQualityForm) Circuit(r *rules.Result) error {
	for _, a := range r.Judgement.Findings {
		if a.Conceded != nil {
			continue
		}
		if err := f.write(f.issue(r, a)); err != nil {
			return err
		}
	}
	return nil
}

func (f *codeQualityForm) issue(r *rules.Result, a *rules.Assessment) codeQualityIssue {
	file := a.At.File
	if file == "" {
		file = r.Circuit.File
	}
	path := f.options.path(r, file)
	return codeQualityIssue{
		Description: aboutSubject(a.Subject) + a.Message, Check: a.Rule.ID, Fingerprint: f.fingerprint(path, a.ID), Severity: codeQualitySeverities[a.Grade],
		Location: codeQualityLocation{path, codeQualityLines{max(1, a.At.Line)}},
	}
}

// fingerprint is of the file and the finding's own id: the same circuit may stand in two
// files. Of what is alike even so, such as two mistakes in one place, each has one of
// its own.
func (f *codeQualityForm) fingerprint(path, id string) string {
	for n := 0; ; n++ {
		sum := sha256.Sum256(fmt.Appendf(nil, "%s\x00%s\x00%d", path, id, n))
		if print := hex.EncodeToString(sum[:16]); !f.taken[print] {
			f.taken[print] = true
			return print
		}
	}
}

func (f *codeQualityForm) write(issue codeQualityIssue) error {
	out := bytes.NewBufferString(",\n")
	if f.count == 0 {
		out = bytes.NewBufferString("[\n")
	}
	f.count++
	encoder := json.NewEncoder(out)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(issue); err != nil {
		return err
	}
	_, err := f.w.Write(bytes.TrimRight(out.Bytes(), "\n"))
	return err
}

func (f *codeQualityForm) Close(Run) error {
	end := "\n]\n"
	if f.count == 0 {
		end = "[]\n"
	}
	_, err := io.WriteString(f.w, end)
	return err
}
