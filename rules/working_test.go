package rules

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// oneRule is a pack of one rule for parts that judges in a way of its own.
func oneRule(judges string) string {
	return `pack: w
about: one rule
limits:
  factors: {hose: 4, others: 2.5}
  share: 1.1
  left: {no_default: number}
rules:
- id: w.rule
  title: What is judged
  for: part
  ` + judges + `
  grade: major
  basis: b
  why: w
  remedy: r
  examples: []
`
}

// TestMessages holds what a finding says of its working.
func TestMessages(t *testing.T) {
	tests := []struct{ name, judges, want string }{
		{"a quotient", "measure: part.burst_pressure / part.highest_pressure\n  at_least: limits.factors[part.kind]\n  reserve: none",
			"burst pressure 620 bar ÷ highest pressure 214 bar (hill-start, 2.31 s, at rail) = 2.90, at least 4.00 needed"},
		{"a fact against a fact", "measure: part.highest_pressure\n  at_most: part.rated_pressure\n  reserve: none",
			"highest pressure 214 bar (hill-start, 2.31 s, at rail), at most 210 bar allowed (rated pressure)"},
		{"digits enough to tell them apart", "measure: part.highest_pressure\n  at_most: q('213.97 bar')\n  reserve: none",
			"highest pressure 214.00 bar (hill-start, 2.31 s, at rail), at most 213.97 bar allowed"},
		{"a limit with its circumstances", "measure: part.rated_pressure\n  at_most: part.highest_pressure - q('10 bar diff')\n  reserve: none",
			"rated pressure 210 bar, at most 204 bar allowed (highest pressure 214 bar (hill-start, 2.31 s, at rail) − 10.0 bar)"},
		{"a limit from a case", "measure: part.burst_pressure\n  at_most: part.highest_pressure\n  reserve: none",
			"burst pressure 620 bar, at most 214 bar allowed (highest pressure, hill-start, 2.31 s, at rail)"},
		{"a limit with a working", "measure: part.highest_pressure_with_surge\n  at_most: limits.share * part.rated_pressure\n  reserve: none",
			"highest pressure with surge 250 bar (valve shuts in 5 ms), at most 231 bar allowed (1.10 × rated pressure 210 bar)"},
		{"a sum", "measure: part.highest_pressure + q('20 bar diff') - (part.burst_pressure - part.rated_pressure)\n  at_most: q('-180 bar')\n  reserve: none",
			"highest pressure 214 bar (hill-start, 2.31 s, at rail) + 20.0 bar − (burst pressure 620 bar − rated pressure 210 bar) = -176 bar, at most -180 bar allowed"},
		{"a product of a sum", "measure: 2 * (part.rated_pressure - q('10 bar')) / q('1 bar')\n  at_most: 300\n  reserve: none",
			"2 × (rated pressure 210 bar − 10.0 bar) ÷ 1.00 bar = 400, at most 300 allowed"},
		{"a choice", "measure: part.highest_pressure\n  at_most: \"part.kind == 'hose' ? q('200 bar') : q('300 bar')\"\n  reserve: none",
			"highest pressure 214 bar (hill-start, 2.31 s, at rail), at most 200 bar allowed"},
		{"a choice of facts", "measure: \"part.protects_hose ? part.rated_pressure : part.burst_pressure\"\n  at_most: q('200 bar')\n  reserve: none",
			"burst pressure 620 bar, at most 200 bar allowed"},
		{"the greatest", "measure: max(part.rated_pressure, part.highest_pressure)\n  at_most: q('200 bar')\n  reserve: none",
			"the greatest of rated pressure 210 bar and highest pressure 214 bar (hill-start, 2.31 s, at rail) = 214 bar, at most 200 bar allowed"},
		{"reserve eaten", "measure: part.rated_pressure\n  at_least: q('205 bar')\n  reserve: 10 %",
			"rated pressure 210 bar, at least 205 bar needed; held, with 5.00 bar left of a reserve of 20.5 bar"},
		{"counts", "measure: part.strokes_after_pump_loss\n  at_least: 3\n  reserve: none",
			"strokes after pump loss 2, at least 3 needed"},
		{"a flag", "require: part.relief_present", "relief valve present: no (section gallery)"},
		{"flags", "require: part.relief_present || part.protects_hose", "relief valve present: no (section gallery); protects hose: no"},
		{"a flag that decided", "require: part.relief_present && part.protects_hose", "relief valve present: no (section gallery)"},
		{"a text", "require: part.kind != 'hose'", "kind: hose"},
		{"another's fact", "require: part.kind != 'hose' && fluid.family == 'HM' || fluid.family == 'HL'", "kind: hose; fluid family: HM"},
		{"what it says", "require: part.relief_present\n  says: \"{part.name} is a {part.kind} of {part.rated_pressure}, with {part.miner_sum}\"",
			"clutch-hose is a hose of 210 bar, with not known"},
	}
	for _, test := range tests {
		j := bookOf(t, oneRule(test.judges)).Judge(hillStart(), Settings{})
		if len(j.Findings) != 1 {
			t.Errorf("%s: %d findings, %q missing", test.name, len(j.Findings), wants(j))
			continue
		}
		if got := j.Findings[0].Message; got != test.want {
			t.Errorf("%s is told as\n%s, not\n%s", test.name, got, test.want)
		}
	}
}

