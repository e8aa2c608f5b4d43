package rules

import "slices"

// A Grade is how much a broken rule matters.
type Grade uint8

// The grades, gravest last.
const (
	Observation Grade = iota
	Minor
	Major
	Critical
)

// gradeNames are the grades as written, in the order of their values.
var gradeNames = []string{"observation", "minor", "major", "critical"}

func (g Grade) String() string {
	if int(g) < len(gradeNames) {
		return gradeNames[g]
	}
	return "unknown grade"
}

// GradeNamed finds a grade by its name.
func GradeNamed(name string) (Grade, bool) {
	i := slices.Index(gradeNames, name)
	return Grade(max(i, 0)), i >= 0
}
