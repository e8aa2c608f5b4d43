package rules

import (
	"regexp"
	"slices"
	"strings"

	"gopkg.in/yaml.v3"

	"headroom/specs"
)

// Bounds on a pack, far above any sensible one: a pack comes with a pull request.
const (
	maxPack     = 256 << 10 // bytes
	maxRules    = 500
	maxExamples = 40 // of a rule
	maxLimits   = 500
	maxText     = 64 << 10 // bytes of all expressions together
)

// A Pack is a file of rules.
type Pack struct {
	Name   string
	About  string
	File   string
	Source []byte

	core       bool
	limits     *limit
	rules      []*Rule
	switchOffs []change
	regrades   []change
}

// A change is what a pack changes of another pack's rule.
type change struct {
	rule    string
	at      specs.Span
	to      Grade
	because string
}

// A packReader reads one pack.
type packReader struct {
	doc      *specs.Document
	finder   *packText
	pack     *Pack
	limits   int // read so far
	text     int // bytes of expressions read so far
	problems []specs.Problem
}

// readPack reads the text of a pack; name is what its places are told with.
func readPack(name string, data []byte, core bool) (*Pack, []specs.Problem) {
	p := &Pack{File: name, Source: data, core: core}
	if len(data) > maxPack {
		at := specs.Span{File: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
		return p, []specs.Problem{problem("spec.syntax", at, "", "a pack has at most %d KiB", maxPack>>10)}
	}
	doc, problems := specs.ReadDocument(name, data)
	for i := range problems {
		problems[i].Message = expressionAdvice(problems[i].Message)
	}
	r := &packReader{doc: doc, finder: &packText{doc: doc}, pack: p, problems: problems}
	if what := notAPack(doc.Root); what != "" {
		return p, []specs.Problem{problem("spec.shape", doc.Start(), "", "this is %s, not a rule pack: a pack has the keys pack, about and rules", what)}
	}
	if doc.Root != nil {
		r.read(doc.Root)
	}
	return p, r.problems
}

// notAPack says what a document is that has none of the keys of a pack; "" for a pack,
// and for what is no YAML.
func notAPack(root *yaml.Node) string {
	if root == nil {
		return ""
	}
	if root.Kind != yaml.MappingNode {
		return "no mapping"
	}
	has := func(keys ...string) bool {
		for i := 0; i < len(root.Content); i += 2 {
			if slices.Contains(keys, root.Content[i].Value) {
				return true
			}
		}
		return false
	}
	switch {
	case has("pack", "rules", "switch_off", "regrade"):
		return ""
	case has("headroom", "circuit"):
		return "a spec"
	case has("specs", "packs", "fail_at", "not_applicable"):
		return "a project file"
	}
	return "some other file"
}

// expressionAdvice adds to a complaint about YAML what helps in an expression.
func expressionAdvice(message string) string {
	for _, start := range []string{"a tag ", "an alias ", "an anchor "} {
		if strings.HasPrefix(message, start) {
			return message + "; an expression that begins with !, * or & stands in double quotes or behind >-"
		}
	}
	switch {
	case strings.Contains(message, "colon"):
		return message + "; an expression with a colon stands behind >-"
	case strings.HasPrefix(message, "this is not YAML"):
		return message + "; an expression stands safest behind >-"
	}
	return message
}

// packForm is the form of the names of packs and limits, ruleForm that of rules.
var (
	packForm  = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	limitForm = regexp.MustCompile(`^[a-z][a-z0-9]*([_-][a-z0-9]+)*$`)
	ruleForm  = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*\.[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
)

var packKeys = []string{"pack", "about", "limits", "rules", "switch_off", "regrade"}

func (r *packReader) read(root *yaml.Node) {
	s := r.section(root, "the pack", packKeys)
	if s == nil {
		return
	}
	r.pack.Name = s.text("pack")
	if e := s.entries["pack"]; e != nil && r.pack.Name != "" && !packForm.MatchString(r.pack.Name) {
		r.wrong("spec.shape", r.doc.Span(e.value), "a pack's name is made of small letters, digits and hyphens")
	}
	r.pack.About = s.text("about")
	s.needs("pack", "about")
	r.pack.limits = &limit{name: limitsWord, path: limitsWord}
	if e := s.entries["limits"]; e != nil {
		r.pack.limits.group = r.limitGroup(e, limitsWord)
	}
	for i, n := range s.list("rules") {
		if i == maxRules {
			r.wrong("spec.range", r.doc.Span(n), "a pack has at most %d rules", maxRules)
			break
		}
		if rule := r.rule(n); rule != nil {
			r.pack.rules = append(r.pack.rules, rule)
		}
	}
	r.pack.switchOffs = r.changes(s, "switch_off", []string{"rule", "because"})
	r.pack.regrades = r.changes(s, "regrade", []string{"rule", "to", "because"})
}

// changes reads what a pack changes of other packs' rules.
func (r *packReader) changes(s *section, key string, keys []string) []change {
	var all []change
	for _, n := range s.list(key) {
		one := r.section(n, "an entry of "+key, keys)
		if one == nil {
			continue
		}
		c := change{rule: one.text("rule"), because: one.text("because"), at: one.at("rule")}
		if key == "regrade" {
			c.to = one.grade("to")
		}
		if one.needs(keys...) {
			all = append(all, c)
		}
	}
	return all
}

func (r *packReader) wrong(rule string, at specs.Span, format string, arguments ...any) {
	r.problems = append(r.problems, problem(rule, at, "", format, arguments...))
}

// A section is a mapping of a pack with known keys.
type section struct {
	reader  *packReader
	what    string // for messages: "rule lines.velocity"
	node    *yaml.Node
	entries map[string]*entry
}

// entry is a key with its value.
type entry struct{ key, value *yaml.Node }

// section reads the keys of a mapping; nil where it is none. Keys may be nil for any.
func (r *packReader) section(n *yaml.Node, what string, keys []string) *section {
	if n.Kind != yaml.MappingNode {
		r.wrong("spec.shape", r.doc.Span(n), "%s needs keys of its own%s", what, among(keys))
		return nil
	}
	s := &section{reader: r, what: what, node: n, entries: map[string]*entry{}}
	for i := 0; i+1 < len(n.Content); i += 2 {
		e := &entry{n.Content[i], n.Content[i+1]}
		name := e.key.Value
		switch first := s.entries[name]; {
		case e.key.Kind != yaml.ScalarNode:
			r.wrong("spec.shape", r.doc.Span(e.key), "a key must be a plain word")
		case keys != nil && !slices.Contains(keys, name):
			r.wrong("spec.unknown-key", r.doc.Span(e.key), "%s has no key %s%s", what, name, hint(name, keys))
		case first != nil:
			r.wrong("spec.duplicate", r.doc.Span(e.key), "%s is written twice; first on line %d", name, first.key.Line)
		case isNull(e.value):
			r.wrong("spec.empty", r.doc.Span(e.key), "%s has no value; write one or leave the key out", name)
			s.entries[name] = &entry{key: e.key}
		default:
			s.entries[name] = e
		}
	}
	return s
}

func among(keys []string) string {
	if keys == nil {
		return ""
	}
	return ": " + list(keys)
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }

// value is the node behind a key; nil where there is none.
func (s *section) value(key string) *yaml.Node {
	if e := s.entries[key]; e != nil {
		return e.value
	}
	return nil
}

// at is the place of a key's value, of the key where it has none, or of the section.
func (s *section) at(key string) specs.Span {
	e := s.entries[key]
	switch {
	case e == nil && len(s.node.Content) > 0:
		return s.reader.doc.Span(s.node.Content[0])
	case e == nil:
		return s.reader.doc.Span(s.node)
	case e.value == nil:
		return s.reader.doc.Span(e.key)
	}
	return s.reader.doc.Span(e.value)
}

// text is the scalar behind a key.
func (s *section) text(key string) string {
	n := s.value(key)
	if n == nil {
		return ""
	}
	if n.Kind != yaml.ScalarNode {
		s.reader.wrong("spec.shape", s.reader.doc.Span(n), "%s must be a single text", key)
		return ""
	}
	text := strings.TrimSpace(n.Value)
	if text == "" {
		s.reader.wrong("spec.empty", s.reader.doc.Span(n), "%s is empty", key)
	}
	return text
}

// grade is the grade behind a key.
func (s *section) grade(key string) Grade {
	text := s.text(key)
	g, known := GradeNamed(text)
	if text != "" && !known {
		s.reader.wrong("spec.reference", s.at(key), "there is no grade %s%s", text, hint(text, gradeNames))
	}
	return g
}

// list is the list behind a key; nil where there is none.
func (s *section) list(key string) []*yaml.Node {
	n := s.value(key)
	if n == nil {
		return nil
	}
	if n.Kind != yaml.SequenceNode {
		s.reader.wrong("spec.shape", s.reader.doc.Span(n), "%s must be a list; begin each entry with a -", key)
		return nil
	}
	return n.Content
}

// needs tells whether all of the keys are there, and complains about those that are not.
func (s *section) needs(keys ...string) bool {
	all := true
	for _, key := range keys {
		if s.entries[key] == nil {
			s.reader.wrong("spec.missing", s.at("id"), "%s lacks %s", s.what, key)
			all = false
		}
	}
	return all
}
