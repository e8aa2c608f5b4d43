package rules

import (
	"math"
	"reflect"
	"strings"

	"github.com/google/cel-go/common/types/ref"

	"headroom/rules/expression"
	"headroom/rules/facts"
	"headroom/specs/quantity"
)

// A variable is the first word of a fact's name in an expression.
type variable uint8

const (
	circuitVariable variable = iota
	fluidVariable
	environmentVariable
	partVariable
	sealVariable
	lineVariable
	nodeVariable
	sectionVariable
	trappedVariable
	caseVariable
	hereVariable
	expectationVariable
	concessionVariable
	problemVariable
	variables // how many there are
)

// declaredVariables names each variable and the struct that holds its facts.
var declaredVariables = [variables]struct {
	name  string
	facts reflect.Type
}{
	circuitVariable:     {"circuit", reflect.TypeFor[facts.Whole]()},
	fluidVariable:       {"fluid", reflect.TypeFor[facts.Fluid]()},
	environmentVariable: {"environment", reflect.TypeFor[facts.Environment]()},
	partVariable:        {"part", reflect.TypeFor[facts.Part]()},
	sealVariable:        {"seal", reflect.TypeFor[facts.Seal]()},
	lineVariable:        {"line", reflect.TypeFor[facts.Line]()},
	nodeVariable:        {"node", reflect.TypeFor[facts.Node]()},
	sectionVariable:     {"section", reflect.TypeFor[facts.Section]()},
	trappedVariable:     {"trapped", reflect.TypeFor[facts.Trapped]()},
	caseVariable:        {"case", reflect.TypeFor[facts.Case]()},
	hereVariable:        {"here", reflect.TypeFor[facts.Here]()},
	expectationVariable: {"expectation", reflect.TypeFor[facts.Expectation]()},
	concessionVariable:  {"concession", reflect.TypeFor[facts.Concession]()},
	problemVariable:     {"problem", reflect.TypeFor[facts.Problem]()},
}

func (v variable) String() string { return declaredVariables[v].name }

// A fact is one that expressions may read, made from a tagged field of package facts.
type fact struct {
	name     string // "part.burst_pressure"
	variable variable
	field    int
	form     expression.Type
	needs    string // what supplies it where it is missing
	label    string // in words
	doc      string
	missing  ref.Val
}

// vocabulary is every fact, in the order of their declaration, and by name.
var vocabulary, factNamed = readVocabulary()

func readVocabulary() (all []*fact, named map[string]*fact) {
	named = map[string]*fact{}
	for v := range variables {
		row := declaredVariables[v]
		for i := range row.facts.NumField() {
			f := factOf(v, i, row.facts.Field(i))
			if f != nil {
				all = append(all, f)
				named[f.name] = f
			}
		}
	}
	return all, named
}

// factOf is the fact of a field; nil for a field that rules cannot read.
func factOf(v variable, index int, field reflect.StructField) *fact {
	word, visible := field.Tag.Lookup("fact")
	if !visible {
		return nil
	}
	f := &fact{
		name: v.String() + "." + word, variable: v, field: index,
		needs: field.Tag.Get("needs"), doc: field.Tag.Get("doc"), label: field.Tag.Get("label"),
	}
	if f.label == "" {
		f.label = strings.ReplaceAll(strings.TrimSuffix(word, "_absolute"), "_", " ")
	}
	f.missing = expression.Missing(f.name)
	switch field.Type {
	case reflect.TypeFor[facts.Fact]():
		dimension, known := quantity.DimensionNamed(field.Tag.Get("dim"))
		if !known {
			panic("facts: " + f.name + " has no dimension") // part of the program; the first test notices
		}
		f.form = expression.Type{Form: expression.Number, Dimension: dimension}
	case reflect.TypeFor[facts.Text]():
		f.form = expression.Type{Form: expression.Text}
	case reflect.TypeFor[facts.Flag]():
		f.form = expression.Type{Form: expression.Flag}
	}
	return f
}

// read is the fact's value for an expression; of is the struct that holds it. A
// number that is not finite decides nothing: it reads as missing. What is known so
// far of one that is missing is read where that is asked for.
func (f *fact) read(of reflect.Value, soFar bool) ref.Val {
	if !of.IsValid() {
		return f.missing
	}
	if so := f.soFar(of); soFar && so != nil {
		return expression.NumberOf(so.Value)
	}
	switch p := of.Field(f.field).Addr().Interface().(type) {
	case *facts.Fact:
		if p.Known && !math.IsInf(p.Value, 0) && !math.IsNaN(p.Value) {
			return expression.NumberOf(p.Value)
		}
	case *facts.Text:
		if p.Known {
			return expression.TextOf(p.Value)
		}
	case *facts.Flag:
		if p.Known {
			return expression.FlagOf(p.Value)
		}
	}
	return f.missing
}

// soFar is what is known of a fact that is missing; nil for nothing.
func (f *fact) soFar(of reflect.Value) *facts.SoFar {
	if !of.IsValid() {
		return nil
	}
	if p, is := of.Field(f.field).Addr().Interface().(*facts.Fact); is && !p.Known && p.SoFar != nil && !math.IsInf(p.SoFar.Value, 0) && !math.IsNaN(p.SoFar.Value) {
		return p.SoFar
	}
	return nil
}

// origin is where the fact's value comes from, or what would supply it.
func (f *fact) origin(of reflect.Value) (from *facts.Origin, missing string) {
	if !of.IsValid() {
		return nil, f.needs
	}
	switch p := of.Field(f.field).Addr().Interface().(type) {
	case *facts.Fact:
		from, missing = p.From, p.Missing
		if p.Known && missing == "" {
			missing = "a finite " + f.name
		}
	case *facts.Text:
		from, missing = p.From, p.Missing
	case *facts.Flag:
		from, missing = p.From, p.Missing
	}
	if missing == "" {
		missing = f.needs
	}
	return from, missing
}
