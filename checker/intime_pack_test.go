package checker

import (
	"math"
	"strings"
	"testing"

	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs"
)

// launch is a clutch that a reducing valve releases to 60 bar and lets go again:
// two launches of an inertia that nothing else turns.
const launch = `
environment: {ambient: 20 degC}
parts:
  tank: {kind: reservoir, at: sump, volume: 20 L, fill: 10 L}
  pump: {kind: pump, from: sump, to: rail, displacement: 10 cm3/rev, delivers: {flow: 10 L/min, at: {pressure: 100 bar, speed: 1000 rpm, viscosity: 32 mm2/s}}, mechanical_efficiency: 100 %}
  relief: {kind: relief-valve, from: rail, to: sump, cracking: 95 bar, flow: 10 L/min, override: 5 bar}
  valve: {kind: reducing-valve, p: rail, a: line, t: sump, flow: 10 L/min, drop: 5 bar, band: 2 bar, lag: 5 ms, rest: 3 bar}
  hose: {kind: hose, from: line, to: port, bore: 8 mm, length: 0.5 m}
  release: {kind: cylinder, head: port, bore: 30 mm, stroke: 3 mm, moving_mass: 0.5 kg, friction: {viscous: 200 N·s/m}, spring: {preload: 2 kN, rate: 100 N/mm}, dead_volume: {head: 2 cm3}}
  clutch: {kind: friction-pack, released_by: release, faces: 6, inner_radius: 40 mm, outer_radius: 60 mm, clearance: 0.1 mm, friction: 0.2, plates: {mass: 1 kg, specific_heat: 0.5 kJ/kg/K, max_temperature: 300 degC}, driven: {inertia: 0.2 kg·m2, load: 0 N·m}, torque_needed: 50 N·m, to_cylinder: 0 W/K, to_air: 0 W/K}
cases:
  launch:
    lasts: 3 s
    begins: {fluid: 20 degC, plates: 20 degC, charge: 95 bar, spools: {valve: 60 bar}}
    drives: {pump: 1000 rpm, clutch: [[0 s, 2000 rpm], [3 s, 2000 rpm]]}
    commands:
      - {at: 0 s, valve: valve, to: 60 bar}
      - {at: 1 s, valve: valve, to: 3 bar}
    expects:
      - {pack: clutch, locks_within: 1 s, from: 1 s}
`

// An inertia that is brought to speed against nothing takes as much energy as it
// costs in heat: J ω²/2 each.
func TestPackFacts(t *testing.T) {
	f := simulateText(t, launch, Asked{InARow: 5})
	clutch := partOf(t, f, "clutch")
	omega := 2000 * math.Pi / 30
	heat := 0.2 * omega * omega / 2
	area := 6 * math.Pi * (0.06*0.06 - 0.04*0.04)
	near(t, "energy per area", clutch.EnergyPerArea, heat/area, 0.05*heat/area)
	near(t, "hottest plates", clutch.PlatesHottest, 293.15+heat/500, 0.05*heat/500)
	// The valve holds what it is told within its band, and rests at 3 bar.
	near(t, "release pressure", clutch.ReleaseAvailable, 60e5, 2e5)
	head := math.Pi / 4 * 0.03 * 0.03
	left := (2000 - clutch.TorqueCapacity.Value/(0.2*6*0.05)) / head
	if left < 1e5 || left > 5e5 || !strings.Contains(clutch.TorqueCapacity.From.Note, "left in release") {
		t.Errorf("torque capacity %g is with %g Pa left: %+v", clutch.TorqueCapacity.Value, left, clutch.TorqueCapacity.From)
	}
	power := 0.2 * 6 * 0.05 * (2000 - left*head) * omega
	near(t, "power per area", clutch.PowerPerArea, power/area, 0.15*power/area)
	if e := f.Expectations[0]; !e.CameAbout.Value || e.Time.Value <= 0.2 || e.Time.Value > 1 {
		t.Errorf("lock-up: %+v in %g", e.CameAbout, e.Time.Value)
	}
	near(t, "engagements in a row", clutch.EngagementsInARow, 5, 0)
	if note := clutch.EngagementsInARow.From.Note; !strings.Contains(note, "not counted further") {
		t.Errorf("engagements in a row are told as %q", note)
	}
	// The output comes up to the input's 2000 rpm; what the faces stand counts too.
	near(t, "output speed", clutch.OutputSpeed, omega, 0.002*omega)
	for _, limit := range []string{"energy_limit: 1 kJ/m2", "power_limit: 1 W/m2"} {
		burnt := partOf(t, simulateText(t, replaced(launch, "torque_needed: 50 N·m", limit), Asked{InARow: 5}), "clutch")
		near(t, "engagements in a row with "+limit, burnt.EngagementsInARow, 0, 0)
	}
	if f = simulateText(t, launch, Asked{}); partOf(t, f, "clutch").EngagementsInARow.Known {
		t.Error("engagements in a row were counted though nobody asked")
	}
}

