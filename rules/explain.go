package rules

import "headroom/rules/facts"

// An Explanation is what one rule comes to on one subject: an assessment with its
// working, held or not; or what is missing for one; or why the rule is not for it.
type Explanation struct {
	Subject     Subject
	Assessment  *Assessment
	NotAssessed *Unassessed
	Skipped     string // the working of `where`; "" where the rule applies
}

// Explain applies a rule of the book to the subjects of that name, or to all for
// "", and keeps the working of each.
func (b *Rulebook) Explain(r *Rule, c *facts.Circuit, s Settings, subject string) []*Explanation {
	if r.Gathers != "" || r.For == concessionKind {
		return b.told(r, c, s)
	}
	if r.kind == nil {
		return nil
	}
	limits, problems := b.limitsFor(c.Spec, s.Project)
	c = withProblems(c, problems)
	b.compile(r)
	j := &judge{task: task{r, r.kind.targets(c)}, book: b, circuit: c, scene: newScene(c, limits), limits: limits}
	var all []*Explanation
	var assessed []*Assessment
	for i := range j.targets {
		e := j.explain(&j.targets[i])
		if e.Assessment != nil {
			assessed = append(assessed, e.Assessment)
		}
		if e.NotAssessed != nil {
			excuse([]*Unassessed{e.NotAssessed}, s.Project)
		}
		if subject == "" || e.Subject.Name == subject {
			all = append(all, e)
		}
	}
	identify(c.Whole.Name.Value, assessed)
	return all
}

// told is what a rule comes to that tells of others: all of them are judged first.
func (b *Rulebook) told(r *Rule, c *facts.Circuit, s Settings) (all []*Explanation) {
	s.Only, s.Working = nil, true
	j := b.Judge(c, s)
	tells := j.Assessments
	if r.Gathers != "" {
		tells = j.Findings
	}
	for _, a := range tells {
		if a.Rule == r {
			all = append(all, &Explanation{Subject: a.Subject, Assessment: a})
		}
	}
	return all
}

func (j *judge) explain(t *target) *Explanation {
	j.scene.turn(j.rule.kind, t)
	e := &Explanation{Subject: t.Subject}
	a, missing := j.judged(t)
	switch {
	case missing != nil:
		e.NotAssessed = j.unassessed(t, missing)
	case a == nil:
		w := &worker{judge: j, subject: t.Subject}
		e.Skipped = w.words(j.rule.compiled.where.Trace(&j.scene.reader), 0)
	default:
		if a.Message == "" {
			j.tell(a)
		}
		e.Assessment = a
	}
	return e
}
