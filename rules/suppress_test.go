package rules

import (
	"slices"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// messages are what findings of one rule say, each with the path that it is about.
func messages(j *Judgement, rule string) (texts []string) {
	for _, f := range j.Findings {
		if f.Rule.ID == rule {
			texts = append(texts, f.Path+": "+f.Message)
		}
	}
	return texts
}

// TestNotConcedable holds what cannot be accepted: what is wrong with the file, what
// was not judged, concessions themselves, and every subject at once.
func TestNotConcedable(t *testing.T) {
	book := mustCore(t)
	for rule, want := range map[string]string{
		"spec.unit":             "spec.unit cannot be conceded: what is wrong with a file is mended, not accepted",
		"run.not-assessed":      "run.not-assessed cannot be conceded: what was not judged cannot be accepted; give the keys that it names, or list the rules that do not apply under not_applicable in the project file",
		"run.concession":        "run.concession cannot be conceded: it tells of concessions themselves",
		"strength.burst-factor": "a concession of strength.burst-factor needs its subject: without one it would cover every part, also those still to come",
		"mass.budget":           "",
	} {
		c := spec(t, "concessions:\n- {rule: "+rule+", until: 2027-03-01, by: lead, because: measured}\n")
		_, problems := book.limitsFor(c, nil)
		var got []string
		for _, p := range problems {
			got = append(got, p.Message)
		}
		if text := strings.Join(got, "; "); text != want {
			t.Errorf("%s: %s\nnot\n%s", rule, text, want)
		}
		if book.counts(&c.Concessions[0]) != (want == "") {
			t.Errorf("%s: whether it counts is wrong", rule)
		}
	}
}

// A misspelt unit in the core's own facts is not covered, even where a concession says so.
func TestProblemsAreNotCovered(t *testing.T) {
	book := mustCore(t)
	c := mill(sound)
	c.Spec = spec(t, "concessions:\n- {rule: spec.unit, until: 2027-03-01, by: lead, because: measured}\n")
	c.Problems = []*facts.Problem{facts.ProblemOf(specs.Problem{Rule: "spec.unit", At: specs.Span{Line: 9}, Path: "parts.tube.mass", Message: "no unit"})}
	for _, f := range book.Judge(c, Settings{}).Findings {
		if f.Rule.ID == "spec.unit" && f.Conceded != nil {
			t.Error("a mistake in the file is conceded")
		}
	}
}

// TestGuards holds that no pack takes away what watches over the run itself.
func TestGuards(t *testing.T) {
	core := mustCore(t)
	for change, want := range map[string]string{
		"switch_off: [{rule: spec.unit, because: x}]":                           "spec.unit cannot be switched off: it tells when a run or a file is not to be trusted",
		"switch_off: [{rule: run.not-assessed, because: x}]":                    "run.not-assessed cannot be switched off: it tells when a run or a file is not to be trusted",
		"switch_off: [{rule: run.balance, because: x}]":                         "run.balance cannot be switched off: it tells when a run or a file is not to be trusted",
		"regrade: [{rule: run.unfinished, to: minor, because: x}]":              "run.unfinished cannot be graded below major: it tells when a run or a file is not to be trusted",
		"regrade: [{rule: run.unfinished, to: major, because: x}]":              "",
		"switch_off: [{rule: spec.idle-part, because: x}]":                      "",
		"regrade: [{rule: strength.burst-factor, to: observation, because: x}]": "",
	} {
		packs, problems := addPack(core.Packs, nil, "own.yaml", []byte("pack: own\nabout: x\n"+change+"\n"))
		var got []string
		for _, p := range problems {
			got = append(got, p.Message)
		}
		if text := strings.Join(got, "; "); text != want {
			t.Errorf("%s: %s\nnot\n%s", change, text, want)
		}
		if (len(packs) > len(core.Packs)) != (want == "") {
			t.Errorf("%s: whether the pack is taken is wrong", change)
		}
	}
}

// TestRegraded holds that what a pack grades otherwise is kept with what it was.
func TestRegraded(t *testing.T) {
	const own = "pack: own\nabout: x\nregrade: [{rule: j.critical, to: minor, because: ours}]\nswitch_off: [{rule: j.major, because: not ours}]\n"
	book := bookOf(t, judgePack, own)
	if len(book.Regraded) != 1 || book.Regraded[0].Rule.ID != "j.critical" || book.Regraded[0].Was != Critical || book.Regraded[0].Pack != "own" || book.Regraded[0].Because != "ours" {
		t.Errorf("%+v", book.Regraded)
	}
	if len(book.SwitchedOff) != 1 || book.SwitchedOff[0].Rule.ID != "j.major" || book.SwitchedOff[0].Because != "not ours" {
		t.Errorf("%+v", book.SwitchedOff)
	}
}

// TestStale holds that what of a project file nothing matched is told, and what was
// used or not looked for is not.
func TestStale(t *testing.T) {
	const text = `concessions:
- {rule: j.critical, subject: hose, until: 2027-03-01, by: lead, because: measured}
- {rule: j.critical, subject: pipe, until: 2020-03-01, by: lead, because: measured}
not_applicable:
- {rule: j.critical, subject: bare, because: proved by test}
- {rule: j.critical, subject: gone, because: proved by test}
`
	book := bookOf(t, concessionPack)
	project := specs.ReadProject("headroom.yaml", []byte(text))
	bare := sound
	bare.name, bare.rated = "bare", unknown
	j := book.Judge(mill(given{"hose", 260, 250, 910, 60, 100, true}, bare), Settings{Project: project, Today: "2026-11-25"})
	used := map[Suppression]bool{}
	for _, u := range j.Used {
		used[*u] = true
	}
	if len(used) != 2 {
		t.Fatalf("%d are used", len(used))
	}
	stale := book.Stale(project, used, Settings{})
	want := []string{
		"not_applicable[1]: the concession for j.critical is unused: it stands under not_applicable, and in no circuit of this project is there what it excuses",
		"concessions[1]: the concession for j.critical is unused: no circuit of this project has a finding that it covers",
	}
	if got := messages(stale, "j.concession"); !slices.Equal(got, want) {
		t.Errorf("%q\nnot\n%q", got, want)
	}
	if stale.Findings[0].At.Line != 6 || stale.Findings[1].At.Line != 3 {
		t.Errorf("told at lines %d and %d", stale.Findings[0].At.Line, stale.Findings[1].At.Line)
	}
	if j := book.Stale(project, used, Settings{Only: func(r *Rule) bool { return r.ID != "j.critical" }}); len(j.Findings) > 0 {
		t.Errorf("told without its rule: %q", messages(j, "j.concession"))
	}
	if j := book.Judge(mill(sound), Settings{Project: project, Today: "2026-11-25"}); len(messages(j, "j.concession")) > 0 {
		t.Error("a single circuit tells of a project's concessions")
	}
}

// TestUnusedConcessions holds what is said of a concession that nothing needs.
func TestUnusedConcessions(t *testing.T) {
	const rest = "until: 2027-03-01, by: lead, because: measured}"
	book := bookOf(t, concessionPack)
	bare := sound
	bare.name, bare.rated = "brake-hose", unknown
	for concession, want := range map[string]string{
		"{rule: j.critical, subject: brake-hose, " + rest: "what it covers is not assessed, for want of parts.brake-hose.rated.pressure",
		"{rule: j.critical, subject: brake-hos, " + rest:  "the rule has no subject brake-hos; did you mean brake-hose?",
		"{rule: j.critical, subject: brake, " + rest:      "the rule has no subject brake; did you mean brake-hose?",
		"{rule: j.critical, subject: hoses, " + rest:      "the rule has no subject hoses; did you mean brake-hose?",
		"{rule: j.critical, subject: tube, " + rest:       "what it covers holds",
		"{rule: j.case, subject: rail, " + rest:           "the rule has no subject in this circuit",
	} {
		c := mill(sound, bare)
		c.Spec = spec(t, "concessions:\n- "+concession+"\n")
		got := messages(book.Judge(c, Settings{}), "j.concession")
		if len(got) != 1 || !strings.HasSuffix(got[0], " is unused: "+want) {
			t.Errorf("%s: %q", concession, got)
		}
	}
}

// TestExcuseOfWhatNobodyDemands holds that an exception for a rule that is not critical
// is used where the run demands that rule, and told as of no use where none does.
func TestExcuseOfWhatNobodyDemands(t *testing.T) {
	book := bookOf(t, concessionPack)
	project := specs.ReadProject("headroom.yaml", []byte("not_applicable: [{rule: j.factor, because: proved by test}]\n"))
	bare := sound
	bare.rated, bare.burst = unknown, unknown
	for _, demanded := range []bool{false, true} {
		settings := Settings{Project: project}
		if demanded {
			settings.Demand = func(r *Rule) bool { return r.ID == "j.factor" }
		}
		j := book.Judge(mill(bare), settings)
		i := slices.IndexFunc(j.NotAssessed, func(u *Unassessed) bool { return u.Rule.ID == "j.factor" })
		if i < 0 || j.NotAssessed[i].Excused != "proved by test" {
			t.Fatalf("demanded %v: j.factor is not excused: %+v", demanded, j.NotAssessed)
		}
		used := map[Suppression]bool{}
		for _, u := range j.Used {
			used[*u] = true
		}
		want := []string{"not_applicable[0]: the concession for j.factor is unused: it stands under not_applicable, and only critical rules need an excuse, and those that --demand names: j.factor is minor"}
		if demanded {
			want = nil
		}
		if got := messages(book.Stale(project, used, settings), "j.concession"); !slices.Equal(got, want) {
			t.Errorf("demanded %v: %q, not %q", demanded, got, want)
		}
	}
}