// A clutch held open at 60 bar of what it needs (2 kN and 0.62 mm of 100
// N/mm on 706.858 mm2: 29.172 bar) keeps that, until something else draws the rail down
// to next to nothing: for 50 ms or more, in a case without a fault, before it is to
// clamp again.
func TestReleaseKept(t *testing.T) {
	const needed = (2000 + 0.62e-3*100e3) / 706.8583e-6
	kept := func(text string) facts.Fact { return partOf(t, simulateText(t, text, Asked{}), "clutch").ReleaseKept }
	steady := kept(launch)
	near(t, "kept", steady, 60e5/needed, 0.03)
	if note := steady.From.Note; !strings.Contains(note, "of 29.2 bar for full release") {
		t.Errorf("told as %q", note)
	}
	drawn := func(from, on, to, off string) string {
		text := replaced(launch, "\ncases:", "\n  crane: {kind: consumer, from: rail, to: sump, min_pressure: 1 bar}\ncases:")
		return replaced(text, "    commands:", "    demands: {crane: [[0 s, 0 L/min], ["+from+", 0 L/min], ["+on+", 60 L/min], ["+to+", 60 L/min], ["+off+", 0 L/min]]}\n    commands:")
	}
	low := kept(drawn("0.5 s", "0.501 s", "0.8 s", "0.801 s"))
	if !low.Known || low.Value > 0.3 || low.From.Time < 0.5 || low.From.Time > 0.8 {
		t.Errorf("drawn down it keeps %+v (%+v)", low, low.From)
	}
	near(t, "drawn down for 20 ms", kept(drawn("0.5 s", "0.501 s", "0.52 s", "0.521 s")), 60e5/needed, 0.03)
	near(t, "drawn down after the call", kept(drawn("1.5 s", "1.501 s", "2 s", "2.001 s")), 60e5/needed, 0.03)
	lacks(t, "in a case with a fault", kept(replaced(drawn("0.5 s", "0.501 s", "0.8 s", "0.801 s"), "drives: {pump: 1000 rpm,", "drives: {pump: [[0 s, 1000 rpm], [0.4 s, 1000 rpm], [0.41 s, 0 rpm]],")), "a case in which clutch is fully released")
	lacks(t, "never released in full", kept(replaced(launch, "valve, to: 60 bar", "valve, to: 25 bar")), "a case in which clutch is fully released")
	lacks(t, "without a clearance", kept(replaced(launch, "clearance: 0.1 mm, ", "")), "parts.clutch.clearance")
}

// A brake brings its output to rest, and counts as locked then.
func TestBrakeLocks(t *testing.T) {
	text := replaced(launch, "clutch: [[0 s, 2000 rpm], [3 s, 2000 rpm]]", "clutch: 0 rpm")
	text = replaced(text, "begins: {fluid: 20 degC,", "begins: {output: 1000 rpm, fluid: 20 degC,")
	f := simulateText(t, text, Asked{})
	// From 1000 rpm with some 100 N·m: J ω/T.
	torque := partOf(t, f, "clutch").TorqueCapacity.Value
	want := 0.2 * 1000 * math.Pi / 30 / torque
	near(t, "time to a stand", f.Expectations[0].Time, want, 0.2*want)
}

