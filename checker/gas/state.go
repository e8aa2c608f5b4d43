package gas

import (
	"fmt"
	"math"
)

// State is nitrogen at one density and temperature, with what an integrator
// needs of it. Suffix T is per kelvin at constant density, Rho per kg/m³ at
// constant temperature.
type State struct {
	Pressure, PressureT, PressureRho float64 // Pa
	PressureTT, PressureTRho         float64
	Cv, CvT, CvRho                   float64 // J/kg/K
}

// At is the state of nitrogen at density rho (kg/m³) and temperature T (K):
//
//	p = ρ R T (1 + δ α^r_δ),  c_v = −R τ² (α⁰_ττ + α^r_ττ)
//	(∂p/∂T)_ρ = ρ R (1 + δ α^r_δ − δ τ α^r_δτ)
//	(∂p/∂ρ)_T = R T (1 + 2 δ α^r_δ + δ² α^r_δδ)
//
// with α = α⁰ + α^r the reduced Helmholtz energy, δ = ρ/ρ_c, τ = T_c/T.
//
// Domain: gas and supercritical fluid, 130 to 600 K, to 100 MPa (from memory;
// the authors' own check lies at 700 and 750 K). Below the critical
// temperature the saturation line is not looked for. Beyond, the equation is
// continued smoothly; NaN unless ρ > 0 and T > 0.
//
// Source: Span & Wagner, Int. J. Thermophys. 24 (2003) 41–109, short equation
// for non-polar fluids, table of nitrogen; ideal part of Span et al., J. Phys.
// Chem. Ref. Data 29 (2000) 1361.
//
// Accuracy: against the reference equation of 2000, for 293 to 400 K: density
// 0.1 % to 20 MPa and 0.35 % at 35 MPa, c_v 0.7 %.
func At(rho, T float64) State {
	if !(rho > 0 && T > 0) {
		nan := math.NaN()
		return State{nan, nan, nan, nan, nan, nan, nan, nan}
	}
	delta, tau := rho/criticalDensity, criticalTemperature/T
	r := residualAt(delta, tau)
	itt, ittt := idealSlopes(tau)
	const R = GasConstant
	return State{
		Pressure:     rho * R * T * (1 + r.d),
		PressureT:    rho * R * (1 + r.d - r.dt),
		PressureRho:  R * T * (1 + 2*r.d + r.dd),
		PressureTT:   rho * R * r.dtt / T,
		PressureTRho: R * (1 + 2*r.d + r.dd - 2*r.dt - r.ddt),
		Cv:           -R * (itt + r.tt),
		CvT:          R * (2*(itt+r.tt) + ittt + r.ttt) / T,
		CvRho:        -R * r.dtt / rho,
	}
}

// Pressure is the pressure (Pa) of nitrogen at rho (kg/m³) and T (K), as in
// At.
func Pressure(rho, T float64) float64 { return At(rho, T).Pressure }

// Density is the density (kg/m³) of nitrogen at pressure p (Pa) and
// temperature T (K): At solved for ρ by Newton's method in a bracket.
//
// Domain: T above the critical 126.192 K, where density is unique; p above 0
// and up to that at 900 kg/m³, above 100 MPa at any T of use. Outside, an error.
//
// Accuracy: 1e-13 of the equation.
func Density(p, T float64) (float64, error) {
	low, high := 0.0, greatestDensity
	if !(T > criticalTemperature) || math.IsInf(T, 0) {
		return 0, fmt.Errorf("nitrogen at %g K: density is found above %g K only", T, criticalTemperature)
	}
	if !(p > 0 && p <= Pressure(high, T)) {
		return 0, fmt.Errorf("nitrogen at %g K: no density up to %g kg/m3 gives %g Pa", T, high, p)
	}
	rho := min(p/(GasConstant*T), high/2)
	for range 100 {
		s := At(rho, T)
		if s.Pressure > p {
			high = rho
		} else {
			low = rho
		}
		next := rho - (s.Pressure-p)/s.PressureRho
		if !(next >= low && next <= high) {
			next = (low + high) / 2
		}
		if math.Abs(next-rho) <= 1e-14*rho {
			return next, nil
		}
		rho = next
	}
	return rho, nil
}

const greatestDensity = 900.0 // kg/m³, 2.9 times the critical

// Cp is the isobaric heat capacity (J/kg/K), c_p = c_v + T (∂p/∂T)²/(ρ² ∂p/∂ρ).
// Domain, source and accuracy as for At.
func Cp(rho, T float64) float64 {
	s := At(rho, T)
	return s.Cv + T*s.PressureT*s.PressureT/(rho*rho*s.PressureRho)
}

// IdealCp is the isobaric heat capacity (J/kg/K) at no pressure,
// c_p⁰ = R (1 − τ² α⁰_ττ). Domain and source as for At.
func IdealCp(T float64) float64 {
	tt, _ := idealSlopes(criticalTemperature / T)
	return GasConstant * (1 - tt)
}

// SoundSpeed is the speed of sound (m/s), w² = (c_p/c_v)(∂p/∂ρ)_T. Domain,
// source and accuracy as for At.
func SoundSpeed(rho, T float64) float64 {
	s := At(rho, T)
	return math.Sqrt(s.PressureRho + T*s.PressureT*s.PressureT/(rho*rho*s.Cv))
}

// Enthalpy is the specific enthalpy (J/kg), h = R T (1 + τ α_τ + δ α^r_δ), from
// the zero of the ideal part's source. Domain, source and accuracy as for At.
func Enthalpy(rho, T float64) float64 {
	tau := criticalTemperature / T
	_, t, d := residualSums(rho/criticalDensity, tau)
	return GasConstant * T * (1 + idealAt(tau).t + t + d)
}

// Entropy is the specific entropy (J/kg/K), s = R (τ α_τ − α), from the zero of
// the ideal part's source. Domain, source and accuracy as for At.
func Entropy(rho, T float64) float64 {
	delta, tau := rho/criticalDensity, criticalTemperature/T
	value, t, _ := residualSums(delta, tau)
	i := idealAt(tau)
	return GasConstant * (i.t + t - i.value - math.Log(delta) - value)
}

// residualSums are α^r, τ α^r_τ and δ α^r_δ.
func residualSums(delta, tau float64) (value, t, d float64) {
	for i, b := range residualValues(delta, tau) {
		value += b
		t += b * residualTerms[i].t
	}
	return value, t, residualAt(delta, tau).d
}
