package rules

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/rules/facts"
	"headroom/specs"
)

// judgePack has a rule of each sort.
const judgePack = `pack: j
about: a rule of each sort
limits:
  factor: 4
rules:
- {id: j.critical, title: t, for: part, where: part.kind != 'plug', measure: part.highest_pressure, at_most: part.rated_pressure, reserve: 5 %, grade: critical, basis: b, why: w, remedy: r, examples: []}
- {id: j.major, title: t, for: part, measure: part.hottest, at_most: part.rated_temperature_max, reserve: 10 K, grade: major, basis: b, why: w, remedy: r, examples: []}
- {id: j.factor, title: t, for: part, measure: part.burst_pressure / part.highest_pressure, at_least: limits.factor, reserve: none, grade: minor, basis: b, why: w, remedy: r, examples: []}
- {id: j.flag, title: t, for: part, require: part.relief_present, grade: observation, basis: b, why: w, remedy: r, examples: []}
- {id: j.case, title: t, for: node-in-case, measure: here.highest_pressure, at_most: q('300 bar'), reserve: none, grade: major, basis: b, why: w, remedy: r, examples: []}
- {id: j.gather, title: t, for: circuit, gathers: not-assessed, grade: major, basis: b, why: w, remedy: r}
`

const bar = 1e5

// A part in the tests' facts is made of what it is told: pressures in bar,
// temperatures in degrees Celsius; NaN for what is not known.
type given struct {
	name                                 string
	highest, rated, burst, hot, hotRated float64
	relief                               bool
}

var unknown = math.NaN()

// fact is a fact of a value, or an unknown one.
func factOfValue(value float64, from *facts.Origin) facts.Fact {
	if math.IsNaN(value) {
		return facts.Fact{}
	}
	return facts.Fact{Value: value, Known: true, From: from}
}

// mill is a circuit of some parts and one case.
func mill(parts ...given) *facts.Circuit {
	c := &facts.Circuit{Spec: &specs.Circuit{File: "mill.yaml"}}
	c.Whole = facts.Whole{Name: facts.Text{Value: "mill", Known: true}, At: specs.Span{File: "mill.yaml", Line: 2, Column: 1, EndLine: 2, EndColumn: 8}}
	c.Cases = []*facts.Case{{Name: facts.Text{Value: "run", Known: true}}}
	for i, g := range parts {
		line := 10 * (i + 1)
		at := func(offset int, key string) *facts.Origin {
			return &facts.Origin{At: specs.Span{File: "mill.yaml", Line: line + offset, Column: 5, EndLine: line + offset, EndColumn: 12}, Key: "parts." + g.name + "." + key}
		}
		seen := &facts.Origin{At: specs.Span{File: "mill.yaml", Line: line, Column: 3, EndLine: line, EndColumn: 7}, Case: "run", Time: 2.31, Timed: true, Node: "rail"}
		c.Parts = append(c.Parts, &facts.Part{
			At:                 specs.Span{File: "mill.yaml", Line: line, Column: 3, EndLine: line, EndColumn: 7},
			Name:               facts.Text{Value: g.name, Known: true},
			Kind:               facts.Text{Value: "hose", Known: true},
			HighestPressure:    factOfValue(g.highest*bar, seen),
			RatedPressure:      factOfValue(g.rated*bar, at(1, "rated.pressure")),
			BurstPressure:      factOfValue(g.burst*bar, at(2, "burst_pressure")),
			HottestTemperature: factOfValue(g.hot+273.15, seen),
			RatedMax:           factOfValue(g.hotRated+273.15, at(3, "rated.temperature.max")),
			ReliefPresent:      facts.Flag{Value: g.relief, Known: true, From: &facts.Origin{Note: "section gallery"}},
		})
	}
	return c
}

// sound is a part with which nothing is wrong.
var sound = given{"tube", 200, 250, 1000, 60, 100, true}

