// Package checker is what physics says of a circuit: it takes a circuit as the
// designer wrote it and yields the facts that rules judge. What needs no
// simulation stands in the files here, one family of facts a file: the circuit
// as a graph (package topology), laws (fluid, gas, resistance, friction,
// strength), and their sum.
//
// A fact is known or it is missing, and then it says what would supply it: a
// key of the spec, or the simulation. Nothing is guessed. Where time decides
// but a bound holds at any time, the bound is told, and how it came about.
package checker
