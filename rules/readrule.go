package rules

import (
	"math"
	"strings"

	"gopkg.in/yaml.v3"

	"headroom/specs"
	"headroom/specs/quantity"
)

var ruleKeys = []string{"id", "title", "for", "where", "measure", "at_least", "at_most", "require", "gathers", "covers",
	"reserve", "grade", "says", "basis", "why", "remedy", "examples"}

// rule reads one entry of a pack's rules; nil where nothing can be made of it.
func (r *packReader) rule(n *yaml.Node) *Rule {
	s := r.section(n, called(n), ruleKeys)
	if s == nil || len(s.entries) == 0 {
		return nil
	}
	rule := &Rule{Pack: r.pack.Name, At: s.at("id"), ID: s.text("id")}
	if rule.ID != "" && !ruleForm.MatchString(rule.ID) {
		r.wrong("spec.shape", rule.At, "a rule's id is made of small letters, digits and hyphens, with one dot: group.name")
	}
	rule.Title, rule.Basis, rule.Why, rule.Remedy = s.text("title"), s.text("basis"), s.text("why"), s.text("remedy")
	rule.Grade = s.grade("grade")
	s.needs("id", "title", "for", "grade", "basis", "why", "remedy")
	rule.For = s.text("for")
	if rule.For != "" && kindNamed(rule.For) == nil {
		r.wrong("spec.reference", s.at("for"), "there is no kind of subject %s%s", rule.For, hint(rule.For, kindNames()))
	}
	rule.Covers = s.text("covers")
	if rule.Covers != "" && rule.Covers != coversCases {
		r.wrong("spec.reference", s.at("covers"), "covers can be %s alone", coversCases)
	}
	rule.Where = s.expression("where")
	rule.Says = s.expression("says")
	r.verdict(s, rule)
	r.reserve(s, rule)
	r.examples(s, rule)
	return rule
}

// called is what a rule is called in messages: by its id, where it has one.
func called(n *yaml.Node) string {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == "id" && n.Content[i+1].Value != "" {
			return "rule " + n.Content[i+1].Value
		}
	}
	return "a rule"
}

func kindNames() []string {
	var names []string
	for _, k := range subjectKinds {
		names = append(names, k.name)
	}
	return names
}

// verdict reads what the rule judges by: a measure and its limit, or what it
// requires, or what it gathers.
func (r *packReader) verdict(s *section, rule *Rule) {
	rule.Measure, rule.Require, rule.Gathers = s.expression("measure"), s.expression("require"), s.text("gathers")
	ways := 0
	for _, key := range []string{"measure", "require", "gathers"} {
		if s.entries[key] != nil {
			ways++
		}
	}
	sides := 0
	for _, side := range []struct {
		key   string
		sense Sense
	}{{"at_least", AtLeast}, {"at_most", AtMost}} {
		if s.entries[side.key] != nil {
			sides++
			rule.Sense, rule.Limit = side.sense, s.expression(side.key)
		}
	}
	switch {
	case ways == 0:
		r.wrong("spec.missing", rule.At, "%s lacks a measure with at_least or at_most, or require", s.what)
	case ways > 1:
		r.wrong("spec.shape", rule.At, "%s has several of measure, require and gathers; one of them judges", s.what)
	case rule.Measure.Text != "" && sides != 1:
		r.wrong("spec.missing", s.at("measure"), "%s needs one of at_least and at_most beside its measure", s.what)
	case rule.Measure.Text == "" && sides > 0:
		r.wrong("spec.shape", rule.At, "%s has a limit but no measure", s.what)
	case rule.Gathers != "" && rule.Gathers != gathersNotAssessed:
		r.wrong("spec.reference", s.at("gathers"), "gathers can be %s alone", gathersNotAssessed)
	}
}

// coversCases is what a rule may ask to be covered.
const coversCases = "cases"

// gathersNotAssessed is what the one rule gathers that has no expression.
const gathersNotAssessed = "not-assessed"

// reserve reads the reserve, which a rule with a measure always states.
func (r *packReader) reserve(s *section, rule *Rule) {
	text := s.text("reserve")
	at := s.at("reserve")
	switch {
	case rule.Measure.Text == "":
		if rule.Require.Text != "" && text != "" && text != "none" {
			r.wrong("spec.shape", at, "a rule that requires something has no reserve; leave it out or write none")
		}
		return
	case !s.needs("reserve") || text == "":
		return
	}
	reserve, err := readReserve(text)
	if err != nil {
		r.wrong("spec.unit", at, "%s; a reserve is a share of the limit (10 %%), an amount (10 K) or none", err)
	}
	rule.Reserve, rule.Reserve.At = reserve, at
}

func readReserve(text string) (Reserve, error) {
	if text == "none" {
		return Reserve{Text: text}, nil
	}
	v, dimension, err := quantity.ParseAny(text)
	switch {
	case err != nil:
		return Reserve{}, err
	case !(v.SI > 0) || math.IsInf(v.SI, 0):
		return Reserve{}, errNotPositive
	case dimension == quantity.Number && strings.HasSuffix(text, "%"):
		return Reserve{Share: v.SI, Text: text}, nil
	}
	return Reserve{Amount: v.SI, Dimension: dimension, Text: text}, nil
}

// expression is the expression behind a key, with all it takes to find a piece of
// it in the file; empty where there is none.
func (s *section) expression(key string) Expression {
	n := s.value(key)
	if n == nil {
		return Expression{}
	}
	at := s.reader.doc.Span(n)
	if n.Kind != yaml.ScalarNode {
		s.reader.wrong("spec.shape", at, "%s must be a single text; YAML reads this as a %s, so write it in double quotes or behind >-", key, collection(n))
		return Expression{}
	}
	r := s.reader
	before := r.text
	r.text += len(n.Value)
	switch {
	case before <= maxText && r.text > maxText:
		r.wrong("spec.range", at, "the expressions of a pack have at most %d KiB together", maxText>>10)
		return Expression{}
	case r.text > maxText:
		return Expression{}
	}
	return Expression{Text: n.Value, At: at, text: r.finder, node: n}
}

func collection(n *yaml.Node) string {
	if n.Kind == yaml.SequenceNode {
		return "list"
	}
	return "mapping"
}

// piece is the place of a piece of the expression in the file.
func (e Expression) piece(offset, length int) specs.Span {
	if e.text == nil {
		return e.At
	}
	e.text.mutex.Lock()
	defer e.text.mutex.Unlock()
	return e.text.doc.Within(e.node, offset, length)
}

// cutShort tells whether YAML took what follows the expression on its line for a comment.
func (e Expression) cutShort() bool {
	const other = yaml.DoubleQuotedStyle | yaml.SingleQuotedStyle | yaml.LiteralStyle | yaml.FoldedStyle
	if e.text == nil || e.node.Style&other != 0 {
		return false
	}
	e.text.mutex.Lock()
	defer e.text.mutex.Unlock()
	return strings.Contains(e.text.doc.Follows(e.node), "#")
}
