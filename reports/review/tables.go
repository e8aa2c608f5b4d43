package review

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/catalogue"
	"headroom/specs/quantity"
)

// This file fills the page's tables.

// A massRow is a part's mass.
type massRow struct {
	Name, Kind, Mass, Share string
	Width                   string // of its bar, as a share of the heaviest
}

// A massView is where the mass is.
type massView struct {
	Rows, More    []massRow // the heaviest, and the rest
	Total, Budget string
	State         string
	Without       string // parts that state none
}

// heaviest is how many rows of masses are shown unfolded.
const heaviest = 12

func massOf(r *rules.Result) *massView {
	f := r.Facts
	if f == nil || len(f.Parts) == 0 {
		return nil
	}
	v := &massView{}
	type entry struct {
		name, kind string
		mass       float64
	}
	var all []entry
	var without []string
	total := 0.0
	for _, p := range f.Parts {
		base := p.Spec.Base()
		if !base.Mass.Given() {
			without = append(without, base.Name)
			continue
		}
		all = append(all, entry{base.Name, base.Kind, base.Mass.SI})
	}
	if m := f.Whole.FluidMass; m.Known {
		all = append(all, entry{"the fluid", f.Fluid.Name.Value, m.Value})
	} else {
		without = append(without, "the fluid")
	}
	for _, e := range all {
		total += e.mass
	}
	slices.SortStableFunc(all, func(a, b entry) int { return cmp.Compare(b.mass, a.mass) })
	for _, e := range all {
		row := massRow{Name: e.name, Kind: e.kind, Mass: quantity.Mass.Format(e.mass)}
		if total > 0 {
			row.Share = fmt.Sprintf("%.1f %%", 100*e.mass/total)
			row.Width = coordinate(180 * e.mass / all[0].mass)
		}
		v.Rows = append(v.Rows, row)
	}
	if len(v.Rows) > heaviest+3 {
		v.Rows, v.More = v.Rows[:heaviest], v.Rows[heaviest:]
	}
	v.Without, v.Total = strings.Join(without, ", "), quantity.Mass.Format(total)
	for _, a := range r.Judgement.Assessments {
		if a.Rule.ID == "mass.budget" && a.Measure != nil {
			alike := a.Measure.Dimension.FormatAlike(a.Measure.SI, a.Limit.Value.SI)
			v.Budget, v.State = a.Limit.Sense+" "+alike[1], "comfortable"
			if !a.Holds {
				v.State = "broken"
			}
		}
	}
	return v
}

// A sealRow is one seal.
type sealRow struct {
	Part, Port, Material, Fluid, Seen, Window, Pressure, Gap, Speed string
	Findings                                                        []*finding
}

