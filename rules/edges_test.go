package rules

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// What is wrong with a project's limits is told once, by CheckProject, and not of each
// of its specs.
func TestProjectProblemsAreNotTheSpecs(t *testing.T) {
	project := specs.ReadProject("headroom.yaml", []byte("limits: {fcator: 3}\n"))
	book := bookOf(t, judgePack)
	if _, problems := book.limitsFor(spec(t, ""), project); len(problems) > 0 {
		t.Errorf("told of a spec: %v", problems)
	}
	if len(book.CheckProject(project)) != 1 {
		t.Error("not told of the project")
	}
}

// Where it is not known whether a rule is for a subject, all that it may want is told.
func TestUndecidedTellsAllItWants(t *testing.T) {
	part := sound
	part.rated = unknown
	c := mill(part)
	c.Parts[0].Kind = facts.Text{Missing: "kind"}
	for _, u := range bookOf(t, judgePack).Judge(c, Settings{}).NotAssessed {
		if u.Rule.ID == "j.critical" {
			if got := strings.Join(u.Missing, " "); got != "parts.tube.kind parts.tube.rated.pressure" {
				t.Error(got)
			}
			return
		}
	}
	t.Error("j.critical is not among the unassessed")
}

// A margin of nothing on a limit of nothing is as tight as can be, not no number.
func TestTightnessOfNothing(t *testing.T) {
	a := &Assessment{Margin: &Value{0, quantity.Number}, Limit: &Limit{Value: Value{0, quantity.Number}}}
	if got := a.tightness(); got != 0 {
		t.Error(got)
	}
}

// A rule of grade minor alone is nothing of weight.
func TestMinorIsNoWeight(t *testing.T) {
	only := func(id string) Verdict {
		return bookOf(t, judgePack).Judge(mill(sound), Settings{Only: func(r *Rule) bool { return r.ID == id }}).Verdict
	}
	if got := only("j.factor"); got != Incomplete {
		t.Errorf("minor alone: %s", got)
	}
	if got := only("j.major"); got != Holds {
		t.Errorf("major alone: %s", got)
	}
}

// What is misspelt excuses and concedes nothing, rather than everything.
func TestMisspeltCoversNothing(t *testing.T) {
	book := bookOf(t, concessionPack)
	part := sound
	part.rated = unknown
	for subject, excused := range map[string]bool{"tube": true, "[tube]": false, "": false} {
		project := specs.ReadProject("headroom.yaml", []byte("not_applicable: [{rule: j.critical, subject: "+subject+", because: proved}]\n"))
		j := book.Judge(mill(part), Settings{Project: project})
		if got := j.NotAssessed[0].Excused != ""; got != excused {
			t.Errorf("subject %q: excused is %v", subject, got)
		}
	}
	broken := sound
	broken.highest, broken.relief = 260, false
	for concession, covers := range map[string]bool{
		"{rule: j.critical, subject: tube, down_to: 270 bar":   true,
		"{rule: j.critical, subject: tube, down_to: [270 bar]": false,
		"{rule: j.critical, subject: [tube]":                   false,
		"{rule: j.flag, subject: tube":                         true,
		"{rule: j.flag, subject: tube, down_to: 3":             false, // there is no measure to be held against it
	} {
		c := mill(broken)
		c.Spec = spec(t, "concessions:\n- "+concession+", until: 2027-03-01, by: lead, because: measured}\n")
		conceded := slices.ContainsFunc(book.Judge(c, Settings{}).Findings, func(f *Assessment) bool { return f.Conceded != nil })
		if conceded != covers {
			t.Errorf("%s: conceded is %v", concession, conceded)
		}
	}
}

