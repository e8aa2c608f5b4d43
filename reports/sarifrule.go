package reports

import (
	"fmt"
	"strings"

	"headroom/rules"
)

// sarifRules are the rules that results refer to by index, in the order in which they
// were met.
type sarifRules struct {
	at   map[string]int
	list []sarifRule
}

type sarifRule struct {
	ID            string             `json:"id"`
	Name          string             `json:"name"`
	Short         sarifText          `json:"shortDescription"`
	Full          sarifText          `json:"fullDescription"`
	Help          sarifText          `json:"help"`
	Configuration sarifConfiguration `json:"defaultConfiguration"`
	Properties    sarifRuleBag       `json:"properties"`
}

type sarifConfiguration struct {
	Enabled bool   `json:"enabled"`
	Level   string `json:"level"`
}

type sarifRuleBag struct {
	Grade    string   `json:"grade"`
	Pack     string   `json:"pack"`
	For      string   `json:"for"`
	Reserve  string   `json:"reserve"`
	Basis    string   `json:"basis"`
	Remedy   string   `json:"remedy"`
	Severity string   `json:"problem.severity"`
	Tags     []string `json:"tags"`
}

// all takes in the rules of a book, those too that a pack has switched off.
func (s *sarifRules) all(b *rules.Rulebook) {
	if b == nil {
		return
	}
	for _, r := range b.Rules {
		s.index(r, true)
	}
	for _, off := range b.SwitchedOff {
		s.index(off.Rule, false)
	}
}

// index is the place of a rule among all.
func (s *sarifRules) index(r *rules.Rule, enabled bool) int {
	if i, known := s.at[r.ID]; known {
		return i
	}
	s.at[r.ID] = len(s.list)
	s.list = append(s.list, sarifRuleOf(r, enabled))
	return s.at[r.ID]
}

func sarifRuleOf(r *rules.Rule, enabled bool) sarifRule {
	group, _, _ := strings.Cut(r.ID, ".")
	return sarifRule{
		ID: r.ID, Name: pascal(r.ID),
		Short:         sarifText{Text: sarifSentence(cut(r.Title, mostDescription))},
		Full:          sarifText{Text: sarifSentence(cut(r.Why, mostDescription))},
		Help:          sarifText{Text: ruleHelp(r, "%s: %s\n", asWritten, asWritten), Markdown: ruleHelp(r, "**%s**: %s\n\n", plainMarkdown, code)},
		Configuration: sarifConfiguration{enabled, sarifLevels[r.Grade]},
		Properties: sarifRuleBag{
			Grade: r.Grade.String(), Pack: r.Pack, For: r.For, Reserve: reserveText(r), Basis: r.Basis, Remedy: r.Remedy,
			Severity: sarifSeverities[r.Grade], Tags: []string{"hydraulics", group},
		},
	}
}

// sarifLevels are the levels of the standard by grade.
var sarifLevels = map[rules.Grade]string{rules.Critical: "error", rules.Major: "error", rules.Minor: "warning", rules.Observation: "note"}

// sarifSeverities are the words that forges take as severity of what is no matter of
// security.
var sarifSeverities = map[rules.Grade]string{rules.Critical: "error", rules.Major: "error", rules.Minor: "warning", rules.Observation: "recommendation"}

// mostDescription is how much of a description forges show.
const mostDescription = 1000

// ruleHelp is the page of a rule: the same in plain text and in Markdown.
func ruleHelp(r *rules.Rule, line string, safe, code func(string) string) string {
	var out strings.Builder
	out.WriteString(safe(r.Why) + "\n\n")
	for _, field := range [][2]string{
		{"Remedy", safe(r.Remedy)}, {"Source", safe(r.Basis)}, {"Holds", code(holdsText(r))}, {"Reserve", safe(reserveText(r))},
		{"Grade", safe(r.Grade.String() + regraded(r))}, {"Pack", safe(r.Pack)},
	} {
		if strings.Trim(field[1], "`") != "" {
			fmt.Fprintf(&out, line, field[0], field[1])
		}
	}
	return sarifBraces.Replace(strings.TrimRight(out.String(), "\n"))
}

func asWritten(text string) string { return text }

// holdsText is what a rule holds in its own expressions.
func holdsText(r *rules.Rule) string {
	if r.Measure.Text != "" {
		return r.Measure.Text + " " + string(r.Sense) + " " + r.Limit.Text
	}
	return r.Require.Text
}

// pascal writes a rule's id as a name in one word: "strength.burst-factor" is
// StrengthBurstFactor.
func pascal(id string) string {
	var out strings.Builder
	for _, word := range strings.FieldsFunc(id, func(c rune) bool { return c == '.' || c == '-' || c == '_' }) {
		out.WriteString(strings.ToUpper(word[:1]) + word[1:])
	}
	return out.String()
}

// sarifSentence is text as messages of the standard have it: it ends like a sentence,
// and braces, which would stand for arguments, are doubled (3.11.5).
func sarifSentence(text string) string {
	text = sarifBraces.Replace(text)
	if text == "" || strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?") || strings.HasSuffix(text, "!") {
		return text
	}
	return text + "."
}

var sarifBraces = strings.NewReplacer("{", "{{", "}", "}}")