// hillStart is a circuit of one hose.
func hillStart() *facts.Circuit {
	c := mill(given{"clutch-hose", 214, 210, 620, 60, 100, false})
	p := c.Parts[0]
	p.HighestPressure.From.Case = "hill-start"
	p.HighestSurge = facts.Fact{Value: 250e5, Known: true, From: &facts.Origin{Note: "valve shuts in 5 ms"}}
	p.ProtectsHose = facts.Flag{Known: true}
	p.StrokesAfterLoss = facts.Fact{Value: 2, Known: true}
	c.Fluid.Family = facts.Text{Value: "HM", Known: true}
	return c
}

// TestOverriddenLimit holds that the line which set a limit is told.
func TestOverriddenLimit(t *testing.T) {
	const judges = "measure: part.burst_pressure / part.highest_pressure\n  at_least: limits.factors[part.kind]\n  reserve: none"
	c := hillStart()
	c.Spec = specs.Read("buggy.yaml", []byte("headroom: 1\nlimits:\n  factors: {hose: 5}\n"))
	f := bookOf(t, oneRule(judges)).Judge(c, Settings{}).Findings[0]
	const want = "burst pressure 620 bar ÷ highest pressure 214 bar (hill-start, 2.31 s, at rail) = 2.90, at least 5.00 needed (limits.factors.hose, buggy.yaml line 3)"
	if f.Message != want {
		t.Errorf("told as\n%s, not\n%s", f.Message, want)
	}
}

// TestWorking holds the steps of a finding: each fact once, in order of reading,
// with its origin.
func TestWorking(t *testing.T) {
	const judges = "measure: part.burst_pressure / part.highest_pressure + part.burst_pressure / part.rated_pressure\n" +
		"  at_least: \"part.relief_present ? 9 : 2 * limits.factors[part.kind]\"\n  reserve: none"
	f := bookOf(t, oneRule(judges)).Judge(hillStart(), Settings{}).Findings[0]
	var got []string
	for _, s := range f.Working {
		value := s.Text
		if s.Value != nil {
			value = s.Value.Dimension.Format(s.Value.SI)
		}
		from := ""
		if s.Origin != nil {
			from = fmt.Sprintf("%s line %d %s", s.Origin.Key, s.Origin.At.Line, s.Origin.Case)
		}
		got = append(got, strings.TrimSpace(fmt.Sprintf("%s (%s) = %s: %s", s.Fact, s.Label, value, from)))
	}
	want := []string{
		"part.burst_pressure (burst pressure) = 620 bar: parts.clutch-hose.burst_pressure line 12",
		"part.highest_pressure (highest pressure) = 214 bar:  line 10 hill-start",
		"part.rated_pressure (rated pressure) = 210 bar: parts.clutch-hose.rated.pressure line 11",
		"part.relief_present (relief valve present) = no:  line 0",
		"part.kind (kind) = hose:",
		"limits.factors.hose (limits.factors.hose) = 4.00: limits.factors.hose line 4",
	}
	if !slices.Equal(got, want) {
		t.Errorf("the steps are\n%s\nnot\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// TestExplain holds what is told of a rule on its subjects: held, skipped, not assessed.
func TestExplain(t *testing.T) {
	book := bookOf(t, judgePack)
	hose, plug := given{"hose", unknown, 250, 1000, 60, 100, true}, sound
	plug.name = "plug"
	c := mill(sound, hose, plug)
	c.Parts[2].Kind.Value = "plug"
	all := book.Explain(book.Rule("j.critical"), c, Settings{}, "")
	if len(all) != 3 {
		t.Fatalf("%d explanations", len(all))
	}
	if a := all[0].Assessment; a == nil || !a.Holds || a.Finding || a.ID == "" || len(a.Working) != 2 ||
		a.Message != "highest pressure 200 bar (run, 2.31 s, at rail), at most 250 bar allowed (rated pressure)" {
		t.Errorf("held: %+v", a)
	}
	if u := all[1].NotAssessed; u == nil || !slices.Equal(u.Missing, []string{"simulation"}) {
		t.Errorf("not assessed: %+v", u)
	}
	if got := all[2].Skipped; got != "kind plug ≠ plug" {
		t.Errorf("skipped: %q", got)
	}
	one := book.Explain(book.Rule("j.critical"), c, Settings{}, "hose")
	if len(one) != 1 || one[0].Subject.Name != "hose" {
		t.Errorf("of one subject: %+v", one)
	}
	judged := book.Judge(c, Settings{}).Assessments
	if i := slices.IndexFunc(judged, func(a *Assessment) bool { return a.ID == all[0].Assessment.ID }); i < 0 {
		t.Error("an explanation has an id of its own")
	}
}
