package network

import (
	"math"
	"testing"

	"headroom/checker/resistance"
	"headroom/specs"
)

// The tables of the oil against the laws of package fluid: within a hundredth
// of the accuracy asked of pressures and flows, and their slopes near it.
func TestOilAgainstLaws(t *testing.T) {
	for _, c := range independentCircuits(t) {
		o, err := newOil(&c.Fluid)
		if err != nil {
			t.Fatal(err)
		}
		points := c.Fluid.Viscosity.Points
		for T := 225.0; T < 480; T += 0.37 {
			bent := false // the law bends at an inner point, within a cell of which the table rounds it
			for _, p := range points[1 : len(points)-1] {
				bent = bent || math.Abs(T-p.X) < 2
			}
			for p := 1e3; p < 9e7; p *= 1.31 {
				var got state
				o.at(T, p, &got)
				want := o.law.At(T, p)
				allowed := 5e-6
				if bent {
					allowed = 1e-3
				}
				for _, v := range []struct {
					what      string
					got, want float64
					allowed   float64
				}{
					{"kinematic viscosity", got.nu, want.Kinematic, allowed},
					{"dynamic viscosity", got.mu, want.Dynamic, allowed},
					{"density", got.rho, want.Density, 1e-9},
					{"effective modulus", 1 / got.soft, want.Effective, 1e-6},
					{"expansion", got.alpha, want.Expansion, 1e-12},
					{"slope of density along T", got.rhoT, want.DensityT, 1e-5},
					{"slope of density along p", got.rhoP, want.DensityP, 1e-9},
					{"slope of viscosity along T", got.muT, want.DynamicT, 2e-3 + 200*(allowed-5e-6)},
					{"slope of viscosity along p", got.muP, want.DynamicP, 1e-3},
				} {
					if math.Abs(v.got-v.want) > v.allowed*math.Abs(v.want) {
						t.Fatalf("%s: %s at %.1f K, %.0f Pa is %.9g, by the law %.9g", c.Name.Value, v.what, T, p, v.got, v.want)
					}
				}
			}
		}
	}
}

// A line's table against resistance.Tube, from rest to very fast flow, in thin
// and thick oil, with and without losses and elevation.
func TestLineAgainstLaw(t *testing.T) {
	for _, tube := range []resistance.Tube{
		{Bore: 9e-3, Length: 9, Roughness: 1.5e-6, Losses: 6},
		{Bore: 6.3e-3, Length: 0.85, Roughness: 1.5e-6, Losses: 1.5, Elevation: 0.4},
		{Bore: 32e-3, Length: 0.8, Roughness: 1e-4, Elevation: -0.2},
		{Bore: 5e-3, Length: 1.1, Losses: 3},
	} {
		q := func(si float64) specs.Quantity { return specs.Quantity{SI: si, Source: specs.FromSpec} }
		part := &specs.Tube{Line: specs.Line{
			Bore: q(tube.Bore), Length: q(tube.Length), Roughness: q(tube.Roughness), Losses: q(tube.Losses), Elevation: q(tube.Elevation),
			From: specs.Port{Node: "a", Source: specs.FromSpec}, To: specs.Port{Node: "b", Source: specs.FromSpec},
		}}
		m := &model{oil: &oil{heat: 2000}, byNode: map[string]int{"a": 0, "b": 1}, nodes: make([]node, 2), passages: make([]passage, 0, 1)}
		b := &builder{m: m}
		l := newLine(b, part, &part.Line, 0).(*line)
		for _, nu := range []float64{2e-6, 3e-5, 2e-3} {
			for dp := 1.0; dp < 2e8; dp *= 1.17 {
				for _, sign := range []float64{1, -1} {
					m.nodes[0].nodeNow = nodeNow{p: 3e8 + sign*dp, fade: 1, oil: state{rho: 850, mu: 850 * nu}}
					m.nodes[1].nodeNow = nodeNow{p: 3e8, fade: 1, oil: state{rho: 870, mu: 870 * nu}}
					l.flow(m, 0, nil, nil)
					want := tube.Flow(sign*dp, 860, 860*nu)
					if math.Abs(l.way.q-want.Flow) > 2e-4*math.Abs(want.Flow)+1e-16 {
						t.Fatalf("%+v: at %g Pa, %g m²/s the flow is %.9g, by the law %.9g", tube, sign*dp, nu, l.way.q, want.Flow)
					}
					if math.Abs(l.way.perPA-want.PerPascal) > 1e-2*want.PerPascal {
						t.Fatalf("%+v: at %g Pa, %g m²/s the slope is %.9g, by the law %.9g", tube, sign*dp, nu, l.way.perPA, want.PerPascal)
					}
				}
			}
		}
	}
}

// A grid of which the beginning lies behind the end has no cells, and is the law itself.
func TestGridOfNothing(t *testing.T) {
	g := newGrid(1e15, 1e12, 4, func(x float64) (float64, float64) { return 2 * x, 2 })
	if y, slope := g.at(1e13); y != 2e13 || slope != 2 {
		t.Errorf("%g, slope %g", y, slope)
	}
}
