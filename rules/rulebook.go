package rules

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"

	"headroom/rules/expression"
	"headroom/specs"
)

// A Rulebook is the rules that hold for a run: those of the core packs, and of
// packs of one's own over them. It is safe for concurrent use.
type Rulebook struct {
	Packs       []*Pack
	Rules       []*Rule // in the order of the packs
	SwitchedOff []SwitchedOff
	Regraded    []Regraded

	limits     *limit
	vocabulary *expression.Vocabulary
	gatherer   *Rule // the rule that gathers what could not be assessed; nil where there is none
}

// SwitchedOff is a rule that a pack has switched off.
type SwitchedOff struct {
	Rule    *Rule
	Pack    string // that did
	Because string
}

// Regraded is a rule that a pack has graded otherwise.
type Regraded struct {
	Rule    *Rule
	Was     Grade
	Pack    string // that did
	Because string
}

//go:embed packs/*.yaml
var corePacks embed.FS

// Core is the rulebook of the core packs.
func Core() (*Rulebook, error) { return core() }

var core = sync.OnceValues(readCore)

func readCore() (*Rulebook, error) {
	entries, err := corePacks.ReadDir("packs")
	if err != nil {
		return nil, fmt.Errorf("core packs: %w", err)
	}
	packs := make([]*Pack, len(entries))
	failures := make([]error, len(entries))
	inParallel(len(entries), func(i int) {
		name := "packs/" + entries[i].Name()
		data, err := corePacks.ReadFile(name)
		if err != nil {
			failures[i] = err
			return
		}
		var problems []specs.Problem
		packs[i], problems = readPack(name, data, true)
		if len(problems) > 0 {
			failures[i] = fmt.Errorf("%s", problems[0])
		}
	})
	for _, err := range failures {
		if err != nil {
			return nil, fmt.Errorf("core packs: %w", err)
		}
	}
	book, problems := assemble(packs)
	if len(problems) > 0 {
		return nil, fmt.Errorf("core packs: %s", problems[0])
	}
	return book, nil
}

// inParallel calls do for 0 to n−1, on all cores.
func inParallel(n int, do func(i int)) {
	var wait sync.WaitGroup
	next := make(chan int)
	for range min(n, runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wait.Wait()
}

// Load puts packs of one's own over a rulebook, later ones over earlier ones. A
// pack with problems is left out as a whole; the rulebook is that of the others.
func Load(base *Rulebook, paths ...string) (*Rulebook, []specs.Problem) {
	var problems []specs.Problem
	packs := slices.Clone(base.Packs)
	for _, path := range paths {
		name := filepath.ToSlash(path)
		data, err := readFile(path)
		if err != nil {
			at := specs.Span{File: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
			problems = append(problems, problem("spec.syntax", at, "", "the pack cannot be read: %s", reason(err)))
			continue
		}
		packs, problems = addPack(packs, problems, name, data)
	}
	book, _ := assemble(packs) // what is wrong in it has been told pack by pack
	return book, specs.SortProblems(problems)
}

// readFile reads a file, but no more of it than shows that it is too large, and
// nothing that is no file: what a pipe or a device gives has no end.
func readFile(path string) ([]byte, error) {
	info, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, errors.New("it is not a file")
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, maxPack+1))
}

// addPack reads a pack and adds it to others where nothing is wrong with it.
func addPack(packs []*Pack, problems []specs.Problem, name string, data []byte) ([]*Pack, []specs.Problem) {
	pack, wrong := readPack(name, data, false)
	with := append(slices.Clone(packs), pack)
	if pack.Name != "" || len(wrong) == 0 {
		book, more := assemble(with)
		wrong = append(wrong, more...)
		if book != nil {
			wrong = append(wrong, book.compileAll()...)
		}
	}
	if len(wrong) > 0 {
		return packs, append(problems, wrong...)
	}
	return with, problems
}

// reason is what the file system says, without the path.
func reason(err error) string {
	if pathError, fine := err.(*os.PathError); fine {
		return pathError.Err.Error()
	}
	return err.Error()
}

// compileAll makes all rules ready, and tells what is wrong with them.
func (b *Rulebook) compileAll() []specs.Problem {
	inParallel(len(b.Rules), func(i int) { b.compile(b.Rules[i]) })
	var problems []specs.Problem
	for _, r := range b.Rules {
		problems = append(problems, r.compiled.problems...)
	}
	return problems
}

