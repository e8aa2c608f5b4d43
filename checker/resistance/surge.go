package resistance

// Surge is the pressure rise (Pa) upstream of a valve that takes the velocity
// dv (m/s) off a line of the given length L (m), wave speed a (m/s) and fluid
// density rho (kg/m³), within the closure time t (s):
//
//	t ≤ 2L/a:  Δp = ρ a Δv        (Joukowsky)
//	else:      Δp = 2 ρ L Δv/t    (Michaud)
//
// Domain: all ≥ 0. The two meet at t = 2L/a.
//
// Source: Joukowsky (1898); Michaud (1878). Michaud's is twice the rigid
// column's ρ L Δv/t.
//
// Accuracy: Joukowsky exact for a closure that quick; Michaud an upper bound
// for a closure linear in time.
func Surge(rho, a, dv, length, t float64) float64 {
	if t <= 2*length/a {
		return rho * a * dv
	}
	return 2 * rho * length * dv / t
}
