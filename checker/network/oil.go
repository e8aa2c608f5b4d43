package network

import (
	"fmt"
	"math"

	"headroom/checker/fluid"
	"headroom/specs"
)

// An oil is the circuit's fluid with its laws tabulated: what depends on
// temperature alone by 1/64 of an octave or less, and the power of pressure in
// the law of free air by 1/16. It may be shared: nothing changes it.
type oil struct {
	law       fluid.Oil
	viscosity grid // kinematic, over T
	density   grid // at p0, over T
	expanded  grid // (p0/p)^(1/n) over p
	heat      float64
	barus     float64
	leastBulk float64
}

// state is the oil of one node: its properties and their partial derivatives,
// the suffix T per kelvin, P per pascal.
type state struct {
	rho, rhoT, rhoP    float64
	nu, nuT            float64
	mu, muT, muP       float64
	soft, softT, softP float64 // 1/K_eff
	alpha, alphaT      float64
}

// newOil resolves the fluid of a circuit.
func newOil(f *specs.Fluid) (*oil, error) {
	points := make([]fluid.ViscosityPoint, len(f.Viscosity.Points))
	for i, p := range f.Viscosity.Points {
		points[i] = fluid.ViscosityPoint{T: p.X, Nu: p.Y}
	}
	curve, err := fluid.NewViscosityCurve(points)
	if err != nil {
		return nil, fmt.Errorf("viscosity of the fluid: %w", err)
	}
	b := &f.BulkModulus
	o := &oil{law: fluid.Oil{
		Density15: f.Density.SI, Expansion15: f.Expansion.SI, Kinematic: curve,
		Modulus: fluid.Modulus{
			Value: b.Value.SI, AtTemperature: b.Ref.Temperature.SI, AtPressure: b.Ref.Pressure.SI,
			PerPressure: b.PerPressure.SI, PerKelvin: b.PerKelvin.SI,
		},
		SpecificHeat: f.SpecificHeat.SI, FreeAir: f.FreeAir.SI, PressureViscosity: f.PressureViscosity.SI,
	}}
	o.heat, o.barus = o.law.SpecificHeat, o.law.PressureViscosity
	o.leastBulk = o.law.Modulus.At(-math.MaxFloat64, -math.MaxFloat64)
	o.tabulate()
	return o, nil
}

func (o *oil) tabulate() {
	l := &o.law
	o.viscosity = newGrid(128, 1023, 8, l.Kinematic.WithSlope)
	o.density = newGrid(128, 1023, 6, func(T float64) (float64, float64) {
		rho := fluid.Density(l.Density15, l.Expansion15, 1, T, fluid.ReferencePressure)
		return rho, -fluid.Expansion(l.Expansion15, T) * rho
	})
	const n = fluid.AirExponent
	o.expanded = newGrid(leastAirPressure, 2e8, 4, func(p float64) (float64, float64) {
		v := math.Exp(math.Log(fluid.ReferencePressure/p) / n)
		return v, -v / (n * p)
	})
	for _, g := range []*grid{&o.viscosity, &o.density, &o.expanded} {
		g.fillAll()
	}
}

// leastAirPressure bounds the pressure in the law of free air (Pa).
const leastAirPressure = 1e3

// at sets s to the oil's state at T and p: fluid.Oil.At from the tables.
func (o *oil) at(T, p float64, s *state) {
	m := &o.law.Modulus
	bulk, bulkT, bulkP := m.Value+m.PerPressure*(p-m.AtPressure)+m.PerKelvin*(T-m.AtTemperature), m.PerKelvin, m.PerPressure
	if bulk < o.leastBulk {
		bulk, bulkT, bulkP = o.leastBulk, 0, 0
	}
	perBulk := 1 / bulk
	over := p - fluid.ReferencePressure
	cold, coldT := o.density.at(T)
	squeeze := over * perBulk
	s.rho = cold * (1 + squeeze)
	s.rhoT = coldT*(1+squeeze) - cold*squeeze*bulkT*perBulk
	s.rhoP = cold * perBulk * (1 - squeeze*bulkP)

	s.nu, s.nuT = o.viscosity.at(T)
	thicker := 1.0
	if o.barus != 0 {
		thicker = math.Exp(o.barus * over)
	}
	s.mu = s.rho * s.nu * thicker
	s.muT = (s.rhoT*s.nu + s.rho*s.nuT) * thicker
	s.muP = (s.rhoP + s.rho*o.barus) * s.nu * thicker

	x := o.law.Expansion15
	s.alpha = x * (1 + 1.6*x*(T-fluid.ReferenceTemperature))
	s.alphaT = 1.6 * x * x
	o.soften(p, perBulk, bulkT*perBulk, bulkP*perBulk, s)
}

// soften sets 1/K_eff: fluid.EffectiveModulus and its slopes. bulkT and bulkP
// are those of ln K.
func (o *oil) soften(p, perBulk, bulkT, bulkP float64, s *state) {
	const n = fluid.AirExponent
	phi := o.law.FreeAir
	moving := 1.0
	if p < leastAirPressure {
		p, moving = leastAirPressure, 0
	}
	g, gP := o.expanded.at(p)
	g, gP = phi*g, phi*gP*moving
	liquid := (1 - phi) * perBulk
	air := g / (n * p)
	airP := gP/(n*p) - moving*air/p
	volume := 1 / (1 - phi + g)
	s.soft = (liquid + air) * volume
	s.softT = -liquid * bulkT * volume
	s.softP = (-liquid*bulkP+airP)*volume - s.soft*gP*volume
}
