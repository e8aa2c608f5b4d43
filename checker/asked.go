package checker

import (
	"math"

	"headroom/checker/network"
	"headroom/rules"
	"headroom/rules/facts"
	"headroom/specs"
	"headroom/specs/quantity"
)

// Asked is what is asked for beyond the cases themselves: each takes runs of its own, so
// that it is computed where a limit asks for it, and no further than that.
type Asked struct {
	Strokes map[string]int // after the loss of the pumps, by cylinder: how many
	InARow  int            // engagements of every pack without pause; 0: not asked for
	Told    bool           // they are told, and not judged: counted where they heat most, and nowhere else
	History bool           // what each case went through over time
	Steps   int            // the budget of one pass of a case; 0: the usual one
}

// AskedBy is what the limits of a circuit ask for, as far as a rule in force reads what
// is counted.
func AskedBy(c *specs.Circuit, limits rules.Numbers, reads func(fact string) bool) Asked {
	a := Asked{Strokes: map[string]int{}}
	counts, strokes := reads("engagements_in_a_row"), reads("strokes_after_pump_loss")
	for _, limit := range []string{"limits.in_a_row", "limits.in_a_row_counted"} {
		if n, asked := limits.Of(limit); asked && a.InARow == 0 && counts {
			a.InARow, a.Told = countable(n), limit != "limits.in_a_row"
		}
	}
	for _, p := range c.Parts {
		if n, asked := limits.Entry("limits.after_pump_loss", p.Base().Name); asked && strokes {
			a.Strokes[p.Base().Name] = countable(n)
		}
	}
	return a
}

// countable is how far to count for a limit: no further than that, and within what
// the budget of steps lets be counted at all.
func countable(limit float64) int { return int(min(max(math.Ceil(limit), 1), 10_000)) }

// A count is how often something could be done; open where counting ended first.
type count struct {
	times int
	open  bool
	from  float64 // time in the case from which it was counted
	lacks string
}

// further are the jobs that count what is asked for, in the cases that came to
// their end: each writes to a place of its own.
func (s *survey) further() (jobs []func()) {
	for c := range s.runs {
		r := &s.runs[c]
		if r.lacks != "" {
			continue
		}
		faulty, changed := s.faulty(r.view), len(r.view.spec.With) > 0
		for i, part := range s.spec.Parts {
			name := part.Base().Name
			switch part.(type) {
			case *specs.Cylinder:
				if most := s.asked.Strokes[name]; most > 0 && !faulty && len(s.pumps) > 0 && s.hasStore(r) {
					n := r.counts(i)
					jobs = append(jobs, func() { *n = s.countStrokes(r, name, most) })
				}
			case *specs.FrictionPack:
				// A brake may well stop with the pump at rest: parts worn or stuck are the fault here.
				if s.asked.InARow > 0 && !changed && len(r.out.Parts[i].Engagements) > 0 && (!s.asked.Told || r == s.hottest(i)) {
					n := r.counts(i)
					jobs = append(jobs, func() { *n = s.countRow(r, i, name) })
				}
			}
		}
	}
	return jobs
}

// hottest is the case, of those with all parts as they are, that heats a pack's plates
// most; nil where none engages it.
func (s *survey) hottest(pack int) (top *run) {
	highest := 0.0
	for c := range s.runs {
		r := &s.runs[c]
		if r.lacks != "" || len(r.view.spec.With) > 0 || len(r.out.Parts[pack].Engagements) == 0 {
			continue
		}
		if plates := r.reading(pack, "plate_temperature"); plates != nil && plates.Highest.Value > highest {
			top, highest = r, plates.Highest.Value
		}
	}
	return top
}

// counts is the place for what is counted of a part.
func (r *run) counts(part int) *count {
	if r.counted == nil {
		r.counted = map[int]*count{}
	}
	r.counted[part] = &count{}
	return r.counted[part]
}

// hasStore tells whether a case has an accumulator with oil in it at some time.
func (s *survey) hasStore(r *run) bool {
	for i := range s.spec.Parts {
		if oil := r.reading(i, "oil"); oil != nil && oil.Highest.Value > 0 {
			return true
		}
	}
	return false
}

