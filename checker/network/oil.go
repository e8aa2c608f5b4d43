package network

import (
	"fmt"
	"math"

	"headroom/checker/fluid"
	"headroom/specs"
)

// An oil is the circuit's fluid with its laws tabulated: what depends on
// temperature alone in cells of 1 to 2 K, what depends on pressure in sixteenths
// of an octave. It may be shared: nothing changes it.
type oil struct {
	law       fluid.Oil
	warmth    twin // over T: kinematic viscosity, and density at p0
	pressure  twin // over p: (p0/p)^(1/n), and exp(β (p − p0))
	heat      float64
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
	o.heat = o.law.SpecificHeat
	deep := fluid.Modulus{Value: b.Value.SI, PerPressure: 1}
	o.leastBulk = deep.At(0, -math.MaxFloat64) // the least that the law gives
	o.tabulate()
	return o, nil
}

// thinnest is the kinematic viscosity (m²/s) reckoned with where ASTM D341 has none,
// at no temperature above absolute zero. The law itself comes down to 1.15e-7 m²/s.
const thinnest = 1e-7

func (o *oil) tabulate() {
	l := &o.law
	o.warmth = newTwin(200, 500, 8, func(T float64) (float64, float64) {
		nu, slope := l.Kinematic.WithSlope(T)
		if !(nu > thinnest) {
			return thinnest, 0
		}
		return nu, slope
	}, func(T float64) (float64, float64) {
		rho := fluid.Density(l.Density15, l.Expansion15, 1, T, fluid.ReferencePressure)
		return rho, -fluid.Expansion(l.Expansion15, T) * rho
	})
	const n = fluid.AirExponent
	o.pressure = newTwin(leastAirPressure, 1e8, 4, func(p float64) (float64, float64) {
		v := math.Exp(math.Log(fluid.ReferencePressure/p) / n)
		return v, -v / (n * p)
	}, func(p float64) (float64, float64) {
		v := math.Exp(l.PressureViscosity * (p - fluid.ReferencePressure))
		return v, l.PressureViscosity * v
	})
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
	nu, nuT, cold, coldT := o.warmth.at(T)
	moving, clear := 1.0, p
	if p < leastAirPressure {
		clear, moving = leastAirPressure, 0
	}
	air, airP, thicker, thickerP := o.pressure.at(clear)
	squeeze := over * perBulk
	s.rho = cold * (1 + squeeze)
	s.rhoT = coldT*(1+squeeze) - cold*squeeze*bulkT*perBulk
	s.rhoP = cold * perBulk * (1 - squeeze*bulkP)

	s.nu, s.nuT = nu, nuT
	s.mu = s.rho * s.nu * thicker
	s.muT = (s.rhoT*s.nu + s.rho*s.nuT) * thicker
	s.muP = (s.rhoP*thicker + s.rho*thickerP*moving) * s.nu

	x := o.law.Expansion15
	s.alpha = x * (1 + 1.6*x*(T-fluid.ReferenceTemperature))
	s.alphaT = 1.6 * x * x
	o.soften(clear, moving, air, airP, perBulk, bulkT*perBulk, bulkP*perBulk, s)
}

// stiffness is the oil's modulus with its free air (Pa) and its density (kg/m³) over
// the pressure (Pa absolute), at T (K).
func (o *oil) stiffness(T float64) func(p float64) (k, rho float64) {
	return func(p float64) (k, rho float64) {
		var s state
		o.at(T, p, &s)
		return 1 / s.soft, s.rho
	}
}

// soften sets 1/K_eff: fluid.EffectiveModulus and its slopes. g is the power of
// pressure in it; bulkT and bulkP are slopes of ln K.
func (o *oil) soften(p, moving, g, gP, perBulk, bulkT, bulkP float64, s *state) {
	const n = fluid.AirExponent
	phi := o.law.FreeAir
	g, gP = phi*g, phi*gP*moving
	liquid := (1 - phi) * perBulk
	air := g / (n * p)
	airP := gP/(n*p) - moving*air/p
	volume := 1 / (1 - phi + g)
	s.soft = (liquid + air) * volume
	s.softT = -liquid * bulkT * volume
	s.softP = (-liquid*bulkP+airP)*volume - s.soft*gP*volume
}
