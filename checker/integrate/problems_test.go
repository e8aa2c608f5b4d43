package integrate

import "math"

// problem is a stiff test problem with its solution at the end.
type problem struct {
	name     string
	system   System
	start    []float64
	end      float64
	breaks   []float64
	absolute []float64 // tolerance at a relative one of 1, where 1 does not fit all components
	want     []float64
	at       []int   // components that want holds; all where nil
	accuracy float64 // of want
}

// problems are from the Test Set for IVP Solvers (F. Mazzia and C. Magherini,
// release 2.4, University of Bari, formerly CWI Amsterdam), each with the
// reference solution printed there, and each recomputed with Radau of SciPy 1.10.1
// at a relative tolerance of 1e-12 (ring modulator 1e-9, medical Akzo Nobel 1e-10):
// the largest relative differences were 6e-13 (Robertson), 8e-14 (van der Pol),
// 6e-13 (HIRES), 7e-14 (OREGO), 3e-9 (ring modulator) and 1e-7 (medical Akzo Nobel,
// y(200); 8e-9 elsewhere).
func problems() []problem {
	return []problem{robertson(), vanDerPol(), hires(), orego(), ringModulator(), medicalAkzo()}
}

func dense(n int) Pattern {
	var p []Place
	for j := range n {
		for i := range n {
			p = append(p, Place{i, j})
		}
	}
	return NewPattern(n, p)
}

// robertson: H. H. Robertson 1966, to t = 1e11 as proposed by Hindmarsh.
func robertson() problem {
	return problem{
		name: "Robertson",
		system: System{
			States: 3, Autonomous: true, Pattern: dense(3),
			Evaluate: func(_ float64, y, dy []float64) {
				dy[0] = -0.04*y[0] + 1e4*y[1]*y[2]
				dy[2] = 3e7 * y[1] * y[1]
				dy[1] = -dy[0] - dy[2]
			},
			Jacobian: func(_ float64, y, j []float64) {
				copy(j, []float64{
					-0.04, 0.04, 0,
					1e4 * y[2], -1e4*y[2] - 6e7*y[1], 6e7 * y[1],
					1e4 * y[1], -1e4 * y[1], 0,
				})
			},
		},
		start: []float64{1, 0, 0}, end: 1e11, absolute: []float64{1e-8, 1e-14, 1e-6},
		want:     []float64{0.2083340149701255e-07, 0.8333360770334713e-13, 0.9999999791665050},
		accuracy: 1e-12,
	}
}

// vanDerPol: ε y₂' = (1 − y₁²) y₂ − y₁, ε = 1e-6.
func vanDerPol() problem {
	const epsilon = 1e-6
	return problem{
		name: "van der Pol",
		system: System{
			States: 2, Autonomous: true, Pattern: dense(2),
			Evaluate: func(_ float64, y, dy []float64) {
				dy[0], dy[1] = y[1], ((1-y[0]*y[0])*y[1]-y[0])/epsilon
			},
			Jacobian: func(_ float64, y, j []float64) {
				j[0], j[1] = 0, (-2*y[0]*y[1]-1)/epsilon
				j[2], j[3] = 1, (1-y[0]*y[0])/epsilon
			},
		},
		start: []float64{2, 0}, end: 2,
		want: []float64{0.1706167732170483e1, -0.8928097010247975}, accuracy: 1e-12,
	}
}

// hires: high irradiance response, E. Schäfer 1975.
func hires() problem {
	places := []Place{
		{0, 0}, {0, 1}, {0, 2}, {1, 0}, {1, 1}, {2, 2}, {2, 3}, {2, 4}, {3, 1}, {3, 2}, {3, 3}, {4, 4}, {4, 5}, {4, 6},
		{5, 3}, {5, 4}, {5, 5}, {5, 6}, {5, 7}, {6, 5}, {6, 6}, {6, 7}, {7, 5}, {7, 6}, {7, 7},
	}
	p := NewPattern(8, places)
	return problem{
		name: "HIRES",
		system: System{
			States: 8, Autonomous: true, Pattern: p,
			Evaluate: func(_ float64, y, dy []float64) {
				dy[0] = -1.71*y[0] + 0.43*y[1] + 8.32*y[2] + 0.0007
				dy[1] = 1.71*y[0] - 8.75*y[1]
				dy[2] = -10.03*y[2] + 0.43*y[3] + 0.035*y[4]
				dy[3] = 8.32*y[1] + 1.71*y[2] - 1.12*y[3]
				dy[4] = -1.745*y[4] + 0.43*(y[5]+y[6])
				dy[5] = -280*y[5]*y[7] + 0.69*y[3] + 1.71*y[4] - 0.43*y[5] + 0.69*y[6]
				dy[6] = 280*y[5]*y[7] - 1.81*y[6]
				dy[7] = -dy[6]
			},
			Jacobian: func(_ float64, y, j []float64) {
				v := []float64{
					-1.71, 0.43, 8.32, 1.71, -8.75, -10.03, 0.43, 0.035, 8.32, 1.71, -1.12, -1.745, 0.43, 0.43,
					0.69, 1.71, -280*y[7] - 0.43, 0.69, -280 * y[5], 280 * y[7], -1.81, 280 * y[5], -280 * y[7], 1.81, -280 * y[5],
				}
				for q, at := range places {
					j[p.Slot(at.Row, at.Column)] = v[q]
				}
			},
		},
		start: []float64{1, 0, 0, 0, 0, 0, 0, 0.0057}, end: 321.8122, absolute: []float64{1e-4},
		want: []float64{
			0.7371312573325668e-3, 0.1442485726316185e-3, 0.5888729740967575e-4, 0.1175651343283149e-2,
			0.2386356198831331e-2, 0.6238968252742796e-2, 0.2849998395185769e-2, 0.2850001604814231e-2,
		},
		accuracy: 1e-12,
	}
}

