package reports

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"

	"headroom/rules"
)

// ruleListForms lists the forms of the rule catalogue by name, in alphabetical order.
var ruleListForms = []choice[func(io.Writer, *rules.Rulebook) error]{
	{"json", ruleListJSON},
	{"markdown", ruleListMarkdown},
	{"text", RuleTable},
}

// RuleListNames lists the forms that RuleList knows.
func RuleListNames() []string { return namesOf(ruleListForms) }

// RuleList writes the rules of a book in a form of that name.
func RuleList(w io.Writer, form string, book *rules.Rulebook) error {
	write, err := chosen(form, ruleListForms)
	if err != nil {
		return err
	}
	return write(w, book)
}

// ruleListMarkdown writes a table a pack: what is held against what, by which source.
func ruleListMarkdown(w io.Writer, book *rules.Rulebook) error {
	var out strings.Builder
	for _, pack := range book.Packs {
		of := slices.DeleteFunc(slices.Clone(book.Rules), func(r *rules.Rule) bool { return r.Pack != pack.Name })
		if len(of) == 0 {
			continue
		}
		fmt.Fprintf(&out, "## %s: %s\n\n", plainMarkdown(pack.Name), plainMarkdown(pack.About))
		out.WriteString(row("rule", "grade", "for", "what it holds", "reserve", "source") + row("---", "---", "---", "---", "---", "---"))
		for _, r := range of {
			out.WriteString(row(code(r.ID), r.Grade.String(), r.For, plainMarkdown(r.Title)+"<br>"+ruleInShort(r), plainMarkdown(reserveText(r)), plainMarkdown(r.Basis)))
		}
		out.WriteByte('\n')
	}
	for _, off := range book.SwitchedOff {
		fmt.Fprintf(&out, "%s is switched off by %s: %s\n\n", code(off.Rule.ID), plainMarkdown(off.Pack), plainMarkdown(off.Because))
	}
	_, err := io.WriteString(w, strings.TrimRight(out.String(), "\n")+"\n")
	return err
}

// ruleInShort is what a rule holds in its own expressions.
func ruleInShort(r *rules.Rule) string {
	text := code(r.Require.Text)
	switch {
	case r.Gathers != "":
		return "gathers critical rules that could not be assessed"
	case r.Measure.Text != "":
		text = code(r.Measure.Text) + " " + string(r.Sense) + " " + code(r.Limit.Text)
	}
	if r.Where.Text != "" {
		text += ", where " + code(r.Where.Text)
	}
	return text
}

type jsonRule struct {
	Rule       string `json:"rule"`
	Title      string `json:"title"`
	Pack       string `json:"pack"`
	Grade      string `json:"grade"`
	For        string `json:"for"`
	Where      string `json:"where,omitempty"`
	Measure    string `json:"measure,omitempty"`
	Sense      string `json:"sense,omitempty"`
	Limit      string `json:"limit,omitempty"`
	Require    string `json:"require,omitempty"`
	Gathers    string `json:"gathers,omitempty"`
	Reserve    string `json:"reserve"`
	Basis      string `json:"basis"`
	Why        string `json:"why"`
	Remedy     string `json:"remedy"`
	Off        string `json:"switched_off,omitempty"` // the reason
	Regraded   string `json:"regraded,omitempty"`     // the reason
	Examples   int    `json:"examples"`
	File       string `json:"file"`
	Line       int    `json:"line"`
	SwitchedBy string `json:"switched_off_by,omitempty"`
}

func ruleJSON(r *rules.Rule) jsonRule {
	out := jsonRule{
		Rule: r.ID, Title: r.Title, Pack: r.Pack, Grade: r.Grade.String(), For: r.For,
		Where: r.Where.Text, Measure: r.Measure.Text, Limit: r.Limit.Text, Require: r.Require.Text, Gathers: r.Gathers,
		Reserve: reserveText(r), Basis: r.Basis, Why: r.Why, Remedy: r.Remedy, Regraded: r.Regraded,
		Examples: len(r.Examples), File: r.At.File, Line: r.At.Line,
	}
	if r.Measure.Text != "" {
		out.Sense = string(r.Sense)
	}
	return out
}

// ruleListJSON writes every rule with its texts for tools.
func ruleListJSON(w io.Writer, book *rules.Rulebook) error {
	all := []jsonRule{}
	for _, r := range book.Rules {
		all = append(all, ruleJSON(r))
	}
	for _, off := range book.SwitchedOff {
		r := ruleJSON(off.Rule)
		r.Off, r.SwitchedBy = off.Because, off.Pack
		all = append(all, r)
	}
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	return encoder.Encode(struct {
		Format int        `json:"headroom"`
		Rules  []jsonRule `json:"rules"`
	}{1, all})
}
