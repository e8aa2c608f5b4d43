package rules

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"headroom/rules/expression"
	"headroom/specs/quantity"
)

// plain is a value without its label.
func plain(n *expression.Node) string {
	switch {
	case n.Value.Missing != nil:
		return "not known"
	case n.Value.Failure != "":
		return n.Value.Failure
	case n.Type.Form == expression.Number:
		return format(n.Type.Dimension, n.Value.Number)
	case n.Type.Form == expression.Flag && n.Value.Flag:
		return "yes"
	case n.Type.Form == expression.Flag:
		return "no"
	}
	return n.Value.Text
}

// measured is the message of a rule with a measure: its working, and the limit
// with its own.
func (w *worker) measured(a *Assessment, measure, limit *expression.Node) string {
	texts := alike(a.Measure, &a.Limit.Value)
	var out strings.Builder
	if measure = chosen(measure); measure.Kind == expression.Read {
		out.WriteString(w.label(measure.Name) + " " + texts[0] + w.where(measure.Name))
	} else {
		out.WriteString(w.words(measure, 0) + " = " + texts[0])
	}
	verb := "needed"
	if w.rule.Sense == AtMost {
		verb = "allowed"
	}
	fmt.Fprintf(&out, ", %s %s %s", a.Limit.Sense, texts[1], verb)
	if source := w.limitSource(limit); source != "" {
		out.WriteString(" (" + source + ")")
	}
	if a.Holds && a.Headroom != nil && *a.Headroom < 1 {
		d := a.Margin.Dimension
		reserve := w.rule.Reserve.size(a.Limit.Value.SI)
		spare := d.FormatAlike(a.Margin.SI, reserve)
		fmt.Fprintf(&out, "; held, with %s left of a reserve of %s", spare[0], spare[1])
	}
	return out.String()
}

// format prints a value; a whole number is a count and keeps no decimals.
func format(d quantity.Dimension, si float64) string {
	if d == quantity.Number && whole(si) {
		return strconv.FormatFloat(si, 'f', 0, 64)
	}
	return d.Format(si)
}

func whole(x float64) bool { return x == math.Trunc(x) && math.Abs(x) < 1e9 }

// alike formats a measure and its limit so that they can be told apart.
func alike(a, b *Value) []string {
	switch {
	case a.Dimension == quantity.Number && whole(a.SI) && whole(b.SI):
		return []string{format(a.Dimension, a.SI), format(b.Dimension, b.SI)}
	case a.Dimension == b.Dimension:
		return a.Dimension.FormatAlike(a.SI, b.SI)
	}
	return []string{a.Dimension.Format(a.SI), b.Dimension.Format(b.SI)}
}

// limitSource says where a limit comes from, where that is not the rule itself.
func (w *worker) limitSource(n *expression.Node) string {
	switch n = chosen(n); n.Kind {
	case expression.Literal:
		return ""
	case expression.Read:
		if factNamed[n.Name] != nil {
			return strings.Join(append([]string{w.label(n.Name)}, w.circumstances(n.Name)...), ", ")
		}
		return w.setBy(n.Name)
	case expression.Entry:
		return w.setBy(w.entryName(n))
	}
	return w.words(n, 0)
}

// setBy says which line set a limit; "" for a default.
func (w *worker) setBy(name string) string {
	from := w.limits.origins[name]
	if from == nil || from.At.Line == 0 || from.Note == defaultNote {
		return ""
	}
	return fmt.Sprintf("%s, %s line %d", name, from.At.File, from.At.Line)
}

// binding is how tightly an operator binds; what binds less stands in brackets.
var binding = map[string]int{"||": 1, "&&": 2, "in": 3, "<": 3, "<=": 3, ">": 3, ">=": 3, "==": 3, "!=": 3, "+": 4, "-": 4, "*": 5, "/": 5, "!": 6}

