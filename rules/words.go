package rules

import (
	"fmt"

	"headroom/specs"
)

// list joins words as in a sentence.
func list(words []string) string { return specs.Sentence(words, "and") }

// hint is the end of a message about a name that does not exist: the nearest of
// those known, or all of them where they are few.
func hint(name string, known []string) string {
	near := specs.Nearest(name, known)
	switch {
	case near != "":
		return "; did you mean " + near + "?"
	case len(known) == 0:
		return "; there is none"
	case len(known) <= 14:
		return "; there is " + list(known)
	}
	return ""
}

// like is a hint at known names that are like one: by their letters, their beginning
// or a part of them.
func like(name string, known []string) string {
	if near := specs.Like(name, known); len(near) > 0 {
		return "; did you mean " + specs.Sentence(near, "or") + "?"
	}
	return hint(name, known)
}

// place names a place in a file.
func place(at specs.Span) string { return fmt.Sprintf("%s:%d", at.File, at.Line) }

func problem(rule string, at specs.Span, path, format string, arguments ...any) specs.Problem {
	return specs.Problem{Rule: rule, At: at, Path: path, Message: fmt.Sprintf(format, arguments...)}
}
