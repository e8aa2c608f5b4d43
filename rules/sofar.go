package rules

import (
	"math"

	"headroom/rules/expression"
)

// This file judges by what is known so far of facts that are missing, such as the
// highest pressure of those cases that are known. Only a breach comes of that, and only
// one that what is not known cannot mend.

// brokenSoFar is the breach of a rule that lacks facts, judged by what is known so far
// of them; nil where it holds by that, or might hold were all known.
func (j *judge) brokenSoFar(t *target, missing []string) *Assessment {
	some := false
	for _, name := range missing {
		some = some || j.scene.known(name) != nil
	}
	if !some {
		return nil
	}
	without := j.supply(t, missing)
	j.scene.soFar = true
	defer func() { j.scene.soFar = false }()
	a, _ := j.apply(t)
	if a == nil || a.Holds || !j.staysBroken() {
		return nil
	}
	a.Without = without
	a.Message += "; broken even without " + list(without)
	return a
}

// staysBroken tells whether a rule that is broken by what is known so far stays so,
// and its subject one that it is for, wherever the facts that are missing may lie.
func (j *judge) staysBroken() bool {
	c := j.rule.compiled
	if c.where != nil && j.drift(c.where)&falls != 0 {
		return false
	}
	if c.require != nil {
		return j.drift(c.require)&rises == 0
	}
	margin := j.drift(c.limit) | j.drift(c.measure).reversed()
	if j.rule.Sense == AtLeast {
		margin = margin.reversed()
	}
	return margin&rises == 0
}

// A drift is where a value may yet go from what it comes to by the facts known so far.
// A condition rises where it may yet come true, and falls where it may cease to be.
type drift uint8

const (
	rises drift = 1 << iota
	falls
	stays  drift = 0
	either       = rises | falls
)

func (d drift) reversed() drift { return d&rises<<1 | d&falls>>1 }

// times is the drift of a value by a factor that stays.
func (d drift) times(factor float64) drift {
	switch {
	case factor > 0:
		return d
	case factor < 0:
		return d.reversed()
	}
	return stays
}

func (j *judge) drift(p *expression.Program) drift { return j.scene.drift(p.Trace(&j.scene.reader)) }

// drift is that of a step of a working. What comes to no number may go anywhere.
func (s *scene) drift(n *expression.Node) drift {
	if n.Value.Failure != "" || math.IsNaN(n.Value.Number) || math.IsInf(n.Value.Number, 0) {
		return either
	}
	if n.Kind == expression.Call && n.Name == "has" {
		return s.hasDrift(n.Args[0].Name)
	}
	if so := s.known(n.Name); so != nil && n.Kind == expression.Read {
		if so.AtMost {
			return falls
		}
		return rises
	}
	of, all := make([]drift, len(n.Args)), stays
	for i, arg := range n.Args {
		of[i] = s.drift(arg)
		all |= of[i]
	}
	last := len(of) - 1
	switch {
	case all == stays:
		return stays
	case n.Kind == expression.Choice && of[0] == stays:
		return of[last]
	case n.Kind == expression.Call && n.Name != "abs":
		return all // min, max and clamp go with each of their terms
	case n.Kind != expression.Operator:
		return either
	}
	switch n.Name {
	case "&&", "||":
		if n.Args[last].Value.Flag == (n.Name == "||") {
			return of[last] // it alone decides
		}
		return all
	case "+":
		return all
	case "!":
		return all.reversed()
	case "-":
		if last == 0 {
			return all.reversed()
		}
		return of[0] | of[1].reversed()
	case ">", ">=":
		return of[0] | of[1].reversed()
	case "<", "<=":
		return of[0].reversed() | of[1]
	case "*":
		return product(n.Args[0].Value.Number, n.Args[1].Value.Number, of[0], of[1])
	case "/":
		return quotient(n.Args[0].Value.Number, n.Args[1].Value.Number, of[0], of[1])
	}
	return either
}

// hasDrift is that of whether a fact is known: one that is missing may yet be.
func (s *scene) hasDrift(name string) drift {
	if f := factNamed[name]; f != nil && f.read(s.objects[f.variable], false) == f.missing {
		return either
	}
	return stays
}

func product(a, b float64, ofA, ofB drift) drift {
	switch {
	case ofB == stays:
		return ofA.times(b)
	case ofA == stays:
		return ofB.times(a)
	}
	return either
}

// quotient is the drift of a/b, where b does not come nearer to zero.
func quotient(a, b float64, ofA, ofB drift) drift {
	switch {
	case ofB == stays:
		return ofA.times(b)
	case ofA == stays && (b > 0 && ofB == rises || b < 0 && ofB == falls):
		return ofB.reversed().times(a)
	}
	return either
}
