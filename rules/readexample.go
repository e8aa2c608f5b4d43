package rules

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"

	"headroom/specs"
)

// The verdicts that an example can have.
const (
	passes      = "passes"
	finding     = "finding"
	notAssessed = "not-assessed"
	skipped     = "skipped"
)

var (
	exampleKeys     = []string{"facts", "verdict", "grade", "headroom", "missing"}
	exampleVerdicts = []string{passes, finding, notAssessed, skipped}
)

// An exampleFact is a fact that an example gives.
type exampleFact struct {
	fact   *fact
	number float64
	text   string
	flag   bool
	at     specs.Span
}

// examples reads a rule's examples.
func (r *packReader) examples(s *section, rule *Rule) {
	if rule.Gathers == "" {
		s.needs("examples")
	}
	for i, n := range s.list("examples") {
		if i == maxExamples {
			r.wrong("spec.range", r.doc.Span(n), "a rule has at most %d examples", maxExamples)
			return
		}
		if e := r.section(n, "an example of "+s.what, exampleKeys); e != nil && len(e.entries) > 0 {
			rule.Examples = append(rule.Examples, r.example(e, rule))
		}
	}
}

func (r *packReader) example(s *section, rule *Rule) Example {
	e := Example{At: r.doc.Span(s.node), Verdict: s.text("verdict"), Grade: s.text("grade")}
	s.needs("verdict")
	if e.Verdict != "" && !slices.Contains(exampleVerdicts, e.Verdict) {
		r.wrong("spec.reference", s.at("verdict"), "there is no verdict %s%s", e.Verdict, hint(e.Verdict, exampleVerdicts))
	}
	if s.entries["grade"] != nil {
		s.grade("grade")
	}
	for _, n := range s.list("missing") {
		e.Missing = append(e.Missing, n.Value)
	}
	if text := s.text("headroom"); text != "" {
		h, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(h) {
			r.wrong("spec.shape", s.at("headroom"), "headroom is a plain number")
		}
		e.Headroom = &h
	}
	r.exampleFacts(s, &e, rule)
	return e
}

// exampleFacts reads what an example gives, by the first word of each name.
func (r *packReader) exampleFacts(s *section, e *Example, rule *Rule) {
	kind := kindNamed(rule.For)
	if kind == nil || s.value("facts") == nil {
		s.needs("facts")
		return
	}
	words := r.section(s.value("facts"), "facts", kind.roots())
	if words == nil {
		return
	}
	for _, v := range slices.Concat(kind.reads, []variable{circuitVariable, fluidVariable, environmentVariable}) {
		if n := words.value(v.String()); n != nil {
			e.facts = append(e.facts, r.factsOf(v, n)...)
		}
	}
	if n := words.value(limitsWord); n != nil {
		settings := r.setting(words.entries[limitsWord], limitsWord)
		e.limits = &settings
	}
}

// factsOf reads the facts given of one variable.
func (r *packReader) factsOf(v variable, n *yaml.Node) []exampleFact {
	var known []string
	for _, f := range vocabulary {
		if f.variable == v {
			known = append(known, strings.TrimPrefix(f.name, v.String()+"."))
		}
	}
	s := r.section(n, v.String(), known)
	if s == nil {
		return nil
	}
	var given []exampleFact
	for i := 0; i+1 < len(n.Content); i += 2 {
		f := factNamed[v.String()+"."+n.Content[i].Value]
		if e := s.entries[n.Content[i].Value]; f != nil && e != nil && e.value == n.Content[i+1] {
			given = append(given, r.exampleFact(f, e.value))
		}
	}
	return given
}

func (r *packReader) exampleFact(f *fact, n *yaml.Node) exampleFact {
	given := exampleFact{fact: f, at: r.doc.Span(n)}
	if n.Kind != yaml.ScalarNode {
		r.wrong("spec.shape", given.at, "%s must be a single value, %s", f.name, f.form)
		return given
	}
	value, err := readLimit(n.Value, f.form)
	if err != nil {
		r.wrong("spec.unit", within(given.at, n.Value, err), "%s", err)
	}
	given.number, given.text, given.flag = value.number, value.text, value.flag
	return given
}

// setting reads a tree of limits as a spec would write it.
func (r *packReader) setting(e *entry, key string) specs.Setting {
	s := specs.Setting{Name: e.key.Value, At: r.doc.Span(e.key)}
	switch e.value.Kind {
	case yaml.ScalarNode:
		s.Value = specs.Text{Value: e.value.Value, Source: specs.FromSpec, Key: key, At: r.doc.Span(e.value)}
	case yaml.MappingNode:
		all := r.section(e.value, key, nil)
		for i := 0; i+1 < len(e.value.Content); i += 2 {
			name := e.value.Content[i].Value
			if one := all.entries[name]; one != nil && one.value == e.value.Content[i+1] {
				s.Children = append(s.Children, r.setting(one, key+"."+name))
			}
		}
	default:
		r.wrong("spec.shape", r.doc.Span(e.value), "%s must be a single value or a mapping of limits", key)
	}
	return s
}
