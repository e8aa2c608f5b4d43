package main

import (
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules"
)

func newExplain() *cobra.Command {
	var packs []string
	c := &cobra.Command{
		Use:   "explain RULE [SPEC [SUBJECT]]",
		Short: "Say what a rule checks and why, or show its working on a circuit",
		Args:  needs(1, "RULE", "SPEC", "SUBJECT"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				book, err := rulebook(packs)
				if err != nil {
					return err
				}
				rule, err := ruleNamed(book, args[0])
				if err != nil {
					return err
				}
				return reports.RulePage(cmd.OutOrStdout(), rule)
			}
			subject := ""
			if len(args) == 3 {
				subject = args[2]
			}
			return explainHere(cmd, packs, args[0], args[1], subject)
		},
	}
	c.Flags().StringArrayVar(&packs, "rules", nil, "rule pack of your own (repeatable; later ones win)")
	return c
}

// explainHere shows a rule's working on the subjects of one circuit: all, those of a
// name in every case, or the one that is named with its case as check names it.
func explainHere(cmd *cobra.Command, packs []string, id, path, subject string) error {
	shelf, err := newShelf(packs)
	if err != nil {
		return err
	}
	circuit, home, err := shelf.one(path)
	if err != nil {
		return err
	}
	rule, err := ruleNamed(home.book, id)
	if err != nil {
		return err
	}
	settings := rules.Settings{Project: home.project, Today: time.Now().Format(time.DateOnly)}
	asked := checker.AskedBy(circuit, home.book.NumbersFor(circuit, home.project), func(fact string) bool {
		return home.book.Reads(fact, func(r *rules.Rule) bool { return r == rule || rule.Gathers != "" })
	})
	all := home.book.Explain(rule, checker.SimulatedFacts(circuit, asked), settings, "")
	shown, names := all[:0:0], []string(nil)
	for _, e := range all {
		if names = append(names, e.Subject.Name); strings.Contains(subject, " in ") {
			names[len(names)-1] = e.Subject.String()
		}
		if e.Subject.Name == subject || e.Subject.String() == subject || subject == "" && e.Skipped == "" {
			shown = append(shown, e)
		}
	}
	if subject != "" && len(shown) == 0 {
		return fmt.Errorf("%s has no subject %s in %s%s", rule.ID, subject, path, offer(subject, names))
	}
	if err := reports.RuleWorking(cmd.OutOrStdout(), circuit.File, rule, shown); err != nil || rule.For != "concession" {
		return err
	}
	_, err = fmt.Fprintln(cmd.OutOrStdout(), "\nconcessions judged as of "+settings.Today)
	return err
}

// ruleNamed finds a rule by its id.
func ruleNamed(book *rules.Rulebook, id string) (*rules.Rule, error) {
	if rule := book.Rule(id); rule != nil {
		return rule, nil
	}
	return nil, fmt.Errorf("there is no rule %s%s", id, didYouMean(id, ruleIDs(book)))
}
