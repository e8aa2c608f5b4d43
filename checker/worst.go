package checker

import (
	"math"

	"headroom/checker/network"
	"headroom/rules/facts"
)

// A moment is a value that a case came to, and when.
type moment struct {
	value float64
	time  float64
	timed bool
	node  string
	note  string
}

// when is an extreme as a moment.
func when(e network.Extreme) moment { return moment{value: e.Value, time: e.Time, timed: true} }

// emptied is a pressure (Pa absolute) at which there is oil at all: where a
// chamber is drawn out faster than oil comes, the equations go on below nothing.
func emptied(e network.Extreme) network.Extreme {
	return network.Extreme{Value: max(0, e.Value), Time: e.Time}
}

// most is the extreme of a range that is farther from zero, its sign left out.
func most(r *network.Range) moment {
	if math.Abs(r.Lowest.Value) > math.Abs(r.Highest.Value) {
		return moment{value: math.Abs(r.Lowest.Value), time: r.Lowest.Time, timed: true}
	}
	return moment{value: math.Abs(r.Highest.Value), time: r.Highest.Time, timed: true}
}

// A search looks for the worst that a subject comes to over all cases. One case
// of which nothing can be told leaves the worst unknown, but for what the others
// come to so far.
type search struct {
	from   facts.Origin // the subject
	lowest bool         // it is the lowest value that is worst
	warmth bool         // it takes temperatures that have settled
	only   func(*caseView) bool
}

// worst is the worst over the cases that have the value; unset where none has.
func (s *survey) worst(q search, of func(r *run) (moment, bool)) facts.Fact {
	if len(s.runs) == 0 {
		return missing("cases")
	}
	x := extreme{lowest: q.lowest}
	for c := range s.runs {
		r := &s.runs[c]
		if q.only != nil && !q.only(r.view) {
			continue
		}
		if f := s.inCase(q, r, of); f.Known || f.Missing != "" {
			x.add(f)
		}
	}
	return x.fact()
}

// An extreme gathers the highest of some facts, or the lowest.
type extreme struct {
	lowest bool
	top    facts.SoFar // of no meaning while it is from nowhere
	short  bool        // one is not known
	lacks  string      // by the first such
}

// add takes one more fact into account: the first of several that are alike counts.
func (x *extreme) add(f facts.Fact) {
	so := facts.SoFar{Value: f.Value, From: f.From}
	if !f.Known {
		if !x.short {
			x.short, x.lacks = true, f.Missing
		}
		if f.SoFar == nil || f.SoFar.AtMost != x.lowest {
			return
		}
		so = *f.SoFar
	}
	if x.top.From == nil || (so.Value < x.top.Value) == x.lowest && so.Value != x.top.Value {
		x.top = so
	}
}

// fact is the extreme. Where one of the facts is not known it is missing for want of
// what that one lacks, and the others are what it comes to so far; it is unset for none.
func (x *extreme) fact() facts.Fact {
	switch {
	case !x.short:
		return facts.Fact{Value: x.top.Value, Known: x.top.From != nil, From: x.top.From}
	case x.top.From == nil:
		return facts.Fact{Missing: x.lacks}
	}
	return facts.Fact{Missing: x.lacks, SoFar: &facts.SoFar{Value: x.top.Value, AtMost: x.lowest, From: x.top.From}}
}

// A trend tells whether what is reckoned from a fact rises or falls with it.
type trend bool

const (
	rising  trend = true
	falling trend = false
)

// reckoned is what a law makes of a fact that is known, and of what is known so far of
// one that is missing. Over all that the fact can be, it must keep to its trend.
func reckoned(from facts.Fact, t trend, law func(known facts.Fact) facts.Fact) facts.Fact {
	if from.Known {
		return law(from)
	}
	f := unknown(from)
	if so := from.SoFar; so != nil {
		if to := law(facts.Fact{Value: so.Value, Known: true, From: so.From}); to.Known {
			f.SoFar = &facts.SoFar{Value: to.Value, AtMost: so.AtMost == bool(t), From: to.From}
		}
	}
	return f
}

// unknown is what another fact that is missing leaves missing: what is known of that
// says nothing of it.
func unknown(f facts.Fact) facts.Fact { return facts.Fact{Missing: f.Missing} }

// inCase is the value in one case; unset where it has none.
func (s *survey) inCase(q search, r *run, of func(r *run) (moment, bool)) facts.Fact {
	if r.lacks != "" {
		return missing(r.lacks)
	}
	if q.warmth && r.hot != "" {
		return missing(r.hot)
	}
	m, has := of(r)
	if !has || math.IsNaN(m.value) {
		return facts.Fact{}
	}
	o := q.from
	o.Case, o.Time, o.Timed, o.Node = r.view.spec.Name, m.time, m.timed, m.node
	if m.note != "" {
		o.Note = m.note
	}
	return s.known(m.value, o)
}

// highestOf reads the highest of a part's reading.
func highestOf(part int, name string) func(r *run) (moment, bool) {
	return func(r *run) (moment, bool) {
		if v := r.reading(part, name); v != nil {
			return when(v.Highest), true
		}
		return moment{}, false
	}
}

// lowestOf reads the lowest of a part's reading.
func lowestOf(part int, name string) func(r *run) (moment, bool) {
	return func(r *run) (moment, bool) {
		if v := r.reading(part, name); v != nil {
			return when(v.Lowest), true
		}
		return moment{}, false
	}
}

// mostOf reads the greatest size of a part's reading.
func mostOf(part int, name string) func(r *run) (moment, bool) {
	return func(r *run) (moment, bool) {
		if v := r.reading(part, name); v != nil {
			return most(&v.Range), true
		}
		return moment{}, false
	}
}

// or is a fact, or what else it lacks where no case has it.
func or(f facts.Fact, lacks string) facts.Fact {
	if !f.Known && f.Missing == "" {
		return missing(lacks)
	}
	return f
}

// partOrigin is a part as the subject of what was simulated. It names no key:
// what was simulated stands nowhere in the spec.
func (s *survey) partOrigin(i int) facts.Origin { return facts.Origin{At: s.spec.Parts[i].Base().At} }
