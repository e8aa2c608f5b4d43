// Package reports tells what the rules found: one file a form. It formats; it
// computes nothing and judges nothing.
package reports
