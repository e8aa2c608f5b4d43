package rules

import (
	"math"

	"headroom/rules/expression"
	"headroom/rules/facts"
	"headroom/specs"
)

// Settings are what a run says of how to judge.
type Settings struct {
	Project *specs.Project   // nil for none
	Only    func(*Rule) bool // the rules to apply; nil for all
	Today   string           // YYYY-MM-DD, against which concessions are judged; "" for never
	Demand  func(*Rule) bool // rules that must be assessed, beside the critical ones; nil for none
	Working bool             // the working of every margin is kept, not of findings alone
	Partial bool             // not all cases are judged: that a concession is of no use is not told
}

// Judge applies the rules to a circuit's facts.
func (b *Rulebook) Judge(c *facts.Circuit, s Settings) *Judgement {
	limits, problems := b.limitsFor(c.Spec, s.Project)
	c = withProblems(c, problems)
	j := &Judgement{}
	b.applyAll(j, c, limits, s, func(r *Rule) bool { return r.For != concessionKind })
	j.Used = excuse(j.NotAssessed, s.Project)
	if b.gatherer != nil && (s.Only == nil || s.Only(b.gatherer)) {
		j.Findings = append(j.Findings, b.gathered(c, j.NotAssessed)...)
	}
	with := *c
	with.Concessions = b.concede(c, j, s)
	b.applyAll(j, &with, limits, s, func(r *Rule) bool { return r.For == concessionKind })
	j.settle(c)
	return j
}

// The kinds of subject that the judging itself knows: concessions, which are judged
// last and tell of the findings before, and what is wrong with the file.
const (
	concessionKind = "concession"
	problemKind    = "problem"
)

// applyAll applies some of the rules to all of their subjects.
func (b *Rulebook) applyAll(j *Judgement, c *facts.Circuit, limits *limitValues, s Settings, some func(*Rule) bool) {
	work := b.plan(c, s, some)
	found := make([]results, len(work))
	inParallel(len(work), func(i int) {
		one := &judge{circuit: c, scene: newScene(c, limits), limits: limits, task: work[i], book: b, working: s.Working}
		found[i] = one.run()
	})
	for _, r := range found {
		j.Assessments = append(j.Assessments, r.assessed...)
		for _, u := range r.unassessed {
			u.Must = u.Rule.Grade == Critical || s.Demand != nil && s.Demand(u.Rule)
		}
		j.NotAssessed = append(j.NotAssessed, r.unassessed...)
		for _, a := range r.assessed {
			if a.Finding {
				j.Findings = append(j.Findings, a)
			}
		}
	}
}

// limitsFor gives the limits that hold for a spec, and what is wrong with those it sets.
func (b *Rulebook) limitsFor(spec *specs.Circuit, project *specs.Project) (*limitValues, []specs.Problem) {
	r := newResolver()
	if project != nil {
		r.anyPart = true
		r.take(b.limits, project.Limits)
		r.anyPart, r.problems = false, nil // told once for all specs, by CheckProject
	}
	if spec != nil {
		for _, p := range spec.Parts {
			r.parts = append(r.parts, p.Base().Name)
			r.kinds[p.Base().Name] = p.Base().Kind
		}
		r.take(b.limits, spec.Limits)
		b.checkConcessions(r, spec.Concessions)
	}
	return r.resolve(b.limits), r.problems
}

// CheckProject tells what is wrong with the limits that a project file sets, and
// with the rules that it names.
func (b *Rulebook) CheckProject(p *specs.Project) []specs.Problem {
	r := newResolver()
	r.anyPart = true
	r.take(b.limits, p.Limits)
	for i := range p.NotApplicable {
		b.known(r, p.NotApplicable[i].Rule)
	}
	b.checkConcessions(r, p.Concessions)
	return specs.SortProblems(r.problems)
}

