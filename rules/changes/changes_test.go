package changes

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"headroom/rules"
	"headroom/specs"
)

// side is a revision of a circuit with what one rule came to of one subject.
func side(text string, assessments ...*rules.Assessment) *rules.Result {
	j := &rules.Judgement{Verdict: rules.Holds, Assessments: assessments}
	for _, a := range assessments {
		if a.Finding {
			j.Findings = append(j.Findings, a)
		}
	}
	return &rules.Result{Circuit: specs.Read("winch.yaml", []byte(text)), Judgement: j, Readable: true}
}

var factor = &rules.Rule{ID: "strength.burst-factor", For: "part", Grade: rules.Critical}

// burst is a burst factor held against 4 with a reserve of 1.
func burst(part string, measure float64) *rules.Assessment {
	headroom := measure - 4
	a := &rules.Assessment{
		Rule: factor, Subject: rules.Subject{Kind: "part", Name: part}, Grade: rules.Critical,
		Measure: &rules.Value{SI: measure}, Limit: &rules.Limit{Sense: "at least", Value: rules.Value{SI: 4}}, Margin: &rules.Value{SI: measure - 4},
		Headroom: &headroom, Holds: measure >= 4, Finding: measure < 5,
	}
	if a.Holds && a.Finding {
		a.Grade = rules.Minor
	}
	return a
}

func conceded(a *rules.Assessment) *rules.Assessment {
	a.Conceded = &specs.Concession{By: specs.Text{Value: "lead"}, Until: specs.Text{Value: "2027-03-01"}}
	return a
}

func regraded(a *rules.Assessment, g rules.Grade) *rules.Assessment {
	a.Grade = g
	return a
}

