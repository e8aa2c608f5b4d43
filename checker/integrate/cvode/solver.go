//go:build cvode

package cvode

/*
#cgo CFLAGS: -O3 -I/usr/include/suitesparse
#cgo LDFLAGS: -lsundials_cvode -lsundials_sunlinsolklu -lsundials_sunmatrixsparse -lsundials_nvecserial -lklu -lm
#include "solver.h"
*/
import "C"

import (
	"errors"
	"runtime"
	"runtime/cgo"
	"unsafe"

	"headroom/checker/integrate"
)

// An Ordering is how KLU orders the elimination.
type Ordering int

const (
	AMD Ordering = iota
	COLAMD
)

// Options say how CVODE steps.
type Options struct {
	// Of every component; its step controls the mean square over all of them.
	Relative, Absolute []float64

	Order    int // highest of BDF, 1 to 5; default 5
	Ordering Ordering
	Dense    bool    // LU of the full matrix in place of KLU
	Largest  float64 // step; default: no bound

	// RestartAtBreaks starts afresh at every break. Otherwise it goes on over a break
	// at which f does not jump.
	RestartAtBreaks bool
}

// A Solver holds one System for CVODE, for as many runs as are wanted. It is to be
// closed.
type Solver struct {
	system  integrate.System
	options Options
	problem *C.problem
	handle  cgo.Handle

	y             []float64 // CVODE's own
	before, after []float64 // f on either side of a break
	values        []float64 // of the Jacobian by the system's slots
	places        []int32   // of the slots in CVODE's matrix
	entries       int
	roots         []int // events that act
	found         []C.int
	at            float64 // time of the last evaluation
}

// New prepares a Solver.
func New(system integrate.System, options Options) (*Solver, error) {
	n := system.States + system.Integrals
	if system.Jacobian == nil || len(options.Relative) != n || len(options.Absolute) != n {
		return nil, errors.New("CVODE needs a Jacobian and the tolerances of every component")
	}
	if options.Order == 0 {
		options.Order = 5
	}
	s := &Solver{
		system: system, options: options,
		before: make([]float64, n), after: make([]float64, n), values: make([]float64, len(system.Pattern.Row)),
	}
	directions := s.watch()
	start, row := s.layOut(n)
	s.handle = cgo.NewHandle(s)
	given := C.setup{
		handle: C.uintptr_t(s.handle), size: C.int64_t(n), entries: C.int64_t(s.entries), roots: C.int64_t(len(s.roots)),
		order: C.int(options.Order), ordering: C.int(options.Ordering), largest: C.double(options.Largest),
	}
	if options.Dense {
		given.dense = 1
	}
	s.problem = build(given, start, row, directions, options)
	if s.problem == nil {
		s.handle.Delete()
		return nil, errors.New("CVODE could not be set up")
	}
	s.y = unsafe.Slice((*float64)(C.problem_state(s.problem)), n)
	return s, nil
}

// Close frees what C holds.
func (s *Solver) Close() {
	C.problem_free(s.problem)
	s.handle.Delete()
}

// watch lists the events that act, and their directions as CVODE has them. Kinks
// that only cut our steps and events that only look are no concern of CVODE's.
func (s *Solver) watch() []C.int {
	directions := []C.int{}
	for i, e := range s.system.Events {
		if e.Act != nil {
			s.roots = append(s.roots, i)
			directions = append(directions, map[integrate.Direction]C.int{integrate.Rising: 1, integrate.Falling: -1}[e.Direction])
		}
	}
	s.found = make([]C.int, len(s.roots))
	return directions
}

// layOut makes a square pattern with a full diagonal of the system's, and notes
// where its slots are in it.
func (s *Solver) layOut(n int) (start, row []C.int64_t) {
	p := s.system.Pattern
	places := make([]integrate.Place, 0, len(p.Row)+n)
	for j := range n {
		places = append(places, integrate.Place{Row: j, Column: j})
	}
	for j := range s.system.States {
		for _, i := range p.Row[p.Start[j]:p.Start[j+1]] {
			places = append(places, integrate.Place{Row: i, Column: j})
		}
	}
	square := integrate.NewPattern(n, places)
	for j := range s.system.States {
		for _, i := range p.Row[p.Start[j]:p.Start[j+1]] {
			s.places = append(s.places, int32(square.Slot(i, j)))
		}
	}
	for _, v := range square.Start {
		start = append(start, C.int64_t(v))
	}
	for _, v := range square.Row {
		row = append(row, C.int64_t(v))
	}
	s.entries = len(row)
	return start, row
}

// build hands all to C, which copies it.
func build(given C.setup, start, row []C.int64_t, directions []C.int, o Options) *C.problem {
	arrays := []unsafe.Pointer{
		unsafe.Pointer(unsafe.SliceData(start)), unsafe.Pointer(unsafe.SliceData(row)),
		unsafe.Pointer(unsafe.SliceData(directions)),
		unsafe.Pointer(unsafe.SliceData(o.Relative)), unsafe.Pointer(unsafe.SliceData(o.Absolute)),
	}
	var pins runtime.Pinner
	defer pins.Unpin()
	for _, a := range arrays {
		pins.Pin(a)
	}
	given.start, given.row, given.directions = (*C.int64_t)(arrays[0]), (*C.int64_t)(arrays[1]), (*C.int)(arrays[2])
	given.relative, given.absolute = (*C.double)(arrays[3]), (*C.double)(arrays[4])
	return C.problem_new(&given)
}
