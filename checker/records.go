package checker

import (
	"math"

	"headroom/checker/network"
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// records are what the simulated cases came to, for reports.
func (s *survey) records(f *facts.Circuit) []facts.CaseRecord {
	var all []facts.CaseRecord
	expectations := f.Expectations
	for c := range s.runs {
		r := &s.runs[c]
		mine := expectations[:len(r.view.spec.Expects)]
		expectations = expectations[len(mine):]
		if r.out != nil {
			all = append(all, s.record(r, mine))
		}
	}
	return all
}

func (s *survey) record(r *run, expectations []*facts.Expectation) facts.CaseRecord {
	b := &r.out.Balance
	record := facts.CaseRecord{
		Case: r.view.spec.Name, Steps: r.out.Steps,
		NodeError: b.Node, MassError: math.Abs(b.Mass), EnergyError: math.Abs(b.Energy),
		History: r.history,
	}
	if r.out.Failure != nil {
		record.Unfinished = r.out.Failure.Why
	}
	for i := range r.out.Nodes {
		n := &r.out.Nodes[i]
		record.Nodes = append(record.Nodes, facts.NodeRecord{
			Name:        n.Node,
			Pressure:    s.ranged("pressure", quantity.Pressure, &n.Pressure),
			Temperature: s.ranged("temperature", quantity.Temperature, &n.Temperature),
		})
	}
	for i := range r.out.Parts {
		record.Parts = append(record.Parts, s.partRecord(&r.out.Parts[i]))
	}
	for e := range r.out.Expectations {
		record.Expectations = append(record.Expectations, s.expectationRecord(expectations[e], &r.out.Expectations[e]))
	}
	return record
}

// lowestTells are readings whose lowest value is the one that matters.
var lowestTells = map[string]bool{"inlet_pressure_absolute": true, "useful": true, "drawing_drop": true}

// ranged is a quantity with all that it ranged over.
func (s *survey) ranged(name string, d quantity.Dimension, v *network.Range) facts.Reading {
	less, lowest, highest := 0.0, v.Lowest, v.Highest
	switch d {
	case quantity.Pressure:
		less, lowest, highest = s.air, emptied(lowest), emptied(highest)
	case quantity.AbsolutePressure:
		lowest, highest = emptied(lowest), emptied(highest)
	}
	r := facts.Reading{
		Name: name, Dimension: d, Ranged: true,
		Lowest:  facts.Extreme{Value: lowest.Value - less, Time: lowest.Time},
		Highest: facts.Extreme{Value: highest.Value - less, Time: highest.Time},
	}
	r.Value = r.Highest
	if lowestTells[name] || math.Abs(r.Lowest.Value) > math.Abs(r.Highest.Value) {
		r.Value = r.Lowest
	}
	return r
}

// partRecord is what a part went through: its readings, the worst surge of a
// line, and the engagement of a pack with the most heat, its times NaN where none
// came about.
func (s *survey) partRecord(p *network.PartOutcome) facts.PartRecord {
	record := facts.PartRecord{Name: p.Part}
	add := func(name string, d quantity.Dimension, value, time float64) {
		record.Readings = append(record.Readings, facts.Reading{Name: name, Dimension: d, Value: facts.Extreme{Value: value, Time: time}})
	}
	line, pack := false, false
	for i := range p.Readings {
		v := &p.Readings[i]
		line, pack = line || v.Name == "reynolds", pack || v.Name == "plate_temperature"
		if d, known := quantity.DimensionNamed(v.Dimension); known && v.Known {
			record.Readings = append(record.Readings, s.ranged(v.Name, d, &v.Range))
		}
	}
	if line {
		worst := network.Surge{}
		for _, surge := range p.Surges {
			if surge.Rise > worst.Rise {
				worst = surge
			}
		}
		add("surge", quantity.PressureDifference, worst.Rise, worst.Time)
	}
	if pack {
		e, starts, locks := &network.Engagement{}, math.NaN(), math.NaN()
		if hard := hardest(p.Engagements, func(e *network.Engagement) float64 { return e.Energy }); hard != nil {
			if e, starts = hard, hard.Starts; e.Locked {
				locks = e.Locks
			}
		}
		add("energy", quantity.Energy, e.Energy, starts)
		add("slip_starts", quantity.Time, starts, starts)
		add("locks_at", quantity.Time, locks, locks)
	}
	return record
}

// expectationRecord is what came of an expectation, as its fact asks for it.
func (s *survey) expectationRecord(f *facts.Expectation, out *network.ExpectationOutcome) facts.ExpectationRecord {
	record := facts.ExpectationRecord{Name: f.Name.Value, Dimension: quantity.Time, Came: out.Came, Measure: out.Measure, Limit: f.Within.Value, AtMost: true, Time: out.Time}
	switch f.Kind.Value {
	case expectsAtLeast:
		record.Dimension, record.Measure, record.Limit, record.AtMost = quantity.Pressure, out.Measure-s.air, f.AtLeast.Value, false
	case expectsAtMost:
		record.Dimension, record.Measure, record.Limit = quantity.Pressure, out.Measure-s.air, f.AtMost.Value
	}
	return record
}
