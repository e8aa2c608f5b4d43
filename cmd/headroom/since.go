package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules"
	"headroom/rules/changes"
)

// A base is what an older git revision came to, to tell what changed since.
type base struct {
	revision string
	results  []*rules.Result
	now      []*rules.Result // of this run, as they come
}

// judgeBase judges what the git revision that was asked for has of some paths, or of the
// project, in the same way as this run; paths that it has not are new. Why it cannot be
// judged is a remark: this run goes on all the same. It is nil where none was asked for.
func judgeBase(run *plan, paths []string, f checkFlags, shown *progress) (b *base, err error) {
	if f.since == "" {
		return nil, nil
	}
	s := &side{}
	b = &base{revision: f.since}
	defer s.close()
	if err := s.checkOut(f.since, "."); err != nil {
		return nil, fmt.Errorf("--since %s: %w", f.since, err)
	}
	there, err := s.those(paths)
	if err != nil || len(there) == 0 && len(paths) > 0 {
		return b, err
	}
	back, err := f.enter(s)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, back()) }()
	plan, err := f.selection.plan(there)
	switch {
	case errors.Is(err, errNothing):
		return b, nil
	case err != nil:
		run.notices = append(run.notices, fmt.Sprintf("what changed since %s cannot be said: %s", f.since, err))
		return nil, nil
	}
	shown.begin("circuits of "+f.since, len(plan.tasks))
	j := &judged{plan: plan}
	err = checker.All(plan.tasks, f.jobs, func(r *rules.Result) error {
		shown.step()
		j.results = append(j.results, bareResult(r))
		return nil
	})
	run.notices = append(run.notices, j.olderRemarks(f.since)...)
	b.results = j.results
	return b, err
}

// bareResult is a result without what is not compared.
func bareResult(r *rules.Result) *rules.Result {
	kept := *r
	kept.Cases = nil
	return &kept
}

// those are the paths, as seen from the working folder, that a revision has.
func (s *side) those(paths []string) (there []string, err error) {
	home, err := os.Getwd()
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		if filepath.IsAbs(path) {
			if path, err = filepath.Rel(home, path); err != nil {
				continue
			}
		}
		full := filepath.Join(s.cwd, path)
		if _, err := os.Stat(full); err == nil && (full == s.folder || strings.HasPrefix(full, s.folder+string(filepath.Separator))) {
			there = append(there, path)
		}
	}
	return there, nil
}

// add keeps a result of this run; a file that is no circuit is not compared.
func (b *base) add(r *rules.Result) {
	if b != nil && !r.Other {
		b.now = append(b.now, bareResult(r))
	}
}

// since is what changed; nil where nothing was to be compared.
func (b *base) since() *reports.Since {
	if b == nil {
		return nil
	}
	return &reports.Since{Revision: b.revision, Comparisons: changes.Pairs(b.results, b.now)}
}
