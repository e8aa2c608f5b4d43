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
// and 200 °C has 1.0132, 2.3201, 4.7572 and 15.537 bar. Between points 50 K
// apart the law is good to 1 %.
func TestVapourPressureOfWater(t *testing.T) {
	c, err := NewVapourCurve([]VapourPoint{{kelvin(100), 1.0132e5}, {kelvin(150), 4.7572e5}, {kelvin(200), 15.537e5}})
	if err != nil {
		t.Fatal(err)
	}
	for celsius, want := range map[float64]float64{100: 1.0132e5, 150: 4.7572e5, 200: 15.537e5} {
		near(t, "p_v at a given point", c.At(kelvin(celsius)), want, 1e-12)
	}
	near(t, "p_v between points", c.At(kelvin(125)), 2.3201e5, 0.01)
	for celsius, want := range map[float64]bool{99.9: false, 100: true, 200: true, 200.1: false} {
		if c.Covers(kelvin(celsius)) != want {
			t.Errorf("Covers(%g °C) = %v", celsius, !want)
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
