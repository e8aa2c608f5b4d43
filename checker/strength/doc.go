// Package strength holds the laws of what contains pressure: stress and burst
// of tubes, extrusion of seals, the pressure that trapped oil and blocked
// cylinders reach, counting of load cycles and their damage, and the category
// of pressure vessels. One law a file; each file names its source.
//
// Everything is plain SI in float64: pascal above the surrounding air, metre,
// kelvin. An argument outside a law's domain gives what the law's comment
// says, never a panic; where the formula has no value the result is NaN.
//
// How much reserve is enough is not said here: design factors are rules.
package strength
