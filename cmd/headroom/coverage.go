package main

import (
	"strings"

	"github.com/spf13/cobra"

	"headroom/reports"
	"headroom/rules"
)

func newCoverage() *cobra.Command {
	var s selection
	as := "text"
	c := &cobra.Command{
		Use:   "coverage SPEC",
		Short: "Tell what was judged, and by what: rules, parts, nodes and cases",
		Long: `List every rule with the number of subjects it was assessed on, and those it could
not be assessed on with the keys that would supply what is missing; then every
part, node and case with the rules that judged it. Silence is not a pass.`,
		Args: needs(1, "SPEC"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return s.each(cmd, args, func(r *rules.Result) error { return reports.Coverage(cmd.OutOrStdout(), as, r) })
		},
	}
	s.add(c)
	c.Flags().StringVar(&as, "as", as, "form to tell it in: "+strings.Join(reports.CoverageNames(), ", "))
	return c
}
