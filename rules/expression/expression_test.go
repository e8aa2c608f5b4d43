package expression

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/cel-go/common/types/ref"
	"github.com/google/go-cmp/cmp"

	"headroom/specs/quantity"
)

func numberSymbol(name string, d quantity.Dimension) Symbol {
	return Symbol{Name: name, Type: Type{Form: Number, Dimension: d}}
}

// sample is a small vocabulary of facts and limits.
func sample() []Symbol {
	return []Symbol{
		numberSymbol("part.burst_pressure", quantity.Pressure),
		numberSymbol("part.highest_pressure", quantity.Pressure),
		numberSymbol("part.drop", quantity.PressureDifference),
		numberSymbol("part.inlet_pressure_absolute", quantity.AbsolutePressure),
		numberSymbol("part.hottest", quantity.Temperature),
		numberSymbol("part.flow", quantity.Flow),
		numberSymbol("part.share", quantity.Number),
		{Name: "part.kind", Type: Type{Form: Text}},
		{Name: "part.name", Type: Type{Form: Text}},
		{Name: "part.reached", Type: Type{Form: Flag}},
		numberSymbol("fluid.max_temperature", quantity.Temperature),
		numberSymbol("seal.gap", quantity.Length),
		numberSymbol("limits.mass", quantity.Mass),
		{Name: "limits.burst", Type: Type{Form: Number, Map: true}, Keys: []string{"hose", "tube", "others"}},
		numberSymbol("limits.burst.hose", quantity.Number),
		{Name: "limits.velocity", Type: Type{Form: Number, Dimension: quantity.Velocity, Map: true}, Keys: []string{"return"}},
		numberSymbol("limits.velocity.return", quantity.Velocity),
		{Name: "limits.at_rest", Type: Type{Form: Text, Map: true}},
	}
}

var partScope = Scope{"a rule for part", []string{"part", "fluid", "limits"}}

