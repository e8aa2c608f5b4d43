package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/rules/expression"
	"headroom/specs"
)

// limitsPack declares limits of every form.
const limitsPack = `pack: house
about: limits of every form
limits:
  share: 10 %
  count: 3
  gap: 0.2 bar diff
  fluid: {cold: 10 K, name: mineral, checked: true}
  velocity: {return: 3 m/s, suction: 1.2 m/s}
  factors:
    choose: ground
    ground: {burst: {hose: 4, tube: 4, others: 2.5}, proof: 2}
    aircraft: {burst: {hose: 4, others: 2}, proof: 1.5}
  mass: {no_default: kg}
  pressure: {no_default: bar}
  strokes: {no_default: number, per: part}
  at_rest: {no_default: text, per: part, kinds: [friction-pack], one_of: [clamped, released]}
`

func bookOf(t testing.TB, texts ...string) *Rulebook {
	t.Helper()
	var packs []*Pack
	var problems []specs.Problem
	for i, text := range texts {
		packs, problems = addPack(packs, problems, fmt.Sprintf("pack-%d.yaml", i), []byte(text))
	}
	if problems != nil {
		t.Fatal(problems)
	}
	book, _ := assemble(packs)
	return book
}

// spec is a circuit with two parts and limits of its own.
func spec(t testing.TB, limits string) *specs.Circuit {
	t.Helper()
	text := "headroom: 1\ncircuit: mill\ntitle: Mill\nparts:\n  pump: {kind: pump}\n  clutch: {kind: friction-pack}\n" + limits
	return specs.Read("mill.yaml", []byte(text))
}

// TestLimitValues holds the limits that a spec comes to.
func TestLimitValues(t *testing.T) {
	tests := []struct{ name, limits, read, want string }{
		{"default", "", "limits.share", "0.1"},
		{"default count", "", "limits.count", "3"},
		{"word", "", "limits.fluid.name", "mineral"},
		{"flag", "", "limits.fluid.checked", "true"},
		{"override", "limits: {share: 12 %}", "limits.share", "0.12"},
		{"override of a count", "limits: {count: 4}", "limits.count", "4"},
		{"override below a group", "limits: {fluid: {cold: 5 K, name: ester, checked: false}}", "limits.fluid.cold", "5"},
		{"override of a word", "limits: {fluid: {name: ester}}", "limits.fluid.name", "ester"},
		{"override of a flag", "limits: {fluid: {checked: false}}", "limits.fluid.checked", "false"},
		{"another unit", "limits: {velocity: {return: 12 ft/s}}", "limits.velocity.return", "3.6576"},
		{"by name", "limits: {velocity: {return: 2 m/s}}", "limits.velocity['return']", "2"},
		{"default set", "", "limits.factors.burst.hose + limits.factors.proof", "6"},
		{"set", "limits: {factors: aircraft}", "limits.factors.burst['tube'] + limits.factors.proof", "3.5"},
		{"set with a change", "limits: {factors: {choose: aircraft, burst: {others: 2.2}}}", "limits.factors.burst['tube']", "2.2"},
		{"change of the default set", "limits: {factors: {burst: {hose: 5}}}", "limits.factors.burst.hose", "5"},
		{"another part kind", "limits: {factors: {burst: {pump: 3}}}", "limits.factors.burst['pump']", "3"},
		{"others", "", "limits.factors.burst['pump']", "2.5"},
		{"no default", "", "limits.mass", "missing limits.mass"},
		{"no default, set", "limits: {mass: 9.5 kg}", "limits.mass", "9.5"},
		{"gauge pressure", "limits: {pressure: 2 bar}", "limits.pressure", "200000"},
		{"per part, none", "", "limits.strokes['clutch']", "missing limits.strokes"},
		{"per part", "limits: {strokes: {clutch: 3}}", "limits.strokes['clutch']", "3"},
		{"per part, another", "limits: {strokes: {clutch: 3}}", "limits.strokes['pump']", "missing limits.strokes.pump"},
		{"per part, in", "limits: {strokes: {clutch: 3}}", "'pump' in limits.strokes", "false"},
		{"per part, has", "", "has(limits.strokes)", "false"},
		{"per part, a word", "limits: {at_rest: {clutch: clamped}}", "limits.at_rest['clutch']", "clamped"},
	}
	book := bookOf(t, limitsPack)
	scope := expression.Scope{Name: "a test", Roots: []string{limitsWord}}
	for _, test := range tests {
		program, wrong := book.vocabulary.Compile(test.read, scope)
		if wrong != nil {
			t.Errorf("%s: %v", test.name, wrong)
			continue
		}
		values, problems := book.limitsFor(spec(t, test.limits), nil)
		if problems != nil {
			t.Errorf("%s: %v", test.name, problems)
		}
		o := program.Eval(&expression.Reader{Scene: &scene{limits: values}})
		if got := shown(program.Type, o); got != test.want {
			t.Errorf("%s: %s is %s, not %s", test.name, test.read, got, test.want)
		}
	}
}