func (s *survey) countStrokes(r *run, cylinder string, most int) count {
	strokes, err := network.StrokesAfterLoss(s.spec, r.view.spec, r.out, cylinder, most, network.Options{Steps: s.asked.Steps})
	if err != nil {
		return count{lacks: err.Error()}
	}
	n := min(strokes.FromFullest, strokes.FromEmptiest)
	from := strokes.Emptiest
	if strokes.FromFullest < strokes.FromEmptiest {
		from = strokes.Fullest
	}
	return count{times: n, open: n >= most, from: from}
}

// countRow counts how often a case can be repeated before it gets too hot: not
// even once where a single engagement puts too much into the faces. Where
// its own pass leaves temperatures so far from their limits that they would not
// come there if each pass warmed twice as much, none is run.
func (s *survey) countRow(r *run, i int, pack string) count {
	if s.overloads(r, i) {
		return count{}
	}
	if most := s.asked.InARow; s.staysCool(r, i, most) {
		return count{times: most, open: true}
	}
	n, open, err := network.InARow(s.spec, r.view.spec, r.out, pack, s.asked.InARow, network.Options{Steps: s.asked.Steps, Starts: s.resting(r.view)})
	if err != nil {
		return count{lacks: err.Error()}
	}
	return count{times: n, open: open}
}

// overloads tells whether an engagement of a case puts more energy or power into
// the faces of a pack than these stand.
func (s *survey) overloads(r *run, i int) bool {
	p, _ := caseAs[*specs.FrictionPack](r, i)
	area := faceArea(p)
	for k := range r.out.Parts[i].Engagements {
		e := &r.out.Parts[i].Engagements[k]
		if p.EnergyLimit.Given() && e.Energy > p.EnergyLimit.SI*area || p.PowerLimit.Given() && e.Power.Value > p.PowerLimit.SI*area {
			return true
		}
	}
	return false
}

// staysCool tells whether so many passes leave the plates of a pack, the fluid
// and its bulk below their limits, with a factor of two on what each adds.
func (s *survey) staysCool(r *run, pack, passes int) bool {
	cool := func(v *network.Range, limit specs.Quantity) bool {
		return !limit.Given() || v.Highest.Value+2*float64(passes-1)*max(0, v.End-v.Begin) < limit.SI
	}
	p, _ := caseAs[*specs.FrictionPack](r, pack)
	plates := r.reading(pack, "plate_temperature")
	if plates == nil || !cool(&plates.Range, p.Plates.MaxTemperature) {
		return false
	}
	for n, v := range r.nodes {
		limit := s.spec.Fluid.PeakTemperature
		if s.graph.Nodes[n].Reservoir {
			limit = s.spec.Fluid.MaxTemperature
		}
		if v != nil && !cool(&v.Temperature, limit) {
			return false
		}
	}
	return true
}

// countsInTime tells the strokes of a cylinder that are left after the loss of
// the pumps, or the engagements in a row that a pack stands: the least of any
// case without a fault of its own.
func (s *survey) countsInTime(i int, part specs.Part, f *facts.Part) {
	switch part.(type) {
	case *specs.Cylinder:
		if s.asked.Strokes[part.Base().Name] > 0 {
			f.StrokesAfterLoss = s.leastCount(i, func(n *count) string { return "the pump lost at " + print(n.from, quantity.Time) },
				"a case without a fault, with oil stored")
		}
	case *specs.FrictionPack:
		if s.asked.InARow > 0 {
			f.EngagementsInARow = s.leastCount(i, func(*count) string { return "the case repeated without pause" },
				"a case without a fault in which it engages")
		}
	}
}

// leastCount is the least of a count over the cases that have it.
func (s *survey) leastCount(i int, how func(*count) string, lacks string) facts.Fact {
	for c := range s.runs {
		if n := s.runs[c].counted[i]; n != nil && n.lacks != "" {
			return missing("a count in case " + s.runs[c].view.spec.Name + ": " + n.lacks)
		}
	}
	return or(s.worst(search{from: s.partOrigin(i), lowest: true}, func(r *run) (moment, bool) {
		n := r.counted[i]
		if n == nil {
			return moment{}, false
		}
		m := moment{value: float64(n.times), note: how(n)}
		if n.open {
			m.note += "; not counted further"
		}
		return m, true
	}), lacks)
}