func sampleVocabulary(t testing.TB) *Vocabulary {
	t.Helper()
	v, err := NewVocabulary(sample())
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// told is the problems of a text, each with the piece that it is about.
func told(text string, problems []Problem) (all []string) {
	for _, p := range problems {
		all = append(all, fmt.Sprintf("%d %q: %s", p.Offset, text[p.Offset:p.Offset+p.Length], p.Message))
	}
	return all
}

func TestProblems(t *testing.T) {
	v := sampleVocabulary(t)
	tests := []struct {
		text string
		want []string
	}{
		// dimensions
		{"part.burst_pressure + fluid.max_temperature", []string{`20 "+": cannot add a pressure and a temperature`}},
		{"part.burst_pressure - part.flow", []string{`20 "-": cannot subtract a flow from a pressure`}},
		{"part.hottest + fluid.max_temperature", []string{`13 "+": cannot add a temperature and a temperature`}},
		{"part.hottest * 2", []string{`13 "*": cannot multiply a temperature by a number`}},
		{"part.burst_pressure / part.flow / part.flow", []string{`20 "/": cannot divide a pressure by a flow`}},
		{"part.burst_pressure > part.hottest", []string{`20 ">": cannot compare a pressure with a temperature`}},
		{"part.burst_pressure == 4", []string{`20 "==": cannot compare a pressure with a number`}},
		{"part.hottest > q('10 K')", []string{`13 ">": cannot compare a temperature with a temperature difference; q('10 K') is a difference, q('10 degC') a temperature`}},
		{"part.drop > q('1 bar')", []string{`10 ">": cannot compare a pressure difference with a pressure; a difference is written q('5 bar diff')`}},
		{"part.burst_pressure < part.inlet_pressure_absolute", []string{`20 "<": cannot compare a pressure with an absolute pressure; an absolute pressure is written q('5 bar abs'), and gauge and absolute do not mix`}},
		{"max(part.burst_pressure, part.hottest)", []string{`25 "part.hottest": cannot compare a pressure with a temperature`}},
		{"part.reached ? part.burst_pressure : part.hottest", []string{`13 "?": both sides of the colon must be of one kind; here they are a pressure and a temperature`}},
		{"part.share in [1, q('1 bar')]", []string{`18 "q": cannot compare a number with a pressure`}},
		{"-part.hottest > -part.hottest", []string{`1 "part.hottest": a temperature has no negative`, `17 "part.hottest": a temperature has no negative`}},
		{"abs(part.hottest)", []string{`4 "part.hottest": a temperature has no size apart from its scale; take a difference first`}},
		// forms
		{"!part.share", []string{`1 "part.share": a yes or no is needed here, not a number`}},
		{"part.reached && part.kind", []string{`16 "part.kind": a yes or no is needed here, not a text`}},
		{"part.kind < 'b'", []string{`0 "part.kind": a number or quantity is needed here, not a text`, `12 "'b'": a number or quantity is needed here, not a text`}},
		{"part.kind + 'b' == 'ab'", []string{`0 "part.kind": a number or quantity is needed here, not a text`, `12 "'b'": a number or quantity is needed here, not a text`}},
		{"part.kind in part.name", []string{"13 \"part.name\": a list such as ['hose', 'tube'] or a group of limits is needed behind `in`, not a text"}},
		{"part.share in limits.burst", []string{"0 \"part.share\": a text is needed before `in`, not a number"}},
		{"part.kind in []", []string{`13 "[]": the list is empty`}},
		{"[1, 2]", []string{"0 \"[1, 2]\": a list can stand on the right of `in` only"}},
		{"{'a': 1}", []string{`0 "{": this has no meaning in a rule`}},
		{"null == part.kind", []string{`0 "null": a number, a text in single quotes, true or false is needed here`}},
		// names
		{"part.burst_presure", []string{`5 "burst_presure": part has no burst_presure; did you mean burst_pressure?`}},
		{"has(part.burst_presure)", []string{`9 "burst_presure": part has no burst_presure; did you mean burst_pressure?`}},
		{"part . \n burst_presure", []string{`9 "burst_presure": part has no burst_presure; did you mean burst_pressure?`}},
		{"prt.kind == 'hose'", []string{`0 "prt": there is no name prt here; did you mean part?`}},
		{"part.kind == hose", []string{`13 "hose": there is no name hose here; it reads part, fluid and limits, and a text stands in single quotes: 'hose'`}},
		{"seal.gap", []string{`0 "seal": a rule for part cannot read seal; it reads part, fluid and limits`}},
		{"part", []string{`0 "part": part is a group; name one of it, such as part.burst_pressure`}},
		{"part.kind.length", []string{`10 "length": part.kind is a text and has nothing below it`}},
		{"limits.mas", []string{`7 "mas": limits has no mas; did you mean mass?`}},
		{"limits.velocity.retrun", []string{`16 "retrun": limits.velocity has no retrun; did you mean return?`}},
		{"limits.velocity['retrun']", []string{`16 "'retrun'": limits.velocity has no retrun; did you mean return?`}},
		{"limits.burst[1]", []string{`13 "1": a text is needed here, not a number`}},
		{"part.kind['x']", []string{`0 "part.kind": only a group of limits takes [ ]; this is a text`}},
		{"limits.burst > 3", []string{`0 "limits.burst": a number or quantity is needed here, not a group`}},
		{"1.0.x", []string{`3 ".": a name such as part.kind is needed before the dot`}},
		// quantities
		{"part.drop > q('1 baar diff')", []string{`17 "baar": unknown unit baar; did you mean bar?`}},
		{"q(part.kind)", []string{`0 "q": q takes a quantity in quotes, such as q('210 bar')`}},
		{"part.share > 4 m/s", []string{`15 "m": m is not expected behind a number; a quantity is written q('210 bar')`}},
		// functions
		{"maxx(1, 2)", []string{`0 "maxx": there is no function maxx; did you mean max?`}},
		{"size(part.kind)", []string{`0 "size": there is no function size; there is q, has, min, max, abs and clamp`}},
		{"min(1)", []string{`0 "min": min takes 2 to 6 values, not 1`}},
		{"abs(1, 2)", []string{`0 "abs": abs takes 1 value, not 2`}},
		{"clamp(1, 2)", []string{`0 "clamp": clamp takes 3 values, not 2`}},
		{"[1, 2].all(x, x > 1)", []string{`7 "all": there is no function all here; expressions have no loops`}},
		{"part.kind.matches('x')", []string{`10 "matches": there is no function matches here`}},
		{"has(part)", []string{`4 "p": has takes the name of a fact or limit, such as has(part.bypass)`}},
		{"1 % 2", []string{`2 "%": % has no meaning in a rule`}},
		// syntax
		{"", []string{`0 "": the expression is empty`}},
		{"1 +", []string{`3 "": the expression breaks off; something is missing at its end`}},
		{"part.kind == 'hose", []string{`13 "'": the quotes that open here are not closed`}},
		{"part.reached = true", []string{`13 "=": = has no meaning; two values are compared by ==`}},
		{"part.reached and part.reached", []string{`13 "a": and has no meaning; it is written &&`}},
		{"part.reached & part.reached", []string{`13 "&": & has no meaning; conditions are joined by && and ||`}},
		{"part.?kind", []string{`4 ".": a ? before a name has no meaning; has(part.bypass) tells whether a fact is known`}},
		{"part.share # 1", []string{`11 "#": # has no meaning in an expression`}},
		// several at once
		{"part.kindd == 'a' || seal.gap > q('1 mm') || 1", []string{
			`5 "kindd": part has no kindd; did you mean kind?`,
			`21 "seal": a rule for part cannot read seal; it reads part, fluid and limits`,
			`45 "1": a yes or no is needed here, not a number`}},
	}
	for _, test := range tests {
		program, problems := v.Compile(test.text, partScope)
		if program != nil && test.want != nil {
			t.Errorf("%q compiles to %s", test.text, program.Type)
			continue
		}
		if diff := cmp.Diff(test.want, told(test.text, problems)); diff != "" {
			t.Errorf("%q:\n%s", test.text, diff)
		}
	}
}

// TestTypes holds the type of sound expressions. The dimensions are those of the
// quotient, product, sum or difference in the International System of Quantities.
func TestTypes(t *testing.T) {
	v := sampleVocabulary(t)
	number := func(d quantity.Dimension) Type { return Type{Form: Number, Dimension: d} }
	tests := []struct {
		text string
		want Type
	}{
		{"4", number(quantity.Number)},
		{"-4.5", number(quantity.Number)},
		{"part.burst_pressure / part.highest_pressure", number(quantity.Number)},
		{"2 * part.burst_pressure", number(quantity.Pressure)},
		{"part.burst_pressure - part.highest_pressure", number(quantity.PressureDifference)},
		{"part.burst_pressure * part.flow", number(quantity.Power)},
		{"part.hottest - fluid.max_temperature", number(quantity.TemperatureDifference)},
		{"fluid.max_temperature - q('10 K')", number(quantity.Temperature)},
		{"max(part.flow, q('2 L/min'))", number(quantity.Flow)},
		{"limits.burst[part.kind]", number(quantity.Number)},
		{"limits.burst.hose", number(quantity.Number)},
		{"limits.velocity['return']", number(quantity.Velocity)},
		{"limits.at_rest[part.name]", Type{Form: Text}},
		{"part.reached ? 'a' : part.kind", Type{Form: Text}},
		{"part.kind == 'hose' && !(part.name in limits.at_rest) || has(part.drop)", Type{Form: Flag}},
		{"part.share == 3 || part.share in [1, 2.5]", Type{Form: Flag}},
		{"part.burst_pressure >= q('1 bar')", Type{Form: Flag}},
	}
	for _, test := range tests {
		program, problems := v.Compile(test.text, partScope)
		if problems != nil {
			t.Errorf("%q: %v", test.text, told(test.text, problems))
			continue
		}
		if program.Type != test.want {
			t.Errorf("%q is %s, not %s", test.text, program.Type, test.want)
		}
	}
}

// scene is a Scene of a map.
type scene map[string]any

func (s scene) ResolveName(name string) (any, bool) {
	value, known := s[name]
	if !known {
		return Missing(name), true
	}
	return value, true
}

func sampleScene() scene {
	return scene{
		"part.burst_pressure":   NumberOf(620e5),
		"part.highest_pressure": NumberOf(214e5),
		"part.drop":             NumberOf(0),
		"part.kind":             TextOf("hose"),
		"part.name":             TextOf("clutch-hose"),
		"part.reached":          FlagOf(true),
		"part.share":            NumberOf(0.5),
		"fluid.max_temperature": NumberOf(363.15),
		"limits.burst": MapOf("limits.burst", map[string]ref.Val{
			"hose": NumberOf(4), "others": NumberOf(2.5)}),
		"limits.velocity": MapOf("limits.velocity", map[string]ref.Val{"return": NumberOf(3)}),
	}
}

// TestEval holds values, and that what is missing decides nothing unless the rest
// decides without it.
func TestEval(t *testing.T) {
	v := sampleVocabulary(t)
	missing := func(names ...string) Outcome { return Outcome{Missing: names} }
	yes, no := Outcome{Flag: true}, Outcome{}
	tests := []struct {
		text string
		want Outcome
	}{
		{"part.burst_pressure / part.highest_pressure", Outcome{Number: 620.0 / 214}},
		{"part.burst_pressure", Outcome{Number: 620e5}},
		{"4 * part.share - 1", Outcome{Number: 1}},
		{"7 / 2", Outcome{Number: 3.5}},
		{"-part.share", Outcome{Number: -0.5}},
		{"q('210 bar') / q('21 bar')", Outcome{Number: 10}},
		{"min(3, part.share, 2)", Outcome{Number: 0.5}},
		{"max(3, part.share, 2)", Outcome{Number: 3}},
		{"abs(part.share - 1)", Outcome{Number: 0.5}},
		{"clamp(part.share, 1, 2)", Outcome{Number: 1}},
		{"clamp(part.share, 0, 0.25)", Outcome{Number: 0.25}},
		{"part.reached ? 1 : 2", Outcome{Number: 1}},
		{"part.kind == 'hose'", yes},
		{"part.kind != 'hose'", no},
		{"part.kind in ['tube', 'hose']", yes},
		{"part.share in [1, 2]", no},
		{"limits.burst[part.kind]", Outcome{Number: 4}},
		{"limits.burst[part.name]", Outcome{Number: 2.5}},
		{"limits.burst['tube']", Outcome{Number: 2.5}},
		{"limits.velocity[part.kind]", missing("limits.velocity.hose")},
		{"part.kind in limits.burst", yes},
		{"part.name in limits.burst", no},
		// missing
		{"part.hottest", missing("part.hottest")},
		{"part.hottest - fluid.max_temperature", missing("part.hottest")},
		{"part.flow / part.flow", missing("part.flow")},
		{"part.hottest > fluid.max_temperature && part.flow > q('1 L/min')", missing("part.flow", "part.hottest")},
		{"has(part.hottest)", no},
		{"has(part.share)", yes},
		{"has(limits.at_rest)", no},
		{"has(limits.burst)", yes},
		{"part.kind == 'tube' && part.flow > q('1 L/min')", no},
		{"part.flow > q('1 L/min') && part.kind == 'tube'", no},
		{"part.reached || part.flow > q('1 L/min')", yes},
		{"part.reached ? part.share : part.flow / q('1 L/min')", Outcome{Number: 0.5}},
		{"part.flow > q('1 L/min') ? 1 : 2", missing("part.flow")},
		{"part.name in limits.at_rest", missing("limits.at_rest")},
		{"limits.at_rest[part.name] == 'clamped'", missing("limits.at_rest")},
		{"max(part.flow, q('1 L/min')) > q('1 L/min')", missing("part.flow")},
		// no number
		{"part.share / part.drop == 1 / q('1 bar diff')", Outcome{Failure: "division by zero"}},
		{"part.share / 0 > 1", Outcome{Failure: "division by zero"}},
		{"part.share / 0 > 1 || part.reached", yes},
	}
	reader := &Reader{sampleScene()}
	for _, test := range tests {
		program, problems := v.Compile(test.text, partScope)
		if problems != nil {
			t.Errorf("%q: %v", test.text, told(test.text, problems))
			continue
		}
		got := program.Eval(reader)
		got.Failure, _, _ = strings.Cut(got.Failure, " (")
		if diff := cmp.Diff(test.want, got, cmp.Comparer(func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*math.Abs(b) })); diff != "" {
			t.Errorf("%q:\n%s", test.text, diff)
		}
	}
}