// assemble makes a rulebook of packs, and tells what does not fit together.
func assemble(packs []*Pack) (*Rulebook, []specs.Problem) {
	a := &assembler{book: &Rulebook{Packs: packs, limits: &limit{name: limitsWord, path: limitsWord}}, byID: map[string]*Rule{}}
	for i, p := range packs {
		if slices.ContainsFunc(packs[:i], func(q *Pack) bool { return q.Name == p.Name }) {
			a.wrong("spec.duplicate", p.start(), "there is a pack %s already; give this one another name", p.Name)
		}
		a.add(p)
	}
	for _, p := range packs {
		a.change(p)
	}
	a.book.Rules = slices.DeleteFunc(a.book.Rules, func(r *Rule) bool { return a.byID[r.ID] == nil })
	symbols := a.book.limits.symbols()
	for _, f := range vocabulary {
		symbols = append(symbols, expression.Symbol{Name: f.name, Type: f.form})
	}
	var err error
	a.book.vocabulary, err = expression.NewVocabulary(symbols)
	if err != nil {
		a.wrong("spec.syntax", packs[len(packs)-1].start(), "the limits and facts make no vocabulary: %s", err)
		return nil, a.problems
	}
	return a.book, a.problems
}

type assembler struct {
	book     *Rulebook
	byID     map[string]*Rule // those that are not switched off
	problems []specs.Problem
}

func (a *assembler) wrong(rule string, at specs.Span, format string, arguments ...any) {
	a.problems = append(a.problems, problem(rule, at, "", format, arguments...))
}

func (p *Pack) start() specs.Span {
	return specs.Span{File: p.File, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
}

// add takes in a pack's limits and rules. Rules are copied: the next rulebook
// may grade them otherwise.
func (a *assembler) add(p *Pack) {
	if p.limits != nil {
		a.book.limits.merge(p.limits.clone(), func(at specs.Span, format string, arguments ...any) {
			a.wrong("spec.duplicate", at, format, arguments...)
		})
	}
	for _, one := range p.rules {
		if first := a.byID[one.ID]; first != nil {
			a.wrong("spec.duplicate", one.At, "there is a rule %s already, in %s; switch that off and give this one another id", one.ID, place(first.At))
			continue
		}
		r := *one
		r.core, r.kind, r.compiled = p.core, kindNamed(r.For), &compiledRule{}
		a.byID[r.ID] = &r
		a.book.Rules = append(a.book.Rules, &r)
		if r.Gathers != "" {
			if a.book.gatherer != nil {
				a.wrong("spec.duplicate", r.At, "%s gathers already what could not be assessed", a.book.gatherer.ID)
			}
			a.book.gatherer = &r
		}
	}
}

// change applies what a pack changes of rules, its own and those of other packs.
func (a *assembler) change(p *Pack) {
	for _, c := range p.regrades {
		r := a.find(c)
		switch {
		case r == nil:
		case r.guards() && c.to < Major:
			a.wrong("spec.shape", c.at, "%s cannot be graded below major: it tells when a run or a file is not to be trusted", r.ID)
		default:
			a.book.Regraded = append(a.book.Regraded, Regraded{r, r.Grade, p.Name, c.because})
			r.Grade, r.Regraded = c.to, c.because
		}
	}
	for _, c := range p.switchOffs {
		r := a.find(c)
		switch {
		case r == nil:
		case r.guards():
			a.wrong("spec.shape", c.at, "%s cannot be switched off: it tells when a run or a file is not to be trusted", r.ID)
		default:
			a.book.SwitchedOff = append(a.book.SwitchedOff, SwitchedOff{r, p.Name, c.because})
			delete(a.byID, r.ID)
			if a.book.gatherer == r {
				a.book.gatherer = nil
			}
		}
	}
}

// guards tells whether a rule keeps watch over the run itself: it tells what is wrong
// with a file, what was not assessed, or what of a run cannot be trusted.
func (r *Rule) guards() bool {
	return r.core && (r.For == problemKind || r.Gathers != "" || r.Pack == runPack)
}

// runPack is the core pack about the run itself.
const runPack = "run"

// find is the rule that a change is about; nil where there is none.
func (a *assembler) find(c change) *Rule {
	r := a.byID[c.rule]
	if r != nil {
		return r
	}
	for _, off := range a.book.SwitchedOff {
		if off.Rule.ID == c.rule {
			a.wrong("spec.reference", c.at, "%s is switched off already, by pack %s", c.rule, off.Pack)
			return nil
		}
	}
	a.wrong("spec.reference", c.at, "there is no rule %s%s", c.rule, like(c.rule, a.book.ids()))
	return nil
}

// Rule finds a rule by its id; nil where there is none.
func (b *Rulebook) Rule(id string) *Rule {
	i := slices.IndexFunc(b.Rules, func(r *Rule) bool { return r.ID == id })
	if i < 0 {
		return nil
	}
	return b.Rules[i]
}
