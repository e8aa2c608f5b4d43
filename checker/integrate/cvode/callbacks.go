//go:build cvode

package cvode

/*
#include <stdint.h>
*/
import "C"

import (
	"runtime/cgo"
	"unsafe"
)

func solverOf(handle C.uintptr_t) *Solver { return cgo.Handle(handle).Value().(*Solver) }

// floats is memory of C as a slice.
func floats(p *C.double, n int) []float64 { return unsafe.Slice((*float64)(unsafe.Pointer(p)), n) }

//export goEvaluate
func goEvaluate(handle C.uintptr_t, t C.double, y, dy *C.double) {
	s := solverOf(handle)
	n := len(s.before)
	s.at = float64(t)
	s.system.Evaluate(s.at, floats(y, n), floats(dy, n))
}

// goJacobian is called where f was evaluated last, which is what System promises;
// where the time differs it is evaluated again.
//
//export goJacobian
func goJacobian(handle C.uintptr_t, t C.double, y, values *C.double) {
	s := solverOf(handle)
	v := floats(y, len(s.before))
	if s.at != float64(t) {
		s.at = float64(t)
		s.system.Evaluate(s.at, v, s.after)
	}
	clear(s.values)
	s.system.Jacobian(s.at, v, s.values)
	to := floats(values, s.entries)
	clear(to)
	for slot, place := range s.places {
		to[place] = s.values[slot]
	}
}

//export goRoots
func goRoots(handle C.uintptr_t, t C.double, y, values *C.double) {
	s := solverOf(handle)
	v, to := floats(y, len(s.before)), floats(values, len(s.roots))
	for i, event := range s.roots {
		to[i] = s.system.Events[event].Value(float64(t), v)
	}
}