// orego: the Oregonator, Field, Körös and Noyes 1972.
func orego() problem {
	return problem{
		name: "OREGO",
		system: System{
			States: 3, Autonomous: true, Pattern: dense(3),
			Evaluate: func(_ float64, y, dy []float64) {
				dy[0] = 77.27 * (y[1] + y[0]*(1-8.375e-6*y[0]-y[1]))
				dy[1] = (y[2] - (1+y[0])*y[1]) / 77.27
				dy[2] = 0.161 * (y[0] - y[2])
			},
			Jacobian: func(_ float64, y, j []float64) {
				copy(j, []float64{
					77.27 * (1 - 2*8.375e-6*y[0] - y[1]), -y[1] / 77.27, 0.161,
					77.27 * (1 - y[0]), -(1 + y[0]) / 77.27, 0,
					0, 1 / 77.27, -0.161,
				})
			},
		},
		start: []float64{1, 2, 3}, end: 360,
		want: []float64{0.1000814870318523e1, 0.1228178521549917e4, 0.1320554942846706e3}, accuracy: 1e-12,
	}
}

// ringModulator: E. H. Horneber 1976, with Cs = 2e-12. It oscillates fast, is not
// autonomous, and here has neither Jacobian nor time derivative: all by differences.
func ringModulator() problem {
	const (
		c, cs, cp, r, rp      = 1.6e-8, 2e-12, 1e-8, 25e3, 50.0
		lh, ls1, ls2, ls3     = 4.45, 2e-3, 5e-4, 5e-4
		rg1, rg2, rg3, ri, rc = 36.3, 17.3, 17.3, 50.0, 600.0
		gamma, delta          = 40.67286402e-9, 17.7493332
	)
	rows := [][]int{
		{0, 7, 9, 10, 13}, {1, 8, 11, 12, 14}, {2, 4, 6, 5, 9}, {3, 5, 6, 4, 10}, {2, 3, 4, 6, 11}, {2, 3, 5, 6, 12},
		{2, 3, 4, 5, 6}, {0}, {1}, {0, 2, 9}, {0, 3, 10}, {1, 4, 11}, {1, 5, 12}, {0, 13}, {1, 14},
	}
	var places []Place
	for i, row := range rows {
		for _, j := range row {
			places = append(places, Place{i, j})
		}
	}
	return problem{
		name: "ring modulator",
		system: System{
			States: 15, Pattern: NewPattern(15, places),
			Evaluate: func(t float64, y, dy []float64) {
				in1, in2 := 0.5*math.Sin(2e3*math.Pi*t), 2*math.Sin(2e4*math.Pi*t)
				diode := func(u float64) float64 { return gamma * (math.Exp(delta*u) - 1) }
				q1, q2 := diode(y[2]-y[4]-y[6]-in2), diode(-y[3]+y[5]-y[6]-in2)
				q3, q4 := diode(y[3]+y[4]+y[6]+in2), diode(-y[2]-y[5]+y[6]+in2)
				dy[0] = (y[7] - 0.5*y[9] + 0.5*y[10] + y[13] - y[0]/r) / c
				dy[1] = (y[8] - 0.5*y[11] + 0.5*y[12] + y[14] - y[1]/r) / c
				dy[2] = (y[9] - q1 + q4) / cs
				dy[3] = (-y[10] + q2 - q3) / cs
				dy[4] = (y[11] + q1 - q3) / cs
				dy[5] = (-y[12] - q2 + q4) / cs
				dy[6] = (-y[6]/rp + q1 + q2 - q3 - q4) / cp
				dy[7], dy[8] = -y[0]/lh, -y[1]/lh
				dy[9] = (0.5*y[0] - y[2] - rg2*y[9]) / ls2
				dy[10] = (-0.5*y[0] + y[3] - rg3*y[10]) / ls3
				dy[11] = (0.5*y[1] - y[4] - rg2*y[11]) / ls2
				dy[12] = (-0.5*y[1] + y[5] - rg3*y[12]) / ls3
				dy[13] = (-y[0] + in1 - (ri+rg1)*y[13]) / ls1
				dy[14] = (-y[1] - (rc+rg1)*y[14]) / ls1
			},
		},
		start: make([]float64, 15), end: 1e-3, absolute: []float64{1e-3},
		want: []float64{
			-0.2339057358486745e-1, -0.7367485485540825e-2, 0.2582956709291169, -0.4064465721283450,
			-0.4039455665149794, 0.2607966765422943, 0.1106761861269975, 0.2939904342435596e-6, -0.2840029933642329e-7,
			0.7267198267264553e-3, 0.7929487196960840e-3, -0.7255283495698965e-3, -0.7941401968526521e-3,
			0.7088495416976114e-4, 0.2390059075236570e-4,
		},
		accuracy: 1e-8,
	}
}

