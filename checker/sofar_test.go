package checker

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/rules/facts"
	"headroom/specs"
)

// notKnown are the ways in which nothing can be told of a case, or not how warm it is.
var notKnown = map[string]func(*run){
	"computed": func(r *run) { r.lacks = facts.Computed(r.view.spec.Name); r.hot = r.lacks },
	"settled":  func(r *run) { r.hot = facts.Settled(r.view.spec.Name) },
}

// notSoFar are facts over cases of which nothing is told while a case is not known: sums
// over cases, and what does not rise or fall with the worst of them alone.
var notSoFar = map[string]bool{
	"fluid life": true, "part heat_life": true, "part miner_sum": true,
	"part lowest_fill": true, "part highest_fill": true, "part collapse_drop": true, "part release_pressure": true,
	"seal gap_allowed": true, "node vapour_pressure_absolute": true, "trapped rise": true, "trapped pressure": true,
}

// What is known so far of an extreme, one case not known, is no farther out than where
// the extreme lies once all of them are; and it is just there where another case takes
// it there.
func TestSoFar(t *testing.T) {
	circuits := map[string]*specs.Circuit{"press": specs.Read("press.yaml", []byte(plain+press)), "store": specs.Read("store.yaml", []byte(plain+store))}
	for _, file := range demos(t) {
		if c := specs.Read(filepath.Base(file), read(t, file)); len(c.Parts) > 0 {
			circuits[filepath.Base(file)] = c
		}
	}
	for name, c := range circuits {
		t.Run(name, func(t *testing.T) {
			s := newSurvey(c)
			s.simulate()
			told := func(runs []run) map[string]facts.Fact {
				of := newSurvey(c)
				of.runs = runs
				return numbers(of.told())
			}
			whole := told(slices.Clone(s.runs))
			for i := range s.runs {
				for want, hide := range notKnown {
					runs := slices.Clone(s.runs)
					hide(&runs[i])
					hidden := s.runs[i].view.spec.Name
					for key, f := range told(runs) {
						all := whole[key]
						if f.SoFar == nil {
							kind, _, _ := strings.Cut(key, " ")
							if !notSoFar[kind+key[strings.LastIndex(key, " "):]] && !f.Known && all.Known && all.From.Case != hidden && f.Missing == runs[i].hot {
								t.Errorf("%s, %s not %s: nothing so far, and it is %v from %s", key, hidden, want, all.Value, all.From.Case)
							}
							continue
						}
						so := f.SoFar
						beyond := so.Value - all.Value
						if so.AtMost {
							beyond = -beyond
						}
						if f.Known || !all.Known || beyond > 0 || beyond < 0 && all.From.Case != hidden {
							t.Errorf("%s, %s not %s: %+v, and it is %v", key, hidden, want, *so, all.Value)
						}
					}
				}
			}
		})
	}
}

// An extreme keeps the first that is missing and the worst so far of those of its sense.
func TestExtreme(t *testing.T) {
	a, b := &facts.Origin{Case: "a"}, &facts.Origin{Case: "b"}
	soFar := func(value float64, atMost bool, from *facts.Origin, lacks string) facts.Fact {
		return facts.Fact{Missing: lacks, SoFar: &facts.SoFar{Value: value, AtMost: atMost, From: from}}
	}
	is := func(value float64, from *facts.Origin) facts.Fact {
		return facts.Fact{Value: value, Known: true, From: from}
	}
	for _, test := range []struct {
		name   string
		lowest bool
		of     []facts.Fact
		want   facts.Fact
	}{
		{"none", false, nil, facts.Fact{}},
		{"the highest", false, []facts.Fact{is(1, a), is(2, b)}, is(2, b)},
		{"the lowest", true, []facts.Fact{is(1, a), is(2, b)}, is(1, a)},
		{"the first of two alike", false, []facts.Fact{is(1, a), is(1, b)}, is(1, a)},
		{"one missing", false, []facts.Fact{is(1, a), missing("x"), missing("y")}, soFar(1, false, a, "x")},
		{"all missing", false, []facts.Fact{missing("x"), missing("y")}, missing("x")},
		{"known so far", true, []facts.Fact{is(2, a), soFar(1, true, b, "x")}, soFar(1, true, b, "x")},
		{"so far the other way", true, []facts.Fact{is(2, a), soFar(1, false, b, "x")}, soFar(2, true, a, "x")},
	} {
		x := extreme{lowest: test.lowest}
		for _, f := range test.of {
			x.add(f)
		}
		if diff := cmp.Diff(test.want, x.fact()); diff != "" {
			t.Errorf("%s: %s", test.name, diff)
		}
	}
}

// numbers are the facts of a circuit that are numbers.
func numbers(c *facts.Circuit) map[string]facts.Fact {
	all := map[string]facts.Fact{}
	each(c, func(subject, name string, fact any) {
		if f, is := fact.(facts.Fact); is {
			all[subject+" "+name] = f
		}
	})
	return all
}
