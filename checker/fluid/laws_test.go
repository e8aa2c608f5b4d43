package fluid

import (
	"math"
	"strings"
	"testing"
)

// Barus: the coefficient is the logarithmic slope; 2.2e-8 1/Pa (light
// paraffinic oil at 30 °C, Neale, Tribology Handbook, table 25) doubles the
// viscosity at ln 2/β = 315 bar.
func TestBarus(t *testing.T) {
	const beta = 2.2e-8
	near(t, "μ at p0", DynamicViscosity(870, 46e-6, beta, 101325), 870*46e-6, 1e-15)
	near(t, "μ at twice", DynamicViscosity(870, 46e-6, beta, 101325+math.Ln2/beta), 2*870*46e-6, 1e-12)
}

// Oil life at the multiples of common practice (halved per 10 K from 60 °C),
// and the activation energies the rule stands for, computed independently:
// 65.9 kJ/mol from 60 to 70 °C, 73.9 from 80 to 90 °C.
func TestLifeFactor(t *testing.T) {
	for celsius, want := range map[float64]float64{50: 2, 60: 1, 65: 0.70711, 70: 0.5, 80: 0.25, 90: 0.125} {
		near(t, "life", LifeFactor(kelvin(celsius), kelvin(60)), want, 1e-5)
	}
	energy := func(from, to float64) float64 {
		return 8.314463 * math.Log(LifeFactor(from, to)) / (1/from - 1/to)
	}
	near(t, "60 to 70 °C", energy(kelvin(60), kelvin(70)), 65.9e3, 1e-3)
	near(t, "80 to 90 °C", energy(kelvin(80), kelvin(90)), 73.9e3, 1e-3)
}

// NBS/NRC Steam Tables (Haar, Gallagher, Kell, 1984): water at 100, 125, 150
// and 200 °C has 1.0132, 2.3201, 4.7572 and 15.537 bar.
func TestVapourPressureOfWater(t *testing.T) {
	c, err := NewVapourCurve([]VapourPoint{{kelvin(100), 1.0132e5}, {kelvin(150), 4.7572e5}, {kelvin(200), 15.537e5}})
	if err != nil {
		t.Fatal(err)
	}
	for celsius, want := range map[float64]float64{100: 1.0132e5, 150: 4.7572e5, 200: 15.537e5} {
		near(t, "p_v at a given point", c.At(kelvin(celsius)), want, 1e-12)
	}
	near(t, "p_v between points", c.At(kelvin(125)), 2.3201e5, 0.007)
	for celsius, want := range map[float64]bool{99.9: false, 100: true, 200: true, 200.1: false} {
		if c.Covers(kelvin(celsius)) != want {
			t.Errorf("Covers(%g °C) = %v", celsius, !want)
		}
	}
}

// What the comment of VapourCurve says of the accuracy, against Wagner and Pruss, J.
// Phys. Chem. Ref. Data 22 (1993) 783, eq. 1: water of 20 °C has 2.3392 kPa.
func TestVapourPressureAccuracy(t *testing.T) {
	water := func(T float64) float64 {
		const Tc, pc = 647.096, 22.064e6
		x := 1 - T/Tc
		return pc * math.Exp(Tc/T*(-7.85951783*x+1.84408259*math.Pow(x, 1.5)-11.7866497*x*x*x+
			22.6807411*math.Pow(x, 3.5)-15.9618719*x*x*x*x+1.80122502*math.Pow(x, 7.5)))
	}
	near(t, "water of 20 °C", water(kelvin(20)), 2339.2, 1e-5)
	for _, row := range []struct{ from, to, low float64 }{{0.01, 50, 1.7e-2}, {0.01, 25, 0.45e-2}, {30, 80, 1.3e-2}, {100, 150, 0.7e-2}} {
		a, b := kelvin(row.from), kelvin(row.to)
		c, err := NewVapourCurve([]VapourPoint{{a, water(a)}, {b, water(b)}})
		if err != nil {
			t.Fatal(err)
		}
		low := 0.0
		for T := a + 1; T < b; T++ {
			off := 1 - c.At(T)/water(T)
			if off < 0 {
				t.Errorf("between %g and %g °C the law is high at %g K", row.from, row.to, T)
			}
			low = max(low, off)
		}
		if math.Abs(low-row.low) > 0.05e-2 {
			t.Errorf("between %g and %g °C the law is up to %.2f %% low, the comment says %.2f %%", row.from, row.to, 100*low, 100*row.low)
		}
		for _, T := range []float64{a - 10, b + 10} {
			if c.At(T) <= water(T) {
				t.Errorf("beyond %g to %g °C, at %g K, the law is low", row.from, row.to, T)
			}
		}
	}
}

// A fluid that obeys Clausius–Clapeyron with one heat of vaporisation comes
// back exactly, between the points and outside.
func TestVapourPressureIsClausiusClapeyron(t *testing.T) {
	law := func(T float64) float64 { return 1e10 * math.Exp(-5200/T) }
	var points []VapourPoint
	for _, T := range []float64{280, 300, 350, 400} {
		points = append(points, VapourPoint{T, law(T)})
	}
	c, err := NewVapourCurve(points)
	if err != nil {
		t.Fatal(err)
	}
	for T := 250.0; T < 450; T += 7 {
		near(t, "p_v", c.At(T), law(T), 1e-12)
	}
}

// With a bend, each pair has its own line.
func TestVapourPressurePiecewise(t *testing.T) {
	c, err := NewVapourCurve([]VapourPoint{{300, 1e3}, {350, 1e4}, {400, 2e4}})
	if err != nil {
		t.Fatal(err)
	}
	middle := func(a, b float64) float64 { return 2 / (1/a + 1/b) }
	near(t, "first pair", c.At(middle(300, 350)), math.Sqrt(1e3*1e4), 1e-12)
	near(t, "second pair", c.At(middle(350, 400)), math.Sqrt(1e4*2e4), 1e-12)
	near(t, "at the bend", c.At(350), 1e4, 1e-12)
}

func TestVapourPointsRefused(t *testing.T) {
	for _, row := range []struct {
		name   string
		points []VapourPoint
		says   string
	}{
		{"one point", []VapourPoint{{300, 1e3}}, "two points"},
		{"none", nil, "two points"},
		{"falling temperature", []VapourPoint{{350, 1e3}, {300, 1e4}}, "point 2:"},
		{"same temperature", []VapourPoint{{300, 1e3}, {300, 1e4}}, "point 2:"},
		{"falling pressure", []VapourPoint{{300, 1e4}, {350, 1e3}}, "point 2:"},
		{"no pressure", []VapourPoint{{300, 0}, {350, 1e3}}, "point 1:"},
		{"no temperature", []VapourPoint{{0, 10}, {350, 1e3}}, "point 1:"},
		{"not a number", []VapourPoint{{300, math.NaN()}, {350, 1e3}}, "point 1:"},
		{"infinite pressure", []VapourPoint{{300, 10}, {350, math.Inf(1)}}, "point 2:"},
		{"infinite temperature", []VapourPoint{{300, 10}, {math.Inf(1), 100}}, "point 2:"},
	} {
		if _, err := NewVapourCurve(row.points); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%s: error %v, want %q in it", row.name, err, row.says)
		}
	}
	if _, err := NewVapourCurve([]VapourPoint{{300, 0.5}, {350, 100}}); err != nil {
		t.Errorf("two points refused: %v", err)
	}
}
