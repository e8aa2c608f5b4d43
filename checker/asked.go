package checker

import (
	"fmt"
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
}

// beyond is how many more are counted than a limit asks for.
const beyond = 2

// AskedBy is what the limits of a circuit ask for.
func AskedBy(c *specs.Circuit, limits rules.Numbers) Asked {
	a := Asked{Strokes: map[string]int{}}
	if n, asked := limits.Of("limits.in_a_row"); asked {
		a.InARow = countable(n)
	}
	for _, p := range c.Parts {
		if n, asked := limits.Entry("limits.after_pump_loss", p.Base().Name); asked {
			a.Strokes[p.Base().Name] = countable(n)
		}
	}
	return a
}

// countable is how far to count for a limit: at most a hundred.
func countable(limit float64) int {
	return int(min(max(math.Ceil(limit), 1), 100)) + beyond
}

// A count is how often something could be done; open where counting ended first.
type count struct {
	times int
	open  bool
	from  float64 // time in the case from which it was counted
	lacks string
}

// goOn counts what is asked for of a case that came to its end.
func (s *survey) goOn(r *run) {
	r.strokes, r.row = map[int]count{}, map[int]count{}
	for i, part := range s.spec.Parts {
		name := part.Base().Name
		switch part.(type) {
		case *specs.Cylinder:
			if most := s.asked.Strokes[name]; most > 0 && s.hasStore(r) && s.losesPump(r) {
				r.strokes[i] = s.countStrokes(r, name, most)
			}
		case *specs.FrictionPack:
			if s.asked.InARow > 0 && len(r.out.Parts[i].Engagements) > 0 {
				r.row[i] = s.countRow(r, name)
			}
		}
	}
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

// losesPump tells whether a case has a pump that could be lost: one that turns.
func (s *survey) losesPump(r *run) bool {
	for _, pump := range s.pumps {
		if r.view.turns(pump) {
			return true
		}
	}
	return false
}

func (s *survey) countStrokes(r *run, cylinder string, most int) count {
	strokes, err := network.StrokesAfterLoss(s.spec, r.view.spec, r.out, cylinder, most, network.Options{})
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

func (s *survey) countRow(r *run, pack string) count {
	n, open, err := network.InARow(s.spec, r.view.spec, pack, s.asked.InARow, network.Options{})
	if err != nil {
		return count{lacks: err.Error()}
	}
	return count{times: n, open: open}
}

// strokesInTime tells the strokes of a cylinder that are left after the loss of
// the pumps: the least of any case in which a pump turns, for it is then that
// one can be lost.
func (s *survey) strokesInTime(i int, part specs.Part, f *facts.Part) {
	if s.asked.Strokes[part.Base().Name] == 0 {
		return
	}
	f.StrokesAfterLoss = s.leastCount(i, func(r *run) map[int]count { return r.strokes },
		func(c count) string { return "the pump lost at " + print(c.from, quantity.Time) },
		"a case that drives a pump, with oil stored")
}

// rowInTime tells how many engagements in a row a pack stands: the least of any
// case in which it engages.
func (s *survey) rowInTime(i int, part specs.Part, f *facts.Part) {
	if _, pack := part.(*specs.FrictionPack); !pack || s.asked.InARow == 0 {
		return
	}
	f.EngagementsInARow = s.leastCount(i, func(r *run) map[int]count { return r.row },
		func(count) string { return "the case repeated without pause" }, "a case in which it engages")
}

// leastCount is the least of a count over the cases that have it.
func (s *survey) leastCount(i int, of func(r *run) map[int]count, how func(count) string, lacks string) facts.Fact {
	for c := range s.runs {
		if r := &s.runs[c]; r.out != nil && of(r)[i].lacks != "" {
			return missing(fmt.Sprintf("in %s: %s", r.view.spec.Name, of(r)[i].lacks))
		}
	}
	return or(s.worst(search{from: s.partOrigin(i), lowest: true}, func(r *run) (moment, bool) {
		n, has := of(r)[i]
		m := moment{value: float64(n.times), note: how(n)}
		if n.open {
			m.note += "; not counted further"
		}
		return m, has
	}), lacks)
}
