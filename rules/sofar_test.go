package rules

import (
	"strings"
	"testing"

	"headroom/rules/facts"
)

// away is what is missing of what a case that never settles would tell.
var away = facts.Settled("away")

// knownInPart is a circuit with a hose whose highest pressure is 214 bar so far, and whose
// burst pressure, as if it were the lowest of several, is 620 bar so far.
func knownInPart() *facts.Circuit {
	c := hillStart()
	for f, atMost := range map[*facts.Fact]bool{&c.Parts[0].HighestPressure: false, &c.Parts[0].BurstPressure: true} {
		*f = facts.Fact{Missing: away, SoFar: &facts.SoFar{Value: f.Value, AtMost: atMost, From: f.From}}
	}
	return c
}

// What is known so far breaks a rule where what is not known cannot mend that, and
// nothing else comes of it: neither a breach that may be mended, nor a pass.
func TestBrokenSoFar(t *testing.T) {
	const high, low = "part.highest_pressure", "part.burst_pressure" // 214 bar and more, 620 bar and less
	tests := []struct {
		judges string
		broken bool
	}{
		{"measure: " + high + "\n  at_most: q('210 bar')", true},
		{"measure: " + high + "\n  at_most: q('220 bar')", false},
		{"measure: " + high + "\n  at_least: q('220 bar')", false}, // it may yet come to that
		{"measure: " + low + "\n  at_least: q('630 bar')", true},
		{"measure: " + low + "\n  at_least: q('610 bar')", false},
		{"measure: " + low + "\n  at_most: q('610 bar')", false},
		{"measure: part.rated_pressure\n  at_least: " + high, true},
		{"measure: part.rated_pressure\n  at_most: " + low + " - q('500 bar diff')", true},
		{"measure: part.rated_pressure\n  at_most: " + high + " - q('100 bar diff')", false},
		{"measure: part.rated_pressure / " + high + "\n  at_least: 1", true},
		{"measure: part.rated_pressure / " + high + "\n  at_most: 0.5", false},
		{"measure: q('-210 bar') / " + high + "\n  at_most: -0.99", true},
		{"measure: q('-210 bar') / " + high + "\n  at_least: -0.5", false},
		{"measure: part.rated_pressure / " + low + "\n  at_most: 0.3", false}, // it may come to nothing, and past that
		{"measure: part.rated_pressure / (" + low + " - q('700 bar'))\n  at_least: 0", false},
		{"measure: part.rated_pressure / (q('200 bar') - " + high + ")\n  at_most: -16", true},
		{"measure: " + low + " / part.rated_pressure\n  at_least: 3", true},
		{"measure: " + low + " / (0.0 - 2)\n  at_most: q('-320 bar')", true},
		{"measure: " + low + " / (0.0 - 2)\n  at_least: q('-300 bar')", false},
		{"measure: " + high + " * 2\n  at_most: q('420 bar')", true},
		{"measure: 2 * " + high + "\n  at_most: q('420 bar')", true},
		{"measure: -2 * " + high + "\n  at_least: q('-420 bar')", true},
		{"measure: -2 * " + high + "\n  at_most: q('-430 bar')", false},
		{"measure: 0 * " + high + "\n  at_most: q('-1 bar')", true},
		{"measure: " + high + " / q('1 bar') * (" + low + " / q('1 bar'))\n  at_most: 3", false},
		{"measure: " + low + " / " + high + "\n  at_least: 4", false},
		{"measure: -(" + high + ")\n  at_least: q('-210 bar')", true},
		{"measure: part.rated_pressure - " + high + "\n  at_least: q('0 bar diff')", true},
		{"measure: " + low + " - " + high + "\n  at_least: q('500 bar diff')", true},
		{"measure: " + high + " - " + low + "\n  at_least: q('500 bar diff')", false},
		{"measure: (" + high + " - q('0 bar')) + " + low + "\n  at_most: q('500 bar')", false},
		{"measure: (" + high + " - q('0 bar')) + part.rated_pressure\n  at_most: q('400 bar')", true},
		{"measure: max(" + high + ", part.rated_pressure)\n  at_most: q('210 bar')", true},
		{"measure: min(" + low + ", part.rated_pressure)\n  at_least: q('220 bar')", true},
		{"measure: clamp(" + high + ", q('0 bar'), q('300 bar'))\n  at_most: q('210 bar')", true},
		{"measure: abs(" + low + ")\n  at_least: q('630 bar')", false}, // it may come to less than nothing
		{"measure: \"" + high + " > q('1 bar') ? q('300 bar') : q('100 bar')\"\n  at_most: q('200 bar')", false},
		{"measure: \"part.relief_present ? q('1 bar') : " + high + "\"\n  at_most: q('200 bar')", true},
		{"measure: \"has(" + high + ") ? part.rated_pressure : " + high + "\"\n  at_most: q('200 bar')", false},
		{"measure: \"part.relief_present ? part.proof_pressure : " + high + "\"\n  at_most: q('200 bar')", true},
		{"measure: " + high + " - part.proof_pressure\n  at_most: q('20 bar diff')", false}, // of that nothing is known
		{"measure: " + high + "\n  at_most: part.proof_pressure", false},
		{"measure: part.rated_pressure / (" + high + " - q('214 bar'))\n  at_most: 0", false}, // it cannot be computed
		{"measure: " + high + "\n  at_most: part.rated_pressure / (part.rated_pressure / part.rated_pressure - 1)", false},
		{"where: " + high + " > q('0.1 bar')\n  measure: part.rated_pressure\n  at_least: q('220 bar')", true},
		{"where: " + high + " < q('300 bar')\n  measure: part.rated_pressure\n  at_least: q('220 bar')", false},
		{"where: " + high + " > q('300 bar')\n  measure: part.rated_pressure\n  at_least: q('220 bar')", false},
		{"where: part.relief_present || " + high + " >= q('0.1 bar') && !(" + low + " > q('700 bar'))\n  measure: " + high + "\n  at_most: q('200 bar')", true},
		{"where: \"!(" + high + " > q('300 bar'))\"\n  measure: " + high + "\n  at_most: q('200 bar')", false},
		{"require: " + high + " <= q('200 bar')", true},
		{"require: " + high + " <= q('300 bar')", false},
		{"require: " + high + " >= q('300 bar')", false},
		{"require: " + high + " == q('300 bar')", false},
		{"require: " + low + " >= q('700 bar')", true},
		{"require: " + high + " < q('200 bar') || " + high + " > q('300 bar')", false},
		{"require: " + high + " < q('300 bar') && " + low + " > q('700 bar')", true},
		{"require: " + high + " > q('100 bar') && " + low + " > q('700 bar')", true},
		{"require: " + low + " > q('700 bar') && " + high + " > q('300 bar')", true},
		{"require: " + high + " > q('300 bar') && " + low + " > q('700 bar')", false}, // the first is not there yet, and all of them are not asked
		{"require: q('1 bar') / (" + high + " - q('214 bar')) > 3", false},
	}
	for _, test := range tests {
		judges := test.judges
		if strings.Contains(judges, "measure") {
			judges += "\n  reserve: none"
		}
		book := bookOf(t, oneRule(judges))
		j := book.Judge(knownInPart(), Settings{})
		if !test.broken {
			if len(j.Assessments) != 0 || len(j.NotAssessed) != 1 || len(j.Findings) != 0 {
				t.Errorf("%s\nis assessed: %d findings, %q missing", judges, len(j.Findings), wants(j))
			}
			continue
		}
		if len(j.Findings) != 1 || len(j.NotAssessed) != 0 || j.Findings[0].Holds || len(j.Findings[0].Without) != 1 || j.Findings[0].Without[0] != away {
			t.Errorf("%s\nis not told: %q missing", judges, wants(j))
			continue
		}
		for _, more := range []float64{0, 1, 80, 86, 1e4} {
			for _, less := range []float64{0, 1, 610, 620, 630, 1e4} {
				c := hillStart()
				c.Parts[0].HighestPressure.Value += more * bar
				c.Parts[0].BurstPressure.Value -= less * bar
				if j := book.Judge(c, Settings{}); len(j.Findings) != 1 || j.Findings[0].Holds {
					t.Errorf("%s\nis told, and is not broken with %v bar more and %v bar less", judges, more, less)
				}
			}
		}
	}
}

