package network

import (
	"headroom/checker/integrate"
	"headroom/specs"
)

// A model is one circuit in one case as equations: where each state stands in
// the vector, what changes it, and how that depends on the others.
type model struct {
	circuit *specs.Circuit
	spec    *specs.Case
	parts   []specs.Part // as they are in the case
	oil     *oil
	air     float64            // pressure of the surroundings, Pa
	aired   float64            // volume that oil and its free air take up where cavities begin, for one of both at p0
	ambient float64            // K
	starts  map[string]float64 // Pa, of nodes that begin with another pressure than the case says

	nodes      []node
	elements   []element
	passages   []passage
	inputs     []*input
	triggers   []*trigger
	kinks      []kink
	reservoirs []*reservoir

	states  []stateKind
	owners  []string // node or part of each state
	pattern integrate.Pattern
	entries []float64 // of the Jacobian, by slot; then one that is never read, and one that stays zero
	moved   []float64

	byNode map[string]int
	byPart map[string]element
	dy     []float64 // rates of the last evaluation

	last    evaluation // that was made last
	ahead   evaluation // for which the Jacobian stands ready
	readied []float64  // that Jacobian
}

// An element is a part as equations.
type element interface {
	// begin sets the element's states at the start of the case; the nodes' are set.
	// What lasts from one repeat to the next is taken from keep, where given.
	begin(m *model, y, keep []float64)
	// flow adds what flows between nodes and sets the rates of its own states.
	flow(m *model, t float64, y, dy []float64)
	// slopes adds its entries to the Jacobian, but for those of its passages.
	slopes(m *model, y, j []float64)
	// tell lists what is read off it.
	tell(t *teller)
	// work adds to the energy balance.
	work(m *model, y []float64, e *powers)
}

// plain is an element without states of its own.
type plain struct{}

func (plain) begin(*model, []float64, []float64)  {}
func (plain) slopes(*model, []float64, []float64) {}
func (plain) work(*model, []float64, *powers)     {}

// stateKind decides how accurately a state is followed.
type stateKind uint8

const (
	pressureState stateKind = iota
	temperatureState
	contentState
	gasVolumeState
	gasTemperatureState
	spoolState
	wantedState
	strokeState // of a compensator
	positionState
	velocityState
	shaftState
	platesState
)

// An evaluation tells at which time and state an evaluation was made.
type evaluation struct {
	t float64
	y []float64 // the integrator's own, valid until it goes on
}

// evaluate sets dy to the rates of change of y.
func (m *model) evaluate(t float64, y, dy []float64) {
	for i := range m.nodes {
		m.nodes[i].load(m, y)
	}
	for _, e := range m.elements {
		e.flow(m, t, y, dy)
	}
	for i := range m.nodes {
		m.nodes[i].finish(m, dy)
	}
	m.dy, m.last = dy, evaluation{t, y}
}

// jacobian sets values to ∂f/∂y where evaluate was called last.
func (m *model) jacobian(t float64, y, values []float64) {
	if t == m.ahead.t && m.ahead.y != nil {
		m.ahead.y = nil
		copy(values, m.readied)
		return
	}
	m.fillJacobian(y)
	copy(values, m.entries)
}

// ready computes the Jacobian of the last evaluation before another is made: an
// observer looks back into a step before the integrator asks for it.
func (m *model) ready() {
	m.fillJacobian(m.last.y)
	copy(m.readied, m.entries)
	m.ahead = m.last
}

func (m *model) fillJacobian(y []float64) {
	j := m.entries
	clear(j)
	for i := range m.passages {
		m.slopesOf(&m.passages[i], j)
	}
	for _, e := range m.elements {
		e.slopes(m, y, j)
	}
	m.openSlopes(j)
	for i := range m.nodes {
		m.nodes[i].slopes(m, j)
	}
}

// timeDerivative sets dfdt to ∂f/∂t, the change that profiles and ramps make.
// All of them are straight between breaks, so any step of time will do.
func (m *model) timeDerivative(t float64, y, dfdt []float64) {
	moving := false
	for _, in := range m.inputs {
		moving = moving || in.slope != 0
	}
	if !moving {
		clear(dfdt)
		return
	}
	const step = 1e-5
	copy(m.moved, m.dy)
	f := m.dy
	m.evaluate(t+step, y, dfdt)
	for i, v := range m.moved {
		dfdt[i] = (dfdt[i] - v) / step
	}
	m.dy = f
}
