package changes

import (
	"slices"

	"headroom/rules"
)

// Pairs compares the circuits of two revisions: those of the same file, then those
// of the same name, then the one that is left on each side. The newer revision's
// come in their order, then those that are gone.
func Pairs(old, new []*rules.Result) []*Comparison {
	of := map[*rules.Result]*rules.Result{}
	left := slices.Clone(old)
	match := func(like func(was, is *rules.Result) bool) {
		for _, is := range new {
			if of[is] != nil {
				continue
			}
			if i := slices.IndexFunc(left, func(was *rules.Result) bool { return like(was, is) }); i >= 0 {
				of[is] = left[i]
				left = slices.Delete(left, i, i+1)
			}
		}
	}
	match(func(was, is *rules.Result) bool { return was.Circuit.File == is.Circuit.File })
	match(func(was, is *rules.Result) bool {
		return was.Circuit.Name.Value != "" && was.Circuit.Name.Value == is.Circuit.Name.Value
	})
	if len(old) == 1 && len(new) == 1 {
		match(func(_, _ *rules.Result) bool { return true })
	}
	var all []*Comparison
	for _, is := range new {
		all = append(all, Between(of[is], is))
	}
	for _, was := range left {
		all = append(all, Between(was, nil))
	}
	return all
}