// TestTrace holds the working: what was read and chosen, with its value.
func TestTrace(t *testing.T) {
	v := sampleVocabulary(t)
	tests := []struct{ text, want string }{
		{"part.burst_pressure / part.highest_pressure", "(/ part.burst_pressure:6.2e+07 part.highest_pressure:2.14e+07):2.897"},
		{"part.reached ? part.share : part.flow / q('1 L/min')", "(? part.reached:true part.share:0.5):0.5"},
		{"limits.burst[part.kind] * 2", "(* limits.burst[hose]:4 2):8"},
		{"part.kind == 'tube' || part.reached || part.kind == 'x'", "(|| (|| (== part.kind:hose tube):false part.reached:true):true):true"},
		{"part.kind == 'hose' && !part.reached && part.share > 1", "(&& (&& (== part.kind:hose hose):true (! part.reached:true):false):false):false"},
		{"max(part.share, 2) - 1", "(- (max part.share:0.5 2):2 1):1"},
		{"has(part.flow)", "(has part.flow:?):false"},
		{"part.kind in ['hose']", "(in part.kind:hose):true"},
		{"-part.share < part.flow / part.flow", "(< (- part.share:0.5):-0.5 (/ part.flow:? part.flow:?):?):?"},
	}
	for _, test := range tests {
		program, problems := v.Compile(test.text, partScope)
		if problems != nil {
			t.Fatalf("%q: %v", test.text, problems)
		}
		if got := written(program.Trace(&Reader{sampleScene()})); got != test.want {
			t.Errorf("%q is traced as\n%s, not\n%s", test.text, got, test.want)
		}
	}
}

