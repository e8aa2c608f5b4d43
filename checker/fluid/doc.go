// Package fluid holds the laws of the hydraulic fluid itself: viscosity,
// density, compressibility with and without free air, vapour pressure, ageing
// and cleanliness. One law a file; each file names its source.
//
// Everything is plain SI in float64: absolute pascal, kelvin, m²/s, kg/m³.
// Only inside the viscosity laws does mm²/s appear, because the standards are
// written in it. The functions neither allocate nor look anything up by name,
// and are meant to be called inside the right-hand side of an integrator.
//
// An argument outside a law's domain gives what the law's comment says,
// never a panic; where the formula has no value the result is NaN.
package fluid

const (
	// ReferencePressure p0 is the pressure the published properties of a
	// liquid and the fraction of free air refer to: the standard atmosphere,
	// 101 325 Pa (ISO 2533), whatever the local air pressure.
	ReferencePressure = 101325.0 // Pa

	// ReferenceTemperature is 15 °C, to which ASTM D1250 refers density and
	// expansion.
	ReferenceTemperature = 288.15 // K

	// Celsius is the kelvin reading of 0 °C (ITS-90).
	Celsius = 273.15 // K
)
