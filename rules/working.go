package rules

import (
	"slices"

	"headroom/rules/expression"
	"headroom/rules/facts"
)

// tell gives an assessment its message and its working.
func (j *judge) tell(a *Assessment) {
	w := &worker{judge: j, subject: a.Subject}
	c := j.rule.compiled
	var measure, limit, require *expression.Node
	if c.measure != nil && c.limit != nil {
		measure, limit = c.measure.Trace(&j.scene.reader), c.limit.Trace(&j.scene.reader)
	}
	if c.require != nil {
		require = c.require.Trace(&j.scene.reader)
	}
	for _, n := range []*expression.Node{measure, limit, require} {
		w.collect(n)
	}
	switch {
	case j.rule.Says.Text != "" && !a.Holds:
		a.Message = w.sentence(c.says)
	case a.Measure != nil:
		a.Message = w.measured(a, measure, limit)
	case measure != nil:
		a.Message = w.words(measure, 0) + ", " + string(j.rule.Sense) + " " + w.words(limit, 0)
	default:
		a.Message = w.listed()
	}
	a.Working = w.steps
}

// A worker puts the working of one assessment into words.
type worker struct {
	*judge
	subject Subject
	steps   []Step
}

// collect notes each fact and limit that was read, once, in order of reading.
func (w *worker) collect(n *expression.Node) {
	if n == nil {
		return
	}
	for _, a := range n.Args {
		w.collect(a)
	}
	switch n.Kind {
	case expression.Read:
		if !n.Type.Map {
			w.note(n.Name, n)
		}
	case expression.Entry:
		w.note(w.entryName(n), n)
	}
}

// entryName is the full name of what was looked up in a group of limits.
func (w *worker) entryName(n *expression.Node) string {
	name := n.Name + "." + n.Key
	if w.limits.origins[name] == nil {
		return n.Name + "." + othersWord
	}
	return name
}

func (w *worker) note(name string, n *expression.Node) {
	if slices.ContainsFunc(w.steps, func(s Step) bool { return s.Fact == name }) {
		return
	}
	s := Step{Fact: name, Label: w.label(name), Origin: w.origin(name)}
	switch {
	case n.Value.Missing != nil:
		s.Text = "not known"
	case n.Type.Form == expression.Number:
		s.Value = &Value{n.Value.Number, n.Type.Dimension}
	default:
		s.Text = plain(n)
	}
	w.steps = append(w.steps, s)
}

// origin is where a fact or limit comes from; nil where nobody says.
func (w *worker) origin(name string) *facts.Origin {
	f := factNamed[name]
	if f == nil {
		return w.limits.origins[name]
	}
	if so := w.scene.known(name); w.scene.soFar && so != nil {
		return so.From
	}
	from, _ := f.origin(w.scene.objects[f.variable])
	return from
}

// label is a fact in words: its own where it belongs to the subject, else with
// what it belongs to.
func (w *worker) label(name string) string {
	f := factNamed[name]
	switch {
	case f == nil:
		return name // a limit, as it is written
	case w.rule.kind.owns(f.variable):
		return f.label
	}
	return f.variable.String() + " " + f.label
}
