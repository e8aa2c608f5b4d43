package reports

import (
	"bytes"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"headroom/rules"
	"headroom/rules/changes"
)

// forged are texts that a terminal or the runner of a job would obey.
var forged = append([]string{
	"a\n::warning file=specs/other.yaml,line=1::forged\n::stop-commands::zzz", "x\x1b]0;title\a\x1b[8mhidden", "\u009b31mred", strings.Repeat("word ", 17) + "::error::c :::d",
	"##[error]e ###[group]f", "a\u2028::error::b\u2029c\v\f", "\u2066isolated\u2069",
}, hostileTexts...)

// obeyed is what the runner of a job would take for a command.
var obeyed = regexp.MustCompile(`(?m)^\s*::|##\[`)

// colour is what a painter adds.
var colour = regexp.MustCompile("\x1b\\[[0-9;]*m")

// No text of a spec or pack is obeyed by what shows text output: whatever it is told in,
// it is the lines that it would be with harmless texts, without control characters.
func TestTextIsNotObeyed(t *testing.T) {
	outputs := func(text string, painted bool) map[string][]byte {
		of := func(write func(*bytes.Buffer) error) []byte {
			var out bytes.Buffer
			if err := write(&out); err != nil {
				t.Fatal(err)
			}
			return out.Bytes()
		}
		r := hostile(text)
		r.Scope.Case = text
		for _, a := range r.Judgement.Assessments {
			a.Subject.Name = text
		}
		r.Coverage = &rules.Coverage{
			Rules: []rules.RuleCoverage{{Rule: r.Judgement.Findings[0].Rule, NotAssessed: 1, Missing: []string{text}}}, Parts: []rules.ThingCoverage{{Name: text, By: []string{text}, Wanted: []string{text}}},
		}
		book := &rules.Rulebook{Rules: []*rules.Rule{r.Judgement.Findings[0].Rule}}
		run := Run{Notices: []string{text}, Today: "2026-11-25"}
		c := changed()
		c.New, c.Old = r, hostile(text+"before")
		c.Findings[0].New, c.Findings[0].Why = r.Judgement.Findings[0], text
		c.Renamed[0].New, c.Edits[0].Path, c.Edits[0].New, c.Lost = text, text, text, r.Judgement.NotAssessed
		return map[string][]byte{
			"text":     told(t, "text", Options{Color: painted}, run, r),
			"quiet":    told(t, "text", Options{Color: painted, Quiet: true}, run, r),
			"margins":  of(func(out *bytes.Buffer) error { return Margins(out, r) }),
			"coverage": of(func(out *bytes.Buffer) error { return Coverage(out, "text", r) }),
			"rules":    of(func(out *bytes.Buffer) error { return RuleTable(out, book) }),
			"rule":     of(func(out *bytes.Buffer) error { return RulePage(out, book.Rules[0]) }),
			"working": of(func(out *bytes.Buffer) error {
				return RuleWorking(out, r.Circuit.File, book.Rules[0], []*rules.Explanation{{Assessment: r.Judgement.Findings[0]}})
			}),
			"comparison": compared(t, "text", run, c, changes.Between(nil, r), changes.Between(r, nil)),
		}
	}
	for _, text := range forged {
		for _, painted := range []bool{false, true} {
			for form, out := range outputs(text, painted) {
				shown := string(colour.ReplaceAll(out, nil))
				if !painted {
					shown = string(out)
				}
				if !utf8.ValidString(shown) || strings.ContainsFunc(shown, func(c rune) bool { return c != '\n' && unicode.IsControl(c) || turns(c) }) {
					t.Errorf("%s of %q: %q", form, text, shown)
				}
				if obeyed.MatchString(shown) {
					t.Errorf("%s of %q gives a command: %q", form, text, obeyed.FindString(shown))
				}
			}
		}
	}
	// A break makes no line of its own.
	tame, wild := outputs("a b c", false), outputs("a\nb\r\nc", false)
	for form := range tame {
		if got, want := bytes.Count(wild[form], []byte("\n")), bytes.Count(tame[form], []byte("\n")); got != want {
			t.Errorf("%s: %d lines, not %d", form, got, want)
		}
	}
}

func TestPlain(t *testing.T) {
	for text, want := range map[string]string{
		"": "", "Ropeway winch · 12 °C": "Ropeway winch · 12 °C", "a:b": "a:b", ":::x": ": : :x", "# a ## b": "# a ## b", "##[x": "# #[x", "###[x": "## #[x",
		"a\tb\r\nc": "a b  c", "\x1b[1m": "\ufffd[1m", "\xff": "\ufffd", "e\u0301 😀": "e\u0301 😀", "\u202e": "\ufffd",
	} {
		if got := Plain(text); got != want {
			t.Errorf("Plain(%q) = %q, not %q", text, got, want)
		}
	}
}
