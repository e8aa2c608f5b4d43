package reports

import (
	"bytes"
	"strings"
	"testing"

	"headroom/rules"
)

// covered is a circuit with its coverage.
func covered() *rules.Result {
	r := broken()
	rule := func(id string, g rules.Grade) *rules.Rule { return &rules.Rule{ID: id, Grade: g, For: "part"} }
	r.Coverage = &rules.Coverage{
		Rules: []rules.RuleCoverage{
			{Rule: rule("strength.burst-factor", rules.Critical), Assessed: 2},
			{Rule: rule("suction.inlet-pressure", rules.Critical), Assessed: 1, NotAssessed: 1, Missing: []string{"parts.spare-pump.inlet_min"}},
			{Rule: rule("fluid.life", rules.Minor), NotAssessed: 1, Missing: []string{"environment.service_interval", "fluid.life"}},
			{Rule: rule("suction.slope", rules.Critical)},
		},
		Parts: []rules.ThingCoverage{
			{Name: "clutch-hose", By: []string{"strength.burst-factor"}},
			{Name: "spare-pump", Wanted: []string{"suction.inlet-pressure"}},
			{Name: "pump", By: []string{"strength.burst-factor", "suction.inlet-pressure"}},
		},
		Nodes: []rules.ThingCoverage{{Name: "rail"}},
		Cases: []rules.ThingCoverage{{Name: "hill-start", By: []string{"strength.burst-factor"}}},
	}
	return r
}

// Exact output of both forms, and of the line in text.
func TestCoverageExactly(t *testing.T) {
	for form, name := range map[string]string{"text": "coverage.txt", "json": "coverage.json"} {
		var out bytes.Buffer
		if err := Coverage(&out, form, covered()); err != nil {
			t.Fatal(err)
		}
		expect(t, name, out.Bytes())
	}
	if err := Coverage(&bytes.Buffer{}, "yaml", covered()); err == nil || !strings.Contains(err.Error(), "json, text") {
		t.Errorf("yaml: %v", err)
	}
	const line = "covered: 1 of 4 rules in full, 1 in part, 1 not at all, 1 without a subject here · 2 of 3 parts · 0\nof 1 nodes · 1 of 1 cases\n"
	if text := string(told(t, "text", Options{}, Run{}, covered())); !strings.Contains(text, line) {
		t.Errorf("%s\nhas no line %s", text, line)
	}
}
