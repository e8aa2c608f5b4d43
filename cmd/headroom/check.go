package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules"
	"headroom/specs"
)

// never is the word of --fail-at for which no finding fails a run.
const never = "never"

// checkFlags are what `check` may be asked for.
type checkFlags struct {
	selection
	as     []string
	failAt string
	since  string
	jobs   int
	color  string
	quiet  bool
}

func newCheck() *cobra.Command {
	var f checkFlags
	c := &cobra.Command{
		Use:   "check [SPEC or FOLDER ...]",
		Short: "Judge circuits and tell what was found",
		Long: `Judge every spec given, or found in the folders given, or named by the project
file, and tell what was found.

The exit code is 0 when nothing at or above --fail-at was found, 1 when
something was, and 2 when the command line was wrong or a file could not be
read; the other files are judged all the same.`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return check(cmd.OutOrStdout(), cmd.ErrOrStderr(), args, f)
		},
	}
	f.selection.add(c)
	c.Flags().StringArrayVar(&f.as, "as", nil, "form to tell it in, or FORM=FILE: "+strings.Join(reports.Names(), ", ")+" (default text; repeatable)")
	c.Flags().StringVar(&f.failAt, "fail-at", "", "grade from which the run fails: critical, major, minor, observation or never (default major, or the project's)")
	c.Flags().Var(&once{to: &f.since}, "since", "git revision to compare with: Markdown tells what changed since")
	c.Flags().IntVar(&f.jobs, "jobs", runtime.GOMAXPROCS(0), "circuits judged at once")
	c.Flags().StringVar(&f.color, "color", "auto", "colour in text: auto, always or never")
	c.Flags().BoolVarP(&f.quiet, "quiet", "q", false, "findings alone in text, and no progress on a terminal")
	return c
}

func check(stdout, stderr io.Writer, paths []string, f checkFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	f.selection.working = slices.ContainsFunc(f.as, func(as string) bool { return reports.TellsWorking(formOf(as)) })
	plan, err := f.selection.plan(paths)
	if err != nil {
		return err
	}
	options, err := f.options()
	if err != nil {
		return err
	}
	out, err := openOutputs(f.as, stdout, f.color, options, reports.Open)
	if err != nil {
		return err
	}
	defer out.discard()
	shown := newProgress(stderr, f.quiet)
	defer shown.end()
	before, err := judgeBase(plan, paths, f, shown)
	if err != nil {
		return err
	}
	shown.begin("circuits", len(plan.tasks))
	code, today, used := exitHolds, "", map[rules.Suppression]bool{}
	tell := func(r *rules.Result) error {
		shown.step()
		before.add(r)
		code = max(code, exitOf(r, f.failAt))
		if r.Conceding {
			today = plan.today // the date is part of the result
		}
		for _, u := range r.Judgement.Used {
			used[*u] = true
		}
		return shown.aside(func() error {
			return out.each(func(form reports.Form) error { return form.Circuit(r) })
		})
	}
	err = checker.All(plan.tasks, f.jobs, tell)
	if err == nil {
		err = plan.stale(used, tell)
	}
	if plan.incomplete() {
		code = exitUsage
	}
	if err == nil {
		run := reports.Run{Skipped: plan.others, Today: today, Notices: plan.remarks(), Exit: code, Since: before.since()}
		err = shown.aside(func() error { return out.close(run) })
	}
	if err != nil {
		return err
	}
	shown.end()
	for _, path := range plan.missing {
		fmt.Fprintf(stderr, "headroom: %s\n", reports.Plain(path))
	}
	if code != exitHolds {
		return exit(code)
	}
	return nil
}

// formOf is the form of FORM=FILE.
func formOf(as string) string {
	name, _, _ := strings.Cut(as, "=")
	return name
}

// check refuses flags that make no sense.
func (f *checkFlags) check() error {
	if f.jobs < 1 {
		return fmt.Errorf("--jobs takes a number from 1 on, not %d", f.jobs)
	}
	if _, known := rules.GradeNamed(f.failAt); !known && f.failAt != "" && f.failAt != never {
		return fmt.Errorf("--fail-at takes critical, major, minor, observation or never, not %q", f.failAt)
	}
	if f.since != "" && !slices.ContainsFunc(f.as, func(as string) bool { return reports.TellsChanges(formOf(as)) }) {
		return errors.New("--since is told in Markdown: add --as markdown, or see headroom compare")
	}
	return nil
}

// options are what the forms are told of a run.
func (f *checkFlags) options() (reports.Options, error) {
	here, err := os.Getwd()
	if err != nil {
		return reports.Options{}, fmt.Errorf("cannot find the working folder: %w", err)
	}
	fails := func(r *rules.Result, g rules.Grade) bool { return exitFor(g, true, f.failAt, r.Project) != exitHolds }
	return reports.Options{Version: version(), Folder: here, Fails: fails, Quiet: f.quiet}, nil
}

// exitOf is the exit code that one result asks for.
func exitOf(r *rules.Result, asked string) int {
	if !r.Readable {
		return exitUsage
	}
	worst, any := reports.Worst(r.Judgement)
	return exitFor(worst, any, asked, r.Project)
}

// exitFor is the exit code for the gravest finding, if there is any: --fail-at comes
// before the fail_at of the project that the circuit belongs to.
func exitFor(worst rules.Grade, any bool, asked string, project *specs.Project) int {
	own := ""
	if project != nil {
		own = project.FailAt.Value
	}
	word := cmp.Or(asked, own, rules.Major.String())
	threshold, _ := rules.GradeNamed(word)
	if word != never && any && worst >= threshold {
		return exitFindings
	}
	return exitHolds
}

// errNothing is told when there is nothing to judge: an empty run proves nothing.
var errNothing = errors.New("no spec found: a spec is a YAML file with the keys headroom and circuit")
