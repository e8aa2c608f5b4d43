package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"headroom/specs/quantity"
)

// TestMutants alters each core rule in every way that an author might slip, one at a
// time, and holds that an example of the rule fails: a slip that no example minds
// would go unseen. The table of survivors is empty.
func TestMutants(t *testing.T) {
	book := mustCore(t)
	lists := make([][]mutant, len(book.Rules))
	survivors := make([][]string, len(book.Rules))
	inParallel(len(book.Rules), func(i int) {
		r := book.Rules[i]
		if r.Gathers != "" {
			return
		}
		book.compile(r)
		lists[i] = mutants(r)
		for _, m := range lists[i] {
			if why := book.survives(r, m); why != "" {
				survivors[i] = append(survivors[i], why)
			}
		}
	})
	made := 0
	for i, r := range book.Rules {
		made += len(lists[i])
		names := make([]string, len(lists[i]))
		for k, m := range lists[i] {
			names[k] = m.name
		}
		t.Logf("%s: %s", r.ID, strings.Join(names, "; "))
		if len(lists[i]) < 3 && r.Gathers == "" {
			t.Errorf("%s has %d mutants only", r.ID, len(lists[i]))
		}
		for _, s := range survivors[i] {
			t.Errorf("%s survives: %s", r.ID, s)
		}
	}
	t.Logf("%d mutants of %d rules", made, len(book.Rules))
}

// A mutant is one way of altering a rule.
type mutant struct {
	name  string
	alter func(*Rule)
}

// survives tells why a mutant of a rule is not noticed, or "" where it is: what only
// the rules about examples notice is not noticed by an example.
func (b *Rulebook) survives(r *Rule, m mutant) string {
	altered := *r
	altered.compiled = &compiledRule{}
	m.alter(&altered)
	if problems := b.compile(&altered).problems; len(problems) > 0 {
		return m.name + " does not compile: " + problems[0].Message
	}
	for i := range altered.Examples {
		e := &altered.Examples[i]
		if got, _ := b.runExample(&altered, e); got.against(e) != "" {
			return ""
		}
	}
	return m.name
}

// mutants are the ways of altering a rule.
func mutants(r *Rule) []mutant {
	all := []mutant{{"another grade", func(r *Rule) { r.Grade = otherGrade(r.Grade) }}}
	if r.Where.Text != "" {
		all = append(all,
			mutant{"where dropped", func(r *Rule) { r.Where = Expression{} }},
			mutant{"where never", func(r *Rule) { r.Where = always(r.Where, "false") }},
			mutant{"where turned round", func(r *Rule) { r.Where = Expression{Text: "!(" + r.Where.Text + ")"} }})
		all = append(all, shortened("where", r.Where.Text, func(r *Rule) *Expression { return &r.Where })...)
	}
	if r.Require.Text != "" {
		all = append(all,
			mutant{"require always met", func(r *Rule) { r.Require = always(r.Require, "true") }},
			mutant{"require turned round", func(r *Rule) { r.Require = Expression{Text: "!(" + r.Require.Text + ")"} }})
		if r.For != "problem" { // what is wrong with a file meets nothing as it is
			all = append(all, mutant{"require never met", func(r *Rule) { r.Require = always(r.Require, "false") }})
		}
		all = append(all, shortened("require", r.Require.Text, func(r *Rule) *Expression { return &r.Require })...)
	}
	if r.Measure.Text != "" {
		margin := r.compiled.margin
		all = append(all,
			mutant{"sense swapped", func(r *Rule) { r.Sense = map[Sense]Sense{AtLeast: AtMost, AtMost: AtLeast}[r.Sense] }},
			mutant{"limit never breaks", func(r *Rule) { r.Limit = moved(r, margin, false) }},
			mutant{"limit always breaks", func(r *Rule) { r.Limit = moved(r, margin, true) }})
	}
	if !r.Reserve.None() {
		all = append(all,
			mutant{"reserve dropped", func(r *Rule) { r.Reserve = Reserve{} }},
			mutant{"reserve a hundredfold", func(r *Rule) { r.Reserve.Share *= 100; r.Reserve.Amount *= 100 }})
	}
	return all
}

func otherGrade(g Grade) Grade {
	if g == Critical {
		return Major
	}
	return g + 1
}

