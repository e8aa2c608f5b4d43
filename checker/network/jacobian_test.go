package network

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"headroom/specs"
)

// steps are what a state is moved by for a difference: pressures by about a
// pascal, for return lines live on tens of them.
var steps = [...]float64{
	pressureState: 2, temperatureState: 1e-3, contentState: 1e-7, gasVolumeState: 1e-9, gasTemperatureState: 1e-3,
	spoolState: 1e-6, wantedState: 2, strokeState: 1e-6, positionState: 1e-10, velocityState: 1e-6, shaftState: 1e-4, platesState: 1e-3,
}

// The analytic Jacobian against central differences, for every circuit at
// states all over the place, forwards and backwards flows, open and shut.
func TestJacobian(t *testing.T) {
	circuits := append(independentCircuits(t), load(t, "../../specs/demo/stonechat.yaml"))
	for _, c := range circuits {
		for i := range c.Cases {
			t.Run(c.Name.Value+"/"+c.Cases[i].Name, func(t *testing.T) { checkJacobian(t, c, &c.Cases[i]) })
		}
	}
}

func checkJacobian(t *testing.T, c *specs.Circuit, k *specs.Case) {
	m, y0 := startOf(t, c, k)
	random := rand.New(rand.NewPCG(1, 2))
	bad := 0
	for trial := range 12 {
		y := make([]float64, len(y0))
		copy(y, y0)
		if trial == 0 {
			ruffle(m, y, random)
		} else {
			scatter(m, y, random)
		}
		bad += compareJacobian(t, m, y, fmt.Sprint("trial ", trial))
		if bad > 20 {
			t.Fatal("...")
		}
	}
}

// ruffle sets small differences of pressure between nodes at rest.
func ruffle(m *model, y []float64, random *rand.Rand) {
	for i, kind := range m.states {
		switch kind {
		case pressureState:
			y[i] += 3000 * (1 + random.Float64()) * float64(1-2*(i/2%2))
		case gasTemperatureState:
			y[i] += 0.5
		}
	}
}

// scatter moves a state to anywhere it may be.
func scatter(m *model, y []float64, random *rand.Rand) {
	for i, kind := range m.states {
		u := random.Float64()
		switch kind {
		case pressureState:
			y[i] = 1e5 * math.Exp(7*u-2.6)
			if random.IntN(4) == 0 { // torn, or about to be
				y[i] = 12e3 - 24e3*u
			}
		case temperatureState, platesState:
			y[i] += 60*u - 20
		case gasVolumeState:
			y[i] *= 0.6 + 0.4*u
		case gasTemperatureState:
			y[i] += 80 * (u - 0.5)
		case spoolState:
			y[i] = 2*u - 1
		case wantedState:
			y[i] = 1e5 + 6e6*u
		case strokeState:
			y[i] = u
		case positionState:
			y[i] = 5e-4 * (u - 0.1)
		case velocityState:
			y[i] = 2e-3 * (u - 0.5)
		case shaftState:
			y[i] = 300 * (u - 0.2)
		}
	}
}

func compareJacobian(t *testing.T, m *model, y []float64, what string) (bad int) {
	n := len(y)
	at := k(m).Lasts.SI * 0.37
	for _, in := range m.inputs {
		in.reset()
		in.enter(at)
	}
	f := make([]float64, n)
	values := make([]float64, len(m.pattern.Row))
	m.evaluate(at, y, f)
	m.jacobian(at, y, values)
	dense := make([][]float64, n)
	for i := range dense {
		dense[i] = make([]float64, n)
	}
	for j := range n {
		for s := m.pattern.Start[j]; s < m.pattern.Start[j+1]; s++ {
			dense[m.pattern.Row[s]][j] = values[s]
		}
	}
	up, down := make([]float64, n), make([]float64, n)
	for j := range n {
		h := steps[m.states[j]]
		was := y[j]
		y[j] = was + h
		m.evaluate(at, y, up)
		y[j] = was - h
		m.evaluate(at, y, down)
		y[j] = was
		for i := range n {
			forward, backward := (up[i]-f[i])/h, (f[i]-down[i])/h
			d := (up[i] - down[i]) / (2 * h)
			scale := math.Max(math.Abs(d), math.Abs(dense[i][j]))
			round := 1e-12 * math.Abs(f[i]) / h
			bend := math.Abs(forward - backward) // a kink within the step
			if math.Abs(d-dense[i][j]) > 2e-5*scale+100*round+bend+1e-14 {
				bad++
				if bad < 6 {
					t.Errorf("%s: ∂(%s %s)/∂(%s %s) = %g, by differences %g", what, m.owners[i], stateNames[m.states[i]], m.owners[j], stateNames[m.states[j]], dense[i][j], d)
				}
			}
		}
	}
	return bad
}

func k(m *model) *specs.Case { return m.spec }
