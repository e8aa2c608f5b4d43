package main

import (
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"headroom/checker"
	"headroom/reports"
	"headroom/rules"
	"headroom/specs"
)

// A selection is which specs are judged, and by which rules.
type selection struct {
	packs  []string
	only   []string
	demand []string
	inCase string
	today  string

	working bool   // the working of every margin is wanted
	within  string // folder above which no project file is looked for; "" for none
}

func (s *selection) add(c *cobra.Command) {
	c.Flags().StringArrayVar(&s.packs, "rules", nil, "rule pack of your own (repeatable; later ones win)")
	c.Flags().StringArrayVar(&s.only, "only", nil, "judge only rules whose id matches this pattern, such as 'strength.*' (repeatable)")
	c.Flags().StringArrayVar(&s.demand, "demand", nil, "rules that must be assessed, as the critical ones must: where one is not, that is a finding (a pattern; repeatable)")
	c.Flags().StringVar(&s.today, "today", "", "date against which concessions are judged, YYYY-MM-DD (default: today, and said so)")
	c.Flags().Var(&once{to: &s.inCase}, "case", "judge this case alone, and not how well cases cover the circuit")
}

// A plan is what a run will judge.
type plan struct {
	tasks      []checker.Task
	homes      []*home
	others     int      // other YAML files met
	today      string   // the date against which concessions were judged
	unreadable bool     // a project file or pack could not be read
	missing    []string // paths that are neither a file nor a folder
	notices    []string // what else is to be said of the run
}

// plan finds the specs of some paths, or of the project around the working
// folder, and what each is judged by.
func (s selection) plan(paths []string) (*plan, error) {
	if err := s.settleToday(); err != nil {
		return nil, err
	}
	p := &plan{}
	shelf, err := newShelf(s.packs)
	if err != nil {
		return nil, err
	}
	shelf.within = s.within
	around, err := shelf.home(".")
	if err != nil {
		return nil, err
	}
	found := specs.Find(paths, around.project)
	p.others, p.today, p.missing = found.Others, s.today, found.Missing
	for _, file := range found.Specs {
		h, err := shelf.home(filepath.Dir(file))
		if err != nil {
			return nil, err
		}
		p.tasks = append(p.tasks, checker.Task{Path: file, Name: h.project.Tell(file), Case: s.inCase, Only: s.only, Book: h.book, Settings: s.settings(h.project)})
	}
	p.homes = shelf.met
	if err := s.checkPatterns(p.homes); err != nil {
		return nil, err
	}
	if err := p.keepCase(s.inCase); err != nil {
		return nil, err
	}
	p.addProblems(found.Problems, around)
	for _, h := range p.homes {
		p.unreadable = p.unreadable || len(h.problems) > 0
		p.addProblems(h.problems, h)
	}
	switch {
	case len(p.tasks) > 0:
		return p, nil
	case len(p.missing) > 0:
		return nil, errors.New(strings.Join(p.missing, "\n"))
	}
	return nil, errNothing
}

// incomplete tells whether something that was asked for could not be judged.
func (p *plan) incomplete() bool { return p.unreadable || len(p.missing) > 0 }

// remarks are what is to be said of the run as a whole.
func (p *plan) remarks() []string {
	return slices.Concat(p.notices, p.missing)
}

// each judges what is selected and writes every result, for the verbs that tell of
// circuits but not of a run.
func (s selection) each(cmd *cobra.Command, paths []string, write func(*rules.Result) error) error {
	plan, err := s.plan(paths)
	if err != nil {
		return err
	}
	code := exitHolds
	for _, task := range plan.tasks {
		result := checker.Judge(task)
		if err := write(result); err != nil {
			return err
		}
		if !result.Readable {
			code = exitUsage
		}
	}
	for _, remark := range plan.remarks() {
		fmt.Fprintf(cmd.ErrOrStderr(), "headroom: %s\n", reports.Plain(remark))
	}
	if plan.incomplete() {
		code = exitUsage
	}
	if code != exitHolds {
		return exit(code)
	}
	return nil
}

