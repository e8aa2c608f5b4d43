package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"headroom/specs"
)

// needs is the check of a verb's arguments: as many as it has words for, the last
// of them perhaps left out.
func needs(least int, words ...string) cobra.PositionalArgs {
	return func(c *cobra.Command, arguments []string) error {
		switch {
		case len(arguments) < least:
			return fmt.Errorf("%s needs %s; see %s --help", c.CommandPath(), specs.Sentence(words[:least], "and"), c.CommandPath())
		case len(words) == 0 && len(arguments) > 0:
			return fmt.Errorf("%s takes no arguments; what is %s for?", c.CommandPath(), arguments[0])
		case len(arguments) > len(words):
			return fmt.Errorf("%s takes no more than %s; what is %s for?", c.CommandPath(), specs.Sentence(words, "and"), arguments[len(words)])
		}
		return nil
	}
}
