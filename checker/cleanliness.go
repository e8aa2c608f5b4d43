package checker

import (
	"strings"

	"headroom/checker/fluid"
	"headroom/rules/facts"
	"headroom/specs"
)

// cleanliness tells how clean a part needs its oil, and what the filters on its
// way keep.
func (s *survey) cleanliness(i int, part specs.Part, f *facts.Part) {
	common := part.Base()
	f.Cleanliness = s.text(common.Cleanliness, s.path(i, "cleanliness"))
	if len(s.graph.Ports[i]) == 0 {
		return
	}
	f.Filtered = s.filtered(i)
	f.CleanlinessKept = s.kept(i)
	f.CleanEnough = s.cleanEnough(i, f)
}

// filtered tells whether a filter stands in a part's circulation.
func (s *survey) filtered(i int) facts.Flag {
	o := facts.Origin{At: s.spec.Parts[i].Base().At, Key: s.roots[i]}
	switch filters := s.round.Filters; {
	case !s.round.Parts[i]:
		o.Note = "it takes no part in the circulation"
	case len(filters) == 0:
		o.Note = "no filter stands in the circulation"
	default:
		o.Note = s.names(filters)
		return s.holds(true, o)
	}
	return s.holds(false, o)
}

// names lists parts by name.
func (s *survey) names(parts []int) string {
	names := make([]string, len(parts))
	for i, p := range parts {
		names[i] = s.graph.Name(p)
	}
	return strings.Join(names, ", ")
}

// kept is the code that the filters keep which all fluid passes on its way
// round by a part: at each size the cleanest.
func (s *survey) kept(i int) facts.Text {
	filters := s.round.OnTheWay(i)
	if len(filters) == 0 {
		return facts.Text{Missing: "a filter that all oil to " + s.graph.Name(i) + " passes"}
	}
	var keeping []int
	var silent []string
	best := fluid.Cleanliness{Over4: fluid.NotCounted, Over6: fluid.NotCounted, Over14: fluid.NotCounted}
	for _, k := range filters {
		reaches := s.spec.Parts[k].(*specs.Filter).Reaches
		code, err := fluid.ParseCleanliness(reaches.Value)
		if !reaches.Given() || err != nil {
			silent = append(silent, s.path(k, "reaches"))
			continue
		}
		keeping = append(keeping, k)
		best = cleaner(best, code)
	}
	if len(keeping) == 0 {
		return facts.Text{Missing: strings.Join(silent, ", ")}
	}
	first := s.spec.Parts[keeping[0]].(*specs.Filter).Reaches
	return s.word(best.String(), facts.Origin{At: first.At, Key: s.path(keeping[0], "reaches"), Note: s.names(keeping), Basis: "ISO 4406"})
}

// cleaner takes at each size the lower scale number.
func cleaner(a, b fluid.Cleanliness) fluid.Cleanliness {
	lower := func(a, b int) int {
		if a == fluid.NotCounted || b != fluid.NotCounted && b < a {
			return b
		}
		return a
	}
	return fluid.Cleanliness{Over4: lower(a.Over4, b.Over4), Over6: lower(a.Over6, b.Over6), Over14: lower(a.Over14, b.Over14)}
}

// cleanEnough holds what is kept against what a part needs.
func (s *survey) cleanEnough(i int, f *facts.Part) facts.Flag {
	switch {
	case !f.Cleanliness.Known:
		return facts.Flag{Missing: f.Cleanliness.Missing}
	case !f.CleanlinessKept.Known:
		return facts.Flag{Missing: f.CleanlinessKept.Missing}
	}
	kept, err := fluid.ParseCleanliness(f.CleanlinessKept.Value)
	target, also := fluid.ParseCleanliness(f.Cleanliness.Value)
	if err != nil || also != nil {
		return facts.Flag{Missing: s.path(i, "cleanliness")}
	}
	over, ok := kept.Over(target)
	if !ok {
		return facts.Flag{Missing: f.CleanlinessKept.From.Key}
	}
	return s.holds(over <= 0, *f.CleanlinessKept.From)
}
