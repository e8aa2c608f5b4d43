package drawing

import (
	"strings"
	"testing"

	"headroom/rules"
	"headroom/specs"
)

func headroom(v float64) *float64 { return &v }

// marked is a small circuit with a part of every standing.
func marked(t *testing.T) *rules.Result {
	c := few(t, `
  tank: {kind: reservoir, at: sump}
  intake: {kind: hose, from: sump, to: inlet}
  pump: {kind: pump, from: inlet, to: rail}
  relief: {kind: relief-valve, from: rail, to: sump}
  store: {kind: accumulator, at: rail}
  line: {kind: tube, from: rail, to: end}
  nozzle: {kind: orifice, from: end, to: sump}
  user: {kind: consumer, from: end, to: sump}`)
	rule := func(id string) *rules.Rule { return &rules.Rule{ID: id} }
	on := func(kind, name string) rules.Subject { return rules.Subject{Kind: kind, Name: name} }
	j := &rules.Judgement{Verdict: rules.Broken, Assessments: []*rules.Assessment{
		{Rule: rule("strength.burst-factor"), Subject: on("part", "intake"), Headroom: headroom(-1.25), Finding: true, Grade: rules.Critical},
		{Rule: rule("seals.gap"), Subject: on("seal", "intake to NBR"), Headroom: headroom(-7), Finding: true, Grade: rules.Minor},
		{Rule: rule("lines.velocity"), Subject: on("line", "line"), Headroom: headroom(-0.001), Finding: true, Grade: rules.Major},
		{Rule: rule("pump.inlet"), Subject: rules.Subject{Kind: "part-in-case", Name: "pump", Case: "cold"}, Headroom: headroom(0.4), Finding: true, Grade: rules.Minor, Holds: true},
		{Rule: rule("pump.speed"), Subject: on("part", "pump"), Headroom: headroom(0.1), Holds: true},
		{Rule: rule("store.precharge"), Subject: on("part", "store"), Finding: true, Grade: rules.Observation},
		{Rule: rule("relief.setting"), Subject: on("part", "relief"), Headroom: headroom(-2), Finding: true, Grade: rules.Critical, Conceded: &specs.Concession{}},
		{Rule: rule("reservoir.level"), Subject: on("circuit", "small"), Path: "parts.tank.fill", Headroom: headroom(120), Holds: true},
		{Rule: rule("tubes.burst"), Subject: on("part", "nozzle"), Headroom: headroom(1.005), Holds: true},
		{Rule: rule("section.protected"), Subject: on("section", "rail, end"), Finding: true, Grade: rules.Major},
	}}
	return &rules.Result{Circuit: c, Judgement: j, Scope: rules.Scope{Case: "cold"}, Readable: true}
}

// The gravest standing counts, and the least headroom that stands so.
func TestMarks(t *testing.T) {
	r := marked(t)
	m := marksOf(r.Judgement)
	for part, want := range map[string]string{
		"intake": "critical −1.25, strength.burst-factor; 2 findings",
		"line":   "major −0.00, lines.velocity",
		"pump":   "minor 0.40, pump.inlet in cold",
		"store":  "observation, store.precharge",
		"relief": "conceded −2.00, relief.setting",
		"tank":   "holds > 99, reservoir.level",
		"nozzle": "holds 1.00, tubes.burst",
		"user":   "not judged",
	} {
		if got := m.part(part).says(); got != want {
			t.Errorf("%s: %q, not %q", part, got, want)
		}
	}
	if n := m.nodes["end"]; n.standing != major || m.nodes["inlet"].worst != nil {
		t.Errorf("nodes: %v", m.nodes)
	}
}

func TestJudged(t *testing.T) {
	r := marked(t)
	check(t, r)
	compare(t, "judged", draw(t, r))
}

// Every standing is told by a shape of its own and by its word, so that a picture in
// black says all that one in colour does.
func TestShapesDiffer(t *testing.T) {
	seen := map[string]standing{}
	for _, s := range standings {
		shape := strings.ReplaceAll(s.standing.shape(0, 0), s.standing.class(), "")
		if other, taken := seen[shape]; taken {
			t.Errorf("%s and %s look the same but for colour", s.standing, other)
		}
		seen[shape] = s.standing
	}
	svg := draw(t, marked(t))
	for _, s := range standings {
		if !strings.Contains(svg, ">"+string(s.standing)) && !strings.Contains(svg, ">"+string(s.standing)+" ") {
			t.Errorf("no word says %s", s.standing)
		}
	}
}

// Two pictures on a page share no id.
func TestPrefix(t *testing.T) {
	r := marked(t)
	ids := func(prefix string) map[string]bool {
		var out strings.Builder
		if err := Draw(&out, r, Options{Prefix: prefix}); err != nil {
			t.Fatal(err)
		}
		found := map[string]bool{}
		for _, word := range strings.Split(out.String(), ` id="`)[1:] {
			id, _, _ := strings.Cut(word, `"`)
			found[id] = true
		}
		return found
	}
	old, now := ids("old revision <1>"), ids("new")
	if len(old) < 10 || len(old) != len(now) {
		t.Fatalf("%d and %d ids", len(old), len(now))
	}
	for id := range old {
		if now[id] || strings.ContainsAny(id, " <>") {
			t.Errorf("id %q", id)
		}
	}
}

// What a designer writes cannot break the picture.
func TestHostileText(t *testing.T) {
	c := few(t, "\n  tank: {kind: reservoir, at: sump}")
	c.Title.Value = "</svg><script>alert(1)</script> & \x00\x1b \"' " + strings.Repeat("long ", 60)
	c.Revision = specs.Text{Value: "]]>", Source: specs.FromSpec}
	c.Parts[0].Base().Name = strings.Repeat("m", 64)
	r := &rules.Result{Circuit: c, Readable: true}
	check(t, r)
	if svg := draw(t, r); strings.Contains(svg, "<script") {
		t.Error("a title becomes markup")
	}
}

// A name may be taller than its symbol.
func TestTallNames(t *testing.T) {
	c := few(t, `
  a-reservoir-whose-name-has-as-many-lines-as-a-name-can-have-at-: {kind: reservoir, at: sump}
  a-pump-whose-name-has-as-many-lines-as-a-name-can-have-at-all-t: {kind: pump, from: sump, to: rail}
  another-pump-whose-name-has-as-many-lines-as-a-name-can-have-at: {kind: pump, from: sump, to: rail}
  a-third-pump-whose-name-has-as-many-lines-as-a-name-can-have-at: {kind: pump, from: sump, to: rail}
  a-store-whose-name-has-as-many-lines-as-a-name-can-have-at-all: {kind: accumulator, at: rail}
  a-jack-whose-name-has-as-many-lines-as-a-name-can-have-at-all-a: {kind: cylinder, head: rail}`)
	if len(c.Parts) != 6 {
		t.Fatal(c.Problems)
	}
	check(t, judged(c))
}

// A circuit without parts is a sheet with a title.
func TestEmpty(t *testing.T) {
	check(t, &rules.Result{Circuit: &specs.Circuit{Name: specs.Text{Value: "none", Source: specs.FromSpec}}, Readable: true})
}