// Every way in which a finding can change, and whether a run fails by it.
func TestHowFindingsChange(t *testing.T) {
	unassessed := func(r *rules.Result) *rules.Result {
		r.Judgement.NotAssessed = []*rules.Unassessed{{Rule: factor, Subject: rules.Subject{Kind: "part", Name: "hose"}, Missing: []string{"parts.hose.burst_pressure"}}}
		return r
	}
	gatherer := &rules.Rule{ID: "run.not-assessed", For: "circuit", Grade: rules.Critical, Gathers: "critical"}
	gathers := func(part string, concession *specs.Concession, more ...string) *rules.Result {
		r := side("")
		a := &rules.Assessment{Rule: gatherer, Subject: rules.Subject{Kind: "part", Name: part}, Grade: rules.Critical, Finding: true, Conceded: concession}
		for _, id := range more {
			a.Gathered = append(a.Gathered, &rules.Unassessed{Rule: &rules.Rule{ID: id, For: "part", Grade: rules.Critical}, Subject: rules.Subject{Kind: "part", Name: part}, Must: true})
		}
		r.Judgement.Findings, r.Judgement.NotAssessed = []*rules.Assessment{a}, a.Gathered
		return r
	}
	must := func(r *rules.Result, excused string) *rules.Result {
		r.Judgement.NotAssessed[0].Must, r.Judgement.NotAssessed[0].Excused = true, excused
		return r
	}
	accepted := &specs.Concession{By: specs.Text{Value: "lead"}, Until: specs.Text{Value: "2027-03-01"}}
	for _, test := range []struct {
		name      string
		old, new  *rules.Result
		kind      Kind
		why       string
		fails     bool
		unchanged int
	}{
		{"new where it held with room", side("", burst("hose", 6)), side("", burst("hose", 3)), New, "", true, 0},
		{"new where the subject is new", side(""), side("", burst("hose", 3)), New, "", true, 0},
		{"new where it was not assessed", unassessed(side("")), side("", burst("hose", 3)), New, "it was not assessed before", true, 0},
		{"new where the limit held", side("", burst("hose", 4.5)), side("", burst("hose", 3)), New, "its limit held before", true, 0},
		{"new where it was conceded", side("", conceded(burst("hose", 3))), side("", burst("hose", 3)), New, "it was conceded by lead until 2027-03-01", true, 0},
		{"new and conceded", side("", burst("hose", 6)), side("", conceded(burst("hose", 3))), New, "", false, 0},
		{"worse", side("", burst("hose", 3)), side("", burst("hose", 2)), Worse, "", false, 0},
		{"worse by grade", side("", regraded(burst("hose", 3), rules.Minor)), side("", burst("hose", 3)), Worse, "", false, 0},
		{"better", side("", burst("hose", 2)), side("", burst("hose", 3)), Better, "", false, 0},
		{"better as the limit holds now", side("", burst("hose", 2)), side("", burst("hose", 4.5)), Better, "", false, 0},
		{"the same", side("", burst("hose", 3)), side("", burst("hose", 3.0009)), "", "", false, 1},
		{"no finding either time", side("", burst("hose", 6)), side("", burst("hose", 7)), "", "", false, 0},
		{"conceded now", side("", burst("hose", 3)), side("", conceded(burst("hose", 3))), Conceded, "", false, 0},
		{"conceded still", side("", conceded(burst("hose", 3))), side("", conceded(burst("hose", 3))), "", "", false, 1},
		{"mended", side("", burst("hose", 3)), side("", burst("hose", 6)), Mended, "", false, 0},
		{"no longer assessed", side("", burst("hose", 3)), unassessed(side("")), Unassessed, "for want of parts.hose.burst_pressure", false, 0},
		{"no longer assessed, as it must", side("", burst("hose", 3)), must(unassessed(side("")), ""), Unassessed, "for want of parts.hose.burst_pressure", true, 0},
		{"no longer assessed, and excused", side("", burst("hose", 3)), must(unassessed(side("")), "a hose of the maker's"), Unassessed, "for want of parts.hose.burst_pressure", false, 0},
		{"gathers the same", gathers("hose", nil, "a.a", "a.b"), gathers("hose", nil, "a.b", "a.a"), "", "", false, 1},
		{"gathers less", gathers("hose", nil, "a.a", "a.b"), gathers("hose", nil, "a.b"), "", "", false, 1},
		{"gathers more", gathers("hose", nil, "a.a"), gathers("hose", nil, "a.b", "a.a"), Worse, "it stands for more now: a.b (hose)", true, 0},
		{"gathers more, and is conceded", gathers("hose", accepted, "a.a"), gathers("hose", accepted, "a.b", "a.a"), Worse, "it stands for more now: a.b (hose)", false, 0},
		{"gone with its subject", side("", burst("hose", 3)), side(""), Gone, "the rule no longer has this subject", false, 0},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := Between(test.old, test.new)
			var got Finding
			if len(c.Findings) > 0 {
				got = c.Findings[0]
			}
			if len(c.Findings) > 1 || got.Kind != test.kind || got.Why != test.why || c.Unchanged != test.unchanged {
				t.Errorf("%d changes, %q %q, %d unchanged", len(c.Findings), got.Kind, got.Why, c.Unchanged)
			}
			if _, fails := c.Worst(); fails != test.fails {
				t.Errorf("fails: %v", fails)
			}
			if lost := len(c.Lost) > 0; lost != (test.kind == Unassessed) {
				t.Errorf("lost: %v", lost)
			}
		})
	}
}

// A margin moved when measure or limit changed by more than a thousandth; those
// with headroom come first, by how far they moved.
func TestMarginsMove(t *testing.T) {
	noReserve := func(part string, measure float64) *rules.Assessment {
		a := burst(part, measure)
		a.Headroom = nil
		return a
	}
	stricter := burst("d", 8)
	stricter.Limit = &rules.Limit{Sense: "at least", Value: rules.Value{SI: 5}}
	stricter.Margin, *stricter.Headroom = &rules.Value{SI: 3}, 3
	c := Between(
		side("", burst("a", 6), burst("b", 6), noReserve("c", 6), burst("d", 8), burst("e", 6)),
		side("", burst("a", 6.5), burst("b", 3), noReserve("c", 12), stricter, burst("e", 6.004)))
	var got []string
	for _, m := range c.Moved {
		got = append(got, fmt.Sprintf("%s %+.2f", m.New.Subject.Name, m.By))
	}
	if diff := cmp.Diff([]string{"b -3.00", "d -1.00", "a +0.50", "c +1.50"}, got); diff != "" {
		t.Error(diff)
	}
}