func shown(form expression.Type, o expression.Outcome) string {
	switch {
	case o.Missing != nil:
		return "missing " + strings.Join(o.Missing, ", ")
	case form.Form == expression.Number:
		return fmt.Sprintf("%.7g", o.Number)
	case form.Form == expression.Flag:
		return fmt.Sprint(o.Flag)
	}
	return o.Text
}

// TestLimitProblems holds what is said of limits that a spec sets wrongly.
func TestLimitProblems(t *testing.T) {
	tests := []struct{ limits, want string }{
		{"{shares: 12 %}", "spec.unknown-key shares: limits has no shares; did you mean share?"},
		{"{velocity: {retrun: 2 m/s}}", "spec.unknown-key retrun: limits.velocity has no retrun; did you mean return?"},
		{"{share: 12 bar}", "spec.unit bar: bar is a pressure; a plain number is needed here, such as 0.5 or 50 %"},
		{"{mass: 9.5}", "spec.unit 9.5: 9.5 has no unit; a mass is needed here, such as kg, g or lb"},
		{"{mass: 9.5 kq}", "spec.unit kq: unknown unit kq; a mass is needed here, such as kg, g or lb"},
		{"{pressure: 2 bar abs}", "spec.unit 2 bar abs: a gauge pressure is needed here; leave out abs"},
		{"{fluid: {checked: perhaps}}", "spec.unit perhaps: true or false is needed here"},
		{"{velocity: 2 m/s}", "spec.shape 2 m/s: limits.velocity is a group of limits: return and suction"},
		{"{share: {return: 2 m/s}}", "spec.shape share: limits.share is a single value, a number"},
		{"{factors: grond}", "spec.reference grond: limits.factors has no set grond; did you mean ground?"},
		{"{factors: {choose: grond}}", "spec.reference grond: limits.factors has no set grond; did you mean ground?"},
		{"{factors: {burst: {hosse: 4}}}", "spec.unknown-key hosse: limits.factors.burst has no hosse; did you mean hose?"},
		{"{strokes: 3}", "spec.shape 3: limits.strokes needs a value for each part, such as {clutch-cylinder: 3}"},
		{"{strokes: {cluch: 3}}", "spec.reference cluch: there is no part cluch; did you mean clutch?"},
		{"{strokes: {clutch: {a: 3}}}", "spec.shape clutch: limits.strokes.clutch needs a single value, a number"},
		{"{at_rest: {pump: clamped}}", "spec.reference pump: limits.at_rest is for parts of the kind friction-pack; pump is a pump; there is clutch"},
		{"{at_rest: {cluch: clamped}}", "spec.reference cluch: there is no part cluch; did you mean clutch?"},
		{"{at_rest: {clutch: engaged}}", "spec.reference engaged: limits.at_rest.clutch cannot be engaged; there is clamped and released"},
		{"{at_rest: {clutch: clampd}}", "spec.reference clampd: limits.at_rest.clutch cannot be clampd; did you mean clamped?"},
	}
	book := bookOf(t, limitsPack)
	for _, test := range tests {
		c := spec(t, "limits: "+test.limits)
		_, problems := book.limitsFor(c, nil)
		var got []string
		for _, p := range problems {
			line := strings.Split(string(c.Source), "\n")[p.At.Line-1]
			got = append(got, fmt.Sprintf("%s %s: %s", p.Rule, line[p.At.Column-1:p.At.EndColumn-1], p.Message))
		}
		if diff := cmp.Diff([]string{test.want}, got); diff != "" {
			t.Errorf("%s:\n%s", test.limits, diff)
		}
	}
}

