package rules

import (
	"testing"

	"headroom/rules/expression"
)

// TestPublishedFactors holds the design factors against their sources: of
// aircraft 14 CFR 25.1435(a)(1), table of proof and ultimate factors (seen); on
// the ground SAE J517 for hoses (seen), 2014/68/EU, annex I 7.4 for the proof of
// accumulators (from memory) and common practice.
func TestPublishedFactors(t *testing.T) {
	book := mustCore(t)
	scope := expression.Scope{Name: "a test", Roots: []string{limitsWord}}
	for _, test := range []struct {
		set, kind    string
		proof, burst float64
	}{
		{"aircraft", "tube", 1.5, 3},
		{"aircraft", "accumulator", 3, 4}, // gas vessel, high pressure
		{"aircraft", "reservoir", 1.5, 3}, // gas vessel, low pressure
		{"aircraft", "hose", 2, 4},
		{"aircraft", "cylinder", 1.5, 2}, // all other elements
		{"ground", "hose", 2, 4},
		{"ground", "tube", 1.5, 4},
		{"ground", "accumulator", 1.43, 4},
		{"ground", "cylinder", 1.5, 2.5},
	} {
		values, problems := book.limitsFor(spec(t, "limits: {design_factors: "+test.set+"}"), nil)
		if problems != nil {
			t.Fatal(problems)
		}
		for what, want := range map[string]float64{"proof": test.proof, "burst": test.burst} {
			read := "limits.design_factors." + what + "['" + test.kind + "']"
			program, wrong := book.vocabulary.Compile(read, scope)
			if wrong != nil {
				t.Fatal(wrong)
			}
			if got := program.Eval(&expression.Reader{Scene: &scene{limits: values}}).Number; got != want {
				t.Errorf("%s, %s of a %s: %g, not %g", test.set, what, test.kind, got, want)
			}
		}
	}
}

// TestPublishedReserves holds reserves that fluids keep against their sources, in SI: dissolved
// air 0.3 bar above the vapour (common practice), lowest use 10 K above the pour
// point (Rabie, Fluid Power Engineering, p. 45).
func TestPublishedReserves(t *testing.T) {
	book := mustCore(t)
	values, _ := book.limitsFor(spec(t, ""), nil)
	for name, want := range map[string]float64{"limits.vapour_reserve": 0.3e5, "limits.pour_point_reserve": 10} {
		if got := values.values[name]; got != expression.NumberOf(want) {
			t.Errorf("%s is %v, not %g", name, got, want)
		}
	}
}