// line puts an assessment on one line.
func line(a *Assessment) string {
	headroom := "none"
	if a.Headroom != nil {
		headroom = fmt.Sprintf("%.4g", *a.Headroom)
	}
	margin := "none"
	if a.Margin != nil {
		margin = a.Margin.Dimension.Format(a.Margin.SI)
	}
	state := "held"
	switch {
	case a.Finding && a.Holds:
		state = "eaten " + a.Grade.String()
	case a.Finding:
		state = "broken " + a.Grade.String()
	}
	return fmt.Sprintf("%s %s: margin %s, headroom %s, %s", a.Rule.ID, a.Subject.Name, margin, headroom, state)
}

func lines(all []*Assessment) (texts []string) {
	for _, a := range all {
		texts = append(texts, line(a))
	}
	return texts
}

// TestMargins holds margin, headroom and finding of each sort of rule. The numbers
// are reckoned by hand: headroom = margin ÷ reserve.
func TestMargins(t *testing.T) {
	book := bookOf(t, judgePack)
	tests := []struct {
		name string
		part given
		want []string // tightest first
	}{
		{"comfortable", sound, []string{
			"j.critical tube: margin 50.0 bar, headroom 4, held",
			"j.major tube: margin 40.0 K, headroom 4, held",
			"j.factor tube: margin 1.00, headroom none, held",
			"j.flag tube: margin none, headroom none, held"}},
		{"at the limit", given{"tube", 250, 250, 1000, 100, 100, true}, []string{
			"j.critical tube: margin 0 bar, headroom 0, eaten minor",
			"j.major tube: margin 0 K, headroom 0, eaten observation",
			"j.factor tube: margin 0, headroom none, held",
			"j.flag tube: margin none, headroom none, held"}},
		{"reserve eaten", given{"tube", 240, 250, 1000, 95, 100, true}, []string{
			"j.major tube: margin 5.00 K, headroom 0.5, eaten observation",
			"j.critical tube: margin 10.0 bar, headroom 0.8, eaten minor",
			"j.factor tube: margin 0.167, headroom none, held",
			"j.flag tube: margin none, headroom none, held"}},
		{"reserve just kept", given{"tube", 237.5, 250, 1000, 90, 100, true}, []string{
			"j.critical tube: margin 12.5 bar, headroom 1, held",
			"j.major tube: margin 10.0 K, headroom 1, held",
			"j.factor tube: margin 0.211, headroom none, held",
			"j.flag tube: margin none, headroom none, held"}},
		{"broken", given{"tube", 262.5, 250, 1000, 110, 100, false}, []string{
			"j.critical tube: margin -12.5 bar, headroom -1, broken critical",
			"j.major tube: margin -10.0 K, headroom -1, broken major",
			"j.factor tube: margin -0.190, headroom none, broken minor",
			"j.flag tube: margin none, headroom none, broken observation"}},
		{"nothing divides", given{"tube", 0, 250, 1000, 60, 100, true}, []string{
			"j.major tube: margin 40.0 K, headroom 4, held",
			"j.critical tube: margin 250 bar, headroom 20, held",
			"j.factor tube: margin none, headroom none, broken minor",
			"j.flag tube: margin none, headroom none, held"}},
	}
	for _, test := range tests {
		j := book.Judge(mill(test.part), Settings{})
		if diff := cmp.Diff(test.want, lines(j.Assessments)); diff != "" {
			t.Errorf("%s:\n%s", test.name, diff)
		}
		if j.NotAssessed != nil {
			t.Errorf("%s: %d not assessed", test.name, len(j.NotAssessed))
		}
	}
}

