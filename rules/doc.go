// Package rules says what is acceptable. Rules are data (packs/*.yaml): each
// measures a fact, holds it against a limit, and says how much reserve a
// careful designer keeps. This package reads packs, checks their expressions'
// dimensions, applies them to facts and yields margins and findings. It
// computes no physics and prints nothing.
package rules
