package resistance

import "math"

// Gravity is standard gravity g (m/s²), ISO 80000-3.
const Gravity = 9.80665

// Tube is a round line, tube or hose: Bore D and Length L (m), Roughness ε of
// its wall (m), Losses the sum of its loss coefficients K, Elevation h the
// height of its far end above its near end (m).
//
// Drop and Flow are one law read both ways:
//
//	Δp = f (L/D) ρ v|v|/2 + K ρ v|v|/2 + ρ g h
//
// with f of FrictionFactor and v = Q/A.
//
// Domain: D, L, ρ, μ > 0, ε/D to 0.05; K ≥ 0. Fully developed flow: no entry
// length, no inertia. Outside, NaN or the formula as it stands.
//
// Source: Darcy–Weisbach; Churchill (1977) for f.
//
// Accuracy: that of f (see FrictionFactor), and of K.
type Tube struct {
	Bore, Length, Roughness, Losses, Elevation float64
}

// TubeDrop is the pressure difference over a tube (Pa), from less to, and its
// derivatives along flow (m³/s), density (kg/m³) and dynamic viscosity (Pa s).
type TubeDrop struct {
	Drop, PerFlow, PerDensity, PerViscosity float64
}

// TubeFlow is the flow through a tube (m³/s) and its derivatives along the
// pressure difference (Pa), density (kg/m³) and dynamic viscosity (Pa s).
type TubeFlow struct {
	Flow, PerPascal, PerDensity, PerViscosity float64
}

// Drop is the pressure difference at a flow (m³/s) of a fluid of density rho
// (kg/m³) and dynamic viscosity mu (Pa s).
func (t *Tube) Drop(flow, rho, mu float64) TubeDrop {
	area := CircleArea(t.Bore)
	d := t.resist(flow/area, rho, mu)
	d.Drop += rho * Gravity * t.Elevation
	d.PerDensity += Gravity * t.Elevation
	d.PerFlow /= area
	return d
}

// Flow is the flow at the pressure difference dp (Pa), from less to, of a
// fluid of density rho (kg/m³) and dynamic viscosity mu (Pa s): Drop the other
// way round to 1e-12, smooth through zero with the conductance of laminar
// flow. In laminar flow it is a closed form; above, a few Newton steps.
func (t *Tube) Flow(dp, rho, mu float64) TubeFlow {
	driving := dp - rho*Gravity*t.Elevation
	v, d := t.speedAt(math.Abs(driving), rho, mu)
	area, sign := CircleArea(t.Bore), math.Copysign(1, driving)
	perPascal := area / d.PerFlow
	return TubeFlow{
		Flow:         sign * area * v,
		PerPascal:    perPascal,
		PerDensity:   -perPascal * (sign*d.PerDensity + Gravity*t.Elevation),
		PerViscosity: -perPascal * sign * d.PerViscosity,
	}
}

// resist is what friction and losses, without elevation, hold against the
// velocity v (m/s); its PerFlow is per velocity. Friction is written
// f (L/D) ρ v²/2 = φ μ L v/(2 D²) with φ = f Re, which stays finite at rest.
func (t *Tube) resist(v, rho, mu float64) TubeDrop {
	speed := math.Abs(v)
	phi, slope := poiseuille(rho*speed*t.Bore/mu, t.Roughness/t.Bore)
	lengths := t.Length / (2 * t.Bore * t.Bore)
	dynamic := v * speed / 2
	return TubeDrop{
		Drop:         phi*mu*lengths*v + t.Losses*rho*dynamic,
		PerFlow:      phi*mu*lengths*(1+slope) + t.Losses*rho*speed,
		PerDensity:   phi*mu*lengths*v*slope/rho + t.Losses*dynamic,
		PerViscosity: phi * lengths * v * (1 - slope),
	}
}

const (
	// likelyLaminar only chooses where Newton starts.
	likelyLaminar = 2300

	// newtonEnough is the relative step after which the next would be below
	// 1e-13, since the steps square.
	newtonEnough = 1e-7
)

// speedAt is the speed (m/s) that a driving pressure (Pa, not negative) keeps
// up against friction and losses, and the derivatives of resist there, to 1e-5
// or better.
func (t *Tube) speedAt(driving, rho, mu float64) (v float64, d TubeDrop) {
	laminar := t.laminarSpeed(driving, rho, mu)
	re := rho * laminar * t.Bore / mu
	if re <= certainlyLaminar {
		return laminar, t.resist(laminar, rho, mu)
	}
	v = laminar
	if re > likelyLaminar {
		v = min(laminar, t.roughSpeed(driving, rho, mu))
	}
	// f is never below 64/Re, so the laminar speed bounds the speed above.
	// Newton on ln Δp over ln v, which is nearly straight; bisection where it
	// leaves the bracket or does not at least halve its step, as it may in the
	// steep middle of the transition.
	low, high := 0.0, laminar
	last := math.Inf(1)
	for range 100 {
		d = t.resist(v, rho, mu)
		step := math.Log(driving/d.Drop) * d.Drop / (v * d.PerFlow)
		next := v * math.Exp(step)
		if !(math.Abs(step) > newtonEnough) {
			return next, d
		}
		if d.Drop > driving {
			high = v
		} else {
			low = v
		}
		if next < low || next > high || math.Abs(step) > last/2 {
			next = (low + high) / 2
		}
		v, last = next, math.Abs(step)
	}
	return v, d
}

// laminarSpeed solves 32 μ L v/D² + K ρ v²/2 = Δp for v.
func (t *Tube) laminarSpeed(driving, rho, mu float64) float64 {
	a := laminarPoiseuille / 2 * mu * t.Length / (t.Bore * t.Bore)
	b := t.Losses * rho / 2
	return 2 * driving / (a + math.Sqrt(a*a+4*b*driving))
}

// roughSpeed is a first guess in turbulent flow: Colebrook–White's f, explicit
// in Re √f as if friction took the whole drop, then shared with the losses.
func (t *Tube) roughSpeed(driving, rho, mu float64) float64 {
	friction := math.Sqrt(2 * driving * t.Bore / (rho * t.Length)) // v √f
	inverse := -2 * math.Log10(t.Roughness/(3.7*t.Bore)+2.51*mu/(rho*friction*t.Bore))
	f := 1 / (inverse * inverse)
	return math.Sqrt(2 * driving / (rho * (f*t.Length/t.Bore + t.Losses)))
}

// Velocity is the mean velocity (m/s) of a flow (m³/s) in the bore.
func (t *Tube) Velocity(flow float64) float64 { return flow / CircleArea(t.Bore) }

// Reynolds is the Reynolds number v D/ν at a flow (m³/s) of kinematic
// viscosity nu (m²/s); never negative.
func (t *Tube) Reynolds(flow, nu float64) float64 {
	return math.Abs(t.Velocity(flow)) * t.Bore / nu
}

// Volume is what the tube holds (m³); half of it belongs to each end.
func (t *Tube) Volume() float64 { return CircleArea(t.Bore) * t.Length }