// TestRounding holds that what rounding leaves is no broken limit, and that a
// billionth more is one.
func TestRounding(t *testing.T) {
	book := bookOf(t, judgePack)
	for _, test := range []struct {
		share float64
		holds bool
	}{{1, true}, {1 + 1e-12, true}, {1 + 1e-8, false}} {
		part := sound
		part.highest = part.rated * test.share
		for _, a := range book.Judge(mill(part), Settings{}).Assessments {
			if a.Rule.ID == "j.critical" && a.Holds != test.holds {
				t.Errorf("at %.12f of the limit: holds is %v", test.share, a.Holds)
			}
		}
	}
}

// TestNotFinite holds that no number that is not finite ever passes a limit.
func TestNotFinite(t *testing.T) {
	book := bookOf(t, judgePack)
	for _, value := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		c := mill(sound)
		c.Parts[0].BurstPressure.Value = value
		c.Parts[0].HighestPressure.Value = value
		j := book.Judge(c, Settings{})
		for _, a := range j.Assessments {
			if a.Holds && (a.Rule.ID == "j.factor" || a.Rule.ID == "j.critical") {
				t.Errorf("%s holds with a pressure of %g", a.Rule.ID, value)
			}
		}
		want := []string{"j.critical: a finite part.highest_pressure", "j.factor: a finite part.burst_pressure, a finite part.highest_pressure"}
		if got := wants(j); !slices.Equal(got, want) {
			t.Errorf("a pressure of %g: %q", value, got)
		}
	}
	const huge = "pack: h\nabout: x\nrules:\n- {id: h.h, title: t, for: part, measure: part.highest_pressure * 1e308 * 1e308 / q('1 bar'), at_least: 4, reserve: none, grade: major, basis: b, why: w, remedy: r, examples: []}\n"
	j := bookOf(t, huge).Judge(mill(sound), Settings{})
	if len(j.Findings) != 1 || !strings.Contains(j.Findings[0].Message, "not finite") || j.Verdict != Broken {
		t.Errorf("what is infinite comes to %v, %s", lines(j.Assessments), j.Verdict)
	}
}

func wants(j *Judgement) (texts []string) {
	for _, u := range j.NotAssessed {
		texts = append(texts, u.Rule.ID+": "+strings.Join(u.Missing, ", "))
	}
	return texts
}

// TestNotAssessed holds what is missing, by the key that would supply it, and what
// is made of it.
func TestNotAssessed(t *testing.T) {
	book := bookOf(t, judgePack)
	part := given{"clutch-hose", unknown, unknown, unknown, 60, 100, true}
	j := book.Judge(mill(part, sound), Settings{})
	want := []string{
		"j.critical: parts.clutch-hose.rated.pressure, simulation",
		"j.factor: parts.clutch-hose.burst_pressure, simulation",
	}
	if got := wants(j); !slices.Equal(got, want) {
		t.Errorf("%q is missing, not %q", got, want)
	}
	if len(j.Findings) != 1 {
		t.Fatalf("findings: %q", lines(j.Findings))
	}
	f := j.Findings[0]
	const message = "1 critical rule is not assessed, for want of parts.clutch-hose.rated.pressure, simulation: j.critical"
	if f.Rule.ID != "j.gather" || f.Grade != Major || f.Message != message || f.Subject != (Subject{Kind: "part", Name: "clutch-hose"}) || f.At.Line != 10 {
		t.Errorf("gathered as %s on %v, line %d: %s", f.Rule.ID, f.Subject, f.At.Line, f.Message)
	}
	if j.Verdict != Incomplete {
		t.Errorf("the verdict is %s", j.Verdict)
	}
}

// TestSimulationGathered holds that what wants the simulation alone is one finding.
func TestSimulationGathered(t *testing.T) {
	one, two := sound, sound
	one.highest, two.highest, two.name = unknown, unknown, "hose"
	j := bookOf(t, judgePack).Judge(mill(one, two), Settings{})
	if len(j.Findings) != 1 || j.Findings[0].Subject != (Subject{Kind: "circuit", Name: "mill"}) ||
		j.Findings[0].Message != "1 critical rule is not assessed, for want of simulation: j.critical (2 times)" {
		t.Errorf("gathered as %+v", j.Findings[0])
	}
}

