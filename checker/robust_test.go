package checker

import (
	"math"
	"slices"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// Whatever is left out of a spec, simulating it neither panics nor makes facts of
// what is no number, and what is missing says what would supply it.
func TestSimulatedWithAnythingLeftOut(t *testing.T) {
	for name, text := range map[string]string{"press": press, "launch": launch, "store": store} {
		whole := plain + text
		cut := []string{whole, plain, ""}
		lines := strings.SplitAfter(whole, "\n")
		for i := range lines {
			cut = append(cut, strings.Join(append(append([]string(nil), lines[:i]...), lines[i+1:]...), ""))
		}
		for _, piece := range strings.FieldsFunc(text, func(r rune) bool { return r == '{' || r == '}' || r == '\n' }) {
			for _, entry := range strings.Split(piece, ", ") {
				if strings.Contains(entry, ": ") {
					cut = append(cut, strings.Replace(whole, entry, "note: x", 1))
				}
			}
		}
		for _, one := range cut {
			f := SimulatedFacts(specs.Read(name+".yaml", []byte(one)), Asked{InARow: 2, Strokes: map[string]int{"ram": 1, "release": 1}})
			each(f, func(subject, fact string, value any) {
				if v, is := value.(facts.Fact); is && v.Known && (math.IsNaN(v.Value) || math.IsInf(v.Value, 0) || v.From == nil || v.From.At.Line < 1) {
					t.Errorf("%s\n%s: %s is %v from %v", one, subject, fact, v.Value, v.From)
				}
			})
			for _, k := range f.Cases {
				if !k.Finished.Known && k.Finished.Missing == "" {
					t.Errorf("%s\nno word why %s was not finished", one, k.Name.Value)
				}
			}
		}
	}
}

// What panics while cases are simulated side by side reaches who asked for it, after
// all of them have ended: a fault of one spec does not end the program.
func TestFaultsOfJobs(t *testing.T) {
	done := make([]bool, 40)
	jobs := make([]func(), len(done))
	for i := range jobs {
		jobs[i] = func() {
			done[i] = true
			if i == 7 || i == 20 {
				panic(i)
			}
		}
	}
	defer func() {
		if fault := recover(); fault != 7 {
			t.Errorf("recovered %v", fault)
		}
		if slices.Contains(done, false) {
			t.Errorf("not all jobs are done: %v", done)
		}
	}()
	inParallel(jobs)
}
