package rules

import (
	"fmt"
	"math"
	"slices"

	"headroom/rules/expression"
	"headroom/rules/facts"
	"headroom/specs"
)

// The states of a concession.
const (
	covers   = "covers"
	expired  = "expired"
	exceeded = "exceeded" // a finding is worse than was accepted
	unused   = "unused"
)

// concede notes which findings the concessions of spec and project cover, and
// gives the concessions as subjects, each with its state.
func (b *Rulebook) concede(c *facts.Circuit, j *Judgement, s Settings) []*facts.Concession {
	var all []*facts.Concession
	if c.Spec != nil {
		for i := range c.Spec.Concessions {
			k := &c.Spec.Concessions[i]
			if !b.counts(k) {
				continue
			}
			state, why := apply(k, j, s)
			if state == unused && (s.Partial || !b.applied(k.Rule.Value, s)) {
				continue // what it covers was not looked for
			}
			all = append(all, concessionFact(k, i, state, why))
		}
	}
	if s.Project != nil {
		for i := range s.Project.Concessions {
			k := &s.Project.Concessions[i]
			if !b.counts(k) {
				continue
			}
			if state, why := apply(k, j, s); state != unused { // it may serve another circuit
				all = append(all, concessionFact(k, i, state, why))
				j.Used = append(j.Used, &Suppression{Concession: k})
			}
		}
	}
	return all
}

// counts tells whether a concession covers anything at all: one that is misspelt, or
// that is of what cannot be conceded, covers nothing, rather than more than was
// meant; that has been told.
func (b *Rulebook) counts(k *specs.Concession) bool {
	return readable(k) && b.notConcedable(k) == ""
}

// readable tells whether a concession says what it covers and until when.
func readable(k *specs.Concession) bool {
	for _, t := range []specs.Text{k.Subject, k.Case, k.DownTo} {
		if !t.Given() && t.At.Line > 0 {
			return false
		}
	}
	return k.Rule.Given() && k.Until.Given() && k.By.Given() && k.Because.Given()
}

// notConcedable says why a concession cannot be given; "" where it can.
func (b *Rulebook) notConcedable(k *specs.Concession) string {
	r := b.Rule(k.Rule.Value)
	switch {
	case r == nil:
		return ""
	case r.For == problemKind:
		return r.ID + " cannot be conceded: what is wrong with a file is mended, not accepted"
	case r.Gathers != "":
		return r.ID + " cannot be conceded: what was not judged cannot be accepted; give the keys that it names, or list the rules that do not apply under not_applicable in the project file"
	case r.For == concessionKind:
		return r.ID + " cannot be conceded: it tells of concessions themselves"
	case !k.Subject.Given() && k.Subject.At.Line == 0 && r.For != "circuit" && r.For != "fluid":
		return fmt.Sprintf("a concession of %s needs its subject: without one it would cover every %s, also those still to come", r.ID, r.For)
	}
	return ""
}

// applied tells whether a rule is there and was applied in this run.
func (b *Rulebook) applied(id string, s Settings) bool {
	r := b.Rule(id)
	return r != nil && (s.Only == nil || s.Only(r))
}

// apply notes the findings that a concession covers, and gives its state and, in
// words, why that is so.
func apply(k *specs.Concession, j *Judgement, s Settings) (state, why string) {
	state = unused
	for _, f := range j.Findings {
		switch {
		case !matches(k, f.Rule, f.Subject):
		case s.Today != "" && s.Today > k.Until.Value:
			return expired, fmt.Sprintf("%s gave it until %s", k.By.Value, k.Until.Value)
		case !reaches(k, f):
			state, why = exceeded, shortfall(k, f)
		default:
			f.Conceded = k
			if state == unused {
				state = covers
			}
		}
	}
	if state == unused {
		why = noUse(k, j)
	}
	return state, why
}

func matches(k *specs.Concession, r *Rule, s Subject) bool {
	return k.Rule.Value == r.ID &&
		(!k.Subject.Given() || k.Subject.Value == s.Name) &&
		(!k.Case.Given() || k.Case.Value == s.Case)
}

// reaches tells whether a finding is no worse than its concession goes. How bad one is
// that was judged without all there is, is not known.
func reaches(k *specs.Concession, f *Assessment) bool {
	if !k.DownTo.Given() {
		return true
	}
	if f.Without != nil {
		return false
	}
	worst, known := floor(k, f)
	if !known {
		return false
	}
	better := worst - f.Measure.SI
	if f.Rule.Sense == AtLeast {
		better = -better
	}
	return better >= -negligible*max(math.Abs(worst), math.Abs(f.Measure.SI))
}

// floor is the worst measure of a finding that a concession covers; false where the
// finding has no measure, or one of another dimension.
func floor(k *specs.Concession, f *Assessment) (float64, bool) {
	if f.Measure == nil {
		return 0, false
	}
	worst, err := readLimit(k.DownTo.Value, expression.Type{Form: expression.Number, Dimension: f.Measure.Dimension})
	return worst.number, err == nil
}

