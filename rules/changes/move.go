package changes

import (
	"cmp"
	"math"
	"slices"

	"headroom/rules"
)

// told is the share of a measure or limit by which one must change to be told: what
// is simulated is right to about that.
const told = 1e-3

// moveOf tells whether and by how much a margin moved.
func moveOf(old, new *rules.Assessment) (Move, bool) {
	m := Move{Old: old, New: new}
	if old == nil || new == nil || old.Margin == nil || new.Margin == nil {
		return m, false
	}
	if !differ(old.Measure.SI, new.Measure.SI, new) && !differ(old.Limit.Value.SI, new.Limit.Value.SI, new) {
		return m, false
	}
	switch {
	case old.Headroom != nil && new.Headroom != nil:
		m.Headroom, m.By = true, *new.Headroom-*old.Headroom
	default:
		m.By = share(new) - share(old)
	}
	return m, true
}

// differ tells whether a measure or a limit is another one, as against the size of
// both.
func differ(a, b float64, of *rules.Assessment) bool {
	return math.Abs(a-b) > told*max(math.Abs(a), math.Abs(b), math.Abs(of.Margin.SI))
}

// share is a margin as a share of its limit.
func share(a *rules.Assessment) float64 {
	size := math.Abs(a.Limit.Value.SI)
	if size == 0 {
		size = max(math.Abs(a.Measure.SI), math.SmallestNonzeroFloat64)
	}
	return a.Margin.SI / size
}

// order puts findings in the order of their kinds, the gravest first, and margins
// in that of how far they moved: those with headroom first.
func (c *Comparison) order() {
	slices.SortStableFunc(c.Findings, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)), cmp.Compare(b.The().Grade, a.The().Grade))
	})
	slices.SortStableFunc(c.Moved, func(a, b Move) int {
		if a.Headroom != b.Headroom {
			if a.Headroom {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(math.Abs(b.By), math.Abs(a.By)), cmp.Compare(a.New.Rule.ID, b.New.Rule.ID))
	})
}
