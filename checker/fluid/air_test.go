package fluid

import (
	"math"
	"testing"
)

// B_e in MPa with B 1.5 GPa, fraction of air at 101 325 Pa, n = 1 and 1.4;
// computed independently, tolerance 1e-4 or half a last digit.
func TestEffectiveModulus(t *testing.T) {
	pressures := []float64{0.5e6, 1e6, 2e6, 5e6, 10e6, 20e6}
	for _, row := range []struct {
		phi    float64
		n1     []float64
		n1dot4 []float64
	}{
		{0.005, []float64{370.3, 850.9, 1259.8, 1455.7, 1488.7, 1497.2}, []float64{338.1, 732.7, 1137.2, 1406.9, 1470.5, 1491.0}},
		{0.01, []float64{210.5, 592.3, 1084.5, 1413.5, 1477.5, 1494.3}, []float64{190.0, 483.4, 914.2, 1324.0, 1441.9, 1482.0}},
		{0.05, []float64{45.9, 167.6, 501.4, 1137.6, 1389.6, 1471.0}, []float64{41.2, 126.4, 347.0, 887.2, 1239.9, 1410.6}},
	} {
		for i, p := range pressures {
			near(t, "B_e isothermal", EffectiveModulus(1.5e9, row.phi, 1, p), row.n1[i]*1e6, max(1e-4, 0.06/row.n1[i]))
			near(t, "B_e isentropic", EffectiveModulus(1.5e9, row.phi, AirExponent, p), row.n1dot4[i]*1e6, max(1e-4, 0.06/row.n1dot4[i]))
		}
	}
}

// Rabie, Fluid Power Engineering (2009), eqs 2.49–2.57, B 1.5 GPa, α 1 %,
// 10 MPa, n 1.4: 727.7 MPa with the fraction at pressure, 1441.9 MPa with the
// fraction at 101 325 Pa; computed independently.
func TestFractionRefersToTheAtmosphere(t *testing.T) {
	const B, alpha, n, P = 1.5e9, 0.01, 1.4, 10e6
	near(t, "fraction at pressure", 1/(alpha/(n*P)+(1-alpha)/B), 727.7e6, 1e-4)
	near(t, "fraction at p0", EffectiveModulus(B, alpha, n, P), 1441.9e6, 1e-4)
	// That 0.5 % at 50 bar halves the modulus (common practice) holds for the
	// fraction at pressure; at p0 it costs 6 %.
	near(t, "0.5 % at pressure", 1/(0.005/(n*5e6)+0.995/B), 726e6, 7e-4)
	near(t, "0.5 % at p0", EffectiveModulus(B, 0.005, n, 5e6), 0.94*B, 0.003)
	// The share of air at P that the fraction at p0 leaves, put into Rabie's form.
	g := airVolume(alpha, n, P)
	atP := g / (1 - alpha + g)
	near(t, "Rabie's form", 1/(atP/(n*P)+(1-atP)/B), EffectiveModulus(B, alpha, n, P), 1e-12)
}

// What the comment says of the accuracy: against the mixture whose liquid is
// compressed too, by the modulus 1.5 GPa + 9.5 (p − p0).
func TestEffectiveModulusAccuracy(t *testing.T) {
	K, m, n := 1.5e9, 9.5, AirExponent
	for phi, want := range map[float64]float64{0.005: 0.03e-2, 0.05: 0.13e-2} {
		most := 0.0
		for p := 1e5; p < 1e8; p *= 1.05 {
			k := K + m*(p-ReferencePressure)
			liquid, air := (1-phi)*math.Pow(K/k, 1/m), airVolume(phi, n, p)
			off := EffectiveModulus(k, phi, n, p)*(liquid/k+air/(n*p))/(liquid+air) - 1
			if off < -1e-6 {
				t.Errorf("with %g of air at %g Pa the modulus is low by %g", phi, p, -off)
			}
			most = max(most, off)
		}
		near(t, "most that it is high", most, want, 0.1)
	}
}

func TestEffectiveModulusLimits(t *testing.T) {
	near(t, "no air", EffectiveModulus(1.5e9, 0, 1.4, 5e5), 1.5e9, 1e-15)
	near(t, "all but air", EffectiveModulus(1.5e9, 1-1e-12, 1.4, 5e5), 1.4*5e5, 1e-6)
	near(t, "vacuum", EffectiveModulus(1.5e9, 0.01, 1.4, -1e5), EffectiveModulus(1.5e9, 0.01, 1.4, 1e3), 1e-15)
	near(t, "just above the bound", EffectiveModulus(1.5e9, 0.01, 1.4, 1000.001), EffectiveModulus(1.5e9, 0.01, 1.4, 1e3), 1e-5)
	if EffectiveModulus(1.5e9, 0.01, 1.4, 1010) <= EffectiveModulus(1.5e9, 0.01, 1.4, 1001) {
		t.Error("above 1 kPa the modulus must rise with pressure")
	}
}

func BenchmarkEffectiveModulus(b *testing.B) {
	var sum float64
	for b.Loop() {
		sum += EffectiveModulus(1.5e9, 0.005, AirExponent, 5e6)
	}
	sink = sum
}
