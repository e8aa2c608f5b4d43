// Package friction holds the laws of a spring-applied friction pack: where its
// torque acts, how hard it is clamped, what releases it, what an engagement
// costs, and the heat its plates take up. One law a file; each file names its
// source.
//
// Everything is plain SI in float64: newton, metre, radian, joule, kelvin, and
// pascal above the surrounding air. Nothing allocates. An argument outside a
// law's domain gives what the law's comment says, never a panic.
package friction
