package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
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
			plan, err := s.plan(args)
			if err != nil {
				return err
			}
			code := exitHolds
			for _, task := range plan.tasks {
				result := checker.Judge(task)
				if err := reports.Margins(cmd.OutOrStdout(), result); err != nil {
					return err
				}
				if !result.Readable {
					code = exitUsage
				}
			}
			for _, remark := range plan.remarks() {
				fmt.Fprintf(cmd.ErrOrStderr(), "headroom: %s\n", remark)
			}
			if plan.incomplete() {
				code = exitUsage
			}
			if code != exitHolds {
				return exit(code)
			}
			return nil
		},
	}
	s.add(c)
	return c
}