// TestLimitPrecedence holds that a spec goes over a project file, that over a
// later pack, and that over an earlier one.
func TestLimitPrecedence(t *testing.T) {
	const earlier = "pack: one\nabout: a\nlimits: {a: 1, b: 1, c: 1, d: 1, velocity: {x: 1 m/s}}\n"
	const later = "pack: two\nabout: b\nlimits: {b: 2, c: 2, d: 2, velocity: {y: 2 m/s}}\n"
	book := bookOf(t, earlier, later)
	project := specs.ReadProject("headroom.yaml", []byte("limits: {c: 3, d: 3}\n"))
	if p := book.CheckProject(project); p != nil {
		t.Fatal(p)
	}
	values, _ := book.limitsFor(spec(t, "limits: {d: 4}"), project)
	for name, want := range map[string]float64{"a": 1, "b": 2, "c": 3, "d": 4, "velocity.x": 1, "velocity.y": 2} {
		if got := values.values["limits."+name]; got != expression.NumberOf(want) {
			t.Errorf("limits.%s is %v, not %g", name, got, want)
		}
	}
	for name, want := range map[string]string{"a": "pack-0.yaml", "b": "pack-1.yaml", "c": "headroom.yaml", "d": "mill.yaml"} {
		if got := values.origins["limits."+name].At.File; got != want {
			t.Errorf("limits.%s is said to come from %s, not %s", name, got, want)
		}
	}
}

// TestLimitsTwice holds what is said of packs whose limits do not fit together.
func TestLimitsTwice(t *testing.T) {
	tests := []struct{ limits, want string }{
		{"{share: 3 bar}", "limits.share is a pressure here, and a number in house.yaml:4"},
		{"{share: {a: 1}}", "limits.share is a group here, and a number in house.yaml:4"},
		{"{velocity: 3 m/s}", "limits.velocity is a velocity here, and a group in house.yaml:8"},
		{"{factors: {a: 3}}", "limits.factors is a group here, and a choice of sets in house.yaml:9"},
		{"{strokes: 3}", "limits.strokes is a number here, and a number for each part in house.yaml:15"},
	}
	packs, _ := addPack(nil, nil, "house.yaml", []byte(limitsPack))
	for _, test := range tests {
		_, problems := addPack(packs, nil, "other.yaml", []byte("pack: other\nabout: x\nlimits: "+test.limits+"\n"))
		if len(problems) != 1 || problems[0].Message != test.want || problems[0].At.Line != 3 {
			t.Errorf("%s: %v, not %s", test.limits, problems, test.want)
		}
	}
}

// TestCheckProject holds what is said of a project file's limits and rules.
func TestCheckProject(t *testing.T) {
	const text = `limits: {shares: 3, strokes: {anything: 2}}
not_applicable:
- {rule: house.return-velocty, because: x}
- {rule: house.return-velocity, because: x}
concessions:
- {rule: lines.velocity, until: 2027-01-01, by: x, because: y}
`
	book := bookOf(t, house, "pack: two\nabout: b\nlimits: {share: 1, strokes: {no_default: number, per: part}}\n")
	var got []string
	for _, p := range book.CheckProject(specs.ReadProject("headroom.yaml", []byte(text))) {
		got = append(got, fmt.Sprintf("%d:%d %s", p.At.Line, p.At.Column, p.Message))
	}
	want := []string{
		"1:10 limits has no shares; did you mean share?",
		"3:10 there is no rule house.return-velocty; did you mean house.return-velocity?",
		"6:10 there is no rule lines.velocity; there is house.return-velocity",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
}
