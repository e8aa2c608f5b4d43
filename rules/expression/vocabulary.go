package expression

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"github.com/google/cel-go/cel"
)

// A Symbol is something that expressions may read: a fact or a limit.
type Symbol struct {
	Name string // with dots: "part.burst_pressure"
	Type Type
	Keys []string // the entries of a Map that are known beforehand; nil for any
}

// A Vocabulary is all that expressions may read. It is safe for concurrent use.
type Vocabulary struct {
	symbols map[string]Symbol
	below   map[string][]string // names one step below a name, for what is misspelt
	env     *cel.Env

	mutex    sync.Mutex
	programs map[programKey]*compiled
}

type programKey struct{ scope, text string }

type compiled struct {
	once     sync.Once
	program  *Program
	problems []Problem
}

// NewVocabulary makes a vocabulary of symbols.
func NewVocabulary(symbols []Symbol) (*Vocabulary, error) {
	v := &Vocabulary{
		symbols:  make(map[string]Symbol, len(symbols)),
		below:    map[string][]string{},
		programs: map[programKey]*compiled{},
	}
	for _, s := range symbols {
		v.symbols[s.Name] = s
		v.place(s.Name)
	}
	var err error
	v.env, err = newEnv(symbols)
	return v, err
}

// place notes the steps that lead to a name.
func (v *Vocabulary) place(name string) {
	for {
		above, last := "", name
		if dot := strings.LastIndexByte(name, '.'); dot >= 0 {
			above, last = name[:dot], name[dot+1:]
		}
		if slices.Contains(v.below[above], last) {
			return
		}
		v.below[above] = append(v.below[above], last)
		if above == "" {
			return
		}
		name = above
	}
}

// isGroup tells whether there are names below a name.
func (v *Vocabulary) isGroup(name string) bool { return len(v.below[name]) > 0 }

// A Scope says which of the vocabulary's first words an expression may read.
type Scope struct {
	Name  string   // what it belongs to, for messages: "a rule for part"
	Roots []string // "part", "circuit", "limits"
}

// Compile reads an expression, or tells what is wrong with it. The same text in
// the same scope is compiled once.
func (v *Vocabulary) Compile(text string, scope Scope) (*Program, []Problem) {
	v.mutex.Lock()
	key := programKey{scope.Name, text}
	c := v.programs[key]
	if c == nil {
		c = &compiled{}
		v.programs[key] = c
	}
	v.mutex.Unlock()
	c.once.Do(func() {
		c.program, c.problems = v.compile(text, scope)
		slices.SortStableFunc(c.problems, func(a, b Problem) int { return cmp.Compare(a.Offset, b.Offset) })
	})
	return c.program, c.problems
}
