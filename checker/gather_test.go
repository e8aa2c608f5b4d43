package checker

import (
	"math"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// plain is an oil whose properties do not depend on pressure, without air.
const plain = `headroom: 1
circuit: small
fluid:
  family: HM
  density: 870 kg/m3
  expansion: 0.0007216 1/K
  viscosity: [[40 degC, 32 mm2/s], [100 degC, 5.4 mm2/s]]
  bulk_modulus: {value: 1.5 GPa, at: {temperature: 40 degC, pressure: 0 bar}}
  specific_heat: 1.95 kJ/kg/K
  free_air: 0 %
  max_temperature: 80 degC
`

// gather reads a small circuit of plain oil and gathers its facts. Its parts
// may leave out what a test does not need; anything else wrong with the spec
// is a slip of the test.
func gather(t testing.TB, text string) *facts.Circuit {
	t.Helper()
	return gatherOf(t, plain+text)
}

func gatherOf(t testing.TB, text string) *facts.Circuit {
	t.Helper()
	c := specs.Read("small.yaml", []byte(text))
	for _, p := range c.Problems {
		if p.Rule != "spec.missing" {
			t.Fatalf("%v", p)
		}
	}
	return Facts(c)
}

func partOf(t testing.TB, f *facts.Circuit, name string) *facts.Part {
	t.Helper()
	for _, p := range f.Parts {
		if p.Name.Value == name {
			return p
		}
	}
	t.Fatalf("no part %s", name)
	return nil
}

func nodeOf(t testing.TB, f *facts.Circuit, name string) *facts.Node {
	t.Helper()
	for _, n := range f.Nodes {
		if n.Name.Value == name {
			return n
		}
	}
	t.Fatalf("no node %s", name)
	return nil
}

func lineNamed(t testing.TB, f *facts.Circuit, name string) *facts.Line {
	t.Helper()
	for _, l := range f.Lines {
		if l.Name.Value == name {
			return l
		}
	}
	t.Fatalf("no line %s", name)
	return nil
}

// is checks a fact against a quantity as one would write it, to a relative
// tolerance; "" stands for a fact that is missing.
func is(t testing.TB, what string, f facts.Fact, want string, d quantity.Dimension, tolerance float64) {
	t.Helper()
	if want == "" {
		if f.Known {
			t.Errorf("%s is %v, want it missing", what, d.Format(f.Value))
		}
		return
	}
	v, err := quantity.Parse(want, d)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	switch {
	case !f.Known:
		t.Errorf("%s is missing (%s), want %s", what, f.Missing, want)
	case math.Abs(f.Value-v.SI) > tolerance*math.Abs(v.SI)+1e-12:
		t.Errorf("%s is %s, want %s", what, d.FormatAlike(f.Value, v.SI)[0], want)
	case f.From == nil:
		t.Errorf("%s does not say where it comes from", what)
	}
}

// lacks checks that a fact is missing and what would supply it.
func lacks(t testing.TB, what string, f facts.Fact, want string) {
	t.Helper()
	if f.Known || f.Missing != want {
		t.Errorf("%s: known %v, missing %q; want it missing for %q", what, f.Known, f.Missing, want)
	}
}

// notes checks what a fact says of how it came about.
func notes(t testing.TB, what string, f facts.Fact, want string) {
	t.Helper()
	if f.From == nil || !strings.Contains(f.From.Note, want) {
		t.Errorf("%s: %+v does not say %q", what, f.From, want)
	}
}

// replaced is a text with one thing in it changed; it must be there.
func replaced(text, old, new string) string {
	if !strings.Contains(text, old) {
		panic("the text has no " + old)
	}
	return strings.ReplaceAll(text, old, new)
}
