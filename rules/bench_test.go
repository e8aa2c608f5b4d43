package rules

import (
	"fmt"
	"testing"

	"headroom/rules/facts"
	"headroom/specs"
)

// BenchmarkCore reads the core packs: YAML to rules and limits.
func BenchmarkCore(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := readCore(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCompile checks and plans every expression of the core packs.
func BenchmarkCompile(b *testing.B) {
	packs := mustCore(b).Packs
	b.ReportAllocs()
	for b.Loop() {
		book, problems := assemble(packs)
		if problems = append(problems, book.compileAll()...); len(problems) > 0 {
			b.Fatal(problems[0])
		}
	}
}

// BenchmarkRule applies a rule to one subject: what it is for, its measure and
// its limit; a simple one, and one that divides and looks up its limit by name.
func BenchmarkRule(b *testing.B) {
	b.Run("simple", func(b *testing.B) { benchmarkRule(b, "strength.rated-pressure") })
	b.Run("factor", func(b *testing.B) { benchmarkRule(b, "strength.burst-factor") })
}

func benchmarkRule(b *testing.B, id string) {
	book := mustCore(b)
	c := sampleCircuit(1)
	limits, _ := book.limitsFor(c.Spec, nil)
	rule := book.Rule(id)
	book.compile(rule)
	j := &judge{task: task{rule, rule.kind.targets(c)}, book: book, scene: newScene(c, limits), limits: limits}
	t := &j.targets[0]
	j.scene.turn(rule.kind, t)
	b.ReportAllocs()
	for b.Loop() {
		if a, missing := j.apply(t); a == nil || !a.Holds {
			b.Fatal(a, missing)
		}
	}
}

// BenchmarkJudge applies all rules to a circuit of 300 subjects.
func BenchmarkJudge(b *testing.B) {
	book := mustCore(b)
	book.compileAll()
	c := sampleCircuit(100)
	b.ReportAllocs()
	for b.Loop() {
		book.Judge(c, Settings{})
	}
	j := book.Judge(c, Settings{})
	b.ReportMetric(float64(len(j.Assessments)), "assessed")
	b.ReportMetric(float64(len(j.Findings)), "findings")
	b.ReportMetric(float64(len(j.NotAssessed)), "unassessed")
}

func mustCore(t testing.TB) *Rulebook {
	t.Helper()
	book, err := Core()
	if err != nil {
		t.Fatal(err)
	}
	return book
}

// sampleCircuit has n parts, each with a seal and a node, and one case; of its
// parts all facts are known, and most rules hold.
func sampleCircuit(n int) *facts.Circuit {
	spec := &specs.Circuit{File: "sample.yaml"}
	c := &facts.Circuit{Spec: spec}
	known(&c.Whole, "circuit")
	c.Whole.Name = facts.Text{Value: "sample", Known: true}
	known(&c.Fluid, "fluid")
	known(&c.Environment, "environment")
	k := &facts.Case{}
	known(k, "cases.run")
	k.Name.Value = "run"
	c.Cases = append(c.Cases, k)
	kinds := []string{"hose", "tube", "pump", "filter", "cylinder", "accumulator", "relief-valve", "reservoir", "friction-pack", "directional-valve"}
	for i := range n {
		at := specs.Span{File: "sample.yaml", Line: 10 + i, Column: 3, EndLine: 10 + i, EndColumn: 9}
		p := &facts.Part{At: at}
		name := fmt.Sprintf("part-%d", i)
		known(p, "parts."+name)
		p.Name.Value, p.Kind.Value = name, kinds[i%len(kinds)]
		p.HighestPressure.Value, p.RatedPressure.Value, p.BurstPressure.Value = 2e7, 2.5e7, 9e7
		c.Parts = append(c.Parts, p)
		s := &facts.Seal{Part: p, At: at}
		known(s, "parts."+name+".seals[0]")
		s.Name.Value = name + " seal"
		c.Seals = append(c.Seals, s)
		node := &facts.Node{At: at}
		known(node, "nodes.n")
		node.Name.Value = fmt.Sprintf("node-%d", i)
		c.Nodes = append(c.Nodes, node)
	}
	return c
}
