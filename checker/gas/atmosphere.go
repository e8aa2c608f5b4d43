package gas

import (
	"fmt"
	"math"
)

// Constants of the standard atmosphere, ISO 2533:1975, tables 1 and 4 (the
// layer from 0 to 11 km).
const (
	seaLevelPressure    = 101325.0  // p_n, Pa
	seaLevelTemperature = 288.15    // T_n, K
	lapseRate           = 0.0065    // −β, K/m
	gravity             = 9.80665   // g_n, m/s²
	airConstant         = 287.05287 // R, J/kg/K
	earthRadius         = 6356766.0 // r, m

	lowestAltitude  = -2000.0 // m, geopotential: lower end of the standard
	highestAltitude = 11000.0 // m, geopotential: upper end of the first layer
)

// AirPressure is the air pressure (Pa) of the standard atmosphere at an
// altitude h above sea level (m):
//
//	H = r h/(r + h),  p = p_n (1 − 0.0065 H/T_n)^(g_n/(0.0065 R))
//
// Domain: H −2 to 11 km, the first layer; outside, an error.
//
// Source: ISO 2533:1975, eqs 8 and 12 (numbers from memory) with the constants
// of its tables 1 and 4.
//
// Accuracy: five digits of the standard's tables; the weather moves the real
// pressure by some per cent.
func AirPressure(altitude float64) (float64, error) {
	H := earthRadius * altitude / (earthRadius + altitude)
	if !(H >= lowestAltitude && H <= highestAltitude) {
		return 0, fmt.Errorf("altitude %g m is outside the standard atmosphere's first layer (%g to %g m)", altitude, lowestAltitude, highestAltitude)
	}
	return seaLevelPressure * math.Pow(1-lapseRate*H/seaLevelTemperature, gravity/(lapseRate*airConstant)), nil
}