// known complains about a rule that does not exist.
func (b *Rulebook) known(r *resolver, id specs.Text) {
	if !id.Given() || b.Rule(id.Value) != nil {
		return
	}
	for _, off := range b.SwitchedOff {
		if off.Rule.ID == id.Value {
			return
		}
	}
	r.wrong("spec.reference", id.At, id.Key, "there is no rule %s%s", id.Value, like(id.Value, b.ids()))
}

func (b *Rulebook) ids() []string {
	var ids []string
	for _, r := range b.Rules {
		ids = append(ids, r.ID)
	}
	return ids
}

// withProblems is the circuit with more things wrong with its file.
func withProblems(c *facts.Circuit, problems []specs.Problem) *facts.Circuit {
	if len(problems) == 0 {
		return c
	}
	more := *c
	more.Problems = append([]*facts.Problem(nil), c.Problems...)
	for _, p := range problems {
		more.Problems = append(more.Problems, facts.ProblemOf(p))
	}
	return &more
}

// A task is one rule with the subjects that it may be applied to.
type task struct {
	rule    *Rule
	targets []target
}

// plan lists the tasks of some of the rules and makes these ready.
func (b *Rulebook) plan(c *facts.Circuit, s Settings, some func(*Rule) bool) []task {
	var work []task
	byKind := map[*subjectKind][]target{}
	for _, r := range b.Rules {
		if r.Gathers != "" || r.kind == nil || !some(r) || s.Only != nil && !s.Only(r) {
			continue
		}
		all, listed := byKind[r.kind]
		if !listed {
			all = r.kind.targets(c)
			byKind[r.kind] = all
		}
		if len(all) > 0 {
			work = append(work, task{r, all})
		}
	}
	inParallel(len(work), func(i int) { b.compile(work[i].rule) })
	return work
}

// results are what one rule comes to.
type results struct {
	assessed   []*Assessment
	unassessed []*Unassessed
}

// A judge applies one rule to its subjects.
type judge struct {
	task
	book    *Rulebook
	circuit *facts.Circuit
	scene   *scene
	limits  *limitValues
	working bool // of every assessment
}

func (j *judge) run() (r results) {
	for i := range j.targets {
		t := &j.targets[i]
		j.scene.turn(j.rule.kind, t)
		a, missing := j.judged(t)
		switch {
		case missing != nil:
			r.unassessed = append(r.unassessed, j.unassessed(t, missing))
		case a != nil:
			if j.working && !a.Finding {
				j.tell(a)
			}
			r.assessed = append(r.assessed, a)
		}
	}
	return r
}

func (j *judge) unassessed(t *target, missing []string) *Unassessed {
	return &Unassessed{Rule: j.rule, Subject: t.Subject, At: t.at, Missing: j.supply(t, missing)}
}

// judged is what apply comes to, or a breach that what is missing cannot mend.
func (j *judge) judged(t *target) (*Assessment, []string) {
	a, missing := j.apply(t)
	if missing != nil {
		if broken := j.brokenSoFar(t, missing); broken != nil {
			return broken, nil
		}
	}
	return a, missing
}

// apply judges one subject: an assessment, or what is missing for one, or
// neither where the rule is not for it.
func (j *judge) apply(t *target) (a *Assessment, missing []string) {
	c := j.rule.compiled
	if c.where != nil {
		where := c.where.Eval(&j.scene.reader)
		switch {
		case where.Missing != nil:
			return nil, append(where.Missing, j.alsoMissing()...)
		case where.Failure != "":
			return j.failed(t, where.Failure), nil
		case !where.Flag:
			return nil, nil
		}
	}
	if c.require != nil {
		return j.required(t, c.require.Eval(&j.scene.reader))
	}
	if c.measure == nil || c.limit == nil {
		return nil, nil
	}
	measure, limit := c.measure.Eval(&j.scene.reader), c.limit.Eval(&j.scene.reader)
	switch {
	case measure.Missing != nil || limit.Missing != nil:
		return nil, append(measure.Missing, limit.Missing...)
	case measure.Failure != "":
		return j.failed(t, measure.Failure), nil
	case limit.Failure != "":
		return j.failed(t, limit.Failure), nil
	}
	return j.measured(t, measure.Number, limit.Number), nil
}