// TestUnrunGathered holds that what wants a case that did not come to its end is one
// finding beside that case's own, and that another want stays on its subject.
func TestUnrunGathered(t *testing.T) {
	one, two := sound, sound
	two.name = "hose"
	c := mill(one, two)
	for _, p := range c.Parts {
		p.HighestPressure = facts.Fact{Missing: facts.Ended("run")}
	}
	for finished, want := range map[bool]string{false: "mill: 1 critical rule is not assessed, for want of an end of case run: j.critical (2 times)", true: "hose: 1 critical rule is not assessed, for want of an end of case run: j.critical"} {
		c.Cases = []*facts.Case{{Name: facts.Text{Value: "run", Known: true}, Finished: facts.Flag{Value: finished, Known: true}}}
		j := bookOf(t, judgePack).Judge(c, Settings{})
		if got := j.Findings[0].Subject.Name + ": " + j.Findings[0].Message; got != want {
			t.Errorf("finished %v: %s", finished, got)
		}
	}
}

// TestExcused holds that a reason in the project file stands for an assessment.
func TestExcused(t *testing.T) {
	book := bookOf(t, judgePack)
	part := sound
	part.rated = unknown
	for _, test := range []struct {
		rule, subject string
		want          Verdict
	}{
		{"j.critical", "", Holds}, {"j.critical", "tube", Holds}, {"j.critical", "hose", Incomplete}, {"j.factor", "", Incomplete},
	} {
		text := fmt.Sprintf("not_applicable: [{rule: %s, because: proved by test}]\n", test.rule)
		if test.subject != "" {
			text = fmt.Sprintf("not_applicable: [{rule: %s, subject: %s, because: proved by test}]\n", test.rule, test.subject)
		}
		j := book.Judge(mill(part), Settings{Project: specs.ReadProject("headroom.yaml", []byte(text))})
		if j.Verdict != test.want {
			t.Errorf("%s excused for %q: %s, not %s", test.rule, test.subject, j.Verdict, test.want)
		}
		if test.want == Holds && (j.NotAssessed[0].Excused != "proved by test" || len(j.Findings) > 0) {
			t.Errorf("%s excused for %q: excused by %q, %d findings", test.rule, test.subject, j.NotAssessed[0].Excused, len(j.Findings))
		}
	}
}

// TestVerdict holds what each kind of finding makes of a circuit.
func TestVerdict(t *testing.T) {
	book := bookOf(t, judgePack)
	with := func(change func(*given)) *facts.Circuit {
		part := sound
		change(&part)
		return mill(part)
	}
	noCase := mill(sound)
	noCase.Cases = nil
	tests := []struct {
		name string
		c    *facts.Circuit
		want Verdict
	}{
		{"sound", mill(sound), Holds},
		{"critical", with(func(g *given) { g.highest = 260 }), Broken},
		{"major", with(func(g *given) { g.hot = 101 }), Broken},
		{"minor", with(func(g *given) { g.burst = 700 }), Holds},
		{"observation", with(func(g *given) { g.relief = false }), Holds},
		{"reserve eaten", with(func(g *given) { g.highest = 249 }), Holds},
		{"critical missing", with(func(g *given) { g.rated = unknown }), Incomplete},
		{"major missing", with(func(g *given) { g.hotRated = unknown }), Holds},
		{"major, and critical missing", with(func(g *given) { g.rated, g.hot = unknown, 101 }), Broken},
		{"no parts", mill(), Incomplete},
		{"no cases", noCase, Incomplete},
		{"nothing", &facts.Circuit{}, Incomplete},
	}
	for _, test := range tests {
		if j := book.Judge(test.c, Settings{}); j.Verdict != test.want {
			t.Errorf("%s: %s, not %s", test.name, j.Verdict, test.want)
		}
	}
	weightless := Settings{Only: func(r *Rule) bool { return r.ID == "j.flag" }}
	if j := book.Judge(mill(sound), weightless); j.Verdict != Incomplete {
		t.Errorf("with nothing of weight assessed: %s", j.Verdict)
	}
}

