package rules

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"headroom/rules/expression"
	"headroom/rules/facts"
	"headroom/specs"
)

// An ExampleFailure is an example that does not come out as its rule says, or a
// rule that lacks one.
type ExampleFailure struct {
	Rule    *Rule
	At      specs.Span
	Message string
}

func (f ExampleFailure) String() string {
	return fmt.Sprintf("%s:%d:%d: %s: %s", f.At.File, f.At.Line, f.At.Column, f.Rule.ID, f.Message)
}

// TestExamples runs the examples of rules of the book.
func (b *Rulebook) TestExamples(rules []*Rule) []ExampleFailure {
	failures := make([][]ExampleFailure, len(rules))
	inParallel(len(rules), func(i int) { failures[i] = b.testRule(rules[i]) })
	return slices.Concat(failures...)
}

func (b *Rulebook) testRule(r *Rule) (failures []ExampleFailure) {
	if r.Gathers != "" {
		return nil
	}
	if problems := b.compile(r).problems; len(problems) > 0 {
		return []ExampleFailure{{r, problems[0].At, problems[0].Message}}
	}
	seen := map[string]bool{}
	for i := range r.Examples {
		e := &r.Examples[i]
		got, problems := b.runExample(r, e)
		for _, p := range problems {
			failures = append(failures, ExampleFailure{r, p.At, p.Message})
		}
		if difference := got.against(e); difference != "" {
			failures = append(failures, ExampleFailure{r, e.At, difference})
		}
		seen[got.verdict] = true
		if got.broken {
			seen["broken"] = true
		}
	}
	for _, lack := range b.lacking(r, seen) {
		failures = append(failures, ExampleFailure{r, r.At, lack})
	}
	return failures
}

// lacking tells which examples a rule must have and has not.
func (b *Rulebook) lacking(r *Rule, seen map[string]bool) (lacks []string) {
	if !seen["broken"] {
		lacks = append(lacks, "no example breaks it")
	}
	if !seen[passes] && r.For != "problem" { // what is wrong passes nothing
		lacks = append(lacks, "no example passes")
	}
	if !seen[notAssessed] && r.mayLack() {
		lacks = append(lacks, "no example is not assessed, though its facts may be missing")
	}
	return lacks
}

// mayLack tells whether a fact may be missing that the rule judges by and that
// its where does not look at.
func (r *Rule) mayLack() bool {
	c := r.compiled
	var guarded []string
	if c.where != nil {
		guarded = c.where.Reads
	}
	for _, p := range []*expression.Program{c.measure, c.limit, c.require} {
		if p == nil {
			continue
		}
		for _, name := range p.Reads {
			if f := factNamed[name]; f != nil && f.needs != "" && !slices.Contains(guarded, name) {
				return true
			}
		}
	}
	return false
}

// An exampleOutcome is what an example comes to.
type exampleOutcome struct {
	verdict  string
	broken   bool
	grade    string
	headroom *float64
	missing  []string
	message  string
}

// runExample judges the facts of an example.
func (b *Rulebook) runExample(r *Rule, e *Example) (exampleOutcome, []specs.Problem) {
	limits := newResolver()
	limits.anyPart = true
	limits.take(b.limits, e.limits)
	values := limits.resolve(b.limits)
	j := &judge{task: task{rule: r}, book: b, scene: newScene(&facts.Circuit{}, values), limits: values}
	e.fill(j.scene)
	t := target{Subject: Subject{Kind: r.For, Name: "example"}}
	a, missing := j.apply(&t)
	switch {
	case missing != nil:
		return exampleOutcome{verdict: notAssessed, missing: rawNeeds(missing)}, limits.problems
	case a == nil:
		return exampleOutcome{verdict: skipped}, limits.problems
	}
	o := exampleOutcome{verdict: passes, headroom: a.Headroom, broken: !a.Holds, message: a.Message}
	if a.Finding {
		o.verdict, o.grade = finding, a.Grade.String()
	}
	return o, limits.problems
}

// fill gives a scene the facts of an example. What has a name is called example.
func (e *Example) fill(s *scene) {
	for v := range variables {
		of := reflect.New(declaredVariables[v].facts).Elem()
		s.objects[v] = of
		if name := of.FieldByName("Name"); name.IsValid() && name.Type() == reflect.TypeFor[facts.Text]() {
			name.Set(reflect.ValueOf(facts.Text{Value: "example", Known: true}))
		}
	}
	for _, given := range e.facts {
		from := &facts.Origin{At: given.at, Key: given.fact.name}
		field := s.objects[given.fact.variable].Field(given.fact.field).Addr().Interface()
		switch field := field.(type) {
		case *facts.Fact:
			*field = facts.Fact{Value: given.number, Known: true, From: from}
		case *facts.Text:
			*field = facts.Text{Value: given.text, Known: true, From: from}
		case *facts.Flag:
			*field = facts.Flag{Value: given.flag, Known: true, From: from}
		}
	}
}

// rawNeeds are what would supply missing facts, as their table says.
func rawNeeds(missing []string) []string {
	var needs []string
	for _, name := range missing {
		if f := factNamed[name]; f != nil && f.needs != "" {
			name = f.needs
		}
		needs = append(needs, name)
	}
	slices.Sort(needs)
	return slices.Compact(needs)
}

// against tells how an outcome differs from what its example says; "" where it
// does not.
func (o exampleOutcome) against(e *Example) string {
	if o.verdict != e.Verdict {
		return fmt.Sprintf("the example should be %s and is %s%s", e.Verdict, o.verdict, o.detail())
	}
	if e.Grade != "" && o.grade != e.Grade {
		return fmt.Sprintf("the finding should be %s and is %s%s", e.Grade, orNone(o.grade), o.detail())
	}
	if e.Missing != nil && !slices.Equal(slices.Sorted(slices.Values(e.Missing)), o.missing) {
		return fmt.Sprintf("%s should be missing, and %s is", list(e.Missing), orNone(list(o.missing)))
	}
	if e.Headroom != nil && (o.headroom == nil || !near(*o.headroom, *e.Headroom)) {
		got := "none"
		if o.headroom != nil {
			got = fmt.Sprintf("%.4g", *o.headroom)
		}
		return fmt.Sprintf("headroom should be %g and is %s", *e.Headroom, got)
	}
	return ""
}

// near tells whether two numbers agree to three significant digits.
func near(a, b float64) bool {
	return math.Abs(a-b) <= 5e-4*max(math.Abs(a), math.Abs(b))+1e-12
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// detail is what else an outcome says.
func (o exampleOutcome) detail() string {
	switch {
	case len(o.missing) > 0:
		return ": " + strings.Join(o.missing, ", ") + " missing"
	case o.message != "":
		return ": " + o.message
	}
	return ""
}
