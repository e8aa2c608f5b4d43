package gas

import "math"

// Charge is the gas of one accumulator: a fixed Mass (kg) of nitrogen.
type Charge struct{ Mass float64 }

// NewCharge is the gas that fills size (m³) at the precharge pressure p (Pa
// absolute) and temperature T (K).
//
//	m = ρ(p, T) V0
//
// Domain and errors as for Density. Source: real nitrogen, see At.
func NewCharge(p, T, size float64) (Charge, error) {
	rho, err := Density(p, T)
	return Charge{Mass: rho * size}, err
}

// Volume is what the charge takes up (m³) at pressure p (Pa absolute) and
// temperature T (K). Domain and errors as for Density.
func (c Charge) Volume(p, T float64) (float64, error) {
	rho, err := Density(p, T)
	return c.Mass / rho, err
}

// ChargeState is a charge at one volume and temperature. Warming is how much
// its temperature rises per volume taken away from it, without heat to the
// wall. The suffixes V and T are derivatives per m³ and per kelvin.
type ChargeState struct {
	Pressure, PressureV, PressureT float64 // Pa absolute
	Warming, WarmingV, WarmingT    float64 // K/m³
}

// At is the charge at volume V (m³) and temperature T (K), ρ = m/V:
//
//	p = p(ρ, T),  warming = T/(m c_v) (∂p/∂T)_V
//
// Domain, source and accuracy as for the function At; V > 0.
func (c Charge) At(V, T float64) ChargeState {
	rho := c.Mass / V
	s := At(rho, T)
	perV := -rho / V // dρ/dV
	heat := c.Mass * s.Cv
	w := T * s.PressureT / heat
	return ChargeState{
		Pressure:  s.Pressure,
		PressureV: s.PressureRho * perV,
		PressureT: s.PressureT,
		Warming:   w,
		WarmingV:  (T*s.PressureTRho/heat - w*s.CvRho/s.Cv) * perV,
		WarmingT:  (s.PressureT+T*s.PressureTT)/heat - w*s.CvT/s.Cv,
	}
}

// TemperatureRate is dT/dt (K/s) of an accumulator's gas:
//
//	dT/dt = (T_w − T)/τ − T/(m c_v) (∂p/∂T)_V dV/dt
//
// wall = T_w is the temperature it settles to (K), constant = τ the thermal
// time constant (s), warming that of Charge.At, dVdt its change of volume
// (m³/s, negative in compression).
//
// Domain: τ > 0, +Inf for a gas that gives off no heat.
//
// Source: energy balance of the gas with one thermal time constant, after Otis
// & Pourmovahed, ASME J. Dyn. Syst. Meas. Control 107 (1985) (form from
// memory; it follows from the balance).
//
// Accuracy: that of τ, which is known to a factor of about two unless
// measured.
func TemperatureRate(T, wall, constant, warming, dVdt float64) float64 {
	return (wall-T)/constant - warming*dVdt
}

// PrechargeAt is the precharge pressure (Pa absolute) at temperature T (K) of
// an accumulator that was charged to p (Pa absolute) at the temperature from
// (K): the same gas in the same volume, ρ(p, T_0) = ρ(p', T).
//
// Domain and errors as for Density. Source: real nitrogen, see At.
func PrechargeAt(p, from, T float64) (float64, error) {
	rho, err := Density(p, from)
	return Pressure(rho, T), err
}

// PolytropicSize is the gas volume (m³) an accumulator needs to give the
// volume dV (m³) between the pressures high and low (Pa absolute) from the
// precharge p0, all of it by one polytropic exponent n:
//
//	V0 = ΔV/[(p0/p1)^(1/n) − (p0/p2)^(1/n)]
//
// low = p1, high = p2.
//
// Domain: p0 ≤ p1 < p2, n 1 (slow) to 1.4 (quick).
//
// Source: common practice, from p V^n = constant. For a first size only; a
// circuit is computed with Charge.
//
// Accuracy: nitrogen is stiffer than an ideal gas: between 100 and 200 bar at
// constant temperature the size comes out 5 % too small, above 200 bar more.
func PolytropicSize(dV, p0, low, high, n float64) float64 {
	return dV / (math.Pow(p0/low, 1/n) - math.Pow(p0/high, 1/n))
}
