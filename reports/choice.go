package reports

import (
	"fmt"
	"strings"
)

// A choice is one way of telling, by its name on the command line. Lists of them are
// in alphabetical order.
type choice[T any] struct {
	name string
	tell T
}

// namesOf lists what may be chosen from.
func namesOf[T any](choices []choice[T]) (names []string) {
	for _, c := range choices {
		names = append(names, c.name)
	}
	return names
}

// chosen is the choice of a name.
func chosen[T any](name string, choices []choice[T]) (tell T, err error) {
	for _, c := range choices {
		if c.name == name {
			return c.tell, nil
		}
	}
	return tell, fmt.Errorf("unknown form %q: choose from %s", name, strings.Join(namesOf(choices), ", "))
}
