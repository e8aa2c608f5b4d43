package rules

import (
	"fmt"
	"math"

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
func (b *Rulebook) concede(c *facts.Circuit, findings []*Assessment, s Settings) []*facts.Concession {
	var all []*facts.Concession
	if c.Spec != nil {
		for i := range c.Spec.Concessions {
			k := &c.Spec.Concessions[i]
			if !readable(k) {
				continue
			}
			state := b.apply(k, findings, s)
			if state == unused && (s.Partial || !b.applied(k.Rule.Value, s)) {
				continue // what it covers was not looked for
			}
			all = append(all, concessionFact(k, i, state))
		}
	}
	if s.Project != nil {
		for i := range s.Project.Concessions {
			k := &s.Project.Concessions[i]
			if !readable(k) {
				continue
			}
			if state := b.apply(k, findings, s); state != unused { // it may serve another circuit
				all = append(all, concessionFact(k, i, state))
			}
		}
	}
	return all
}

// readable tells whether a concession says what it covers and until when. One that
// is misspelt covers nothing, rather than more than was meant; that has been told.
func readable(k *specs.Concession) bool {
	for _, t := range []specs.Text{k.Subject, k.Case, k.DownTo} {
		if !t.Given() && t.At.Line > 0 {
			return false
		}
	}
	return k.Rule.Given() && k.Until.Given() && k.By.Given() && k.Because.Given()
}

// applied tells whether a rule is there and was applied in this run.
func (b *Rulebook) applied(id string, s Settings) bool {
	r := b.Rule(id)
	return r != nil && (s.Only == nil || s.Only(r))
}

// apply notes the findings that a concession covers, and gives its state.
func (b *Rulebook) apply(k *specs.Concession, findings []*Assessment, s Settings) string {
	state := unused
	for _, f := range findings {
		switch {
		case !matches(k, f):
		case s.Today != "" && s.Today > k.Until.Value:
			return expired
		case !reaches(k, f):
			state = exceeded
		default:
			f.Conceded = k
			if state == unused {
				state = covers
			}
		}
	}
	return state
}

func matches(k *specs.Concession, f *Assessment) bool {
	return k.Rule.Value == f.Rule.ID &&
		(!k.Subject.Given() || k.Subject.Value == f.Subject.Name) &&
		(!k.Case.Given() || k.Case.Value == f.Subject.Case)
}

// reaches tells whether a finding is no worse than its concession goes.
func reaches(k *specs.Concession, f *Assessment) bool {
	if !k.DownTo.Given() {
		return true
	}
	if f.Measure == nil {
		return false
	}
	worst, err := readLimit(k.DownTo.Value, expression.Type{Form: expression.Number, Dimension: f.Measure.Dimension})
	if err != nil {
		return false
	}
	better := worst.number - f.Measure.SI
	if f.Rule.Sense == AtLeast {
		better = -better
	}
	return better >= -negligible*max(math.Abs(worst.number), math.Abs(f.Measure.SI))
}

func concessionFact(k *specs.Concession, index int, state string) *facts.Concession {
	text := func(t specs.Text, key string) facts.Text {
		return facts.Text{Value: t.Value, Known: t.Given(), From: &facts.Origin{At: t.At, Key: fmt.Sprintf("concessions[%d].%s", index, key)}}
	}
	return &facts.Concession{
		At: k.At, Index: index,
		State: facts.Text{Value: state, Known: true, From: &facts.Origin{At: k.At}},
		Rule:  text(k.Rule, "rule"), Subject: text(k.Subject, "subject"),
	}
}

// checkConcessions complains about concessions of rules that do not exist, and of
// a worst measure that is none of the rule's.
func (b *Rulebook) checkConcessions(r *resolver, all []specs.Concession) {
	for i := range all {
		k := &all[i]
		b.known(r, k.Rule)
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
