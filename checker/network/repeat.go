package network

import "fmt"

// repeat integrates a case as often as it says.
func (r *runner) repeat(out *Outcome) {
	if r.m.spec.Repeats.Settle {
		r.settle(out)
		return
	}
	times := max(1, r.m.spec.Repeats.Count)
	var keep []float64
	for i := range times {
		*out = Outcome{Case: out.Case}
		r.pass(i+1, keep, out)
		out.Repeats.Done = i + 1
		if out.Failure != nil {
			if times > 1 {
				out.Failure.Why += fmt.Sprintf(", in repeat %d of %d", i+1, times)
			}
			return
		}
		keep = r.end
	}
}
