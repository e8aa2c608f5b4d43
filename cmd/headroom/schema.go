package main

import (
	"github.com/spf13/cobra"

	"headroom/specs"
)

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema",
		Short: "Print the JSON Schema of a spec, for editors",
		Args:  needs(0),
		RunE: func(cmd *cobra.Command, _ []string) error {
			_, err := cmd.OutOrStdout().Write(specs.Schema())
			return err
		},
	}
}
