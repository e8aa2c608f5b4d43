// Package changes tells what a revision of a circuit changed: the findings that
// are new, worse, better and mended, the margins that moved, and the values in the
// spec that moved them. It compares two judgements; it judges nothing itself.
package changes
