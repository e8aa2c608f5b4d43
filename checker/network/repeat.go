package network

import "fmt"

// keepBefore lets the last pass that came to its end be told, where one after it did
// not: what happened in it did happen.
func (out *Outcome) keepBefore(before *Outcome) {
	if before.Repeats.Done > 0 {
		failure := out.Failure
		*out = *before
		out.Failure = failure
	}
}

// repeat integrates a case as often as it says.
func (r *runner) repeat(out *Outcome) {
	if r.m.spec.Repeats.Settle {
		r.settle(out)
		return
	}
	times := max(1, r.m.spec.Repeats.Count)
	var keep []float64
	for i := range times {
		before := *out
		*out = Outcome{Case: out.Case}
		r.watch.goesOn = i > 0
		r.pass(i+1, keep, out)
		if out.Failure != nil {
			if times > 1 {
				out.Failure.Why += fmt.Sprintf(", in repeat %d of %d", i+1, times)
			}
			out.keepBefore(&before)
			return
		}
		out.Repeats.Done = i + 1
		out.addMeans(&before)
		keep = r.end
	}
}

// addMeans puts the mean temperatures of the passes before before that of the last.
func (out *Outcome) addMeans(before *Outcome) {
	for i := range before.Nodes {
		out.Nodes[i].Means = append(before.Nodes[i].Means, out.Nodes[i].Means...)
	}
}
