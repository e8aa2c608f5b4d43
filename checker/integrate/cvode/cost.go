//go:build cvode

package cvode

// #include "solver.h"
import "C"

import "math"

// Clock is the processor time (s) that the calling thread has used.
func Clock() float64 { return float64(C.thread_seconds()) }

// CallbackCost is what it costs (s) that C calls f and not Go: the least difference
// of a thousand calls each way, at the given time and state.
func (s *Solver) CallbackCost(t float64, y []float64) float64 {
	const calls, tries = 1000, 50
	fromC, fromGo := math.Inf(1), math.Inf(1)
	copy(s.y, y)
	for range tries {
		begin := Clock()
		C.problem_evaluate(s.problem, C.double(t), calls)
		fromC = min(fromC, Clock()-begin)
		begin = Clock()
		for range calls {
			s.system.Evaluate(t, y, s.after)
		}
		fromGo = min(fromGo, Clock()-begin)
	}
	return (fromC - fromGo) / calls
}
