package validation

import (
	_ "embed"
	"strings"
)

// independentValues are what independent.py prints: a name and a number a line.
//
//go:embed independent.txt
var independentValues string

// scipy names the source of the values of independent.py.
const scipy = "independent.py, scipy 1.10"

// byScipy is the number independent.py prints for a name, as it prints it.
func byScipy(name string) string {
	for line := range strings.Lines(independentValues) {
		if n, value, found := strings.Cut(strings.TrimSpace(line), " "); found && n == name {
			return value
		}
	}
	return "no " + name
}

// digits is the tolerance of those values.
var digits = Tolerance{Share: 1e-7, Because: "digits of independent.py"}
