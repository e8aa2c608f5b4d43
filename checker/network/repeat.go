package network

import (
	"fmt"

	"headroom/checker/integrate"
)

// mostBudgets is how many times the budget of one pass all repeats of a case may
// use.
const mostBudgets = 4

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
			if i > 0 {
				out.Failure.Why += fmt.Sprintf(" in repeat %d", i+1)
			}
			return
		}
		if used := r.steps + r.rejections; used > mostBudgets*r.budget && i+1 < times {
			out.Failure = &Failure{Time: out.Lasts, Reason: integrate.OutOfSteps, Why: fmt.Sprintf("%d steps are used up after %d of %d repeats", used, i+1, times)}
			return
		}
		keep = r.end
	}
}