// TestCoreNeverHoldsEmpty holds that an empty circuit never holds by the core packs.
func TestCoreNeverHoldsEmpty(t *testing.T) {
	book := mustCore(t)
	for _, c := range []*facts.Circuit{{}, {Spec: &specs.Circuit{}}, mill()} {
		if j := book.Judge(c, Settings{}); j.Verdict == Holds {
			t.Error("an empty circuit holds")
		}
	}
}

// TestOnly holds that a run may be of some rules alone.
func TestOnly(t *testing.T) {
	j := bookOf(t, judgePack).Judge(mill(sound), Settings{Only: func(r *Rule) bool { return r.ID == "j.factor" }})
	if len(j.Assessments) != 1 || j.Assessments[0].Rule.ID != "j.factor" {
		t.Errorf("assessed: %q", lines(j.Assessments))
	}
}

// TestPlaces holds where findings point: the value read first on the subject that
// the spec sets, else the subject.
func TestPlaces(t *testing.T) {
	book := bookOf(t, judgePack)
	want := map[string]string{
		"j.critical": "11 parts.tube.rated.pressure",
		"j.major":    "13 parts.tube.rated.temperature.max",
		"j.factor":   "12 parts.tube.burst_pressure",
		"j.flag":     "10 parts.tube",
	}
	for _, a := range book.Judge(mill(sound), Settings{}).Assessments {
		if got := fmt.Sprintf("%d %s", a.At.Line, a.Path); got != want[a.Rule.ID] {
			t.Errorf("%s points to %s, not %s", a.Rule.ID, got, want[a.Rule.ID])
		}
	}
	// A value of another part, or of the catalogue, is no place of the subject's own.
	elsewhere := mill(sound)
	p := elsewhere.Parts[0]
	p.HighestPressure.From.Key, p.HighestPressure.From.At.Line = "parts.tube-relief.cracking", 99
	p.RatedPressure.From.At.File = "catalogue/tube.yaml"
	for _, a := range book.Judge(elsewhere, Settings{}).Assessments {
		if a.Rule.ID == "j.critical" && (a.At.Line != 10 || a.Path != "parts.tube") {
			t.Errorf("j.critical points to line %d, %s", a.At.Line, a.Path)
		}
	}
}

// TestOrder holds the order of findings and of what is not assessed.
func TestOrder(t *testing.T) {
	parts := []given{{"b", 262.5, 250, 1000, 110, 100, true}, {"a", 275, 250, 900, 105, 100, false}, {"c", unknown, 250, unknown, 60, unknown, true}}
	j := bookOf(t, judgePack).Judge(mill(parts...), Settings{})
	var got []string
	for _, f := range j.Findings {
		got = append(got, f.Grade.String()+" "+f.Rule.ID+" "+f.Subject.Name)
	}
	want := []string{
		"critical j.critical a", "critical j.critical b",
		"major j.major b", "major j.major a", "major j.gather mill",
		"minor j.factor a", "minor j.factor b",
		"observation j.flag a",
	}
	if !slices.Equal(got, want) {
		t.Errorf("findings are told as %q, not %q", got, want)
	}
	got = nil
	for _, u := range j.NotAssessed {
		got = append(got, u.Rule.ID)
	}
	if want := []string{"j.critical", "j.major", "j.factor"}; !slices.Equal(got, want) {
		t.Errorf("not assessed are %q, not %q", got, want)
	}
}

