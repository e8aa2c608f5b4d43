package gas

import "math"

// Constants of the short equation of state for nitrogen: Span & Wagner, Int.
// J. Thermophys. 24 (2003) 41–109, part II.
const (
	criticalTemperature = 126.192 // K
	criticalDensity     = 313.3   // kg/m³ (11.184 mol/dm³)

	// GasConstant is that of nitrogen (J/kg/K): R_m/M with 8.31451 J/mol/K and
	// 28.013 g/mol, the values the equation was fitted with.
	GasConstant = 8.31451 / 0.028013
)

// residualTerm is one term n δ^d τ^t exp(−δ^l) of the residual part; l = 0
// stands for no exponential.
type residualTerm struct{ n, d, t, l float64 }

// residualTerms are the coefficients for nitrogen of the short equation.
var residualTerms = [12]residualTerm{
	{0.92296567, 1, 0.25, 0},
	{-2.5575012, 1, 1.125, 0},
	{0.64482463, 1, 1.5, 0},
	{0.010831020, 2, 1.375, 0},
	{0.073924167, 3, 0.25, 0},
	{0.00023532962, 7, 0.875, 0},
	{0.18024854, 2, 0.625, 1},
	{-0.045660299, 5, 1.75, 1},
	{-0.15521060, 1, 3.625, 2},
	{-0.038111490, 4, 3.625, 2},
	{-0.031962422, 3, 14.5, 3},
	{0.015513532, 4, 12.0, 3},
}

// residual are the derivatives of the residual part α^r of the reduced
// Helmholtz energy, each times the powers of δ and τ it is taken along: d is
// δ α_δ, dtt is δ τ² α_δττ.
type residual struct{ d, dd, tt, dt, dtt, ddt, ttt float64 }

// residualAt sums the terms at δ = ρ/ρ_c and τ = T_c/T:
//
//	α^r = Σ n δ^d τ^t (i = 1–6) + Σ n δ^d τ^t exp(−δ^l) (i = 7–12)
func residualAt(delta, tau float64) residual {
	values := residualValues(delta, tau)
	d2 := delta * delta
	powers := [4]float64{0, delta, d2, d2 * delta} // δ^l, 0 where there is no exponential
	var r residual
	for i := range residualTerms {
		c := &residualTerms[i]
		b := values[i]
		le := c.l * powers[int(c.l)]
		D := c.d - le
		DD := D*(D-1) - c.l*le
		t := c.t
		tt := t * (t - 1)
		bt, btt := b*t, b*tt
		r.d += b * D
		r.dd += b * DD
		r.tt += btt
		r.dt += bt * D
		r.dtt += btt * D
		r.ddt += bt * DD
		r.ttt += btt * (t - 2)
	}
	return r
}

// residualValues are the terms themselves. All exponents of τ are multiples of
// 1/8: every power comes from u = τ^(1/8) by multiplication, three exponentials
// are all that is left.
func residualValues(delta, tau float64) (v [12]float64) {
	u := math.Sqrt(math.Sqrt(math.Sqrt(tau)))
	u2 := u * u
	u4 := u2 * u2
	u5 := u4 * u
	u7 := u5 * u2
	u9 := u7 * u2
	u11 := u9 * u2
	u12 := u11 * u
	u14 := u12 * u2
	u29 := u14 * u14 * u
	tau4 := tau * tau * tau * tau
	tau12 := tau4 * tau4 * tau4
	tau14half := tau12 * tau * tau * u4

	d2 := delta * delta
	d3 := d2 * delta
	d4 := d2 * d2
	d5 := d4 * delta
	d7 := d5 * d2
	e1, e2, e3 := math.Exp(-delta), math.Exp(-d2), math.Exp(-d3)

	c := &residualTerms
	v[0] = c[0].n * delta * u2
	v[1] = c[1].n * delta * u9
	v[2] = c[2].n * delta * u12
	v[3] = c[3].n * d2 * u11
	v[4] = c[4].n * d3 * u2
	v[5] = c[5].n * d7 * u7
	v[6] = c[6].n * d2 * u5 * e1
	v[7] = c[7].n * d5 * u14 * e1
	v[8] = c[8].n * delta * u29 * e2
	v[9] = c[9].n * d4 * u29 * e2
	v[10] = c[10].n * d3 * tau14half * e3
	v[11] = c[11].n * d4 * tau12 * e3
	return v
}

// ideal are the derivatives along τ of the ideal part α⁰ of the reduced
// Helmholtz energy, less ln δ, each times its power of τ.
type ideal struct{ value, t, tt, ttt float64 }

// Coefficients of the ideal part: Span, Lemmon, Jacobsen, Wagner, Yokozeki,
// J. Phys. Chem. Ref. Data 29 (2000) 1361–1433.
const (
	a1 = 2.5
	a2 = -12.76952708
	a3 = -0.00784163
	a4 = -1.934819e-4
	a5 = -1.247742e-5
	a6 = 6.678326e-8
	a7 = 1.012941
	a8 = 26.65788
)

// idealSlopes is the ideal part at τ:
//
//	α⁰ − ln δ = a1 ln τ + a2 + a3 τ + a4/τ + a5/τ² + a6/τ³ + a7 ln(1 − e^(−a8 τ))
//
// without its value and first derivative, which only enthalpy and entropy
// need.
func idealSlopes(tau float64) (tt, ttt float64) {
	i1 := 1 / tau
	i2, i3 := i1*i1, i1*i1*i1
	x := a8 * tau
	q := 1 / math.Expm1(x)
	vibration := a7 * x * x * q * (1 + q)
	tt = -a1 + 2*a4*i1 + 6*a5*i2 + 12*a6*i3 - vibration
	ttt = 2*a1 - 6*a4*i1 - 24*a5*i2 - 60*a6*i3 + vibration*x*(1+2*q)
	return tt, ttt
}

// idealAt is the ideal part with everything.
func idealAt(tau float64) ideal {
	i1 := 1 / tau
	i2, i3 := i1*i1, i1*i1*i1
	x := a8 * tau
	var p ideal
	p.value = a1*math.Log(tau) + a2 + a3*tau + a4*i1 + a5*i2 + a6*i3 + a7*math.Log(-math.Expm1(-x))
	p.t = a1 + a3*tau - a4*i1 - 2*a5*i2 - 3*a6*i3 + a7*x/math.Expm1(x)
	p.tt, p.ttt = idealSlopes(tau)
	return p
}