// written puts a trace on one line.
func written(n *Node) string {
	value := n.Value.Text
	switch {
	case n.Value.Missing != nil:
		value = "?"
	case n.Type.Form == Number:
		value = fmt.Sprintf("%.4g", n.Value.Number)
	case n.Type.Form == Flag:
		value = fmt.Sprint(n.Value.Flag)
	}
	switch n.Kind {
	case Literal:
		return value
	case Read:
		return n.Name + ":" + value
	case Entry:
		return n.Name + "[" + n.Key + "]:" + value
	}
	words := []string{n.Name}
	for _, a := range n.Args {
		words = append(words, written(a))
	}
	return "(" + strings.Join(words, " ") + "):" + value
}

// TestReads holds which symbols an expression names.
func TestReads(t *testing.T) {
	program, problems := sampleVocabulary(t).Compile("part.share > 1 && has(part.drop) || limits.burst[part.kind] > part.share", partScope)
	if problems != nil {
		t.Fatal(problems)
	}
	want := []string{"part.share", "part.drop", "limits.burst", "part.kind"}
	if !slices.Equal(program.Reads, want) {
		t.Errorf("it reads %v, not %v", program.Reads, want)
	}
}

// TestFunctions holds the documented functions against those that there are.
func TestFunctions(t *testing.T) {
	var documented []string
	for _, f := range Functions() {
		name, _, _ := strings.Cut(f.Call, "(")
		documented = append(documented, name)
	}
	there := slices.Clone(functionNames)
	slices.Sort(documented)
	slices.Sort(there)
	if !slices.Equal(documented, there) {
		t.Errorf("documented are %v, there is %v", documented, there)
	}
}