// A breach by what is known so far leaves the next subject as it is: not assessed where
// that holds so far.
func TestSoFarOfOneSubject(t *testing.T) {
	c := knownInPart()
	next := *c.Parts[0]
	next.Name.Value, next.RatedPressure.Value = "next-hose", 300*bar
	c.Parts = append(c.Parts, &next)
	j := bookOf(t, oneRule("measure: part.highest_pressure\n  at_most: part.rated_pressure\n  reserve: none")).Judge(c, Settings{})
	if len(j.Findings) != 1 || len(j.Assessments) != 1 || len(j.NotAssessed) != 1 || j.NotAssessed[0].Subject.Name != "next-hose" {
		t.Errorf("%d findings of %d assessed, %q missing", len(j.Findings), len(j.Assessments), wants(j))
	}
}

// TestSoFarIsTold holds what is said of a breach by what is known so far, and where it
// leaves the circuit.
func TestSoFarIsTold(t *testing.T) {
	const judges = "measure: part.rated_pressure / part.highest_pressure\n  at_least: 1.1\n  reserve: 10 %"
	book := bookOf(t, oneRule(judges))
	f := book.Judge(knownInPart(), Settings{}).Findings[0]
	const want = "rated pressure 210 bar ÷ highest pressure 214 bar (hill-start, 2.31 s, at rail) = 0.981, at least 1.10 needed; broken even without settled temperatures of case away"
	if f.Message != want || f.Grade != Major {
		t.Errorf("told as\n%s %s, not\n%s", f.Grade, f.Message, want)
	}
	if n := len(f.Working); n != 2 || f.Working[1].Value == nil || f.Working[1].Value.SI != 214*bar || f.Working[1].Origin.Case != "hill-start" {
		t.Errorf("worked out by %+v", f.Working)
	}
	e := book.Explain(book.Rule("w.rule"), knownInPart(), Settings{}, "")
	if len(e) != 1 || e[0].Assessment == nil || e[0].Assessment.Message != want {
		t.Errorf("explained by %+v", e)
	}
	says := bookOf(t, oneRule("require: part.highest_pressure <= q('200 bar')\n  says: it comes to {part.highest_pressure}"))
	if got := says.Judge(knownInPart(), Settings{}).Findings[0].Message; got != "it comes to 214 bar; broken even without "+away {
		t.Errorf("told as %s", got)
	}
}

