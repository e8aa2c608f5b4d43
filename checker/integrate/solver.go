package integrate

import "fmt"

// A Solver integrates one System. It holds all the memory a run needs, so it may
// be used for many runs one after the other; solvers share nothing.
type Solver struct {
	system  System
	options Options
	method  *Method

	count  int     // States + Integrals
	t, h   float64 // the start of the step, its length as computed
	to     float64 // its end as computed
	begin  float64 // time that stands for t in the system's functions
	limit  float64 // time they are not called past
	theta  float64 // where the step ends, as a fraction of h
	next   float64 // length proposed for the next step; 0: none
	bent   bool    // the step was cut at a kink
	excess float64 // the largest error of the last attempt, in tolerances

	y, z, cut         []float64 // at the start of the step, at its end, where it is cut short
	f, slope          []float64 // f at the start of the step; at a stage, then at the end
	ft                []float64 // ∂f/∂t at the start
	sum, inner, probe []float64
	k                 [][]float64

	jacobian  []float64
	ordered   *factors // in the order found from the pattern
	factors   *factors // at work
	integrals integralRows
	colours   *colouring
	largest   []float64 // size each component has had in the run, for differences

	errorAt    int // component of the largest error, or that is not finite
	control    control
	statistics Statistics
	eventTime  float64
	watches    []watch
	found      []crossing
	step       Step
}

// New prepares a Solver: checks, orders the elimination, and allocates.
func New(system System, options Options) (*Solver, error) {
	if err := system.check(); err != nil {
		return nil, fmt.Errorf("system to integrate: %w", err)
	}
	n := system.States + system.Integrals
	options, err := options.complete(n)
	if err != nil {
		return nil, fmt.Errorf("options of integration: %w", err)
	}
	s := &Solver{system: system, options: options, method: options.Method, count: n}
	for _, v := range []*[]float64{&s.y, &s.z, &s.cut, &s.f, &s.slope, &s.ft, &s.sum, &s.inner, &s.probe, &s.largest} {
		*v = make([]float64, n)
	}
	s.k = make([][]float64, s.method.stages())
	for i := range s.k {
		s.k[i] = make([]float64, n)
	}
	s.jacobian = make([]float64, len(system.Pattern.Row))
	s.ordered = newFactors(system.Pattern, orderByPattern(equationRows(system.Pattern, system.States)))
	s.factors = s.ordered
	s.integrals = newIntegralRows(system.Pattern, system.States, system.Integrals)
	if system.Jacobian == nil {
		s.colours = newColouring(system.Pattern, n)
	}
	s.watches = make([]watch, len(system.Events))
	s.found = make([]crossing, 0, 4*len(system.Events))
	s.step.solver = s
	return s, nil
}

// equationRows lists the columns of each of the first n rows of a pattern, the
// diagonal always among them.
func equationRows(p Pattern, n int) [][]int32 {
	rows := make([][]int32, n)
	for j := range n {
		if p.Slot(j, j) < 0 {
			rows[j] = append(rows[j], int32(j))
		}
		for _, i := range p.Row[p.Start[j]:p.Start[j+1]] {
			if i < n {
				rows[i] = append(rows[i], int32(j))
			}
		}
	}
	return rows
}

// integralRows are the rows of ∂f/∂y below the states', by rows.
type integralRows struct {
	start        []int32
	column, slot []int32
}

func newIntegralRows(p Pattern, states, integrals int) integralRows {
	r := integralRows{start: make([]int32, integrals+1)}
	columns, slots := make([][]int32, integrals), make([][]int32, integrals)
	for j := range states {
		for s := p.Start[j]; s < p.Start[j+1]; s++ {
			if q := p.Row[s] - states; q >= 0 {
				columns[q], slots[q] = append(columns[q], int32(j)), append(slots[q], int32(s))
			}
		}
	}
	for q := range integrals {
		r.column, r.slot = append(r.column, columns[q]...), append(r.slot, slots[q]...)
		r.start[q+1] = int32(len(r.column))
	}
	return r
}