// medicalAkzo: antibodies penetrating a tissue, 400 equations of a partial
// differential one, with a jump of the boundary value at t = 5.
func medicalAkzo() problem {
	const n, k, c = 200, 100.0, 4.0
	const dz = 1.0 / n
	var places []Place
	for j := range n {
		u, v := 2*j, 2*j+1
		places = append(places, Place{u, u}, Place{u, v}, Place{v, u}, Place{v, v})
		if j > 0 {
			places = append(places, Place{u, u - 2}, Place{u - 2, u})
		}
	}
	p := NewPattern(2*n, places)
	coefficients := func(j int) (flow, spread float64) { // of the differences to the neighbours
		z := float64(j+1)*dz - 1
		return 2 * z * z * z / (c * c) / (2 * dz), z * z * z * z / (c * c) / (dz * dz)
	}
	start := make([]float64, 2*n)
	for j := range n {
		start[2*j+1] = 1
	}
	return problem{
		name: "medical Akzo Nobel",
		system: System{
			States: 2 * n, Autonomous: true, Pattern: p,
			Evaluate: func(t float64, y, dy []float64) {
				below := 2.0
				if t > 5 {
					below = 0
				}
				for j := range n {
					u, v := y[2*j], y[2*j+1]
					above := 0.0
					if j < n-1 {
						above = y[2*j+2]
					}
					flow, spread := coefficients(j)
					dy[2*j+1] = -k * u * v
					dy[2*j] = flow*(above-below) + spread*(below-2*u+above) - k*u*v
					below = u
				}
			},
			Jacobian: func(_ float64, y, values []float64) {
				add := func(i, j int, v float64) { values[p.Slot(i, j)] += v }
				for j := range n {
					u, v := 2*j, 2*j+1
					flow, spread := coefficients(j)
					add(u, u, -2*spread-k*y[v])
					add(u, v, -k*y[u])
					add(v, u, -k*y[v])
					add(v, v, -k*y[u])
					if j > 0 {
						add(u, u-2, spread-flow)
					}
					if j < n-1 {
						add(u, u+2, spread+flow)
					}
				}
			},
		},
		start: start, end: 20, breaks: []float64{5}, absolute: []float64{1e-3},
		at: []int{78, 132, 170, 198, 199, 204, 205, 209, 219},
		want: []float64{
			0.2339942217046434e-3, 0.3576835958481664e-3, 0.3085949832350532e-3, 0.1173741304462833e-3,
			0.6190822732534586e-5, 0.5657119003189305e-4, 0.3234526094359604e-1, 0.4026980529594953, 0.9890204872799944,
		},
		accuracy: 1e-6,
	}
}

// solve integrates a problem at a tolerance and returns the largest relative error
// at the end, the error of components near zero in units of 1e4 absolute tolerances at 1.
func (p problem) solve(relative float64, method *Method) (float64, Result, error) {
	absolute := []float64{relative}
	if p.absolute != nil {
		absolute = nil
		for _, a := range p.absolute {
			absolute = append(absolute, a*relative)
		}
	}
	s, err := New(p.system, Options{Relative: []float64{relative}, Absolute: absolute, Method: method})
	if err != nil {
		return 0, Result{}, err
	}
	y := append([]float64(nil), p.start...)
	result, err := s.Solve(y, Run{To: p.end, Breaks: p.breaks})
	worst := 0.0
	for q, want := range p.want {
		i := q
		if p.at != nil {
			i = p.at[q]
		}
		floor := absolute[i%len(absolute)] / relative
		worst = max(worst, math.Abs(y[i]-want)/max(math.Abs(want), floor))
	}
	return worst, result, err
}
