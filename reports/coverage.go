package reports

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"headroom/rules"
)

// coverageForms lists the forms of a coverage by name, in alphabetical order.
var coverageForms = []choice[func(io.Writer, *rules.Result) error]{
	{"json", coverageJSON},
	{"text", coverageTables},
}

// CoverageNames lists the forms that Coverage knows.
func CoverageNames() []string { return namesOf(coverageForms) }

// Coverage writes what was judged of a circuit, and by what, in a form of that name.
func Coverage(w io.Writer, form string, r *rules.Result) error {
	write, err := chosen(form, coverageForms)
	if err != nil {
		return err
	}
	return write(w, r)
}

// coverageLine is a circuit's coverage in a line.
func coverageLine(v *rules.Coverage) string {
	full, part, not, none := v.Counts()
	text := fmt.Sprintf("covered: %d of %d rules in full", full, len(v.Rules))
	for _, k := range []struct {
		count int
		word  string
	}{{part, "in part"}, {not, "not at all"}, {none, "without a subject here"}} {
		if k.count > 0 {
			text += fmt.Sprintf(", %d %s", k.count, k.word)
		}
	}
	for _, k := range thingsOf(v) {
		count, _ := rules.Covered(k.things)
		text += fmt.Sprintf(" · %d of %d %s", count, len(k.things), k.many)
	}
	return text
}

// thingKinds are the kinds of things that rules are assessed on.
type thingKind struct {
	one, many string
	things    []rules.ThingCoverage
}

func thingsOf(v *rules.Coverage) []thingKind {
	return []thingKind{{"part", "parts", v.Parts}, {"node", "nodes", v.Nodes}, {"case", "cases", v.Cases}}
}

// coverageTables writes a table of rules, and one of each kind of thing.
func coverageTables(w io.Writer, r *rules.Result) error {
	f := openText(w, Options{}).(*textForm)
	v := r.Coverage
	f.line(heading(r))
	f.line("")
	f.hang("", 0, coverageLine(v))
	f.line("")
	table := tabwriter.NewWriter(f.w, 0, 0, 2, ' ', 0)
	tableRow(table, "rule", "grade", "for", "assessed", "not assessed", "for want of")
	for i := range v.Rules {
		row := &v.Rules[i]
		assessed, not := fmt.Sprint(row.Assessed), fmt.Sprint(row.NotAssessed)
		if row.Assessed+row.NotAssessed == 0 {
			assessed, not = "-", "no subject here"
		}
		tableRow(table, row.Rule.ID, row.Rule.Grade.String(), row.Rule.For, assessed, not, shorten(strings.Join(row.Missing, ", ")))
	}
	table.Flush()
	for _, k := range thingsOf(v) {
		f.line("")
		for _, t := range k.things {
			f.thing(k.one, t)
		}
	}
	return f.w.Flush()
}

// thing writes by which rules a part, node or case was judged.
func (f *textForm) thing(kind string, t rules.ThingCoverage) {
	text := "by no rule"
	if len(t.By) > 0 {
		text = strings.Join(t.By, ", ")
	}
	if len(t.Wanted) > 0 {
		text += "; not by " + strings.Join(t.Wanted, ", ")
	}
	f.hang(kind+" "+t.Name+": ", indent, text)
}

type jsonCoverage struct {
	Rules []jsonRuleCoverage  `json:"rules"`
	Parts []jsonThingCoverage `json:"parts"`
	Nodes []jsonThingCoverage `json:"nodes"`
	Cases []jsonThingCoverage `json:"cases"`
}

type jsonRuleCoverage struct {
	Rule        string   `json:"rule"`
	Grade       string   `json:"grade"`
	For         string   `json:"for"`
	Assessed    int      `json:"assessed"`
	NotAssessed int      `json:"not_assessed"`
	Missing     []string `json:"missing"`
}

type jsonThingCoverage struct {
	Name        string   `json:"name"`
	Assessed    []string `json:"assessed"`
	NotAssessed []string `json:"not_assessed"`
}

// coverageJSON writes the same for tools.
func coverageJSON(w io.Writer, r *rules.Result) error {
	v := r.Coverage
	out := struct {
		Format   int          `json:"headroom"`
		Circuit  string       `json:"circuit"`
		File     string       `json:"file"`
		Digest   string       `json:"digest"`
		Coverage jsonCoverage `json:"coverage"`
	}{1, r.Circuit.Name.Value, r.Circuit.File, r.Digest, jsonCoverage{
		Rules: []jsonRuleCoverage{}, Parts: thingsJSON(v.Parts), Nodes: thingsJSON(v.Nodes), Cases: thingsJSON(v.Cases),
	}}
	for i := range v.Rules {
		row := &v.Rules[i]
		out.Coverage.Rules = append(out.Coverage.Rules, jsonRuleCoverage{row.Rule.ID, row.Rule.Grade.String(), row.Rule.For, row.Assessed, row.NotAssessed, orEmpty(row.Missing)})
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(out)
}

func thingsJSON(things []rules.ThingCoverage) []jsonThingCoverage {
	out := make([]jsonThingCoverage, len(things))
	for i, t := range things {
		out[i] = jsonThingCoverage{t.Name, orEmpty(t.By), orEmpty(t.Wanted)}
	}
	return out
}

// orEmpty is the list, and not null where there is none.
func orEmpty(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
