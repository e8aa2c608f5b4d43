package changes

import (
	"fmt"

	"headroom/rules"
)

// A key is what a rule's word is about, in the newer revision's names.
type key struct {
	rule, kind, name, inCase string
	nth                      int // of several about the same
}

// An outcome is what a rule said of a subject in one revision: an assessment, or
// that there is none.
type outcome struct {
	assessed   *rules.Assessment
	unassessed *rules.Unassessed
}

// assessment is the outcome's, or nil.
func (o *outcome) assessment() *rules.Assessment {
	if o == nil {
		return nil
	}
	return o.assessed
}

// An index is a judgement by what it is about.
type index struct {
	keys []key
	at   map[key]*outcome
}

// indexOf lists a judgement's assessments, its gathered findings and what was not
// assessed. names are those of the newer revision; nil where they are in use.
func indexOf(j *rules.Judgement, n *names) *index {
	x := &index{at: map[key]*outcome{}}
	for _, a := range j.Assessments {
		x.add(keyOf(a.Rule, a.Subject, a.Message, n), &outcome{assessed: a})
	}
	for _, a := range j.Findings {
		if a.Rule.Gathers != "" {
			x.add(keyOf(a.Rule, a.Subject, "", n), &outcome{assessed: a})
		}
	}
	for _, u := range j.NotAssessed {
		x.add(keyOf(u.Rule, u.Subject, "", n), &outcome{unassessed: u})
	}
	return x
}

// keyOf is what a rule's word is about. A circuit has one name and one fluid,
// whatever they are called; of problems of a file several may be at one place.
func keyOf(r *rules.Rule, s rules.Subject, message string, n *names) key {
	k := key{rule: r.ID, kind: s.Kind, name: s.Name, inCase: s.Case}
	switch s.Kind {
	case "circuit", "fluid":
		k.name = ""
	case "problem":
		k.name = fmt.Sprintf("%s: %s", s.Name, message)
	}
	if n == nil {
		return k
	}
	k.name, k.inCase = n.in(k.name), n.in(k.inCase)
	return k
}

func (x *index) add(k key, o *outcome) {
	for x.at[k] != nil {
		k.nth++
	}
	x.keys = append(x.keys, k)
	x.at[k] = o
}

// take gives what is about a key, once.
func (x *index) take(k key) *outcome {
	o := x.at[k]
	delete(x.at, k)
	return o
}