func sealsOf(f *facts.Circuit, found []*finding) (rows []sealRow) {
	if f == nil {
		return nil
	}
	for _, s := range f.Seals {
		row := sealRow{Part: s.Part.Name.Value, Material: s.Material.Value, Fluid: word(s.Rating)}
		if list := s.Part.Spec.Base().Seals; s.Index < len(list) {
			row.Port = list[s.Index].Port.Value
			if h := list[s.Index].Hardness; h.Given() {
				row.Material += fmt.Sprintf(" %g Shore A", h.SI)
			}
		}
		row.Seen = between(quantity.Temperature, s.Coldest, s.Hottest)
		row.Window = between(quantity.Temperature, s.Min, s.Max)
		row.Pressure = fact(quantity.Pressure, s.Pressure)
		row.Gap = of(quantity.Length, s.Gap, s.GapAllowed)
		if s.Backup.Known && s.Backup.Value {
			row.Gap += ", backed up"
		}
		row.Speed = "at rest"
		if s.Moving.Known && s.Moving.Value {
			row.Speed = of(quantity.Velocity, s.Speed, s.SpeedAllowed)
		}
		for _, x := range found {
			if x.of.Subject.Kind == "seal" && x.of.Subject.Name == s.Name.Value {
				row.Findings = append(row.Findings, x)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// unknown is what is printed where there is no value: never a blank that reads as none.
const unknown = "not known"

func fact(d quantity.Dimension, f facts.Fact) string {
	if !f.Known {
		return unknown
	}
	return d.Format(f.Value)
}

func word(t facts.Text) string {
	if !t.Known {
		return unknown
	}
	return t.Value
}

// of is a value and what is allowed of it.
func of(d quantity.Dimension, f, allowed facts.Fact) string {
	switch {
	case f.Known && allowed.Known:
		alike := d.FormatAlike(f.Value, allowed.Value)
		return alike[0] + " of " + alike[1]
	case allowed.Known:
		return unknown + ", of " + d.Format(allowed.Value)
	}
	return fact(d, f)
}

// between is a range.
func between(d quantity.Dimension, low, high facts.Fact) string {
	switch {
	case low.Known && high.Known:
		alike := d.FormatAlike(low.Value, high.Value)
		number, unit, _ := strings.Cut(alike[0], " ")
		if strings.HasSuffix(alike[1], " "+unit) {
			return number + " to " + alike[1]
		}
		return alike[0] + " to " + alike[1]
	case low.Known:
		return "from " + d.Format(low.Value)
	case high.Known:
		return "up to " + d.Format(high.Value)
	}
	return unknown
}

// A pair is a name, a value, and a remark.
type pair struct{ Name, Value, Note string }

func fluidOf(f *facts.Circuit) (rows []pair) {
	if f == nil || !f.Fluid.Name.Known {
		return nil
	}
	u := &f.Fluid
	add := func(name, value, note string) { rows = append(rows, pair{name, value, note}) }
	add("fluid", word(u.Name), "")
	family := word(u.Family)
	if known, is := catalogue.Family(u.Family.Value); is {
		family += ", " + known.Name
	}
	add("family, ISO 6743-4", family, "")
	for _, p := range u.Curve {
		note := "as new"
		if !p.Given {
			note += "; outside the points given"
		}
		name := "viscosity " + p.What
		if text := quantity.Temperature.Format(p.At); !strings.Contains(p.What, "°C") {
			name += ", " + text
		}
		add(name, quantity.KinematicViscosity.Format(p.Viscosity), note)
	}
	add("bulk temperature", of(quantity.Temperature, u.ReservoirHottest, u.MaxTemperature), "hottest reservoir, of the continuous limit")
	peak := of(quantity.Temperature, u.HottestUsed, u.PeakTemperature)
	add("peak temperature", peak, "hottest node, of the limit for short excursions")
	add("pour point", fact(quantity.Temperature, u.PourPoint), "")
	add("flash point", fact(quantity.Temperature, u.FlashPoint), "")
	add("autoignition", fact(quantity.Temperature, u.Autoignition), "")
	add("air release", fact(quantity.Time, u.AirRelease), "stay in the reservoir: "+fact(quantity.Time, u.Dwell))
	add("service life", fact(quantity.Time, u.LifeUsed), "service interval: "+fact(quantity.Time, f.Environment.ServiceInterval))
	return rows
}

// A concession row is a recorded acceptance.
type conceded struct {
	Rule, Subject, Until, By, Because, DownTo, State string
	Covers                                           []*finding
}

func concessionsOf(r *rules.Result, found []*finding) (rows []conceded) {
	add := func(list []specs.Concession) {
		for i := range list {
			k := &list[i]
			row := conceded{Rule: k.Rule.Value, Subject: k.Subject.Value, Until: k.Until.Value, By: k.By.Value, Because: k.Because.Value, DownTo: k.DownTo.Value}
			if k.Case.Given() {
				row.Subject = strings.TrimSpace(row.Subject + " in " + k.Case.Value)
			}
			for _, f := range found {
				if f.of.Conceded == k {
					row.Covers = append(row.Covers, f)
				}
			}
			rows = append(rows, row)
		}
	}
	add(r.Circuit.Concessions)
	if r.Project != nil {
		add(r.Project.Concessions)
	}
	return rows
}

// An excused row is what the project says does not apply.
type excused struct{ Rule, Subject, Because string }

func excusedOf(j *rules.Judgement) (rows []excused) {
	for _, u := range j.NotAssessed {
		if u.Excused != "" {
			rows = append(rows, excused{u.Rule.ID, u.Subject.String(), u.Excused})
		}
	}
	return rows
}

// A source row is an entry of the catalogue that the circuit relies on.
type sourced struct {
	Name, Kind, About, Used string
	Sources                 []sourceLine
}

type sourceLine struct{ Of, Source, Mark string }

// catalogueOf lists entries named by `like`, then the materials of seals and tubes.
func catalogueOf(c *specs.Circuit) (rows []sourced) {
	index := map[string]int{}
	add := func(name, by string, find func() (sourced, bool)) {
		if i, known := index[name]; known {
			if !strings.HasSuffix(rows[i].Used, by) {
				rows[i].Used += ", " + by
			}
			return
		}
		if row, known := find(); known {
			row.Used = by
			index[name] = len(rows)
			rows = append(rows, row)
		}
	}
	if like := c.Fluid.Like; like.Given() {
		add("fluid "+like.Value, "fluid", func() (sourced, bool) {
			e, known := catalogue.Fluid(like.Value)
			return entryOf(e), known
		})
	}
	for _, p := range c.Parts {
		if like := p.Base().Like; like.Given() {
			add("part "+like.Value, p.Base().Name, func() (sourced, bool) {
				e, known := catalogue.Part(like.Value)
				return entryOf(e), known
			})
		}
	}
	for _, p := range c.Parts {
		for i := range p.Base().Seals {
			material := p.Base().Seals[i].Material.Value
			add("seal "+material, p.Base().Name, func() (sourced, bool) {
				s, known := catalogue.Seal(material)
				row := sourced{Name: s.Symbol, Kind: "seal material", About: s.Name, Sources: sourceLines(s.Sources)}
				if fit, rated := s.In(c.Fluid.Family.Value); rated {
					row.Sources = append(row.Sources, sourceLine{"suitability in " + c.Fluid.Family.Value, fit.Source, string(fit.Mark)})
				}
				return row, known
			})
		}
		if tube, is := p.(*specs.Tube); is {
			add("tube "+tube.Material.Value, tube.Name, func() (sourced, bool) {
				m, known := catalogue.Tube(tube.Material.Value)
				return sourced{Name: m.Name, Kind: "tube material", About: m.About, Sources: sourceLines(m.Sources)}, known
			})
		}
	}
	return rows
}

func entryOf(e catalogue.Entry) sourced {
	return sourced{Name: e.Name, Kind: e.Kind, About: e.About, Sources: sourceLines(e.Sources)}
}

func sourceLines(sources []catalogue.Source) (lines []sourceLine) {
	for _, s := range sources {
		lines = append(lines, sourceLine{strings.ReplaceAll(strings.Join(s.Of, ", "), "_", " "), s.Source, string(s.Mark)})
	}
	return lines
}

// A coverage view is what was judged, and by what.
type coverageView struct {
	Rules  []coveredRule
	Things []coveredThings
}

type coveredRule struct{ Rule, Title, Grade, For, Assessed, Not, Missing string }

type coveredThings struct {
	Kind string
	Rows []coveredThing
}

type coveredThing struct{ Name, By, Not string }

func coverageOf(v *rules.Coverage) *coverageView {
	if v == nil {
		return nil
	}
	out := &coverageView{}
	for i := range v.Rules {
		row := &v.Rules[i]
		assessed, not, missing := fmt.Sprint(row.Assessed), fmt.Sprint(row.NotAssessed), strings.Join(row.Missing, ", ")
		if row.Assessed+row.NotAssessed == 0 {
			assessed, not, missing = "–", "–", "no subject here"
		}
		out.Rules = append(out.Rules, coveredRule{row.Rule.ID, row.Rule.Title, row.Rule.Grade.String(), row.Rule.For, assessed, not, missing})
	}
	for _, k := range []struct {
		kind   string
		things []rules.ThingCoverage
	}{{"part", v.Parts}, {"node", v.Nodes}, {"case", v.Cases}} {
		if len(k.things) == 0 {
			continue
		}
		group := coveredThings{Kind: k.kind}
		for _, t := range k.things {
			by := "no rule"
			if len(t.By) > 0 {
				by = strings.Join(t.By, ", ")
			}
			group.Rows = append(group.Rows, coveredThing{t.Name, by, strings.Join(t.Wanted, ", ")})
		}
		out.Things = append(out.Things, group)
	}
	return out
}
