package rules

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"headroom/rules/facts"
	"headroom/specs"
)

// settle puts a judgement in order: ids, sorting, verdict.
func (j *Judgement) settle(c *facts.Circuit) {
	identify(c.Whole.Name.Value, j.Assessments, j.Findings)
	slices.SortStableFunc(j.Assessments, tighter)
	slices.SortStableFunc(j.Findings, graver)
	slices.SortStableFunc(j.NotAssessed, func(x, y *Unassessed) int {
		return cmp.Or(cmp.Compare(y.Rule.Grade, x.Rule.Grade), cmp.Compare(x.Rule.ID, y.Rule.ID), x.Subject.compare(y.Subject))
	})
	j.Verdict = verdict(c, j)
}

// excuse notes the project's reasons for what need not be assessed, and gives those
// of them that excused something which had to be: a rule that nobody demands needs no
// excuse.
func excuse(unassessed []*Unassessed, p *specs.Project) (used []*Suppression) {
	if p == nil {
		return nil
	}
	for i := range p.NotApplicable {
		n, matched := &p.NotApplicable[i], false
		everywhere := !n.Subject.Given() && n.Subject.At.Line == 0 // not misspelt
		for _, u := range unassessed {
			if n.Rule.Value == u.Rule.ID && (everywhere || n.Subject.Given() && n.Subject.Value == u.Subject.Name) {
				u.Excused, matched = n.Because.Value, matched || u.Must
			}
		}
		if matched {
			used = append(used, &Suppression{NotApplicable: n})
		}
	}
	return used
}

func (s Subject) compare(t Subject) int {
	return cmp.Or(cmp.Compare(s.Kind, t.Kind), cmp.Compare(s.Name, t.Name), cmp.Compare(s.Case, t.Case))
}

// tighter sorts margins, tightest first: those with headroom by it, then those
// without by the margin's share of the limit, then the yes and no.
func tighter(a, b *Assessment) int {
	return cmp.Or(
		cmp.Compare(a.rank(), b.rank()),
		cmp.Compare(a.tightness(), b.tightness()),
		cmp.Compare(a.Rule.ID, b.Rule.ID), a.Subject.compare(b.Subject), comparePlaces(a.At, b.At))
}

// rank tells headrooms from margins without one, and both from yes and no.
func (a *Assessment) rank() int {
	switch {
	case a.Headroom != nil:
		return 0
	case a.Margin != nil:
		return 1
	}
	return 2
}

// tightness is the headroom, or the margin's share of the limit's size.
func (a *Assessment) tightness() float64 {
	switch {
	case a.Headroom != nil:
		return *a.Headroom
	case a.Margin == nil || a.Margin.SI == 0:
		return 0
	}
	return a.Margin.SI / math.Abs(a.Limit.Value.SI)
}

// graver sorts findings: by grade; then what is wrong with the file, in its order,
// before what may follow from it; then as margins are.
func graver(a, b *Assessment) int {
	order := cmp.Or(cmp.Compare(b.Grade, a.Grade), cmp.Compare(a.cause(), b.cause()))
	if order == 0 && a.cause() == 0 {
		order = comparePlaces(a.At, b.At)
	}
	return cmp.Or(order, tighter(a, b))
}

// cause tells what is wrong with a file, which comes first, from all that may follow.
func (a *Assessment) cause() int {
	if a.Subject.Kind == problemKind {
		return 0
	}
	return 1
}

func comparePlaces(a, b specs.Span) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
}

// gathered makes one finding per subject of the critical rules that could not be
// assessed. Those that want nothing but the simulation, or cases that did not come to
// their end, or nothing but values that the file has been found to have wrong, are
// gathered on the circuit.
func (b *Rulebook) gathered(c *facts.Circuit, unassessed []*Unassessed) []*Assessment {
	type heap struct {
		finding *Assessment
		of      []*Unassessed
	}
	var heaps []*heap
	bySubject := map[Subject]*heap{}
	known, told := mistakes(c.Problems), unrun(c)
	for _, u := range unassessed {
		if !u.Must || u.Excused != "" {
			continue
		}
		subject, at := u.Subject, u.At
		if told.explain(u.Missing) || known.explain(u.Missing) {
			subject, at = Subject{Kind: "circuit", Name: c.Whole.Name.Value}, c.Whole.At
		}
		h := bySubject[subject]
		if h == nil {
			h = &heap{finding: &Assessment{Rule: b.gatherer, Subject: subject, Finding: true, Grade: b.gatherer.Grade, At: at, Remedy: b.gatherer.Remedy}}
			bySubject[subject] = h
			heaps = append(heaps, h)
		}
		h.of = append(h.of, u)
	}
	var all []*Assessment
	for _, h := range heaps {
		h.finding.Message, h.finding.Gathered = gatheredMessage(h.of, known), h.of
		all = append(all, h.finding)
	}
	return all
}

// An unrunSet is what is missing for want of nothing but cases that have run.
type unrunSet map[string]bool