// A concession covers a breach by what is known so far where it accepts any, and not
// where it accepts no worse than a measure: how bad it is, is not known.
func TestConcededSoFar(t *testing.T) {
	book := bookOf(t, concessionPack)
	for downTo, want := range map[string]string{
		"":                    "",
		"down_to: 300 bar, ":  "300 bar was accepted at worst, until 2027-03-01, and clutch-hose has 214 bar or worse, for want of " + away,
		"down_to: 211 bar,  ": "211 bar was accepted at worst, until 2027-03-01, and clutch-hose has 214 bar or worse, for want of " + away,
	} {
		c := knownInPart()
		c.Spec = spec(t, "concessions:\n- {rule: j.critical, subject: clutch-hose, "+downTo+"until: 2027-03-01, by: lead, because: measured}\n")
		said := ""
		for _, f := range book.Judge(c, Settings{}).Findings {
			if f.Subject.Kind == concessionKind {
				said += f.Message
			}
			if f.Rule.ID == "j.critical" && (f.Conceded != nil) != (want == "") {
				t.Errorf("%q: conceded: %v", downTo, f.Conceded != nil)
			}
		}
		if !strings.HasSuffix(said, want) || want == "" && said != "" {
			t.Errorf("%q: told %q", downTo, said)
		}
	}
}
