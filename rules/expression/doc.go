// Package expression reads, checks and runs the expressions of rules: a small
// part of CEL in which every number has a dimension.
//
// CEL (package cel-go) parses and evaluates. In between, this package walks the
// tree and infers the form and dimension of each node from the algebra of
// package quantity, so that a sum of a pressure and a temperature, a misspelt
// fact or a word where a number belongs is an error at its place, before any
// circuit is read. At run time all numbers are plain doubles in SI.
//
// What the language leaves out is left out to keep it bounded: there are no
// loops, no functions on text and no lists but on the right of `in`. An
// expression reads each of its nodes once and cannot grow.
package expression
