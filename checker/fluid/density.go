package fluid

import "math"

// Density of a liquid (kg/m³) at temperature T (K) and absolute pressure p
// (Pa):
//
//	ρ = ρ15 exp(−α Δt (1 + 0.8 α Δt)) (1 + (p − p0)/K),  Δt = T − 15 °C
//
// rho15 = ρ15 is its density at 15 °C and p0, alpha15 = α its expansion there
// (1/K), k = K its bulk modulus (Pa) at T and p.
//
// Domain: −20 to 150 °C for mineral oils in the standard's tables; p within a
// tenth of K. Outside, the formula is evaluated as it stands.
//
// Source: ASTM D1250-04 (API MPMS 11.1), volume correction of generalised
// lubricating oils, with 15 °C as the base, as in the metric tables 54A to 54D of
// 1980 (that the edition of 2004 counts from 60 °F is from memory); compression to
// first order in (p − p0)/K.
//
// Accuracy: that of ρ15 and α. The compression term is low by ((p − p0)/K)²/2,
// 0.03 % at 350 bar, where K is the same at every pressure. Where K is the tangent
// modulus at p, as Oil takes it, the whole way up is counted as stiff as its end:
// an oil of 1.5 GPa that gains 11 times the pressure comes out 0.02 % too light at
// 100 bar, 0.09 % at 200 bar and 0.24 % at 350 bar.
func Density(rho15, alpha15, k, T, p float64) float64 {
	x := alpha15 * (T - ReferenceTemperature)
	return rho15 * math.Exp(-x*(1+0.8*x)) * (1 + (p-ReferencePressure)/k)
}

// Expansion is the volume expansion (1/K) at T (K) and p0 that belongs to Density:
//
//	α_T = −d(ln ρ)/dT = α (1 + 1.6 α Δt)
//
// Domain and source as for Density.
//
// Accuracy: that of α at p0. Under pressure a liquid expands less, as its modulus
// falls with temperature, ∂α/∂p = (∂K/∂T)/K²: by Density 10 % less at 350 bar where
// an oil of 1.5 GPa gains 9.5 times the pressure and loses 7 MPa/K.
func Expansion(alpha15, T float64) float64 {
	return alpha15 * (1 + 1.6*alpha15*(T-ReferenceTemperature))
}

// LubricantExpansion estimates the expansion at 15 °C (1/K) of a mineral
// lubricating oil from its density there (kg/m³), where no figure is given:
//
//	α = K0/ρ15² + K1/ρ15,  K0 = 0,  K1 = 0.6278 kg/m³/K
//
// Domain: mineral lubricating oils, ρ15 800 to 1164 kg/m³ (range from memory);
// not for esters, glycols or watery fluids.
//
// Source: ASTM D1250-04, constants of the group of lubricating oils, here those of
// the base 15 °C.
//
// Accuracy: a few per cent of α.
func LubricantExpansion(rho15 float64) float64 {
	return 0.6278 / rho15
}
