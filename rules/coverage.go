package rules

import (
	"fmt"
	"slices"
	"strings"

	"headroom/specs"
)

// A Coverage is what was judged of a circuit, and by what: silence is not a pass.
type Coverage struct {
	Rules []RuleCoverage  // in the book's order
	Parts []ThingCoverage // in the spec's order, as nodes and cases
	Nodes []ThingCoverage
	Cases []ThingCoverage
}

// A RuleCoverage is on how many subjects a rule was assessed. One with none has no
// subject in the circuit that it is for.
type RuleCoverage struct {
	Rule        *Rule
	Assessed    int
	NotAssessed int
	Missing     []string // the keys that would supply it, where it was not assessed
}

// A ThingCoverage is by which rules a part, node or case was judged.
type ThingCoverage struct {
	Name   string
	By     []string // ids of rules assessed on it, each once, in the book's order
	Wanted []string // of those that could not be
}

// Coverage tells what a judgement covers of a circuit. The rules are those that
// Settings left in force.
func (b *Rulebook) Coverage(c *specs.Circuit, j *Judgement, s Settings) *Coverage {
	v := &Coverage{}
	things := map[string]*ThingCoverage{}
	lay := func(section string, into *[]ThingCoverage, names []string) {
		*into = make([]ThingCoverage, len(names))
		for i, name := range names {
			(*into)[i].Name = name
			things[section+"."+name] = &(*into)[i]
		}
	}
	lay("parts", &v.Parts, namesOf(c.Parts, func(p specs.Part) string { return p.Base().Name }))
	lay("nodes", &v.Nodes, namesOf(c.Nodes, func(n specs.Node) string { return n.Name }))
	lay("cases", &v.Cases, namesOf(c.Cases, func(k specs.Case) string { return k.Name }))
	rows := map[string]*RuleCoverage{}
	v.Rules = make([]RuleCoverage, 0, len(b.Rules))
	for _, r := range b.Rules {
		if s.Only == nil || s.Only(r) {
			v.Rules = append(v.Rules, RuleCoverage{Rule: r})
			rows[r.ID] = &v.Rules[len(v.Rules)-1]
		}
	}
	for _, a := range j.Assessments {
		if row := rows[a.Rule.ID]; row != nil {
			row.Assessed++
		}
		for _, about := range aboutOf(c, a.Subject, a.Path) {
			if t := things[about]; t != nil {
				t.By = append(t.By, a.Rule.ID)
			}
		}
	}
	for _, u := range j.NotAssessed {
		if row := rows[u.Rule.ID]; row != nil {
			row.NotAssessed++
			row.Missing = append(row.Missing, u.Missing...)
		}
		for _, about := range aboutOf(c, u.Subject, "") {
			if t := things[about]; t != nil {
				t.Wanted = append(t.Wanted, u.Rule.ID)
			}
		}
	}
	v.tidy(b)
	return v
}

func namesOf[T any](all []T, name func(T) string) []string {
	names := make([]string, len(all))
	for i, one := range all {
		names[i] = name(one)
	}
	return names
}

// tidy puts each list in order, each entry once.
func (v *Coverage) tidy(b *Rulebook) {
	place := make(map[string]int, len(b.Rules))
	for i, r := range b.Rules {
		place[r.ID] = i
	}
	inOrder := func(ids []string) []string {
		slices.SortFunc(ids, func(x, y string) int { return place[x] - place[y] })
		return slices.Compact(ids)
	}
	for _, things := range [][]ThingCoverage{v.Parts, v.Nodes, v.Cases} {
		for i := range things {
			things[i].By, things[i].Wanted = inOrder(things[i].By), inOrder(things[i].Wanted)
		}
	}
	for i := range v.Rules {
		slices.Sort(v.Rules[i].Missing)
		v.Rules[i].Missing = slices.Compact(v.Rules[i].Missing)
	}
}

// aboutOf lists the parts, nodes and cases that a subject is about: those it names,
// the case it is judged in, and what the value that it points to belongs to. What is wrong
// with the file, or with a concession, judges nothing of them.
func aboutOf(c *specs.Circuit, s Subject, path string) (about []string) {
	if s.Kind == problemKind || s.Kind == concessionKind {
		return nil
	}
	add := func(section, name string) { about = append(about, section+"."+name) }
	switch s.Kind {
	case "part", "line", "part-in-case":
		add("parts", s.Name)
	case "seal":
		part, _, _ := strings.Cut(s.Name, " ")
		add("parts", part)
	case "node", "node-in-case":
		add("nodes", s.Name)
	case "section", "trapped-volume":
		for name := range strings.SplitSeq(s.Name, ", ") {
			add("nodes", name)
		}
	case "case":
		add("cases", s.Name)
	case "expectation":
		about = append(about, watched(c, s, path)...)
	}
	if s.Case != "" {
		add("cases", s.Case)
	}
	if section, rest, ok := strings.Cut(path, "."); ok && (section == "parts" || section == "nodes" || section == "cases") {
		name, _, _ := strings.Cut(rest, ".")
		name, _, _ = strings.Cut(name, "[")
		add(section, name)
	}
	slices.Sort(about)
	return slices.Compact(about)
}

// watched lists the part and node that an expectation looks at: that of its key path,
// or else of its name.
func watched(c *specs.Circuit, s Subject, path string) (about []string) {
	k := c.Case(s.Case)
	if k == nil {
		return nil
	}
	for i := range k.Expects {
		e := &k.Expects[i]
		here := fmt.Sprintf("cases.%s.expects[%d]", s.Case, e.Index)
		if !strings.HasPrefix(path, here) && e.Name.Value != s.Name {
			continue
		}
		for _, part := range []specs.Text{e.Part, e.Pack} {
			if part.Given() {
				about = append(about, "parts."+part.Value)
			}
		}
		if e.Node.Given() {
			about = append(about, "nodes."+e.Node.Value)
		}
	}
	return about
}

// Covered is how many of some things were judged by a rule at least.
func Covered(things []ThingCoverage) (count int, none []string) {
	for _, t := range things {
		if len(t.By) > 0 {
			count++
		} else {
			none = append(none, t.Name)
		}
	}
	return count, none
}

// Counts tells how many rules were assessed on all of their subjects, on some, on
// none of them, and how many have none.
func (v *Coverage) Counts() (full, part, not, none int) {
	for i := range v.Rules {
		switch r := &v.Rules[i]; {
		case r.Assessed > 0 && r.NotAssessed == 0:
			full++
		case r.Assessed > 0:
			part++
		case r.NotAssessed > 0:
			not++
		default:
			none++
		}
	}
	return full, part, not, none
}
