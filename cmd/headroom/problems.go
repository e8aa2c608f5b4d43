package main

import (
	"fmt"
	"strings"

	"headroom/specs"
)

// A problemList is an error that names every problem of a file, a line each.
type problemList []specs.Problem

func (l problemList) Error() string {
	var lines []string
	for _, p := range l {
		lines = append(lines, fmt.Sprint(p))
	}
	return strings.Join(lines, "\n")
}