// keepCase leaves out the circuits that have no such case, and says so; it is a
// mistake where none has it. A file that is no spec stays, to be told.
func (p *plan) keepCase(name string) error {
	if name == "" {
		return nil
	}
	var kept []checker.Task
	var lacking []string
	for _, t := range p.tasks {
		c, err := specs.LoadAs(t.Path, t.Name)
		if err != nil || !c.Readable() || slices.ContainsFunc(c.Cases, func(k specs.Case) bool { return k.Name == name }) {
			kept = append(kept, t)
			continue
		}
		lacking = append(lacking, fmt.Sprintf("%s has no case %s%s", t.Name, name, caseHint(name, c)))
	}
	if len(kept) == 0 && len(lacking) > 0 {
		return errors.New(strings.Join(lacking, "\n"))
	}
	for _, lack := range lacking {
		p.notices = append(p.notices, lack+"; it was not judged")
	}
	p.tasks = kept
	return nil
}

// caseHint is the nearest case of a circuit, else all that it has.
func caseHint(name string, c *specs.Circuit) string {
	var names []string
	for _, k := range c.Cases {
		names = append(names, k.Name)
	}
	return offer(name, names)
}

// addProblems adds a task for each file of a home that has problems but is no
// circuit: a project file, a pack, half a spec. Files of other homes may have the
// same name.
func (p *plan) addProblems(problems []specs.Problem, h *home) {
	var tasks []checker.Task
	for _, problem := range problems {
		i := slices.IndexFunc(tasks, func(t checker.Task) bool { return t.Name == problem.At.File })
		if i < 0 {
			i = len(tasks)
			tasks = append(tasks, checker.Task{Name: problem.At.File, Book: h.book, Settings: rules.Settings{Project: h.project}})
		}
		tasks[i].Problems = append(tasks[i].Problems, problem)
	}
	p.tasks = append(p.tasks, tasks...)
}

// settings are what the rules are told of a run.
func (s selection) settings(project *specs.Project) rules.Settings {
	settings := rules.Settings{Project: project, Today: s.today, Partial: s.inCase != "", Working: s.working}
	if len(s.only) > 0 {
		settings.Only = anyOf(s.only)
	}
	if len(s.demand) > 0 {
		settings.Demand = anyOf(s.demand)
	}
	return settings
}

// anyOf tells of a rule whether one of some patterns fits its id.
func anyOf(patterns []string) func(*rules.Rule) bool {
	return func(r *rules.Rule) bool {
		return slices.ContainsFunc(patterns, func(pattern string) bool { return matches(pattern, r) })
	}
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

// checkPatterns refuses an --only or --demand that no rule of any home fits: it would
// judge or demand nothing. Where a pack has faults, its rules may be those that are meant.
func (s selection) checkPatterns(homes []*home) error {
	for i, pattern := range slices.Concat(s.only, s.demand) {
		flag := "--only"
		if i >= len(s.only) {
			flag = "--demand"
		}
		fits := func(h *home) bool {
			return len(h.problems) > 0 || slices.ContainsFunc(h.book.Rules, func(r *rules.Rule) bool { return matches(pattern, r) })
		}
		if !slices.ContainsFunc(homes, fits) {
			return fmt.Errorf("%s %s fits no rule%s", flag, pattern, didYouMean(strings.Trim(pattern, "*?"), ruleIDs(homes[0].book)))
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

// didYouMean is a hint at known names like one, or nothing.
func didYouMean(word string, known []string) string {
	if near := specs.Like(word, known); len(near) > 0 {
		return fmt.Sprintf("; did you mean %s?", specs.Sentence(near, "or"))
	}
	return ""
}

// mostOffered is how many names are listed where none is like the one given.
const mostOffered = 12

// offer is didYouMean, or the names that there are.
func offer(word string, known []string) string {
	hint := didYouMean(word, known)
	names := slices.Compact(slices.Sorted(slices.Values(known)))
	switch {
	case hint != "":
		return hint
	case len(names) == 0:
		return "; there is none"
	case len(names) > mostOffered:
		return fmt.Sprintf("; there are %s and %d more", strings.Join(names[:mostOffered], ", "), len(names)-mostOffered)
	}
	are := "are"
	if len(names) == 1 {
		are = "is"
	}
	return fmt.Sprintf("; there %s %s", are, specs.Sentence(names, "and"))
}

// once is a flag that is given at most once, and not empty: a variable of a pipeline that
// is not set would otherwise ask for nothing.
type once struct {
	to    *string
	given bool
}

func (o *once) String() string {
	if o.to == nil {
		return ""
	}
	return *o.to
}

func (o *once) Type() string { return "string" }

func (o *once) Set(text string) error {
	if o.given {
		return errors.New("it can be given once; run headroom for each")
	}
	if text == "" {
		return errors.New("it is empty; give a name, or leave it out")
	}
	*o.to, o.given = text, true
	return nil
}
