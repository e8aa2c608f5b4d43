package strength

import (
	"math"
	"testing"
)

// MIL-PRF-5606: K 260 000 psi, expansion 0.00046 1/°F give 119.6 psi/°F =
// 14.84 bar/K in a rigid space (data of the Lee Company handbook). Rigid, α
// 7e-4 1/K with K 1.5 and 1.8 GPa: 10.5 and 12.6 bar/K; in steel tube 20 × 2
// mm as a thin wall, (α − 3·12e-6)/(1/K + (D/Ee)(5/4 − µ)), D 16 mm, E 206 GPa,
// µ 0.3: 9.44 and 11.21 bar/K; computed independently.
func TestTrappedRate(t *testing.T) {
	asPrinted(t, "psi/°F", TrappedRate(0.00046, 0, 260000, 0), "119.6")
	asPrinted(t, "bar/K", TrappedRate(0.00046*1.8, 0, 260000*6894.757, 0)/bar, "14.84")
	thin := 16. / (206e9 * 2) * (5./4 - 0.3)
	for K, want := range map[float64][2]string{1.5e9: {"10.5", "9.44"}, 1.8e9: {"12.6", "11.21"}} {
		asPrinted(t, "rigid, bar/K", TrappedRate(7e-4, 0, K, 0)/bar, want[0])
		asPrinted(t, "steel tube, bar/K", TrappedRate(7e-4, 12e-6, K, thin)/bar, want[1])
	}
}

func TestTubeVolumeCompliance(t *testing.T) {
	const E, mu = 206e9, 0.3
	// Thin wall: (D/(E e))(5/4 − µ).
	const D, e = 1.0, 1e-5
	near(t, "thin", TubeVolumeCompliance((D+2*e)/D, E, mu), D/(E*e)*(5./4-mu), 1e-4)
	// From Lamé's stresses: 2 ε_θ + ε_z.
	for _, k := range []float64{1.1, 1.25, 2, 4} {
		s := Lame(k, 1)
		hoop := (s.BoreHoop - mu*(s.Axial+s.BoreRadial)) / E
		axial := (s.Axial - mu*(s.BoreHoop+s.BoreRadial)) / E
		near(t, "thick", TubeVolumeCompliance(k, E, mu), 2*hoop+axial, 1e-12)
	}
	// In steel tube 20 × 2 mm the thick wall takes 1 % off the thin one's rate.
	rate := TrappedRate(7e-4, 12e-6, 1.5e9, TubeVolumeCompliance(20./16, E, mu)) / bar
	near(t, "bar/K", rate, 9.44, 0.015)
}

func TestTrappedPressure(t *testing.T) {
	// Constant properties: a straight line.
	constant := func(T, p float64) float64 { return TrappedRate(7e-4, 0, 1.5e9, 0) }
	near(t, "straight", TrappedPressure(1*bar, 293.15, 353.15, constant), 1*bar+60*10.5*bar, 1e-12)
	near(t, "cooling", TrappedPressure(100*bar, 293.15, 290.15, constant), 100*bar-3*10.5*bar, 1e-12)
	near(t, "no change", TrappedPressure(3*bar, 293.15, 293.15, constant), 3*bar, 0)

	// K = K0 + m p: p + K0/m grows as e^(α m ΔT).
	const K0, m, alpha = 1.5e9, 11.0, 7e-4
	stiffening := func(T, p float64) float64 { return TrappedRate(alpha, 0, K0+m*p, 0) }
	near(t, "stiffening", TrappedPressure(0, 280, 380, stiffening), K0/m*(math.Exp(alpha*m*100)-1), 1e-9)

	// Free air first: oil of no compressibility grows into the air's volume,
	// φ (p0/p)^(1/n) = φ − (e^(αΔT) − 1) (1 − φ) by the volumes.
	const phi, n, p0 = 0.01, 1.4, 101325.0
	air := func(T, p float64) float64 {
		g := phi * math.Pow(p0/p, 1/n)
		oil := (1 - phi) * math.Exp(alpha*(T-293.15))
		// n p/K share: dp/dT = n p (dV_oil/dT)/V_air, as α·oil over g/(n p).
		return alpha * oil / (g / (n * p))
	}
	left := phi - (1-phi)*(math.Exp(alpha*10)-1)
	near(t, "into the air", TrappedPressure(p0, 293.15, 303.15, air), p0*math.Pow(phi/left, n), 1e-6)

	// A step is 0.1 K at the longest, and a short rest is a step too.
	calls := 0
	TrappedPressure(0, 300, 310.05, func(T, p float64) float64 { calls++; return 1 })
	if calls != 4*101 {
		t.Errorf("%d evaluations for 10.05 K, want 404", calls)
	}
	near(t, "a short way", TrappedPressure(1*bar, 293.15, 293.20, constant), 1*bar+0.05*10.5*bar, 1e-9)
}

// What the comment promises of an oil of 1.5 GPa (isentropic, at 40 °C) that gains 11
// times the pressure and loses 8 MPa/K, of 7.2e-4 1/K at 15 °C, 870 kg/m³ and 2
// kJ/kg/K: its isothermal modulus is K/(1 + α² T K/(ρ c)), and ∂α/∂p = −∂(1/K)/∂T.
func TestTrappedAccuracy(t *testing.T) {
	const rho, c, warm, perKelvin = 870, 2000.0, 293.15, -8e6
	alpha := func(T float64) float64 { return 7.2e-4 * (1 + 1.6*7.2e-4*(T-288.15)) }
	K := func(T, p float64) float64 { return 1.5e9 + 11*p + perKelvin*(T-313.15) }
	pressed := func(T, p float64) float64 { return alpha(T) + perKelvin*p/(K(T, 0)*K(T, p)) }
	share := func(T, p float64) float64 { a := pressed(T, p); return a * a * T * K(T, p) / (rho * c) }
	near(t, "isentropic over isothermal", share(warm, 0), 0.15, 0.05)
	near(t, "α lost at 200 bar", 1-pressed(warm, 200*bar)/alpha(warm), 0.07, 0.05)

	told := func(T, p float64) float64 { return TrappedRate(alpha(T), 0, K(T, p), 0) }
	real := func(T, p float64) float64 { return TrappedRate(pressed(T, p), 0, K(T, p)/(1+share(T, p)), 0) }
	near(t, "told", TrappedPressure(0, warm, warm+30, told)/bar, 386, 2e-3)
	near(t, "real", TrappedPressure(0, warm, warm+30, real)/bar, 309, 2e-3)
}

// Bore 40, rod 28 mm: areas as 1600 : 816.
func TestIntensified(t *testing.T) {
	near(t, "p", Intensified(210*bar, 0, 1600, 1600-784), 210*bar*1600/816, 1e-12)
	near(t, "force balance", Intensified(210*bar, 50*bar, 3, 2)*2+50*bar, 210*bar*3, 1e-12)
	near(t, "a load that pulls", Intensified(0, -50*bar, 3, 2)*2, 50*bar, 1e-12)
	near(t, "a load that outweighs", Intensified(210*bar, 640*bar, 3, 2), 0, 0)
}
