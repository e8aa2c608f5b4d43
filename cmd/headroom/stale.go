package main

import (
	"path/filepath"
	"slices"

	"headroom/checker"
	"headroom/rules"
	"headroom/specs"
)

// stale tells of the concessions and exceptions of project files that nothing in any
// of their circuits matched. Where a run has not looked at all circuits of a project,
// or not at all cases, that cannot be said.
func (p *plan) stale(used map[rules.Suppression]bool, tell func(*rules.Result) error) error {
	for _, h := range p.homes {
		if h.project == nil || len(h.project.Concessions)+len(h.project.NotApplicable) == 0 {
			continue
		}
		task, whole := p.whole(h)
		if !whole {
			continue
		}
		if r := checker.Stale(h.project.File, task, used); r != nil {
			if err := tell(r); err != nil {
				return err
			}
		}
	}
	return nil
}

// whole tells whether all circuits of a home are judged, in all their cases, and
// gives one of its tasks.
func (p *plan) whole(h *home) (one checker.Task, whole bool) {
	judged := map[string]bool{}
	for _, t := range p.tasks {
		if t.Path != "" && t.Settings.Project == h.project {
			one = t
			judged[h.project.Tell(t.Path)] = true
		}
	}
	if len(judged) == 0 || one.Settings.Partial {
		return one, false
	}
	var paths []string
	if len(h.project.Specs) == 0 {
		paths = []string{h.project.Folder}
	}
	missed := func(path string) bool {
		if judged[h.project.Tell(path)] {
			return false
		}
		file, err := specs.FindProject(filepath.Dir(path))
		return err != nil || filepath.Dir(file) == filepath.Clean(h.project.Folder) // else it is another project's
	}
	return one, !slices.ContainsFunc(specs.Find(paths, h.project).Specs, missed)
}