// alsoMissing is what the rule would miss where it is not known whether it is for
// the subject: all that it may want is told at once.
func (j *judge) alsoMissing() (missing []string) {
	c := j.rule.compiled
	for _, p := range []*expression.Program{c.measure, c.limit, c.require} {
		if p != nil {
			missing = append(missing, p.Eval(&j.scene.reader).Missing...)
		}
	}
	return missing
}

// An outcome is an assessment with room for all that it points to, so that it is
// made in one piece.
type outcome struct {
	Assessment
	measure, margin Value
	limit           Limit
	headroom        float64
}

// outcome is one of the rule and a subject, with nothing come out yet.
func (j *judge) outcome(t *target) *outcome {
	o := &outcome{Assessment: Assessment{Rule: j.rule, Subject: t.Subject, Grade: j.rule.Grade, Remedy: j.rule.Remedy}}
	o.At, o.Path = j.place(t)
	return o
}

// required judges a yes/no rule.
func (j *judge) required(t *target, o expression.Outcome) (*Assessment, []string) {
	switch {
	case o.Missing != nil:
		return nil, o.Missing
	case o.Failure != "":
		return j.failed(t, o.Failure), nil
	}
	a := &j.outcome(t).Assessment
	a.Holds, a.Finding = o.Flag, !o.Flag
	if a.Finding {
		j.tell(a)
	}
	return a, nil
}

// failed is a finding about facts that let nothing be computed: never a pass.
func (j *judge) failed(t *target, failure string) *Assessment {
	a := &j.outcome(t).Assessment
	a.Finding = true
	j.tell(a)
	a.Message = "cannot be judged: " + failure + " (" + a.Message + ")"
	return a
}

// negligible is the share of a measure and limit below which their difference is
// what rounding leaves, and no margin.
const negligible = 1e-9

// measured judges a measure against its limit.
func (j *judge) measured(t *target, measure, limit float64) *Assessment {
	c, r := j.rule.compiled, j.rule
	margin := limit - measure
	if r.Sense == AtLeast {
		margin = -margin
	}
	if math.IsNaN(margin) || math.IsInf(margin, 0) {
		return j.failed(t, "the result is not finite")
	}
	if math.Abs(margin) <= negligible*max(math.Abs(measure), math.Abs(limit)) {
		margin = 0
	}
	o := j.outcome(t)
	o.measure = Value{measure, c.measure.Type.Dimension}
	o.limit = Limit{string(r.Sense), Value{limit, c.limit.Type.Dimension}}
	o.margin = Value{margin, c.margin}
	o.Measure, o.Limit, o.Margin = &o.measure, &o.limit, &o.margin
	o.Holds = margin >= 0
	o.Finding = !o.Holds
	if reserve := r.Reserve.size(limit); reserve > 0 {
		o.headroom = margin / reserve
		o.Headroom = &o.headroom
		if o.Holds && o.headroom < 1 {
			o.Finding, o.Grade = true, eaten(r.Grade)
		}
	}
	if o.Finding {
		j.tell(&o.Assessment)
	}
	return &o.Assessment
}

// eaten is the grade of a limit that holds with its reserve eaten.
func eaten(g Grade) Grade {
	if g == Critical {
		return Minor
	}
	return Observation
}

// place is where a finding points: the value in the spec that the rule read first
// on the subject itself, else the subject. A value that stands elsewhere, as of
// another part or in the catalogue, is told in the working.
func (j *judge) place(t *target) (specs.Span, string) {
	for _, f := range j.rule.compiled.own {
		from, _ := f.origin(j.scene.objects[f.variable])
		if from != nil && from.At.Line > 0 && from.At.File == t.at.File && t.holds(from.Key) {
			return from.At, from.Key
		}
	}
	return t.at, t.path
}