const winch = `headroom: 1
circuit: winch
title: Ropeway winch
fluid: {like: hm-46}
parts:
  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L}
  hose: {kind: hose, from: rail, to: port, bore: 10 mm, length: 1 m, burst_pressure: 800 bar}
  twin: {kind: hose, from: rail, to: other, bore: 10 mm, length: 1 m, burst_pressure: 800 bar}
  drain: {kind: orifice, from: port, to: sump, diameter: 1 mm}
  bleed: {kind: orifice, from: other, to: sump, diameter: 1 mm}
cases:
  idle: {lasts: 2 s, begins: {fluid: 40 degC, charge: 100 bar}, about: standing still}
  haul: {lasts: 9 s, begins: {fluid: 50 degC}}
`

// Parts, nodes and cases that changed their names are recognised, and findings
// follow them; what changed most of its values is another thing.
func TestRenames(t *testing.T) {
	for _, test := range []struct {
		name    string
		replace []string
		want    []Rename
		edits   []string
	}{
		{"nothing", nil, nil, nil},
		{"a part", []string{"  hose:", "  brake-hose:"}, []Rename{{"part", "hose", "brake-hose"}}, nil},
		{"a node", []string{"port", "brake-port"}, []Rename{{"node", "port", "brake-port"}}, nil},
		{"a case", []string{"idle", "standstill"}, []Rename{{"case", "idle", "standstill"}}, nil},
		{"a part and its nodes", []string{"  hose:", "  brake-hose:", "rail", "gallery", "port", "brake-port"},
			[]Rename{{"node", "rail", "gallery"}, {"node", "port", "brake-port"}, {"part", "hose", "brake-hose"}}, nil},
		{"a part and one of its values", []string{"  hose: {kind: hose, from: rail, to: port, bore: 10 mm", "  brake-hose: {kind: hose, from: rail, to: port, bore: 12 mm"},
			[]Rename{{"part", "hose", "brake-hose"}}, []string{"parts.brake-hose.bore: 10 mm > 12 mm"}},
		{"two alike", []string{"  hose:", "  h1:", "  twin:", "  h2:"}, []Rename{{"part", "hose", "h1"}, {"part", "twin", "h2"}}, nil},
		{"another kind", []string{"  drain: {kind: orifice, from: port, to: sump, diameter: 1 mm}", "  waste: {kind: check-valve, from: port, to: sump, diameter: 1 mm}"}, nil,
			[]string{"parts.waste:  > {kind: check-valve, from: port, to: sump, diameter: 1 mm}", "parts.drain: {kind: orifice, from: port, to: sump, diameter: 1 mm} > "}},
		{"values", []string{"lasts: 9 s", "lasts: 10 s", "  twin: {kind: hose", "  twin: {mass: 1 kg, kind: hose"}, nil,
			[]string{"parts.twin.mass:  > 1 kg", "cases.haul.lasts: 9 s > 10 s"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			c := Between(side(winch), side(strings.NewReplacer(test.replace...).Replace(winch)))
			if diff := cmp.Diff(test.want, c.Renamed); diff != "" {
				t.Error(diff)
			}
			var edits []string
			for _, e := range c.Edits {
				edits = append(edits, fmt.Sprintf("%s: %s > %s", e.Path, e.Old, e.New))
			}
			if diff := cmp.Diff(test.edits, edits); diff != "" {
				t.Error(diff)
			}
		})
	}
	renamed := strings.Replace(winch, "  hose:", "  brake-hose:", 1)
	c := Between(side(winch, burst("hose", 3)), side(renamed, burst("brake-hose", 3)))
	if c.Unchanged != 1 || len(c.Findings) != 0 {
		t.Errorf("the finding of a renamed part: %d unchanged, changes %+v", c.Unchanged, c.Findings)
	}
	seal := burst("hose at port, NBR", 3)
	seal.Subject.Kind = "seal"
	sealed := burst("brake-hose at port, NBR", 3)
	sealed.Subject.Kind = "seal"
	if c := Between(side(winch, seal), side(renamed, sealed)); c.Unchanged != 1 {
		t.Errorf("the finding of a renamed part's seal: %+v", c.Findings)
	}
	unrated := func(text, part string) *rules.Result {
		r := side(text)
		u := &rules.Unassessed{Rule: factor, Subject: rules.Subject{Kind: "part", Name: part}, Must: true}
		a := &rules.Assessment{Rule: &rules.Rule{ID: "run.not-assessed", Gathers: "critical"}, Subject: u.Subject, Finding: true, Gathered: []*rules.Unassessed{u}}
		r.Judgement.Findings, r.Judgement.NotAssessed = []*rules.Assessment{a}, a.Gathered
		return r
	}
	if c := Between(unrated(winch, "hose"), unrated(renamed, "brake-hose")); c.Unchanged != 1 || len(c.Findings) != 0 {
		t.Errorf("what a renamed part lacks: %+v", c.Findings)
	}
	// Words are renamed whole: hose-2 is another name than hose.
	if got := renames(side(winch).Circuit, side(renamed).Circuit).in("hose, hose-2 (hose)"); got != "brake-hose, hose-2 (brake-hose)" {
		t.Error(got)
	}
}