// shortfall tells by how much a finding is worse than what was accepted.
func shortfall(k *specs.Concession, f *Assessment) string {
	worst, known := floor(k, f)
	if !known {
		return fmt.Sprintf("down to %s was accepted, and %s has no such measure", k.DownTo.Value, f.Subject)
	}
	texts := alike(f.Measure, &Value{worst, f.Measure.Dimension})
	if f.Without != nil {
		return fmt.Sprintf("%s was accepted at worst, until %s, and %s has %s or worse, for want of %s", texts[1], k.Until.Value, f.Subject, texts[0], list(f.Without))
	}
	return fmt.Sprintf("%s was accepted at worst, until %s, and %s has %s", texts[1], k.Until.Value, f.Subject, texts[0])
}

// noUse tells why nothing is found that a concession could cover: what it is about
// holds, was not assessed, or is no subject of the rule.
func noUse(k *specs.Concession, j *Judgement) string {
	var names []string
	for _, a := range j.Assessments {
		if matches(k, a.Rule, a.Subject) {
			return "what it covers holds"
		}
		if a.Rule.ID == k.Rule.Value {
			names = append(names, a.Subject.Name)
		}
	}
	for _, u := range j.NotAssessed {
		if matches(k, u.Rule, u.Subject) {
			return "what it covers is not assessed, for want of " + list(u.Missing)
		}
		if u.Rule.ID == k.Rule.Value {
			names = append(names, u.Subject.Name)
		}
	}
	switch {
	case len(names) == 0:
		return "the rule has no subject in this circuit"
	case !k.Subject.Given():
		return "the rule has no such subject in case " + k.Case.Value
	case slices.Contains(names, k.Subject.Value):
		return fmt.Sprintf("the rule does not judge %s in case %s", k.Subject.Value, k.Case.Value)
	}
	slices.Sort(names)
	return fmt.Sprintf("the rule has no subject %s%s", k.Subject.Value, like(k.Subject.Value, slices.Compact(names)))
}

// Stale tells of a project's concessions and exceptions that nothing matched in any
// of the circuits below it, given those that were used.
func (b *Rulebook) Stale(p *specs.Project, used map[Suppression]bool, s Settings) *Judgement {
	c := &facts.Circuit{}
	for i := range p.Concessions {
		k := &p.Concessions[i]
		if !used[Suppression{Concession: k}] && b.counts(k) && b.applied(k.Rule.Value, s) {
			c.Concessions = append(c.Concessions, concessionFact(k, i, unused, "no circuit of this project has a finding that it covers"))
		}
	}
	for i := range p.NotApplicable {
		n := &p.NotApplicable[i]
		if !used[Suppression{NotApplicable: n}] && n.Because.Given() && b.applied(n.Rule.Value, s) {
			k := &specs.Concession{At: n.At, Rule: n.Rule, Subject: n.Subject}
			why := "in no circuit of this project is there what it excuses"
			if rule := b.Rule(n.Rule.Value); rule.Grade != Critical && (s.Demand == nil || !s.Demand(rule)) {
				why = "only critical rules need an excuse, and those that --demand names: " + rule.ID + " is " + rule.Grade.String()
			}
			f := concessionFact(k, i, unused, "it stands under not_applicable, and "+why)
			f.Path = fmt.Sprintf("not_applicable[%d]", i)
			c.Concessions = append(c.Concessions, f)
		}
	}
	j := &Judgement{}
	limits, _ := b.limitsFor(nil, p)
	b.applyAll(j, c, limits, s, func(r *Rule) bool { return r.For == concessionKind })
	j.settle(c)
	return j
}

func concessionFact(k *specs.Concession, index int, state, why string) *facts.Concession {
	text := func(t specs.Text, key string) facts.Text {
		return facts.Text{Value: t.Value, Known: t.Given(), From: &facts.Origin{At: t.At, Key: fmt.Sprintf("concessions[%d].%s", index, key)}}
	}
	from := &facts.Origin{At: k.At}
	return &facts.Concession{
		At: k.At, Index: index,
		State: facts.Text{Value: state, Known: true, From: from}, Detail: facts.Text{Value: why, Known: true, From: from},
		Rule: text(k.Rule, "rule"), Subject: text(k.Subject, "subject"),
		Until: text(k.Until, "until"), By: text(k.By, "by"), DownTo: text(k.DownTo, "down_to"),
	}
}

// checkConcessions complains about concessions of rules that do not exist or cannot
// be conceded, and of a worst measure that is none of the rule's.
func (b *Rulebook) checkConcessions(r *resolver, all []specs.Concession) {
	for i := range all {
		k := &all[i]
		b.known(r, k.Rule)
		if why := b.notConcedable(k); why != "" {
			r.wrong("spec.shape", k.Rule.At, k.Rule.Key, "%s", why)
			continue
		}
		rule := b.Rule(k.Rule.Value)
		if rule == nil || !k.DownTo.Given() {
			continue
		}
		measure := b.compile(rule).measure
		if measure == nil {
			r.wrong("spec.shape", k.DownTo.At, k.DownTo.Key, "%s has no measure; leave down_to out", rule.ID)
			continue
		}
		if _, err := readLimit(k.DownTo.Value, measure.Type); err != nil {
			r.wrong("spec.unit", within(k.DownTo.At, k.DownTo.Value, err), k.DownTo.Key, "%s", err)
		}
	}
}
