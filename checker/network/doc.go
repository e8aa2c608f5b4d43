// Package network turns a circuit and one of its cases into a system of
// ordinary differential equations, integrates it, and tells what happened:
// pressures, temperatures, flows, strokes, engagements, balances. One part
// kind a file; node.go and passage.go hold what they share.
//
// Everything is plain SI: absolute pascal, kelvin, m³/s, rad/s. The package
// judges nothing and prints nothing.
package network