// TestIDs holds that ids are of one run apart, and survive what is changed elsewhere.
func TestIDs(t *testing.T) {
	book := bookOf(t, judgePack)
	ids := func(c *facts.Circuit) map[string]string {
		all := map[string]string{}
		for _, a := range book.Judge(c, Settings{}).Assessments {
			if other, taken := all[a.ID]; taken {
				t.Errorf("%s is the id of %s and of %s", a.ID, other, line(a))
			}
			all[a.ID] = a.Rule.ID + " " + a.Subject.Name
		}
		return all
	}
	second := sound
	second.name = "hose"
	before := ids(mill(sound))
	worse := sound
	worse.highest, worse.relief = 300, false
	after := ids(mill(second, worse))
	for id, of := range before {
		if after[id] != of {
			t.Errorf("the id of %s is now of %q", of, after[id])
		}
	}
	twice := mill(sound, sound)
	twice.Parts[1].At = twice.Parts[0].At
	twice.Parts[1].BurstPressure.From = twice.Parts[0].BurstPressure.From
	if got := ids(twice); len(got) != 8 {
		t.Errorf("two parts of one name have %d ids", len(got))
	}
	for id := range before {
		if len(id) != 12 {
			t.Errorf("%s is no short id", id)
		}
	}
}

// TestSameBytes holds that the same facts come to the same judgement, byte for byte.
func TestSameBytes(t *testing.T) {
	book := mustCore(t)
	told := func() string {
		j := book.Judge(sampleCircuit(20), Settings{})
		var out strings.Builder
		for _, list := range [][]*Assessment{j.Assessments, j.Findings} {
			for _, a := range list {
				data, err := json.Marshal(struct {
					ID, Rule, Message string
					Subject           Subject
					Headroom          *float64
					Working           []Step
					At                specs.Span
				}{a.ID, a.Rule.ID, a.Message, a.Subject, a.Headroom, a.Working, a.At})
				if err != nil {
					t.Fatal(err)
				}
				out.Write(data)
			}
		}
		for _, u := range j.NotAssessed {
			fmt.Fprintln(&out, u.Rule.ID, u.Subject, u.Missing)
		}
		return out.String()
	}
	first := told()
	for range 5 {
		if told() != first {
			t.Fatal("two judgements of the same facts differ")
		}
	}
}

// TestInCase holds the subjects that are judged per case.
func TestInCase(t *testing.T) {
	c := mill(sound)
	node := &facts.Node{Name: facts.Text{Value: "rail", Known: true}}
	for _, name := range []string{"hot", "cold"} {
		k := &facts.Case{Name: facts.Text{Value: name, Known: true}}
		in := &facts.NodeInCase{Node: node, Case: k, At: specs.Span{File: "mill.yaml", Line: 3}}
		in.Here.HighestPressure = factOfValue(310*bar, &facts.Origin{Case: name, Time: 1.5, Timed: true})
		c.NodesInCase = append(c.NodesInCase, in)
	}
	j := bookOf(t, judgePack).Judge(c, Settings{})
	var got []string
	for _, f := range j.Findings {
		got = append(got, fmt.Sprintf("%s %s in %s: %s", f.Subject.Kind, f.Subject.Name, f.Subject.Case, f.Message))
	}
	want := []string{
		"node-in-case rail in cold: highest pressure 310 bar (1.50 s), at most 300 bar allowed",
		"node-in-case rail in hot: highest pressure 310 bar (1.50 s), at most 300 bar allowed",
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, not %q", got, want)
	}
}

// TestSpecLimitProblem holds that a limit set wrongly is a finding at its line.
func TestSpecLimitProblem(t *testing.T) {
	c := mill(sound)
	c.Spec = spec(t, "limits: {design_factors: grond}")
	found := false
	for _, f := range mustCore(t).Judge(c, Settings{}).Findings {
		if f.Rule.ID == "spec.reference" {
			found = f.At.Line == 7 && f.Message == "limits.design_factors has no set grond; did you mean ground?"
		}
	}
	if !found {
		t.Error("a set that does not exist is no finding at its place")
	}
}
