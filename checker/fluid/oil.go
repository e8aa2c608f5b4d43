package fluid

import "math"

// Oil is a hydraulic fluid with its properties resolved to SI. Its methods
// put the laws of this package together; T is in kelvin, p absolute pascal.
type Oil struct {
	Density15         float64        // kg/m³ at 15 °C and p0
	Expansion15       float64        // 1/K at 15 °C
	Kinematic         ViscosityCurve // at p0
	Modulus           Modulus        // of the liquid without air
	SpecificHeat      float64        // J/kg/K
	FreeAir           float64        // volume fraction at p0
	PressureViscosity float64        // 1/Pa
}

// Viscosity is the kinematic viscosity (m²/s) at p0: ViscosityCurve.At.
func (o *Oil) Viscosity(T float64) float64 { return o.Kinematic.At(T) }

// DynamicViscosity is the dynamic viscosity (Pa s): function DynamicViscosity
// with the density at T and p.
func (o *Oil) DynamicViscosity(T, p float64) float64 {
	return DynamicViscosity(o.Density(T, p), o.Kinematic.At(T), o.PressureViscosity, p)
}

// Density is the density of the liquid (kg/m³): function Density. Free air is
// not counted in it.
func (o *Oil) Density(T, p float64) float64 {
	return Density(o.Density15, o.Expansion15, o.Modulus.At(T, p), T, p)
}

// BulkModulus is the modulus of the liquid without air (Pa): Modulus.At.
func (o *Oil) BulkModulus(T, p float64) float64 { return o.Modulus.At(T, p) }

// EffectiveModulus is the modulus with the oil's free air (Pa): function
// EffectiveModulus with AirExponent.
func (o *Oil) EffectiveModulus(T, p float64) float64 {
	return EffectiveModulus(o.Modulus.At(T, p), o.FreeAir, AirExponent, p)
}

// Expansion is the volume expansion (1/K): function Expansion.
func (o *Oil) Expansion(T float64) float64 { return Expansion(o.Expansion15, T) }

// State is an oil at one temperature and pressure, with partial derivatives:
// the suffix T is per kelvin at constant pressure, P per pascal at constant
// temperature.
type State struct {
	Kinematic, KinematicT             float64 // m²/s
	Dynamic, DynamicT, DynamicP       float64 // Pa s
	Density, DensityT, DensityP       float64 // kg/m³
	Bulk, BulkT, BulkP                float64 // Pa, without air
	Effective, EffectiveT, EffectiveP float64 // Pa, with free air
	Expansion, ExpansionT             float64 // 1/K
}

// At is everything the other methods give, in one pass and with analytic
// derivatives, for an integrator's Jacobian.
func (o *Oil) At(T, p float64) State {
	var s State
	s.Bulk, s.BulkT, s.BulkP = o.Modulus.withSlopes(T, p)
	s.Effective, s.EffectiveT, s.EffectiveP = effectiveSlopes(s.Bulk, s.BulkT, s.BulkP, o.FreeAir, AirExponent, p)
	s.Expansion = Expansion(o.Expansion15, T)
	s.ExpansionT = 1.6 * o.Expansion15 * o.Expansion15

	over := p - ReferencePressure
	rhoT := Density(o.Density15, o.Expansion15, s.Bulk, T, ReferencePressure)
	s.Density = rhoT * (1 + over/s.Bulk)
	s.DensityT = -s.Expansion*s.Density - rhoT*over*s.BulkT/(s.Bulk*s.Bulk)
	s.DensityP = rhoT * (1 - over*s.BulkP/s.Bulk) / s.Bulk

	s.Kinematic, s.KinematicT = o.Kinematic.WithSlope(T)
	thicker := math.Exp(o.PressureViscosity * over)
	s.Dynamic = s.Density * s.Kinematic * thicker
	s.DynamicT = (s.DensityT*s.Kinematic + s.Density*s.KinematicT) * thicker
	s.DynamicP = (s.DensityP + s.Density*o.PressureViscosity) * s.Kinematic * thicker
	return s
}
