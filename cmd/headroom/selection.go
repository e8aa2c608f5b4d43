package main

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/rules"
	"headroom/specs"
)

// A selection is which specs are judged, and by which rules.
type selection struct {
	packs  []string
	only   []string
	inCase string
}

func (s *selection) add(c *cobra.Command) {
	c.Flags().StringArrayVar(&s.packs, "rules", nil, "rule pack of your own (repeatable; later ones win)")
	c.Flags().StringArrayVar(&s.only, "only", nil, "judge only rules whose id matches this pattern, such as 'strength.*' (repeatable)")
	c.Flags().StringVar(&s.inCase, "case", "", "judge this case alone")
}

// A plan is what a run will judge.
type plan struct {
	tasks      []checker.Task
	others     int               // other YAML files met
	notices    []string          // remarks about the run
	unreadable bool              // a project file or pack could not be read
	failAt     map[string]string // by the task's name
}

func (p *plan) failAtOf(r *rules.Result) string { return p.failAt[r.Circuit.File] }

// plan finds the specs of some paths, or of the project around the working
// folder, and what each is judged by.
func (s selection) plan(paths []string) (*plan, error) {
	p := &plan{failAt: map[string]string{}}
	shelf := newShelf(s.packs)
	around, err := shelf.project(".")
	if err != nil {
		return nil, err
	}
	found, err := specs.Find(paths, around.project)
	if err != nil {
		return nil, err
	}
	p.others = found.Others
	settings := rules.Settings{Only: s.only, Case: s.inCase}
	for _, path := range found.Specs {
		home, err := shelf.project(filepath.Dir(path))
		if err != nil {
			return nil, err
		}
		name := home.project.Tell(path)
		p.tasks = append(p.tasks, checker.Task{Path: path, Name: name, Project: home.project, Book: home.book, Settings: settings})
		if home.project != nil {
			p.failAt[name] = home.project.FailAt.Value
		}
	}
	p.problems(found.Problems, around.book, settings)
	for _, h := range shelf.homes() {
		if len(h.problems) > 0 {
			p.unreadable = true
			p.problems(h.problems, h.book, settings)
		}
	}
	if len(p.tasks) == 0 {
		return nil, errNothing
	}
	return p, nil
}

// problems adds a task for each file that has problems but is no circuit.
func (p *plan) problems(problems []specs.Problem, book *rules.Rulebook, settings rules.Settings) {
	byFile := map[string]int{}
	for _, problem := range problems {
		i, known := byFile[problem.At.File]
		if !known {
			i = len(p.tasks)
			byFile[problem.At.File] = i
			p.tasks = append(p.tasks, checker.Task{Name: problem.At.File, Book: book, Settings: settings})
		}
		p.tasks[i].Problems = append(p.tasks[i].Problems, problem)
	}
}

// A home is a project, or the lack of one, with its rules.
type home struct {
	project  *specs.Project
	book     *rules.Rulebook
	problems []specs.Problem // of the project file and the packs
}

// A shelf keeps the projects met, each read once.
type shelf struct {
	packs  []string
	byFile map[string]*home
	order  []string
}

func newShelf(packs []string) *shelf { return &shelf{packs: packs, byFile: map[string]*home{}} }

// project finds the home of the specs in a folder.
func (s *shelf) project(folder string) (*home, error) {
	file, err := specs.FindProject(folder)
	if err != nil {
		return nil, err
	}
	if h, known := s.byFile[file]; known {
		return h, nil
	}
	h := &home{}
	var packs []string
	if file != "" {
		if h.project, err = specs.LoadProject(file); err != nil {
			return nil, err
		}
		h.problems = h.project.Problems
		for _, pack := range h.project.Packs {
			packs = append(packs, filepath.Join(h.project.Folder, filepath.FromSlash(pack.Value)))
		}
	}
	packs = append(packs, s.packs...)
	book, problems, err := rules.Load(packs, h.project.Tell)
	if err != nil {
		return nil, fmt.Errorf("cannot read the rules: %w", err)
	}
	h.book = book
	h.problems = append(h.problems, problems...)
	s.byFile[file] = h
	s.order = append(s.order, file)
	return h, nil
}

// homes lists the projects in the order in which they were met.
func (s *shelf) homes() []*home {
	var all []*home
	for _, file := range s.order {
		all = append(all, s.byFile[file])
	}
	return all
}
