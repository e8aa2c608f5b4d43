// Package resistance holds the laws of everything oil flows through: orifices,
// tubes, valves, filters, coolers, leaks, and the surge a stopped flow makes.
// One law a file; each file names its source.
//
// Everything is plain SI in float64: pascal (differences unless a comment says
// absolute), m³/s, kg/m³, Pa s, m. Flow and pressure drop count positive from
// a part's from to its to port. Each flow law also returns its derivatives,
// for an integrator's Jacobian; nothing allocates.
//
// Density and viscosity are those of the fluid in the resistance, the mean of
// its two ends. An argument outside a law's domain gives what the law's
// comment says, never a panic; where the formula has no value the result is
// NaN.
package resistance
