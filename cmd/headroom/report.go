package main

import (
	"fmt"
	"io"
	"runtime"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
	"headroom/reports/review"
	"headroom/rules"
)

// reportFlags are what `report` may be asked for.
type reportFlags struct {
	selection
	output string
	jobs   int
}

func newReport() *cobra.Command {
	var f reportFlags
	c := &cobra.Command{
		Use:   "report [SPEC or FOLDER ...] -o FILE.html",
		Short: "Write the page of a design review: verdict, findings, plots, tables, sign-off",
		Long: `Judge every spec given, or found in the folders given, or named by the project
file, and write one page for a design review: the verdict and what it rests on,
the headroom of all rules as one picture, findings with their working, source,
remedy and the lines of the spec, each case over time, masses, seals, fluid,
what was not assessed, sources, and a table to sign. Several circuits share a
page with an index. It needs no network and no script, and prints on A4.

The exit code is 0 when the page could be written, whatever it says, and 2 when a
file could not be read; run check for a code that tells findings.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return report(cmd.OutOrStdout(), cmd.ErrOrStderr(), args, f)
		},
	}
	f.selection.add(c)
	c.Flags().StringVarP(&f.output, "output", "o", "-", "file to write; - for standard output")
	c.Flags().IntVar(&f.jobs, "jobs", runtime.GOMAXPROCS(0), "circuits judged at once")
	return c
}

func report(stdout, stderr io.Writer, paths []string, f reportFlags) error {
	if f.jobs < 1 {
		return fmt.Errorf("--jobs takes a number from 1 on, not %d", f.jobs)
	}
	plan, err := f.selection.plan(paths)
	if err != nil {
		return err
	}
	for i := range plan.tasks {
		plan.tasks[i].History = true
	}
	if f.output == "-" {
		err = plan.review(stdout, f.jobs)
	} else {
		err = plan.reviewFile(f.output, f.jobs)
	}
	if err != nil {
		return err
	}
	for _, path := range plan.missing {
		fmt.Fprintf(stderr, "headroom: %s\n", reports.Plain(path))
	}
	if plan.incomplete() {
		return exit(exitUsage)
	}
	return nil
}

// reviewFile writes the page to a file, as a whole or not at all.
func (p *plan) reviewFile(path string, jobs int) error {
	file, err := createWhole(path)
	if err != nil {
		return err
	}
	defer file.discard()
	if err := p.review(file, jobs); err != nil {
		return err
	}
	return file.keep()
}

// review judges what is planned and writes the page.
func (p *plan) review(w io.Writer, jobs int) error {
	page := review.Open(w)
	today, used := "", map[rules.Suppression]bool{}
	tell := func(r *rules.Result) error {
		if r.Conceding {
			today = p.today // the date is part of the result
		}
		for _, u := range r.Judgement.Used {
			used[*u] = true
		}
		p.unreadable = p.unreadable || !r.Readable
		return page.Circuit(r)
	}
	if err := checker.All(p.tasks, jobs, tell); err != nil {
		return err
	}
	if err := p.stale(used, tell); err != nil {
		return err
	}
	return page.Close(reports.Run{Skipped: p.others, Today: today, Notices: p.remarks()})
}
