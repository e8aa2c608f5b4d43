package rules

import (
	"fmt"
	"math"
	"runtime"
	"testing"
	"time"

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

// The budgets: what a run may spend on rules, so that it stays quick to wait for.
const (
	compileBudget = 20 * time.Millisecond // all core packs
	judgeBudget   = 10 * time.Millisecond // 70 rules over 300 subjects, on one core
)

// BenchmarkCompile checks and plans every expression of the core packs.
func BenchmarkCompile(b *testing.B) {
	packs := mustCore(b).Packs
	b.ReportAllocs()
	budgeted(b, compileBudget, func() {
		book, problems := assemble(packs)
		if problems = append(problems, book.compileAll()...); len(problems) > 0 {
			b.Fatal(problems[0])
		}
	})
}

// budgeted runs a benchmark and holds its quickest turn to a budget: the others tell
// what else the machine does. A single turn says nothing and is held to nothing.
func budgeted(b *testing.B, budget time.Duration, turn func()) {
	best := time.Duration(math.MaxInt64)
	for b.Loop() {
		begun := time.Now()
		turn()
		best = min(best, time.Since(begun))
	}
	b.ReportMetric(best.Seconds()*1e3, "best-ms")
	b.ReportMetric(budget.Seconds()*1e3, "budget-ms")
	if b.N > 1 && best > budget {
		b.Errorf("the quickest of %d takes %v, more than %v", b.N, best, budget)
	}
}

// BenchmarkRule applies a rule to one subject: what it is for, its measure and
// its limit; a simple one, and one that divides and looks up its limit by name.
func BenchmarkRule(b *testing.B) {
	b.Run("simple", func(b *testing.B) { benchmarkRule(b, "supply.rated-flow") })
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

// BenchmarkJudge70Rules300Subjects applies 70 rules to 100 parts, 100 seals and 100
// nodes, on one core.
func BenchmarkJudge70Rules300Subjects(b *testing.B) {
	book := mustCore(b)
	book.compileAll()
	c := sampleCircuit(100)
	seventy := map[*Rule]bool{}
	for _, r := range book.Rules {
		if subjects := r.For == "part" || r.For == "seal" || r.For == "node"; subjects && len(seventy) < 70 {
			seventy[r] = true
		}
	}
	if len(seventy) < 70 {
		b.Fatalf("%d rules only", len(seventy))
	}
	only := Settings{Only: func(r *Rule) bool { return seventy[r] }}
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	b.ReportAllocs()
	budgeted(b, judgeBudget, func() { book.Judge(c, only) })
	j := book.Judge(c, only)
	b.ReportMetric(float64(len(j.Assessments)), "assessed")
	b.ReportMetric(float64(len(j.Findings)), "findings")
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
		p.HighestPressure.Value, p.RatedPressure.Value, p.ProofPressure.Value, p.BurstPressure.Value = 2e7, 2.5e7, 5e7, 9e7
		p.RatedMin.Value, p.ColdestTemperature.Value, p.HottestTemperature.Value, p.RatedMax.Value = 240, 270, 350, 380
		p.MinerSum.Value, p.HeatLife.Value, p.BareTube.Value = 0.2, 8, false
		c.Parts = append(c.Parts, p)
		s := &facts.Seal{Part: p, At: at}
		known(s, "parts."+name+".seals[0]")
		s.Name.Value = name + " seal"
		s.Min.Value, s.Coldest.Value, s.Hottest.Value, s.Max.Value = 240, 270, 350, 380
		c.Seals = append(c.Seals, s)
		node := &facts.Node{At: at}
		known(node, "nodes.n")
		node.Name.Value = fmt.Sprintf("node-%d", i)
		c.Nodes = append(c.Nodes, node)
	}
	return c
}

// TestSampleMostlyHolds holds that what the benchmarks judge is judged, and is mostly
// sound: findings cost more than limits that hold.
func TestSampleMostlyHolds(t *testing.T) {
	j := mustCore(t).Judge(sampleCircuit(100), Settings{})
	if len(j.Assessments) < 2500 || len(j.Findings) > len(j.Assessments)/10 {
		t.Errorf("%d findings in %d assessments", len(j.Findings), len(j.Assessments))
	}
	for _, id := range []string{"supply.rated-flow", "strength.burst-factor"} {
		only := Settings{Only: func(r *Rule) bool { return r.ID == id }}
		if j := mustCore(t).Judge(sampleCircuit(1), only); len(j.Assessments) != 1 || !j.Assessments[0].Holds {
			t.Errorf("%s does not hold on the part that its benchmark judges", id)
		}
	}
}
