package checker

import (
	"headroom/rules/facts"
	"headroom/specs"
)

// switched tells by which pressures the pumps that feed a relief valve or an
// accumulator are switched, where cases switch them.
func (s *survey) switched(i int, part specs.Part, f *facts.Part) {
	switch part.(type) {
	case *specs.ReliefValve:
		if from, ok := s.graph.At(i, "from"); ok {
			f.SectionSwitchOff = s.switchOver(from, false)
			f.Switched = s.isSwitched(i, f.SectionSwitchOff)
		}
	case *specs.Accumulator:
		if at, ok := s.graph.At(i, "at"); ok {
			on := s.switchOver(at, true)
			if on.Known {
				on.Value += s.air
			}
			f.SwitchedOn = on
			f.Switched = s.isSwitched(i, on)
		}
	}
}

// isSwitched tells whether a pump that feeds a part is switched, by what is known
// or missing of the pressure that does so.
func (s *survey) isSwitched(i int, by facts.Fact) facts.Flag {
	return s.holds(by.Known || by.Missing != "", facts.Origin{At: s.spec.Parts[i].Base().At, Key: s.roots[i]})
}

// switchOver is the lowest pressure that switches a pump on, or the highest that
// switches one off, of the pumps that feed a node past nothing that can be shut,
// over all cases; unset where none is switched.
func (s *survey) switchOver(node int, on bool) facts.Fact {
	var worst facts.Fact
	for c := range s.cases {
		v := &s.cases[c]
		for _, d := range v.spec.Drives {
			if d.Value.Switch == nil || !s.feeds(d.Name, node) {
				continue
			}
			set, key := d.Value.Switch.OffAbove, "off_above"
			if on {
				set, key = d.Value.Switch.OnBelow, "on_below"
			}
			f := s.given(set, v.root+".drives."+d.Name+"."+key)
			if !f.Known {
				return f
			}
			if !worst.Known || on && f.Value < worst.Value || !on && f.Value > worst.Value {
				f.From.Case, f.From.Note = v.spec.Name, "of "+d.Name
				worst = f
			}
		}
	}
	return worst
}

// feeds tells whether a pump feeds a node past nothing that can be shut.
func (s *survey) feeds(pump string, node int) bool {
	for k, i := range s.pumps {
		if s.graph.Name(i) == pump {
			return s.fed[k][node]
		}
	}
	return false
}
