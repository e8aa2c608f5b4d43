package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules"
	"headroom/rules/changes"
)

func newCompare() *cobra.Command {
	var f checkFlags
	c := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "Tell what a revision changed: findings new and mended, margins that moved",
		Long: `Judge two revisions and tell what the newer one changed: findings that are new,
worse, better and mended, the margins that moved, and the edits in the spec. Each
of OLD and NEW is a file, a folder, or REV:PATH of the git repository around, such
as HEAD~1:circuits/main.yaml. Circuits are matched by file, then by name; parts,
nodes and cases that only changed their names are recognised.

The exit code is 1 when findings at or above --fail-at are new: where there was
none, or where the limit held before; and when a rule that must be assessed, and
was, no longer can be. What was there already does not count, so
that a circuit with old findings can be taken in step by step. It is 2 when a file
of NEW could not be read.`,
		Args: needs(2, "OLD", "NEW"),
		RunE: func(cmd *cobra.Command, args []string) error {
			shown := newProgress(cmd.ErrOrStderr(), f.quiet)
			defer shown.end()
			return compare(cmd.OutOrStdout(), shown, args[0], args[1], f)
		},
	}
	f.selection.add(c)
	c.Flags().StringArrayVar(&f.as, "as", nil, "form to tell it in, or FORM=FILE: "+strings.Join(reports.ComparisonNames(), ", ")+" (default text; repeatable)")
	c.Flags().StringVar(&f.failAt, "fail-at", "", "grade of a new finding from which the run fails: critical, major, minor, observation or never (default major, or the project's)")
	c.Flags().IntVar(&f.jobs, "jobs", runtime.GOMAXPROCS(0), "circuits judged at once")
	c.Flags().StringVar(&f.color, "color", "auto", "colour in text: auto, always or never")
	c.Flags().BoolVarP(&f.quiet, "quiet", "q", false, "no progress on a terminal")
	return c
}

func compare(stdout io.Writer, shown *progress, old, new string, f checkFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	out, err := openOutputs(f.as, stdout, f.color, reports.Options{}, reports.OpenComparison)
	if err != nil {
		return err
	}
	defer out.discard()
	before, err := judgeSide(old, f, shown)
	if err != nil {
		return err
	}
	after, err := judgeSide(new, f, shown)
	if err != nil {
		return err
	}
	shown.end()
	run := reports.Run{Skipped: after.others, Notices: append(before.olderRemarks(old), after.remarks()...)}
	code := exitHolds
	for _, c := range changes.Pairs(before.results, after.results) {
		code = max(code, exitOfComparison(c, f.failAt))
		if err := out.each(func(form reports.ComparisonForm) error { return form.Comparison(c) }); err != nil {
			return err
		}
	}
	if before.conceding || after.conceding {
		run.Today = after.today
	}
	if err := out.close(run); err != nil {
		return err
	}
	if after.incomplete() {
		code = exitUsage
	}
	if code != exitHolds {
		return exit(code)
	}
	return nil
}

// exitOfComparison is the exit code that the new findings of one circuit ask for.
func exitOfComparison(c *changes.Comparison, asked string) int {
	if c.New == nil {
		return exitHolds
	}
	if !c.New.Readable {
		return exitUsage
	}
	worst, any := c.Worst()
	return exitFor(worst, any, asked, c.New.Project)
}

// A judged side is what one revision came to.
type judged struct {
	*plan
	results   []*rules.Result
	conceding bool
}

// judgeSide judges all circuits of one side. A git revision is judged from within
// its folder, so that paths are told as those of the working folder are.
func judgeSide(argument string, f checkFlags, shown *progress) (j *judged, err error) {
	s, err := openSide(argument)
	if err != nil {
		return nil, err
	}
	defer s.close()
	back, err := f.enter(s)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, back()) }()
	j = &judged{}
	if j.plan, err = f.selection.plan([]string{s.path}); err != nil {
		return nil, fmt.Errorf("%s: %w", argument, err)
	}
	shown.begin("circuits of "+argument, len(j.tasks))
	err = checker.All(j.tasks, f.jobs, func(r *rules.Result) error {
		shown.step()
		r.Cases = nil // not compared
		j.results = append(j.results, r)
		j.conceding = j.conceding || r.Conceding
		return nil
	})
	return j, err
}

// enter makes the folder of a git revision the working folder until the way back is
// taken; packs of the command line stay those of the working folder.
func (f *checkFlags) enter(s *side) (back func() error, err error) {
	if s.folder == "" {
		return func() error { return nil }, nil
	}
	f.within = s.folder
	f.packs = append([]string(nil), f.packs...)
	for i, pack := range f.packs {
		if f.packs[i], err = filepath.Abs(pack); err != nil {
			return nil, fmt.Errorf("cannot find %s: %w", pack, err)
		}
	}
	home, err := os.Getwd()
	if err == nil {
		err = os.Chdir(s.cwd)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot enter the revision: %w", err)
	}
	return func() error {
		if err := os.Chdir(home); err != nil {
			return fmt.Errorf("cannot go back from the revision: %w", err)
		}
		return nil
	}, nil
}

// olderRemarks tells what of the older revision could not be judged as it stands: files
// that cannot be read, so that their findings seem new; project files and packs with
// faults, without which it was judged; paths that are not there. What is no circuit is
// left out of what is compared: the newer revision tells of what is still there.
func (j *judged) olderRemarks(argument string) (remarks []string) {
	for _, r := range j.results {
		switch {
		case r.Other && len(r.Judgement.Findings) > 0:
			first := r.Judgement.Findings[0]
			remarks = append(remarks, fmt.Sprintf("%s of %s has faults, so that %s was judged without what they spoil: line %d: %s", r.Circuit.File, argument, argument, first.At.Line, first.Message))
		case !r.Other && !r.Readable:
			remarks = append(remarks, fmt.Sprintf("%s of %s cannot be read: all that is found now seems new", r.Circuit.File, argument))
		}
	}
	for _, remark := range j.remarks() {
		remarks = append(remarks, argument+": "+remark)
	}
	j.results = slices.DeleteFunc(j.results, func(r *rules.Result) bool { return r.Other })
	return remarks
}
