package fluid

import "math"

// DynamicViscosity (Pa s) of a liquid of density rho (kg/m³) and kinematic
// viscosity nu (m²/s, at p0) under absolute pressure p (Pa):
//
//	μ = ρ ν exp(β (p − p0))
//
// beta = β is the pressure–viscosity coefficient (1/Pa), 1.4e-8 to 2.4e-8 for
// paraffinic machine oils between 100 and 30 °C; naphthenic ones reach 3e-8.
//
// Domain: to some hundred bar; at the pressures of rolling contacts the law
// overstates. Outside, the formula is evaluated as it stands.
//
// Source: Barus (1893); coefficients of base oils: Neale, Tribology Handbook,
// table 25.
//
// Accuracy: 5 % at 350 bar where rho is the density at p: the law itself, which has
// μ at p0 before the exponential, overstates by 2 % there against Roelands, and the
// density adds its own 2 %.
func DynamicViscosity(rho, nu, beta, p float64) float64 {
	return rho * nu * math.Exp(beta*(p-ReferencePressure))
}
