package rules

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// write puts packs into files and gives their paths.
func write(t *testing.T, texts ...string) (paths []string) {
	t.Helper()
	for i, text := range texts {
		path := filepath.Join(t.TempDir(), string(rune('a'+i))+".yaml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		paths = append(paths, path)
	}
	return paths
}

// TestLoad holds that packs of one's own go over the core packs, later ones over
// earlier ones, and leave the core's own rulebook as it was.
func TestLoad(t *testing.T) {
	core := mustCore(t)
	before := core.Rule("mass.unstated").Grade
	book, problems := Load(core, write(t,
		"pack: one\nabout: a\nregrade: [{rule: mass.unstated, to: minor, because: it counts}]\nlimits: {drop_share: 12 %}\n",
		"pack: two\nabout: b\nregrade: [{rule: mass.unstated, to: major, because: it counts more}]\nswitch_off: [{rule: lines.velocity, because: ours is stricter}]\n")...)
	if problems != nil {
		t.Fatal(problems)
	}
	if r := book.Rule("mass.unstated"); r.Grade != Major || r.Regraded != "it counts more" {
		t.Errorf("graded %s, because %s", r.Grade, r.Regraded)
	}
	if core.Rule("mass.unstated").Grade != before || core.Rule("lines.velocity") == nil {
		t.Error("the core's rulebook is changed")
	}
	off := book.SwitchedOff
	if len(off) != 1 || off[0].Rule.ID != "lines.velocity" || off[0].Pack != "two" || off[0].Because != "ours is stricter" || book.Rule("lines.velocity") != nil {
		t.Errorf("switched off: %+v", off)
	}
	if len(book.Rules) != len(core.Rules)-1 || len(book.Packs) != len(core.Packs)+2 {
		t.Errorf("%d rules of %d packs", len(book.Rules), len(book.Packs))
	}
	if v, _ := book.limitsFor(nil, nil); v.values["limits.drop_share"].Value() != 0.12 {
		t.Errorf("limits.drop_share is %v", v.values["limits.drop_share"])
	}
}

// TestLoadProblems holds that a pack with problems is left out as a whole, and the
// others are taken in.
func TestLoadProblems(t *testing.T) {
	core := mustCore(t)
	directory := t.TempDir()
	paths := write(t, "pack: one\nabout: a\nregrade: [{rule: mass.unstated, to: minor, because: x}, {rule: mass.unstatd, to: minor, because: x}]\n",
		"pack: two\nabout: b\nregrade: [{rule: mass.unstated, to: major, because: x}]\n", "pack: mass\nabout: c\n",
		"pack: three\nabout: d\nrules:\n"+rulesOf("mass.budget"))
	book, problems := Load(core, append(paths, filepath.Join(directory, "none.yaml"), directory)...)
	var got []string
	for _, p := range problems {
		got = append(got, filepath.Base(p.At.File)+": "+p.Message)
	}
	slices.Sort(got)
	want := []string{
		filepath.Base(directory) + ": the pack cannot be read: it is not a file",
		"a.yaml: there is no rule mass.unstatd; did you mean mass.unstated?",
		"c.yaml: there is a pack mass already; give this one another name",
		"d.yaml: there is a rule mass.budget already, in packs/mass.yaml:8; switch that off and give this one another id",
		"none.yaml: the pack cannot be read: no such file or directory",
	}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("%s\nnot\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if r := book.Rule("mass.unstated"); r.Grade != Major {
		t.Errorf("the sound pack's grading is not taken in: %s", r.Grade)
	}
}

// rulesOf is a sound rule of an id.
func rulesOf(id string) string {
	_, rules, _ := strings.Cut(house, "rules:\n")
	rules = strings.Replace(rules, "house.return-velocity", id, 1)
	return strings.Replace(rules, "limits.return_velocity", "q('2.5 m/s')", 1)
}

// TestRegradedFinding holds that a finding has the grade that the last pack gave.
func TestRegradedFinding(t *testing.T) {
	book := bookOf(t, judgePack, "pack: two\nabout: b\nregrade: [{rule: j.critical, to: observation, because: x}]\n")
	broken := sound
	broken.highest = 300
	j := book.Judge(mill(broken), Settings{})
	i := slices.IndexFunc(j.Findings, func(a *Assessment) bool { return a.Rule.ID == "j.critical" })
	if i < 0 || j.Findings[i].Grade != Observation || j.Verdict != Holds {
		t.Errorf("findings %q, %s", lines(j.Findings), j.Verdict)
	}
}