// What the catalogue supplies is told as that, not as a key of the part.
func TestCatalogueSupplies(t *testing.T) {
	const pack = "pack: s\nabout: x\nrules:\n- {id: s.s, title: t, for: seal, measure: seal.speed_allowed, at_most: q('1 m/s'), reserve: none, grade: major, basis: b, why: w, remedy: r, examples: []}\n"
	c := mill(sound)
	c.Seals = []*facts.Seal{{Name: facts.Text{Value: "wiper", Known: true}, Part: c.Parts[0]}}
	if got := wants(bookOf(t, pack).Judge(c, Settings{})); !slices.Equal(got, []string{"s.s: catalogue"}) {
		t.Error(got)
	}
}

// The node of a subject is not told again beside its own value; another one is.
func TestNodeIsNotToldTwice(t *testing.T) {
	for node, want := range map[string]string{"rail": "highest pressure 310 bar (2.31 s), at most 300 bar allowed", "far": "highest pressure 310 bar (2.31 s, at far), at most 300 bar allowed"} {
		c := mill(sound)
		c.Nodes = []*facts.Node{{Name: facts.Text{Value: "rail", Known: true}}}
		here := facts.Here{HighestPressure: facts.Fact{Value: 310 * bar, Known: true, From: &facts.Origin{Case: "run", Time: 2.31, Timed: true, Node: node}}}
		c.NodesInCase = []*facts.NodeInCase{{Node: c.Nodes[0], Case: c.Cases[0], Here: here}}
		for _, f := range bookOf(t, judgePack).Judge(c, Settings{}).Findings {
			if f.Rule.ID == "j.case" && f.Message != want {
				t.Errorf("%s: %s", node, f.Message)
			}
		}
	}
}

// A count is told without decimals, a number beyond all counting is not one.
func TestWhole(t *testing.T) {
	for x, want := range map[float64]bool{3: true, 0: true, -2: true, 2.5: false, 999999999: true, 1e9: false, 1e300: false} {
		if whole(x) != want {
			t.Errorf("whole(%g) is %v", x, !want)
		}
	}
}

// An entry of a group without a default is there once a spec sets it.
func TestGroupEntryWithoutDefault(t *testing.T) {
	book := bookOf(t, "pack: g\nabout: x\nlimits:\n  velocity: {suction: 1 m/s, return: {no_default: m/s}}\n")
	numbers := book.NumbersFor(spec(t, ""), nil)
	if _, given := numbers.Entry("limits.velocity", "return"); given {
		t.Error("it has a value that nobody gave")
	}
	if v, given := numbers.Entry("limits.velocity", "suction"); !given || v != 1 {
		t.Errorf("suction is %g, %v", v, given)
	}
	if v, given := book.NumbersFor(spec(t, "limits: {velocity: {return: 3 m/s}}\n"), nil).Entry("limits.velocity", "return"); !given || v != 3 {
		t.Errorf("return is %g, %v", v, given)
	}
	if v, given := numbers.Entry("limits.nothing", "return"); given || v != 0 {
		t.Errorf("a group that there is not: %g, %v", v, given)
	}
	if v, given := numbers.Entry("limits.velocity.suction", "return"); given || v != 0 {
		t.Errorf("a value that is no group: %g, %v", v, given)
	}
}

// A pack that is a byte too long is refused, not cut.
func TestPackTooLong(t *testing.T) {
	for _, more := range []int{0, 1} {
		text := "pack: long\nabout: x\n#"
		text += strings.Repeat("x", maxPack+more-len(text))
		path := filepath.Join(t.TempDir(), "long.yaml")
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		_, problems := Load(mustCore(t), path)
		if refused := len(problems) > 0; refused != (more > 0) {
			t.Errorf("%d bytes too long: %v", more, problems)
		}
	}
}

// Where the rule that gathers is switched off, nothing is gathered.
func TestGathererSwitchedOff(t *testing.T) {
	part := sound
	part.rated = unknown
	book := bookOf(t, judgePack, "pack: off\nabout: x\nswitch_off: [{rule: j.gather, because: x}]\n")
	if j := book.Judge(mill(part), Settings{}); len(j.Findings) > 0 || j.Verdict != Incomplete {
		t.Errorf("%q, %s", lines(j.Findings), j.Verdict)
	}
}