// always is what an expression comes to whatever it says, unless it cannot say it.
func always(e Expression, outcome string) Expression {
	return Expression{Text: fmt.Sprintf("(%s) ? %s : %s", e.Text, outcome, outcome)}
}

// moved is a limit on the measure itself, which holds, or one on its wrong side. It
// still reads what the limit reads, so that what is missing stays missing.
func moved(r *Rule, margin quantity.Dimension, breaks bool) Expression {
	at := "(" + r.Measure.Text + ")"
	if breaks {
		sign := map[Sense]string{AtLeast: "+", AtMost: "-"}[r.Sense]
		at = at + " " + sign + " " + step(margin)
	}
	return Expression{Text: fmt.Sprintf("(%s) == (%s) ? %s : %s", r.Limit.Text, r.Limit.Text, at, at)}
}

// step is a difference of a dimension that no example's margin comes near.
func step(margin quantity.Dimension) string {
	switch units := margin.Units(); {
	case margin == quantity.PressureDifference:
		return "q('1000 bar diff')"
	case margin == quantity.Number || len(units) == 0:
		return "1000.0"
	default:
		return "q('1000 " + units[0] + "')"
	}
}

// shortened are mutants that lack one term of what && or || joins, or one name of a
// list, at whatever depth.
func shortened(what, text string, in func(*Rule) *Expression) (all []mutant) {
	for _, less := range without(text) {
		all = append(all, mutant{what + " as " + less, func(r *Rule) { *in(r) = Expression{Text: less} }})
	}
	return all
}

// without are the texts of an expression that lack one of its terms.
func without(text string) (all []string) {
	for _, operator := range []string{" || ", " && "} {
		terms := split(text, operator)
		if len(terms) == 1 {
			continue
		}
		for i := range terms {
			all = append(all, strings.Join(slices.Delete(slices.Clone(terms), i, i+1), operator))
			for _, less := range without(terms[i]) {
				other := slices.Clone(terms)
				other[i] = less
				all = append(all, strings.Join(other, operator))
			}
		}
		return all
	}
	trimmed := strings.TrimSpace(text)
	if inner, is := strings.CutPrefix(trimmed, "("); is && strings.HasSuffix(inner, ")") && closes(inner) == len(inner)-1 {
		for _, less := range without(strings.TrimSuffix(inner, ")")) {
			all = append(all, "("+less+")")
		}
		return all
	}
	if before, list, is := strings.Cut(trimmed, " in ["); is && strings.HasSuffix(list, "]") {
		names := strings.Split(strings.TrimSuffix(list, "]"), ", ")
		for i := range names {
			all = append(all, before+" in ["+strings.Join(slices.Delete(slices.Clone(names), i, i+1), ", ")+"]")
		}
	}
	return all
}

// split parts a text at an operator that stands in no brackets and no quotes.
func split(text, operator string) (terms []string) {
	depth, quoted, from := 0, false, 0
	for i := 0; i < len(text); i++ {
		switch {
		case text[i] == '\'':
			quoted = !quoted
		case quoted:
		case depth == 0 && strings.HasPrefix(text[i:], operator):
			terms = append(terms, text[from:i])
			i += len(operator) - 1
			from = i + 1
		case text[i] == '(' || text[i] == '[':
			depth++
		case text[i] == ')' || text[i] == ']':
			depth--
		}
	}
	return append(terms, text[from:])
}

// closes is where a bracket that opened before a text is closed.
func closes(text string) int {
	depth := 0
	for i, c := range text {
		switch c {
		case '(', '[':
			depth++
		case ')', ']':
			if depth--; depth < 0 {
				return i
			}
		}
	}
	return len(text)
}

func TestWithout(t *testing.T) {
	for text, want := range map[string][]string{
		"a":                         nil,
		"a && b":                    {"b", "a"},
		"a || b && c":               {"b && c", "a", "a || c", "a || b"},
		"a && (b || c)":             {"(b || c)", "a", "a && (c)", "a && (b)"},
		"k in ['x', 'y'] && has(z)": {"has(z)", "k in ['y'] && has(z)", "k in ['x'] && has(z)", "k in ['x', 'y']"},
		"k == 'a && b'":             nil,
	} {
		if got := without(text); !slices.Equal(got, want) {
			t.Errorf("%s: %q, not %q", text, got, want)
		}
	}
}
