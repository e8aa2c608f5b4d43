// Package gas holds the laws of the gases in a hydraulic circuit: nitrogen as
// a real gas, the gas side of an accumulator, and the air around it all.
//
// Everything is plain SI in float64: absolute pascal, kelvin, kg/m³, J/kg/K.
// Nothing allocates in the functions an integrator calls. An argument outside
// a law's domain gives what the law's comment says, never a panic; where the
// formula has no value the result is NaN.
package gas
