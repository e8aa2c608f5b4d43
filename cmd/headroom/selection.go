package main

import (
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"time"

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
	today  string

	working bool   // the working of every margin is wanted
	within  string // folder above which no project file is looked for; "" for none
}

func (s *selection) add(c *cobra.Command) {
	c.Flags().StringArrayVar(&s.packs, "rules", nil, "rule pack of your own (repeatable; later ones win)")
	c.Flags().StringArrayVar(&s.only, "only", nil, "judge only rules whose id matches this pattern, such as 'strength.*' (repeatable)")
	c.Flags().StringVar(&s.today, "today", "", "date against which concessions are judged, YYYY-MM-DD (default: today, and said so)")
	c.Flags().StringVar(&s.inCase, "case", "", "judge this case alone, and not how well cases cover the circuit")
}

// A plan is what a run will judge.
type plan struct {
	tasks      []checker.Task
	others     int               // other YAML files met
	today      string            // the date against which concessions were judged
	unreadable bool              // a project file or pack could not be read
	failAt     map[string]string // the project's fail_at by the task's name
}

// plan finds the specs of some paths, or of the project around the working
// folder, and what each is judged by.
func (s selection) plan(paths []string) (*plan, error) {
	if err := s.settleToday(); err != nil {
		return nil, err
	}
	p := &plan{failAt: map[string]string{}}
	shelf, err := newShelf(s.packs)
	if err != nil {
		return nil, err
	}
	shelf.within = s.within
	around, err := shelf.home(".")
	if err != nil {
		return nil, err
	}
	found, err := specs.Find(paths, around.project)
	if err != nil {
		return nil, err
	}
	p.others, p.today = found.Others, s.today
	for _, file := range found.Specs {
		h, err := shelf.home(filepath.Dir(file))
		if err != nil {
			return nil, err
		}
		if err := s.checkPatterns(h.book); err != nil {
			return nil, err
		}
		name := h.project.Tell(file)
		p.tasks = append(p.tasks, checker.Task{Path: file, Name: name, Case: s.inCase, Book: h.book, Settings: s.settings(h.project)})
		if h.project != nil {
			p.failAt[name] = h.project.FailAt.Value
		}
	}
	p.addProblems(found.Problems, around.book)
	for _, h := range shelf.met {
		p.unreadable = p.unreadable || len(h.problems) > 0
		p.addProblems(h.problems, h.book)
	}
	if len(p.tasks) == 0 {
		return nil, errNothing
	}
	return p, nil
}

// addProblems adds a task for each file that has problems but is no circuit: a
// project file, a pack, half a spec.
func (p *plan) addProblems(problems []specs.Problem, book *rules.Rulebook) {
	for _, problem := range problems {
		i := slices.IndexFunc(p.tasks, func(t checker.Task) bool { return t.Path == "" && t.Name == problem.At.File })
		if i < 0 {
			i = len(p.tasks)
			p.tasks = append(p.tasks, checker.Task{Name: problem.At.File, Book: book})
		}
		p.tasks[i].Problems = append(p.tasks[i].Problems, problem)
	}
}

// settings are what the rules are told of a run.
func (s selection) settings(project *specs.Project) rules.Settings {
	settings := rules.Settings{Project: project, Today: s.today, Partial: s.inCase != "", Working: s.working}
	if len(s.only) > 0 {
		settings.Only = func(r *rules.Rule) bool {
			return slices.ContainsFunc(s.only, func(pattern string) bool { return matches(pattern, r) })
		}
	}
	return settings
}

// settleToday takes today's date where none was given, and refuses one that is none.
func (s *selection) settleToday() error {
	if s.today == "" {
		s.today = time.Now().Format(time.DateOnly)
	}
	if _, err := time.Parse(time.DateOnly, s.today); err != nil {
		return fmt.Errorf("--today takes a date such as 2027-03-01, not %q", s.today)
	}
	return nil
}

// matches tells whether a rule's id fits a pattern with * and ?.
func matches(pattern string, r *rules.Rule) bool {
	fits, err := path.Match(pattern, r.ID)
	return err == nil && fits
}

// checkPatterns refuses an --only that no rule fits: it would judge nothing.
func (s selection) checkPatterns(book *rules.Rulebook) error {
	for _, pattern := range s.only {
		if !slices.ContainsFunc(book.Rules, func(r *rules.Rule) bool { return matches(pattern, r) }) {
			return fmt.Errorf("--only %s fits no rule%s", pattern, didYouMean(pattern, ruleIDs(book)))
		}
	}
	return nil
}

func ruleIDs(book *rules.Rulebook) []string {
	var ids []string
	for _, r := range book.Rules {
		ids = append(ids, r.ID)
	}
	return ids
}

// didYouMean is a hint at the nearest known name, or nothing.
func didYouMean(word string, known []string) string {
	if near := specs.Nearest(word, known); near != "" {
		return fmt.Sprintf("; did you mean %s?", near)
	}
	return ""
}
