//go:build cvode

// Package cvode solves an integrate.System by CVODE of SUNDIALS (BDF of variable
// order, Newton, sparse LU by KLU), to lay the engine beside it on the same
// equations: f, its Jacobian and the events are the same Go functions, called back
// from C. It is no part of the program: every file has the build tag cvode, and
// needs the libraries that README.md names.
package cvode
