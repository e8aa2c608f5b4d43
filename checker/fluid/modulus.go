package fluid

// Modulus is the isentropic tangent bulk modulus of an air-free liquid: Value
// (Pa) at AtTemperature (K) and AtPressure (Pa absolute), linear in both.
//
//	K = K_ref + k_p (p − p_ref) + k_T (T − T_ref)
//
// with PerPressure = k_p (dimensionless) and PerKelvin = k_T (Pa/K, negative
// for oils).
//
// Domain: some hundred bar and some tens of kelvin about the reference. Never
// below a tenth of Value, so that a far extrapolation stays a stiff liquid.
//
// Source: linear form of the measured K(p, T) of oils, e.g. Hayward; a
// published secant needs TangentFromSecant first.
//
// Accuracy: that of the figures given; a few per cent for a mineral oil.
type Modulus struct {
	Value         float64
	AtTemperature float64
	AtPressure    float64
	PerPressure   float64
	PerKelvin     float64
}

// modulusFloor is the least share of Value that At returns. Our own bound:
// no liquid reaches it.
const modulusFloor = 0.1

// At is the bulk modulus (Pa) at T (K) and absolute pressure p (Pa).
func (m *Modulus) At(T, p float64) float64 {
	k, _, _ := m.withSlopes(T, p)
	return k
}

func (m *Modulus) withSlopes(T, p float64) (k, perKelvin, perPressure float64) {
	k = m.Value + m.PerPressure*(p-m.AtPressure) + m.PerKelvin*(T-m.AtTemperature)
	if floor := modulusFloor * m.Value; k < floor {
		return floor, 0, 0
	}
	return k, m.PerKelvin, m.PerPressure
}

// TangentFromSecant is the tangent bulk modulus (Pa) at pressure p (Pa above
// the pressure the volume is referred to) of a liquid whose secant modulus is
// linear in pressure, K_s = K_0 + m p:
//
//	K = K_s (K_s − p)/K_0
//
// k0 = K_0 (Pa), m dimensionless. Isothermal gives isothermal, isentropic
// isentropic.
//
// Domain: 0 ≤ p < K_s.
//
// Source: follows from K_s = p V_0/(V_0 − V) and K = −V dp/dV; tangent and
// secant as defined by Hayward (from memory).
//
// Accuracy: exact.
func TangentFromSecant(k0, m, p float64) float64 {
	ks := k0 + m*p
	return ks * (ks - p) / k0
}

// IsentropicModulus is the isentropic bulk modulus (Pa) that belongs to an
// isothermal one kT (Pa, tangent) at temperature T (K):
//
//	K_S = K_T / (1 − α² T K_T/(ρ c_p))
//
// alpha = α is the volume expansion (1/K), rho = ρ the density (kg/m³) and cp
// = c_p the specific heat (J/kg/K), all at the same state.
//
// Domain: stable liquids, where the bracket is positive.
//
// Source: thermodynamic identity K_S/K_T = c_p/c_v with
// c_p − c_v = α² T K_T/ρ.
//
// Accuracy: exact; for oils the ratio is near 1.15, and the figures put in
// decide.
func IsentropicModulus(kT, alpha, T, rho, cp float64) float64 {
	return kT / (1 - alpha*alpha*T*kT/(rho*cp))
}
