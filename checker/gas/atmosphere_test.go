package gas

import (
	"math"
	"testing"
)

// geometric is the altitude above sea level of a geopotential one (m).
func geometric(geopotential float64) float64 {
	return 6356766 * geopotential / (6356766 - geopotential)
}

// The U.S. Standard Atmosphere 1976, the same as ISO 2533 in this layer: its
// table over feet of altitude in psi, half a last digit, and 22 632.10 Pa at
// the layer's top, 11 000 m geopotential.
func TestAirPressure(t *testing.T) {
	pressure := func(altitude float64) float64 {
		p, err := AirPressure(altitude)
		if err != nil {
			t.Error(err)
		}
		return p
	}
	near(t, "sea level", pressure(0), 101325, 0)
	for feet, psi := range map[float64]string{
		-5000: "17.554", 5000: "12.228", 10000: "10.108", 15000: "8.297", 20000: "6.759", 25000: "5.461", 30000: "4.373", 35000: "3.468",
	} {
		asPrinted(t, "p in psi", pressure(feet*0.3048)/6894.757, psi)
	}
	near(t, "top of the layer", pressure(geometric(11000)*(1-1e-12)), 22632.10, 5e-6)
}

func TestAirPressureIsHydrostatic(t *testing.T) {
	// dp/dh = −p g/(R T) with g falling with altitude as r²/(r + h)².
	for h := -1500.0; h < 11000; h += 500 {
		p, err := AirPressure(h)
		if err != nil {
			t.Fatal(err)
		}
		shrink := 6356766 / (6356766 + h)
		T := 288.15 - 0.0065*h*shrink
		gradient := slope(func(h float64) float64 { p, _ := AirPressure(h); return p }, h, 10)
		near(t, "dp/dh", gradient, -p*9.80665*shrink*shrink/(287.05287*T), 1e-7)
	}
}

func TestAirPressureOutside(t *testing.T) {
	for _, h := range []float64{-2001.5, 11020, math.NaN(), math.Inf(1)} {
		if p, err := AirPressure(h); err == nil {
			t.Errorf("AirPressure(%g) = %g, want an error", h, p)
		}
	}
	if _, err := AirPressure(-1999); err != nil {
		t.Error(err)
	}
	if _, err := AirPressure(11018); err != nil {
		t.Error(err)
	}
}