// signs are the operators as they are told.
var signs = map[string]string{"-": "−", "*": "×", "/": "÷", "<=": "≤", ">=": "≥", "==": "=", "!=": "≠", "&&": "and", "||": "or"}

// chosen is the side of a choice that was taken.
func chosen(n *expression.Node) *expression.Node {
	for n.Kind == expression.Choice && len(n.Args) > 1 {
		n = n.Args[1]
	}
	return n
}

// words is the working of a node; in brackets where it binds less than around.
func (w *worker) words(n *expression.Node, around int) string {
	switch n = chosen(n); n.Kind {
	case expression.Literal, expression.Choice:
		return plain(n)
	case expression.Read, expression.Entry:
		return w.named(n)
	case expression.Call:
		return w.call(n)
	}
	tight := binding[n.Name]
	sign := n.Name
	if s := signs[sign]; s != "" {
		sign = s
	}
	var text string
	switch {
	case len(n.Args) == 2 || n.Name == "&&" || n.Name == "||":
		terms := make([]string, len(n.Args))
		for i, a := range n.Args {
			terms[i] = w.words(a, tight+min(i, 1))
		}
		text = strings.Join(terms, " "+sign+" ")
	case len(n.Args) == 1 && n.Name == "in":
		text = w.words(n.Args[0], tight) + " among those named"
	case len(n.Args) == 1:
		tight = binding["!"]
		text = sign + w.words(n.Args[0], tight)
	}
	if tight < around {
		return "(" + text + ")"
	}
	return text
}

// named is a fact or limit with its value, and where and when that occurred.
func (w *worker) named(n *expression.Node) string {
	if n.Kind == expression.Entry || factNamed[n.Name] == nil {
		return plain(n)
	}
	return w.label(n.Name) + " " + plain(n) + w.where(n.Name)
}

// callWords are functions as they are told.
var callWords = map[string]string{"min": "the least of ", "max": "the greatest of ", "abs": "the size of ", "clamp": "kept between, ", "has": "is known: "}

func (w *worker) call(n *expression.Node) string {
	terms := make([]string, len(n.Args))
	for i, a := range n.Args {
		terms[i] = w.words(a, 0)
	}
	return callWords[n.Name] + list(terms)
}

// where says in brackets where and when a fact occurred, and how it came about.
func (w *worker) where(name string) string {
	pieces := w.circumstances(name)
	if len(pieces) == 0 {
		return ""
	}
	return " (" + strings.Join(pieces, ", ") + ")"
}

func (w *worker) circumstances(name string) (pieces []string) {
	from := w.origin(name)
	if from == nil || factNamed[name] == nil {
		return nil
	}
	if from.Case != "" && from.Case != w.subject.Case {
		pieces = append(pieces, from.Case)
	}
	if from.Timed {
		pieces = append(pieces, quantity.Time.Format(from.Time))
	}
	if from.Node != "" && from.Node != w.subject.Name {
		pieces = append(pieces, "at "+from.Node)
	}
	if from.Note != "" {
		pieces = append(pieces, from.Note)
	}
	return pieces
}

// listed is the message of a yes/no rule that says nothing itself: what it read.
func (w *worker) listed() string {
	var pieces []string
	for _, s := range w.steps {
		if factNamed[s.Fact] == nil {
			continue
		}
		value := s.Text
		if s.Value != nil {
			value = format(s.Value.Dimension, s.Value.SI)
		}
		pieces = append(pieces, s.Label+": "+value+w.where(s.Fact))
	}
	if len(pieces) == 0 {
		return w.rule.Title
	}
	return strings.Join(pieces, "; ")
}

// sentence fills the facts into what a rule says.
func (w *worker) sentence(phrases []phrase) string {
	var out strings.Builder
	for _, p := range phrases {
		out.WriteString(p.text)
		if p.fact == nil {
			continue
		}
		n := p.fact.Trace(&w.scene.reader)
		w.collect(n)
		out.WriteString(plain(n))
	}
	return out.String()
}
