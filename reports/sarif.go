package reports

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"
	"strings"

	"headroom/rules"
)

// sarifForm writes the Static Analysis Results Interchange Format, version 2.1.0
// (OASIS). Results are written as they come; what they refer to by index, rules and
// files, follows behind them.
type sarifForm struct {
	w        io.Writer
	options  Options
	count    int // results written
	rules    sarifRules
	files    sarifFiles
	circuits []sarifCircuit
	changed  []sarifNotification // what packs changed of rules, each once
}

func openSARIF(w io.Writer, options Options) Form {
	return &sarifForm{
		w: w, options: options, circuits: []sarifCircuit{},
		rules: sarifRules{map[string]int{}, []sarifRule{}}, files: sarifFiles{map[string]int{}, []sarifArtifact{}},
	}
}

// sarifSchema is where the schema of the standard says that it stands.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// sarifRoot is what relative paths are relative to. Where that is on a machine is
// nobody's business.
const sarifRoot = "ROOT"

type sarifText struct {
	Text     string `json:"text"`
	Markdown string `json:"markdown,omitempty"`
}

type sarifNotification struct {
	Level   string       `json:"level"`
	Message sarifText    `json:"message"`
	Rule    *sarifRuleAt `json:"associatedRule,omitempty"`
}

// A sarifRuleAt refers to a rule by its id and its place among the rules.
type sarifRuleAt struct {
	ID    string `json:"id"`
	Index int    `json:"index"`
}

type sarifInvocation struct {
	Successful     bool                `json:"executionSuccessful"`
	Exit           int                 `json:"exitCode"`
	Meaning        string              `json:"exitCodeDescription"`
	Notifications  []sarifNotification `json:"toolExecutionNotifications,omitempty"`
	Configurations []sarifNotification `json:"toolConfigurationNotifications,omitempty"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name    string      `json:"name"`
	About   sarifText   `json:"shortDescription"`
	Full    sarifText   `json:"fullDescription"`
	Version string      `json:"version,omitempty"`
	Rules   []sarifRule `json:"rules"`
}

// A sarifCircuit says what a circuit came to.
type sarifCircuit struct {
	Circuit  string        `json:"circuit"`
	File     string        `json:"file"`
	Title    string        `json:"title"`
	Revision string        `json:"revision"`
	Digest   string        `json:"digest"`
	Verdict  rules.Verdict `json:"verdict"`
	Counts   Counts        `json:"counts"`
	Scope    *jsonScope    `json:"scope,omitempty"`
}

func (f *sarifForm) Circuit(r *rules.Result) error {
	f.files.of(f, r, r.Circuit.File)
	f.rules.all(r.Book)
	for _, c := range packChanges(r.Book) {
		f.change(c)
	}
	if !r.Other {
		f.circuits = append(f.circuits, sarifCircuit{
			Circuit: r.Circuit.Name.Value, File: f.options.path(r, r.Circuit.File), Title: r.Circuit.Title.Value, Revision: r.Circuit.Revision.Value,
			Digest: r.Digest, Verdict: r.Judgement.Verdict, Counts: CountsOf(r.Judgement), Scope: scopeJSON(r.Scope),
		})
	}
	for _, a := range r.Judgement.Findings {
		if err := f.result(f.finding(r, a)); err != nil {
			return err
		}
	}
	for _, u := range r.Judgement.NotAssessed {
		if err := f.result(f.notAssessed(r, u)); err != nil {
			return err
		}
	}
	return nil
}

// change notes what a pack changed of a rule, once.
func (f *sarifForm) change(c packChange) {
	n := sarifNotification{Level: "warning", Message: sarifText{Text: sarifSentence(c.text())}}
	if i, known := f.rules.at[c.Rule]; known {
		n.Rule = &sarifRuleAt{c.Rule, i}
	}
	if !slices.ContainsFunc(f.changed, func(m sarifNotification) bool { return m.Message == n.Message }) {
		f.changed = append(f.changed, n)
	}
}

func (f *sarifForm) result(r sarifResult) error {
	before := ",\n"
	if f.count == 0 {
		before = sarifHead
	}
	f.count++
	return f.write(before, r)
}

// sarifHead is the file up to its first result.
const sarifHead = `{ "$schema": "` + sarifSchema + `", "version": "2.1.0", "runs": [ { "columnKind": "utf16CodeUnits", "results": [` + "\n"

func (f *sarifForm) write(before string, value any) error {
	var out bytes.Buffer
	out.WriteString(before)
	encoder := json.NewEncoder(&out)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(value); err != nil {
		return err
	}
	_, err := f.w.Write(bytes.TrimRight(out.Bytes(), "\n"))
	return err
}

func (f *sarifForm) Close(run Run) error {
	before := "\n], "
	if f.count == 0 {
		before = sarifHead + "], "
	}
	if _, err := io.WriteString(f.w, before); err != nil {
		return err
	}
	for _, part := range []struct {
		key   string
		value any
	}{
		{`"artifacts": `, f.files.all},
		{`, "invocations": `, []sarifInvocation{f.invocation(run)}},
		{`, "originalUriBaseIds": `, map[string]any{sarifRoot: map[string]any{"description": sarifText{Text: "The folder in which the run began: as a rule the top of the repository."}}}},
		{`, "properties": `, struct {
			Circuits []sarifCircuit `json:"circuits"`
			Today    string         `json:"today,omitempty"`
			Skipped  int            `json:"otherYamlFiles"`
		}{f.circuits, run.Today, run.Skipped}},
		{`, "tool": `, sarifTool{f.driver()}},
	} {
		if err := f.write(part.key, part.value); err != nil {
			return err
		}
	}
	_, err := io.WriteString(f.w, " } ] }\n")
	return err
}

func (f *sarifForm) invocation(run Run) sarifInvocation {
	i := sarifInvocation{Successful: run.Exit != exitUnread, Exit: run.Exit, Meaning: exitMeanings[run.Exit], Configurations: f.changed}
	for _, n := range run.Notices {
		i.Notifications = append(i.Notifications, sarifNotification{Level: "warning", Message: sarifText{Text: sarifSentence(n)}})
	}
	return i
}

// exitUnread is the exit code of a run that could not read all it was given.
const exitUnread = 2

// exitMeanings say what the exit codes of a run mean.
var exitMeanings = map[int]string{
	0:          "nothing was found at or above the grade from which a run fails",
	1:          "something was found at or above the grade from which a run fails",
	exitUnread: "a file could not be read",
}

func (f *sarifForm) driver() sarifDriver {
	return sarifDriver{
		Name:    "headroom",
		About:   sarifText{Text: "A design checker for oil-hydraulic circuits."},
		Full:    sarifText{Text: "Computes what physics says of oil-hydraulic circuits kept as text, and holds every margin against its rule. " + Caution},
		Version: sarifVersion(f.options.Version),
		Rules:   f.rules.list,
	}
}

// sarifVersion is a version as readers compare it: it begins with a number, which for a
// build that has none, but a commit, is 0.
func sarifVersion(version string) string {
	version = strings.TrimPrefix(version, "v")
	if version == "" || version[0] >= '0' && version[0] <= '9' && strings.Contains(version, ".") {
		return version
	}
	return "0+" + strings.ReplaceAll(version, " ", "-")
}
