package main

import (
	"github.com/spf13/cobra"

	"headroom/reports"
	"headroom/rules"
)

func newMargins() *cobra.Command {
	var s selection
	c := &cobra.Command{
		Use:   "margins SPEC",
		Short: "List every assessed margin, tightest first",
		Long: `List every rule assessed on every subject with its measure, limit, margin and
headroom, the tightest first. Headroom is the margin over the reserve that a
careful designer keeps: below 0 the limit is broken, from 0 to 1 the reserve is
eaten, from 1 on there is room. Rules without a reserve come last.`,
		Args: needs(1, "SPEC"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.each(cmd, args, func(r *rules.Result) error { return reports.Margins(cmd.OutOrStdout(), r) })
		},
	}
	s.add(c)
	return c
}
