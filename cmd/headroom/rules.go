package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"headroom/reports"
	"headroom/rules"
)

func newRules() *cobra.Command {
	var packs []string
	as := "text"
	list := func(cmd *cobra.Command, _ []string) error {
		book, err := rulebook(packs)
		if err != nil {
			return err
		}
		return reports.RuleList(cmd.OutOrStdout(), as, book)
	}
	c := &cobra.Command{
		Use:   "rules",
		Short: "List the rules, or run the examples that they carry",
		Args:  needs(0),
		RunE:  list,
	}
	c.PersistentFlags().StringArrayVar(&packs, "rules", nil, "rule pack of your own (repeatable; later ones win)")
	lister := &cobra.Command{
		Use:   "list",
		Short: "List the rules",
		Args:  needs(0),
		RunE:  list,
	}
	for _, l := range []*cobra.Command{c, lister} {
		l.Flags().StringVar(&as, "as", as, "form to list them in: "+strings.Join(reports.RuleListNames(), ", "))
	}
	c.AddCommand(lister, &cobra.Command{
		Use:   "test [PACK ...]",
		Short: "Run the examples of all rules, or of the packs given",
		RunE: func(cmd *cobra.Command, args []string) error {
			return testRules(cmd, append(packs, args...), args)
		},
	})
	return c
}

// rulebook is that of the core packs and some of one's own, all sound.
func rulebook(packs []string) (*rules.Rulebook, error) {
	core, err := rules.Core()
	if err != nil || len(packs) == 0 {
		return core, err
	}
	book, problems := rules.Load(core, packs...)
	if len(problems) > 0 {
		return nil, problemList(problems)
	}
	return book, nil
}

// testRules runs the examples of the packs given, or of all rules.
func testRules(cmd *cobra.Command, packs, tested []string) error {
	book, err := rulebook(packs)
	if err != nil {
		return err
	}
	chosen := book.Rules
	if len(tested) > 0 {
		chosen = nil
		own := map[string]bool{}
		for _, p := range book.Packs[len(book.Packs)-len(tested):] {
			own[p.Name] = true
		}
		for _, r := range book.Rules {
			if own[r.Pack] {
				chosen = append(chosen, r)
			}
		}
	}
	examples := 0
	for _, r := range chosen {
		examples += len(r.Examples)
	}
	failures := book.TestExamples(chosen)
	for _, f := range failures {
		if _, err := fmt.Fprintln(cmd.OutOrStdout(), f); err != nil {
			return err
		}
	}
	if _, err := fmt.Fprintf(cmd.OutOrStdout(), "rules: %d, examples: %d, failed: %d\n", len(chosen), examples, len(failures)); err != nil {
		return err
	}
	if len(failures) > 0 {
		return exit(exitFindings)
	}
	return nil
}