// What is spared by reckoning comes to the same as what is run: where a case
// stays cool, the count of passes finds nothing too hot.
func TestStaysCool(t *testing.T) {
	cool, hot := 0, 0
	for _, demo := range []string{"stonechat", "ptarmigan"} {
		c, err := specs.Load("../specs/demo/" + demo + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		s := newSurvey(c)
		s.simulate()
		for i, part := range c.Parts {
			for k := range s.runs {
				r := &s.runs[k]
				if len(r.out.Parts[i].Engagements) == 0 {
					continue
				}
				_, open, err := network.InARow(c, r.view.spec, r.out, part.Base().Name, 4, network.Options{})
				if err != nil {
					t.Fatal(err)
				}
				if s.staysCool(r, i, 4) {
					cool++
					if !open {
						t.Errorf("%s: %s would stay cool, and does not", r.view.spec.Name, part.Base().Name)
					}
				} else if !open {
					hot++
				}
			}
		}
	}
	if cool < 2 || hot < 1 {
		t.Errorf("%d cases stay cool and %d get hot: that shows too little", cool, hot)
	}
}

// A level is the highest that a quantity keeps for its window.
func TestLevel(t *testing.T) {
	l := level{window: 1}
	for _, p := range [][2]float64{{0, 0}, {0.5, 8}, {1, 8}, {1.4, 2}, {2, 6}, {4, 6}, {4.2, 9}, {4.4, 0}} {
		l.add(p[0], p[1])
	}
	if !l.known || l.best != 6 || l.at != 4 {
		t.Errorf("the level is %v (%v) at %v, want 6 at 4: the peaks of 8 and 9 are too short", l.best, l.known, l.at)
	}
	l.reset()
	if l.add(0, 5); l.known {
		t.Error("a level is known before its window is over")
	}
	l.add(3, 2) // straight from 5 to 2: at 2 s it is 3
	if l.best != 2 {
		t.Errorf("the level within one long step is %v, want 2", l.best)
	}
}

// Words for cases that came to no end, and for temperatures that ran away.
func TestUnfinishedAndUnsettled(t *testing.T) {
	c := gather(t, launch)
	s := newSurvey(c.Spec)
	s.runs = make([]run, 1)
	r := &s.runs[0]
	r.view = &s.cases[0]
	r.out = &network.Outcome{Failure: &network.Failure{Time: 2.31, Where: "rail", State: "pressure", Why: "the budget of 60000 steps is used up"}}
	f := s.finished(r, facts.Origin{})
	if f.Value || !f.Known || f.From.Time != 2.31 || f.From.Note != "the budget of 60000 steps is used up; it was held up by the pressure of rail" {
		t.Errorf("unfinished: %+v %+v", f, f.From)
	}
	r.out = &network.Outcome{Repeats: network.Repeats{Done: 60, Unsettled: &network.Unsettled{
		After: 40, Where: "back", State: "temperature", Temperature: 433.15, PerRepeat: 4, Why: "its change per repeat grows",
	}}}
	r.view.spec.Repeats.Settle = true
	u := s.settled(r, facts.Origin{})
	if u.Value || !u.Known || u.From.Note != "after 40 passes back is at 160 degC and changes by 4.00 K per repeat: its change per repeat grows" {
		t.Errorf("unsettled: %+v %+v", u, u.From)
	}
}

// A case that came to no end tells nothing, and leaves the worst over all cases
// unknown; one that did not settle leaves temperatures unknown.
func TestWorstWithoutEnd(t *testing.T) {
	c := gather(t, press)
	s := newSurvey(c.Spec)
	s.simulate()
	s.runs[1].lacks = "an end of case fast"
	s.runs[1].hot = s.runs[1].lacks
	s.runs[2].hot = "settled temperatures of case cold"
	s.sees = s.seen()
	f := s.gather()
	s.inTime(f)
	lacks(t, "highest pressure", nodeOf(t, f, "press").HighestPressure, "an end of case fast")
	lacks(t, "pressure there", hereOf(t, f, "hose", "fast").HighestPressure, "an end of case fast")
	lacks(t, "warmth there", hereOf(t, f, "hose", "cold").Hottest, "settled temperatures of case cold")
	if p := hereOf(t, f, "hose", "cold").HighestPressure; !p.Known {
		t.Error("pressures of a case that did not settle are not told")
	}
	if e := f.Expectations[0]; e.CameAbout.Known || e.Lowest.Missing != "an end of case fast" {
		t.Errorf("expectation: %+v", e)
	}
}

// The record of a pack names its hardest engagement, or none.
func TestPackRecord(t *testing.T) {
	reading := func(f *facts.Circuit, name string) facts.Reading {
		for _, p := range f.Records[0].Parts {
			for _, r := range p.Readings {
				if p.Name == "clutch" && r.Name == name {
					return r
				}
			}
		}
		t.Fatalf("no reading %s", name)
		return facts.Reading{}
	}
	f := simulateText(t, launch, Asked{})
	if at := reading(f, "slip_starts").Value.Value; at < 1 || at > 1.1 {
		t.Errorf("slip starts at %g s, let go at 1 s", at)
	}
	locks := reading(f, "locks_at").Value.Value
	near(t, "lock-up", f.Expectations[0].Time, locks-1, 1e-9)
	omega := 2000 * math.Pi / 30
	if e := reading(f, "energy").Value.Value; math.Abs(e-0.1*omega*omega) > 0.05*e {
		t.Errorf("energy %g", e)
	}
	f = simulateText(t, replaced(launch, "{at: 1 s, valve: valve, to: 3 bar}", "{at: 1 s, valve: valve, to: 60 bar}"), Asked{})
	if v := reading(f, "locks_at").Value.Value; !math.IsNaN(v) {
		t.Errorf("it locks at %g s though it is never let go", v)
	}
}

// Where engagements in a row are told and not judged, they are counted in the case that
// heats the plates most; where a limit asks for them, in every case.
func TestRowIsToldOfTheHottestCase(t *testing.T) {
	gentle := strings.Replace(launch[strings.Index(launch, "  launch:\n"):], "  launch:\n", "  gentle:\n", 1)
	text := launch + strings.ReplaceAll(gentle, "2000 rpm", "500 rpm")
	for _, told := range []bool{true, false} {
		s := newSurvey(specs.Read("launches.yaml", []byte(plain+text)))
		s.asked = Asked{InARow: 3, Told: told}
		s.simulate()
		counted := 0
		for c := range s.runs {
			for i, p := range s.spec.Parts {
				if p.Base().Name != "clutch" || s.runs[c].counted[i] == nil {
					continue
				}
				counted++
				if told && s.runs[c].view.spec.Name != "launch" {
					t.Errorf("counted in %s", s.runs[c].view.spec.Name)
				}
			}
		}
		if want := map[bool]int{true: 1, false: 2}[told]; counted != want {
			t.Errorf("told %v: counted in %d cases, want %d", told, counted, want)
		}
	}
}
