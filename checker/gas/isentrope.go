package gas

import "math"

// isentropeSteps is in how many steps a change is followed: each changes the
// pressure, or the volume, by a few per cent at most.
const isentropeSteps = 64

// ToPressure is the charge at pressure p (Pa absolute), brought there from volume V
// (m³) and temperature T (K) without heat:
//
//	dV/d ln p = p/((∂p/∂V)_T − w (∂p/∂T)_V),  dT/dV = −w,  w = T/(m c_v) (∂p/∂T)_V
//
// Domain: V, p > 0, and states within those of Density. Source: first law for a gas
// that gives off no heat, on the equation of state of At. Accuracy: fourth order,
// better than 1e-6 from 10 to 300 bar.
func (c Charge) ToPressure(V, T, p float64) (toV, toT float64) {
	step := math.Log(p/c.At(V, T).Pressure) / isentropeSteps
	along := func(V, T float64) (dV, dT float64) {
		s := c.At(V, T)
		dV = s.Pressure / (s.PressureV - s.Warming*s.PressureT)
		return dV, -s.Warming * dV
	}
	for range isentropeSteps {
		v1, t1 := along(V, T)
		v2, t2 := along(V+step/2*v1, T+step/2*t1)
		v3, t3 := along(V+step/2*v2, T+step/2*t2)
		v4, t4 := along(V+step*v3, T+step*t3)
		V += step / 6 * (v1 + 2*v2 + 2*v3 + v4)
		T += step / 6 * (t1 + 2*t2 + 2*t3 + t4)
	}
	return V, T
}

// ToVolume is the temperature (K) of the charge at volume to (m³), brought there from
// volume V and temperature T without heat: dT/dV = −w. Domain, source and accuracy as
// for ToPressure.
func (c Charge) ToVolume(V, T, to float64) float64 {
	step := math.Log(to/V) / isentropeSteps
	along := func(V, T float64) float64 { return -c.At(V, T).Warming * V }
	for range isentropeSteps {
		half, whole := V*math.Exp(step/2), V*math.Exp(step)
		k1 := along(V, T)
		k2 := along(half, T+step/2*k1)
		k3 := along(half, T+step/2*k2)
		k4 := along(whole, T+step*k3)
		V, T = whole, T+step/6*(k1+2*k2+2*k3+k4)
	}
	return T
}