// A circuit as large as a file can be is compared in memory that grows with it, not with its square,
// whatever was renamed in it.
func TestManyRenames(t *testing.T) {
	const tubes = 4000
	text := func(prefix, bore string) string {
		var b strings.Builder
		b.WriteString("headroom: 1\ncircuit: winch\ntitle: t\nfluid: {like: hm-46}\nparts:\n  tank: {kind: reservoir, at: sump, volume: 10 L, fill: 8 L}\n")
		for i := range tubes {
			fmt.Fprintf(&b, "  %st%d: {kind: tube, from: %sn%d, to: %sn%d, bore: 10 mm, wall: 1 mm, length: %s}\n", prefix, i, prefix, i, prefix, i+1, bore)
		}
		return b.String()
	}
	for _, test := range []struct {
		name, old, new string
		renamed        int
	}{
		{"parts and their nodes", text("a", "1 m"), strings.ReplaceAll(text("a", "1 m"), "  at", "  bt"), tubes},
		{"nodes", text("a", "1 m"), strings.ReplaceAll(text("a", "1 m"), " an", " bn"), tubes + 1},
		{"all at once", text("a", "1 m"), text("b", "2 m"), 0},
	} {
		old, new := side(test.old), side(test.new)
		if !old.Circuit.Readable() || len(old.Circuit.Parts) != tubes+1 {
			t.Fatalf("%s: %d parts", test.name, len(old.Circuit.Parts))
		}
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		got := len(Between(old, new).Renamed)
		runtime.ReadMemStats(&after)
		if got != test.renamed {
			t.Errorf("%s: %d renamed, not %d", test.name, got, test.renamed)
		}
		if made := (after.TotalAlloc - before.TotalAlloc) >> 20; made > 250 { // MiB: several times what it takes
			t.Errorf("%s: %d MiB", test.name, made)
		}
	}
}

// Circuits are paired by file, then by name, then as the only ones.
func TestPairs(t *testing.T) {
	of := func(file, name string, finding float64) *rules.Result {
		r := side("headroom: 1\ncircuit: "+name+"\n", burst("hose", finding))
		r.Circuit.File = file
		return r
	}
	got := func(all []*Comparison) (out []string) {
		for _, c := range all {
			text := ""
			if c.Old != nil {
				text = c.Old.Circuit.File
			}
			text += ">"
			if c.New != nil {
				text += c.New.Circuit.File
			}
			for _, f := range c.Findings {
				text += " " + string(f.Kind)
			}
			out = append(out, text)
		}
		return out
	}
	old := []*rules.Result{of("a.yaml", "a", 3), of("b.yaml", "b", 3), of("c.yaml", "c", 3)}
	new := []*rules.Result{of("moved.yaml", "b", 3), of("a.yaml", "x", 6), of("d.yaml", "d", 3)}
	want := []string{"b.yaml>moved.yaml", "a.yaml>a.yaml mended", ">d.yaml new", "c.yaml> gone"}
	if diff := cmp.Diff(want, got(Pairs(old, new))); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]string{"a.yaml>d.yaml"}, got(Pairs(old[:1], new[2:]))); diff != "" {
		t.Error(diff)
	}
}