// unrun is what cases that did not come to their end leave missing: each is told as
// such, by a rule of its own.
func unrun(c *facts.Circuit) unrunSet {
	set := unrunSet{facts.Simulation: true}
	for _, k := range c.Cases {
		if k.Finished.Known && !k.Finished.Value {
			set[facts.Computed(k.Name.Value)], set[facts.Ended(k.Name.Value)] = true, true
		}
		if k.Settled.Known && !k.Settled.Value {
			set[facts.Settled(k.Name.Value)] = true
		}
	}
	return set
}

// explain tells whether all that is missing is for want of such cases.
func (s unrunSet) explain(missing []string) bool {
	return len(missing) > 0 && !slices.ContainsFunc(missing, func(key string) bool { return !s[key] })
}

// mistakes are the lines of a file's problems by their key path.
type mistakes []*facts.Problem

// line is that of the problem which keeps the value at a key path from being read:
// a problem of the value, of what it stands in, of what stands in it, or of the
// catalogue entry that would give it; 0 for none.
func (m mistakes) line(key string) int {
	for _, p := range m {
		entry, from := strings.CutSuffix(p.Path, ".like")
		if p.Path == key || p.Path != "" && (stepsBelow(p.Path, key) || stepsBelow(key, p.Path)) || from && stepsBelow(entry, key) {
			return p.At.Line
		}
	}
	return 0
}

// stepsBelow tells whether one key path lies below another.
func stepsBelow(above, path string) bool {
	rest, below := strings.CutPrefix(path, above)
	return below && rest != "" && (rest[0] == '.' || rest[0] == '[')
}

// explain tells whether mistakes of the file account for all that is missing.
func (m mistakes) explain(missing []string) bool {
	return len(missing) > 0 && !slices.ContainsFunc(missing, func(key string) bool { return m.line(key) == 0 })
}

// wanted lists keys, those that the file has wrong with their line.
func (m mistakes) wanted(keys []string) string {
	words := make([]string, len(keys))
	for i, key := range keys {
		words[i] = key
		if line := m.line(key); line > 0 {
			words[i] += fmt.Sprintf(" (see line %d)", line)
		}
	}
	return strings.Join(words, ", ")
}

// gatheredMessage lists rules by the keys that they want.
func gatheredMessage(all []*Unassessed, known mistakes) string {
	rules, subjects := map[string][]string{}, map[[2]string]int{}
	seen := map[string]bool{}
	kind := "critical"
	for _, u := range all {
		if u.Rule.Grade != Critical {
			kind = "wanted"
		}
		wanted, id := known.wanted(u.Missing), u.Rule.ID
		seen[id] = true
		if subjects[[2]string{wanted, id}]++; subjects[[2]string{wanted, id}] == 1 {
			rules[wanted] = append(rules[wanted], id)
		}
	}
	message := fmt.Sprintf("%d %s rules are not assessed", len(seen), kind)
	if len(seen) == 1 {
		message = fmt.Sprintf("1 %s rule is not assessed", kind)
	}
	for i, wanted := range slices.Sorted(maps.Keys(rules)) {
		slices.Sort(rules[wanted])
		for k, id := range rules[wanted] {
			if n := subjects[[2]string{wanted, id}]; n > 1 {
				rules[wanted][k] = fmt.Sprintf("%s (%d times)", id, n)
			}
		}
		sign := ";"
		if i == 0 {
			sign = ","
		}
		message += fmt.Sprintf("%s for want of %s: %s", sign, wanted, strings.Join(rules[wanted], ", "))
	}
	return message
}

// identify gives every assessment and gathered finding its id: a fingerprint of
// what it is about, not of where it stands or what came out. Where several are
// about the same, they are told apart by their order.
func identify(circuit string, all ...[]*Assessment) {
	seen := map[string]int{}
	for _, a := range slices.Concat(all...) {
		if a.ID != "" {
			continue
		}
		about := strings.Join([]string{a.Rule.ID, circuit, a.Subject.Kind, a.Subject.Name, a.Subject.Case, a.Path}, "\x00")
		seen[about]++
		if n := seen[about]; n > 1 {
			about = fmt.Sprintf("%s\x00%d", about, n)
		}
		sum := sha256.Sum256([]byte(about))
		a.ID = hex.EncodeToString(sum[:6])
	}
}

// verdict is what a circuit comes to. One of which no rule of weight could be
// assessed does not hold.
func verdict(c *facts.Circuit, j *Judgement) Verdict {
	for _, f := range j.Findings {
		if f.Grade >= Major && f.Conceded == nil && f.Rule.Gathers == "" {
			return Broken
		}
	}
	for _, u := range j.NotAssessed {
		if u.Must && u.Excused == "" {
			return Incomplete
		}
	}
	weighed := slices.ContainsFunc(j.Assessments, func(a *Assessment) bool { return a.Rule.Grade >= Major })
	if len(c.Parts) == 0 || len(c.Cases) == 0 || !weighed {
		return Incomplete
	}
	return Holds
}
